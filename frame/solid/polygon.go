package solid

import (
	"math"

	"tiploop/frame/outline"
)

// polygon is a convex polygon, its corners anticlockwise.
type polygon [][2]float64

// circleSides is the number of sides of the polygon that stands for a circle. With the circle's area, a polygon of 24
// sides has its second moment within 0.01 %.
const circleSides = 24

// circle is the regular polygon round a centre with the area of the circle: n/2·R²·sin(2π/n) = π·r².
func circle(centre [2]float64, radius float64) polygon {
	const n = circleSides
	R := radius * math.Sqrt(2*math.Pi/(n*math.Sin(2*math.Pi/n)))
	p := make(polygon, n)
	for i := range p {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / n)
		p[i] = [2]float64{centre[0] + R*c, centre[1] + R*s}
	}
	return p
}

// rectangle is the one between two opposite corners.
func rectangle(lo, hi [2]float64) polygon {
	return polygon{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}
}

// turn is twice the area of the triangle a, b, c, positive when anticlockwise.
func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// convex reports whether p has a positive area and turns left at every corner; corners may lie on a straight side.
func (p polygon) convex() bool {
	if len(p) < 3 {
		return false
	}
	area := p.area()
	if !(area > 0) || math.IsInf(area, 0) {
		return false
	}
	for i := range p {
		if !(turn(p[i], p[(i+1)%len(p)], p[(i+2)%len(p)]) >= -sameShare*area) {
			return false
		}
	}
	return true
}

func (p polygon) area() float64 { return outline.ConvexArea(p) }

// bounds is the bounding box.
func (p polygon) bounds() (lo, hi [2]float64) {
	lo, hi = p[0], p[0]
	for _, v := range p[1:] {
		for k := range v {
			lo[k], hi[k] = min(lo[k], v[k]), max(hi[k], v[k])
		}
	}
	return lo, hi
}

// middle is the mean of a polygon's corners.
func (p polygon) middle() (mid [2]float64) {
	for _, v := range p {
		mid[0] += v[0] / float64(len(p))
		mid[1] += v[1] / float64(len(p))
	}
	return mid
}

// holds tells whether a place lies in the polygon.
func (p polygon) holds(at [2]float64) bool {
	for i, v := range p {
		if turn(v, p[(i+1)%len(p)], at) < 0 {
			return false
		}
	}
	return true
}

// clip is the common area of two convex polygons, nil when they share none.
func (p polygon) clip(c polygon) polygon {
	if len(c) > len(p) && len(p) > 2 {
		p, c = c, p // fewer sides cut sooner
	}
	return outline.Clip(p, c)
}

// rectangular reports whether p is an axis-parallel rectangle.
func (p polygon) rectangular() bool {
	if len(p) != 4 {
		return false
	}
	k := 0 // the direction in which the first side does not run
	if p[0][0] == p[1][0] {
		k = 1
	}
	return p[0][1-k] == p[1][1-k] && p[1][k] == p[2][k] && p[2][1-k] == p[3][1-k] && p[3][k] == p[0][k]
}

// samplePoint is one point of an integration rule.
type samplePoint struct {
	at     [2]float64
	weight float64
}

// Points along 0..1, exact to degrees 5 and 7.
var (
	gauss3 = onUnit(gauss)
	gauss4 = onUnit(fourPoints)
)

// samplePoints is an integration rule over the polygon, exact for what is integrated over it: products of two of the
// elements' shape functions or their slopes, and of one with a coordinate. These are of degree 6 in all and 4 in each
// direction. A rectangle takes 3 x 3 Gauss points. Anything else falls into triangles from its first corner, on each 4
// x 4 points of the collapsed product rule: with x = u and y = u·v a polynomial of degree 6 becomes one of degree 7 in
// u.
func (p polygon) samplePoints(into []samplePoint) []samplePoint {
	if p.rectangular() {
		lo, hi := p.bounds()
		dx, dy := hi[0]-lo[0], hi[1]-lo[1]
		for _, gx := range gauss3 {
			for _, gy := range gauss3 {
				into = append(into, samplePoint{[2]float64{lo[0] + gx[0]*dx, lo[1] + gy[0]*dy}, gx[1] * gy[1] * dx * dy})
			}
		}
		return into
	}
	for i := 2; i < len(p); i++ {
		a, b, c := p[0], p[i-1], p[i]
		twice := turn(a, b, c)
		for _, gu := range gauss4 {
			for _, gv := range gauss4 {
				u, v := gu[0], gv[0]
				into = append(into, samplePoint{[2]float64{
					a[0] + u*((1-v)*(b[0]-a[0])+v*(c[0]-a[0])),
					a[1] + u*((1-v)*(b[1]-a[1])+v*(c[1]-a[1])),
				}, gu[1] * gv[1] * u * twice})
			}
		}
	}
	return into
}
