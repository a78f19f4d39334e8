package joint

import (
	"fmt"
	"math"
)

// Rect2 is a contact face in its own plane, sides along the axes.
type Rect2 struct {
	Min, Max [2]float64 // corners, mm
}

// Moments are the area of a figure, mm², its first moments, mm³, and its second ones, mm⁴, about the origin.
type Moments struct {
	Area       float64
	X, Y       float64
	XX, XY, YY float64
}

// times returns the moments of a figure that counts with a factor.
func (m Moments) times(by float64) Moments {
	return Moments{m.Area * by, m.X * by, m.Y * by, m.XX * by, m.XY * by, m.YY * by}
}

// plus returns the moments of two figures together.
func (m Moments) plus(n Moments) Moments {
	return Moments{m.Area + n.Area, m.X + n.X, m.Y + n.Y, m.XX + n.XX, m.XY + n.XY, m.YY + n.YY}
}

// Centroid returns the middle of the area, mm.
func (m Moments) Centroid() [2]float64 { return [2]float64{m.X / m.Area, m.Y / m.Area} }

// Central returns the second moments about the middle of the area, mm⁴.
func (m Moments) Central() (xx, xy, yy float64) {
	c := m.Centroid()
	return m.XX - c[0]*m.X, m.XY - c[0]*m.Y, m.YY - c[1]*m.Y
}

// PressureZone returns the moments, about the screw at places[i] (mm, in the plane of the face), of its pressure zone:
// the ring between the radii inner and outer, mm, less what lies beyond the edges of the face and less what lies nearer
// to another screw. Screws in one place share their zone equally. What is left of the ring is bounded by arcs and
// straight lines, and the moments are exact. They are all zero when nothing is left.
func PressureZone(rect Rect2, places [][2]float64, i int, inner, outer float64) Moments {
	if i < 0 || i >= len(places) {
		panic(fmt.Sprintf("joint: screw %d of %d", i, len(places)))
	}
	mustNotBeNegative("inner radius", inner)
	if outer <= inner {
		return Moments{}
	}
	cell, sharing := nearest(rect, places, i)
	zone := discOverlap(cell, outer).plus(discOverlap(cell, inner).times(-1))
	if zone.Area <= 0 {
		return Moments{}
	}
	return zone.times(1 / sharing)
}

// Outline returns what PressureZone cuts the ring of the screw at places[i] with: the convex polygon, anticlockwise,
// of the face's points that lie no nearer to any other screw, mm in the plane of the face.
func Outline(rect Rect2, places [][2]float64, i int) [][2]float64 {
	cell, _ := nearest(rect, places, i)
	for k := range cell {
		cell[k][0] += places[i][0]
		cell[k][1] += places[i][1]
	}
	return cell
}

// nearest is the part of the face that is nearest to a screw, relative to it, so that large coordinates cost no digits,
// and how many screws stand in its place.
func nearest(rect Rect2, places [][2]float64, i int) (cell [][2]float64, sharing float64) {
	centre := places[i]
	x0, y0 := rect.Min[0]-centre[0], rect.Min[1]-centre[1]
	x1, y1 := rect.Max[0]-centre[0], rect.Max[1]-centre[1]
	cell = [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	sharing = 1
	for j, p := range places {
		if j == i {
			continue
		}
		to := [2]float64{p[0] - centre[0], p[1] - centre[1]}
		if to == ([2]float64{}) {
			sharing++
			continue
		}
		cell = nearerHalf(cell, to)
	}
	return cell, sharing
}

// nearerHalf cuts a convex polygon down to the points no nearer to the point to than to the
// origin (Sutherland and Hodgman's clipping, one half-plane).
func nearerHalf(polygon [][2]float64, to [2]float64) [][2]float64 {
	middle := (to[0]*to[0] + to[1]*to[1]) / 2
	beyond := func(p [2]float64) float64 { return p[0]*to[0] + p[1]*to[1] - middle }
	var kept [][2]float64
	for k, p := range polygon {
		q := polygon[(k+1)%len(polygon)]
		bp, bq := beyond(p), beyond(q)
		if bp <= 0 {
			kept = append(kept, p)
		}
		if bp < 0 && bq > 0 || bp > 0 && bq < 0 {
			t := bp / (bp - bq)
			kept = append(kept, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return kept
}

// discOverlap returns the moments of what an anticlockwise polygon shares with the disc of radius r about the origin:
// over its edges, signed, those of what the disc holds of the triangle between the edge and the origin.
func discOverlap(polygon [][2]float64, r float64) (m Moments) {
	if r == 0 {
		return m
	}
	for k, p := range polygon {
		m = m.plus(edgeOverlap(p, polygon[(k+1)%len(polygon)], r))
	}
	return m
}

// edgeOverlap splits the edge where it crosses the circle; outside the circle the disc's share is a
// sector, inside it the triangle itself.
func edgeOverlap(p, q [2]float64, r float64) Moments {
	dx, dy := q[0]-p[0], q[1]-p[1]
	a := dx*dx + dy*dy
	if a == 0 {
		return Moments{}
	}
	half := p[0]*dx + p[1]*dy // half the middle coefficient of |p + t(q-p)|² = r²
	c := p[0]*p[0] + p[1]*p[1] - r*r
	disc := half*half - a*c
	if disc <= 0 {
		return sector(p, q, r)
	}
	root := math.Sqrt(disc)
	in := math.Max(0, (-half-root)/a)
	out := math.Min(1, (-half+root)/a)
	if in >= out {
		return sector(p, q, r)
	}
	enter := [2]float64{p[0] + in*dx, p[1] + in*dy}
	leave := [2]float64{p[0] + out*dx, p[1] + out*dy}
	m := triangle(enter, leave)
	if in > 0 {
		m = m.plus(sector(p, enter, r))
	}
	if out < 1 {
		m = m.plus(sector(leave, q, r))
	}
	return m
}

// triangle returns the signed moments of the triangle between the origin, p and q.
func triangle(p, q [2]float64) Moments {
	area := (p[0]*q[1] - p[1]*q[0]) / 2
	return Moments{
		Area: area,
		X:    area * (p[0] + q[0]) / 3,
		Y:    area * (p[1] + q[1]) / 3,
		XX:   area * (p[0]*p[0] + p[0]*q[0] + q[0]*q[0]) / 6,
		XY:   area * (2*p[0]*p[1] + p[0]*q[1] + q[0]*p[1] + 2*q[0]*q[1]) / 12,
		YY:   area * (p[1]*p[1] + p[1]*q[1] + q[1]*q[1]) / 6,
	}
}

// sector returns the signed moments of the sector of radius r from the direction of p to that of q.
func sector(p, q [2]float64, r float64) Moments {
	angle := math.Atan2(p[0]*q[1]-p[1]*q[0], p[0]*q[0]+p[1]*q[1])
	a, b := math.Hypot(p[0], p[1]), math.Hypot(q[0], q[1])
	cosP, sinP, cosQ, sinQ := p[0]/a, p[1]/a, q[0]/b, q[1]/b
	cube, fourth := r*r*r/3, r*r*r*r/8
	turned := sinQ*cosQ - sinP*cosP
	return Moments{
		Area: r * r / 2 * angle,
		X:    cube * (sinQ - sinP),
		Y:    cube * (cosP - cosQ),
		XX:   fourth * (angle + turned),
		XY:   fourth * (sinQ*sinQ - sinP*sinP),
		YY:   fourth * (angle - turned),
	}
}
