package chance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Range is what nine draws in ten lie in.
type Range struct {
	Low    float64 // 5 % point
	Median float64
	High   float64 // 95 % point
}

// RangeOf returns the points of some values, of which there must be one at least; their order does not matter.
func RangeOf(values []float64) Range {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	point := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, sorted, nil) }
	return Range{point(0.05), point(0.5), point(0.95)}
}

// EndsOf returns the 5 and 95 % points of values that nothing lies between, of which there must be one at least: both are
// among the values.
func EndsOf(values []float64) (low, high float64) {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	return stat.Quantile(0.05, stat.Empirical, sorted, nil), stat.Quantile(0.95, stat.Empirical, sorted, nil)
}

// Settled is how far apart the two halves of a draw put the 5 and 95 % points, as a share of the point: what more draws
// might still move. A point at nought, as the length of a stretch has it that one draw in twenty does not have at all, is
// held against the range instead. Infinite for fewer than 40 values, whose points are single draws.
func Settled(values []float64) float64 {
	const fewest = 40
	if len(values) < fewest {
		return math.Inf(1)
	}
	half := len(values) / 2
	a, b, all := RangeOf(values[:half]), RangeOf(values[half:]), RangeOf(values)
	off := func(x, y, of float64) float64 {
		if x == y {
			return 0
		}
		if of == 0 {
			of = all.High - all.Low
		}
		if of == 0 {
			return 1 // the halves have nothing in common
		}
		return math.Abs(x-y) / math.Abs(of)
	}
	// Each half is off by the square root of two times what the whole is, and their difference by twice.
	return max(off(a.Low, b.Low, all.Low), off(a.High, b.High, all.High)) / 2
}
