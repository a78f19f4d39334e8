package outline

import (
	"cmp"
	"math"
	"slices"
)

// Trapezoid is a piece of a shape between two lines square to the first axis: where it begins and ends along the second
// one at the lower line and at the upper one.
type Trapezoid struct{ Below, Above [2]float64 } // at the lower line [from, to], at the upper one

// Strips cuts a shape into trapezoids between lines along the first axis, ascending: those of each strip in order. Every
// corner of the shape must lie on a line, to the last digit, or it panics.
//
// Between two lines no edge begins or ends, so that the edges there, from the lowest on, are by turns where metal begins
// and where it ends.
func (s Shape) Strips(lines []float64) [][]Trapezoid {
	type run struct{ low, high, middle float64 }
	across := make([][]run, len(lines)-1)
	s.edges(func(a, b Point) {
		if a[0] > b[0] {
			a, b = b, a
		}
		from, on := slices.BinarySearch(lines, a[0])
		to, also := slices.BinarySearch(lines, b[0])
		if !on || !also {
			panic("outline: a corner lies between the lines of strips")
		}
		before := a[1]
		for i := from; i < to; i++ {
			next := b[1]
			if i+1 < to {
				next = a[1] + (lines[i+1]-a[0])/(b[0]-a[0])*(b[1]-a[1])
			}
			across[i] = append(across[i], run{before, next, (before + next) / 2})
			before = next
		}
	})
	strips := make([][]Trapezoid, len(across))
	for i, runs := range across {
		slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(a.middle, b.middle) })
		for k := 0; k+1 < len(runs); k += 2 {
			a, b := runs[k], runs[k+1]
			strips[i] = append(strips[i], Trapezoid{[2]float64{a.low, b.low}, [2]float64{a.high, b.high}})
		}
	}
	return strips
}

// In is what of a shape lies in a rectangle: convex polygons, anticlockwise, that share no area.
func (s Shape) In(lo, hi Point) (pieces [][]Point) {
	var lines []float64
	s.edges(func(a, _ Point) { lines = append(lines, a[0]) })
	slices.Sort(lines)
	lines = slices.Compact(lines)
	for i, strip := range s.Strips(lines) {
		if lines[i] >= hi[0] || lines[i+1] <= lo[0] {
			continue
		}
		for _, t := range strip {
			piece := []Point{{lines[i], t.Below[0]}, {lines[i+1], t.Above[0]}, {lines[i+1], t.Above[1]}, {lines[i], t.Below[1]}}
			for k := range lo {
				piece = half(half(piece, k, lo[k], 1), k, hi[k], -1)
			}
			if ConvexArea(piece) > 0 {
				pieces = append(pieces, piece)
			}
		}
	}
	return pieces
}

// half is what of a convex polygon lies above a line square to an axis, for sign 1, or below it, for −1 (Sutherland &
// Hodgman).
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

// InAll is what of a rectangle lies on the metal of all of some shapes: convex polygons, anticlockwise, that share no area.
func InAll(shapes []Shape, lo, hi Point) [][]Point {
	pieces := [][]Point{{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}}
	for _, s := range shapes {
		var kept [][]Point
		for _, a := range s.In(lo, hi) {
			for _, b := range pieces {
				if c := clipped(a, b); len(c) > 2 && ConvexArea(c) > 0 {
					kept = append(kept, c)
				}
			}
		}
		pieces = kept
	}
	return pieces
}

// ConvexArea is the area of a convex polygon, anticlockwise.
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

// Meets tells whether two shapes of one plane share more than a sliver: metal deeper than touching, mm.
func (s Shape) Meets(o Shape, touching float64) bool {
	lo, hi := o.Bounds()
	from, to := s.Bounds()
	for k := range lo {
		lo[k], hi[k] = math.Max(lo[k], from[k]), math.Min(hi[k], to[k])
		if hi[k]-lo[k] <= touching {
			return false
		}
	}
	others := o.In(lo, hi)
	for _, p := range s.In(lo, hi) {
		for _, q := range others {
			if deep(clipped(p, q), touching) {
				return true
			}
		}
	}
	return false
}

// Reaches tells whether the shape has metal deeper than touching in a rectangle.
func (s Shape) Reaches(lo, hi Point, touching float64) bool {
	for _, p := range s.In(lo, hi) {
		if deep(p, touching) {
			return true
		}
	}
	return false
}

// Covers tells whether there is metal in a narrow rectangle on both sides of its middle along an axis.
func (s Shape) Covers(lo, hi Point, across int) bool {
	middle := (lo[across] + hi[across]) / 2
	var sides [2]float64
	for _, p := range s.In(lo, hi) {
		sides[0] += ConvexArea(half(p, across, middle, -1))
		sides[1] += ConvexArea(half(p, across, middle, 1))
	}
	least := coveredFrom * (hi[across] - lo[across]) * (hi[across] - lo[across])
	return sides[0] > least && sides[1] > least
}

// coveredFrom is the area of metal, as a share of the square of a rectangle's width, from which it counts.
const coveredFrom = 2

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

// clipped is what two convex polygons share.
func clipped(p, c []Point) []Point {
	for i, a := range c {
		b := c[(i+1)%len(c)]
		var kept []Point
		for j, v := range p {
			w := p[(j+1)%len(p)]
			dv, dw := twice(a, b, v), twice(a, b, w)
			if dv >= 0 {
				kept = append(kept, v)
			}
			if dv > 0 && dw < 0 || dv < 0 && dw > 0 {
				t := dv / (dv - dw)
				kept = append(kept, Point{v[0] + t*(w[0]-v[0]), v[1] + t*(w[1]-v[1])})
			}
		}
		p = kept
	}
	return p
}
