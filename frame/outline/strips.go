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

// InAll is what of a rectangle lies on the metal of all of some shapes: convex polygons, anticlockwise, that share no area.
func InAll(shapes []Shape, lo, hi Point) [][]Point {
	pieces := [][]Point{{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}}
	for _, s := range shapes {
		var kept [][]Point
		for _, a := range s.In(lo, hi) {
			for _, b := range pieces {
				if c := Clip(a, b); c != nil {
					kept = append(kept, c)
				}
			}
		}
		pieces = kept
	}
	return pieces
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
			if deep(Clip(p, q), touching) {
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
