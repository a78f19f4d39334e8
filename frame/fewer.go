package frame

import (
	"math"
	"slices"
)

// fewSprings is how many springs of a grip are taken as they are. A pair of sliding faces has hundreds, which press on the
// same few places.
const fewSprings = 60

// spent is what rounding leaves of a diagonal entry that is used up, as a share of it.
const spent = 1e-13

// fewer replaces springs by as many as the places they touch can tell apart, of stiffness 1, that act alike: with P the
// forms and D the stiffnesses, P·D·Pᵀ = L·Lᵀ, found by Cholesky's method with the largest pivot left in each step (Higham,
// Accuracy and Stability of Numerical Algorithms, 2002, sec. 10.3), each place measured by its own stiffness. A stretch s of
// the old springs is the stretch c of the new with P·D·s = L·c.
func fewer(rows []places, stiffness []float64, stretch [][]float64) (few []places, fewStiffness []float64, fewStretch [][]float64) {
	var touched []int32
	for _, row := range rows {
		for _, t := range row {
			touched = append(touched, t.at)
		}
	}
	slices.Sort(touched)
	touched = slices.Compact(touched)
	n := len(touched)
	p := make([][]float64, len(rows)) // of each spring: its form over the touched places
	k := make([]float64, n*n)
	for i, row := range rows {
		p[i] = make([]float64, n)
		var at []int
		for _, t := range row {
			c, _ := slices.BinarySearch(touched, t.at)
			p[i][c] = t.factor
			at = append(at, c)
		}
		for _, a := range at {
			for _, b := range at {
				k[a*n+b] += stiffness[i] * p[i][a] * p[i][b]
			}
		}
	}
	scale, left := make([]float64, n), make([]float64, n)
	for i := range scale {
		if k[i*n+i] > 0 { // else all factors of the place have cancelled
			scale[i], left[i] = math.Sqrt(k[i*n+i]), 1
		} else {
			scale[i] = 1
		}
	}
	var columns [][]float64 // of L
	var pivots []int
	for {
		pivot := 0
		for i := range left {
			if left[i] > left[pivot] {
				pivot = i
			}
		}
		if !(left[pivot] > spent) {
			break
		}
		column := make([]float64, n)
		root := math.Sqrt(left[pivot])
		for i := range n {
			if slices.Contains(pivots, i) {
				continue
			}
			v := k[i*n+pivot] / (scale[i] * scale[pivot])
			for _, c := range columns {
				v -= c[i] * c[pivot]
			}
			column[i] = v / root
			left[i] -= column[i] * column[i]
		}
		column[pivot], left[pivot] = root, 0
		columns, pivots = append(columns, column), append(pivots, pivot)
	}
	for _, c := range columns {
		var row places
		for i, v := range c {
			if v != 0 {
				row = append(row, placeTerm{touched[i], v * scale[i]})
			}
		}
		few, fewStiffness = append(few, row), append(fewStiffness, 1)
	}
	for _, s := range stretch {
		force := make([]float64, n)
		for i := range rows {
			for c, v := range p[i] {
				force[c] += v * stiffness[i] * s[i]
			}
		}
		c := make([]float64, len(columns))
		for i, pivot := range pivots {
			c[i] = force[pivot] / scale[pivot]
			for j := range i {
				c[i] -= columns[j][pivot] * c[j]
			}
			c[i] /= columns[i][pivot]
		}
		fewStretch = append(fewStretch, c)
	}
	return few, fewStiffness, fewStretch
}
