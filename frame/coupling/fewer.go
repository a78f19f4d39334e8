package coupling

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// fewSprings is how many springs of a connection are taken as they are. A pair of sliding faces has hundreds, which
// press on the same few places.
const fewSprings = 60

// spent is what rounding leaves of a diagonal entry that is used up, as a share of it.
const spent = 1e-13

// fewer replaces springs by as many as the places they touch can tell apart, of stiffness 1, that act alike: with P the
// forms and D the stiffnesses, P·D·Pᵀ = L·Lᵀ, found by Cholesky's method with the largest pivot left in each step
// (Higham, Accuracy and Stability of Numerical Algorithms, 2002, sec. 10.3), each place measured by its own stiffness.
// A stretch s of the old springs is the stretch c of the new with P·D·s = L·c.
func fewer(rows []places, stiffness []float64, stretch [][]float64) (
	few []places, fewStiffness []float64, fewStretch [][]float64,
) {
	var touched []int32
	for _, row := range rows {
		for _, t := range row {
			touched = append(touched, t.at)
		}
	}
	slices.Sort(touched)
	touched = slices.Compact(touched)
	n := len(touched)
	at := make([][]int, len(rows)) // of each term of each spring: its place among the touched
	k := make([]float64, n*n)
	for i, row := range rows {
		for _, t := range row {
			c, _ := slices.BinarySearch(touched, t.at)
			at[i] = append(at[i], c)
		}
		for a, t := range row {
			for b, o := range row {
				k[at[i][a]*n+at[i][b]] += stiffness[i] * t.factor * o.factor
			}
		}
	}
	scale, l, pivots := pivoted(k, n)
	for c := range pivots {
		var row places
		for i := range n {
			if v := l[i][c]; v != 0 {
				row = append(row, placeTerm{touched[i], v * scale[i]})
			}
		}
		few, fewStiffness = append(few, row), append(fewStiffness, 1)
	}
	for _, s := range stretch {
		force := make([]float64, n)
		for i, row := range rows {
			for a, t := range row {
				force[at[i][a]] += t.factor * stiffness[i] * s[i]
			}
		}
		c := make([]float64, len(pivots))
		for i, pivot := range pivots {
			c[i] = (force[pivot]/scale[pivot] - dot(l[pivot][:i], c[:i])) / l[pivot][i]
		}
		fewStretch = append(fewStretch, c)
	}
	return few, fewStiffness, fewStretch
}

// pivoted is the Cholesky factor L of a semidefinite matrix of order n, both row by row, with the largest pivot left in
// each step until all are spent. Rows of L are measured by scale, the roots of the diagonal.
func pivoted(k []float64, n int) (scale []float64, l [][]float64, pivots []int) {
	scale = make([]float64, n)
	left := make([]float64, n)
	for i := range scale {
		if k[i*n+i] > 0 { // else all factors of the place have cancelled
			scale[i], left[i] = math.Sqrt(k[i*n+i]), 1
		} else {
			scale[i] = 1
		}
	}
	l = make([][]float64, n)
	used := make([]bool, n)
	for {
		pivot := floats.MaxIdx(left)
		if !(left[pivot] > spent) {
			break
		}
		root := math.Sqrt(left[pivot])
		for i := range n {
			if i == pivot {
				continue
			}
			v := 0.0
			if !used[i] {
				v = (k[i*n+pivot]/(scale[i]*scale[pivot]) - dot(l[i][:len(pivots)], l[pivot][:len(pivots)])) / root
				left[i] -= v * v
			}
			l[i] = append(l[i], v)
		}
		l[pivot] = append(l[pivot], root)
		left[pivot], used[pivot] = 0, true
		pivots = append(pivots, pivot)
	}
	return scale, l, pivots
}
