package outline

import (
	"math"
	"slices"
)

// The corners of convex polygons run anticlockwise.

// ConvexArea is the area of a convex polygon, mm².
func ConvexArea(p []Point) (area float64) {
	for i := 2; i < len(p); i++ {
		area += twice(p[0], p[i-1], p[i]) / 2
	}
	return area
}

// ConvexMoments are the middle of a convex polygon and the mean squares of the distance from it along the two axes, mm².
func ConvexMoments(p []Point) (middle, square Point) {
	area := 0.0
	var second Point
	for i := 2; i < len(p); i++ {
		a, b, c := p[0], p[i-1], p[i]
		w := twice(a, b, c) / 2
		area += w
		for k := range middle {
			middle[k] += w * (a[k] + b[k] + c[k]) / 3
			// Over a triangle the mean of x² is that of the middles of its sides (exact to degree 2).
			for _, m := range [3]float64{(a[k] + b[k]) / 2, (b[k] + c[k]) / 2, (c[k] + a[k]) / 2} {
				second[k] += w * m * m / 3
			}
		}
	}
	for k := range middle {
		middle[k] /= area
		square[k] = second[k]/area - middle[k]*middle[k]
	}
	return middle, square
}

// Hull is the convex polygon round some points, anticlockwise from the least of them (Andrew's monotone chain, 1979).
func Hull(points []Point) []Point {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b Point) int { return slices.Compare(a[:], b[:]) })
	points = slices.Compact(points)
	chain := func(points []Point) (c []Point) {
		for _, p := range points {
			for len(c) > 1 && twice(c[len(c)-2], c[len(c)-1], p) <= 0 {
				c = c[:len(c)-1]
			}
			c = append(c, p)
		}
		return c[:len(c)-1]
	}
	if len(points) < 3 {
		return points
	}
	below := chain(points)
	slices.Reverse(points)
	return append(below, chain(points)...)
}

// half is what of a convex polygon lies above a line square to an axis, for sign 1, or below it, for −1.
func half(p []Point, axis int, at, sign float64) (kept []Point) {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		da, db := sign*(a[axis]-at), sign*(b[axis]-at)
		if da >= 0 {
			kept = append(kept, a)
		}
		if da > 0 && db < 0 || da < 0 && db > 0 {
			t := da / (da - db)
			c := Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
			c[axis] = at
			kept = append(kept, c)
		}
	}
	return kept
}

// Clip is what two convex polygons share, nil when that is no area (Sutherland & Hodgman, Reentrant polygon clipping,
// Communications of the ACM 17 (1974): p is cut by the line along each side of c in turn).
func Clip(p, c []Point) []Point {
	// A cut by a line adds one corner at most. Two rooms are taken in turn.
	most := len(p) + len(c)
	scratch := make([]Point, 2*most)
	for i, a := range c {
		b := c[(i+1)%len(c)]
		cut := scratch[i%2*most : i%2*most : (i%2+1)*most]
		var first, v Point
		var firstAway, dv float64
		for j := range len(p) + 1 {
			w, dw := first, firstAway
			if j < len(p) {
				w = p[j]
				dw = twice(a, b, w)
			}
			if j == 0 {
				first, firstAway = w, dw
				v, dv = w, dw
				continue
			}
			if dv >= 0 {
				cut = append(cut, v)
			}
			if dv > 0 && dw < 0 || dv < 0 && dw > 0 {
				s := dv / (dv - dw)
				cut = append(cut, Point{v[0] + s*(w[0]-v[0]), v[1] + s*(w[1]-v[1])})
			}
			v, dv = w, dw
		}
		p = cut
	}
	if !(ConvexArea(p) > 0) {
		return nil
	}
	return p
}

// deep tells whether a convex polygon is deeper than touching: its area over its longest extent is, about, its width.
func deep(p []Point, touching float64) bool {
	if len(p) < 3 {
		return false
	}
	longest := 0.0
	for i, a := range p {
		for _, b := range p[:i] {
			longest = math.Max(longest, math.Hypot(a[0]-b[0], a[1]-b[1]))
		}
	}
	return ConvexArea(p) > touching*longest
}
