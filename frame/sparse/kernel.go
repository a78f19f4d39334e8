package sparse

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/gonum"
)

// level2 is gonum's own implementation, whatever blas64 is set to, so that results do not depend on that.
//
// All arithmetic that matters runs through its matrix-vector product, a row or a column of a block at a time: that
// kernel keeps four sums in registers and reaches 16 to 18 GFLOP/s on one core where the matrix-matrix product, which
// is made of vector updates that load and store their target at every step, reaches 9, and register-blocked loops in Go
// 6. The blocks are small enough to stay in the cache between calls, which is all that a matrix-matrix product would
// add.
var level2 gonum.Implementation

// subtractDots subtracts from dst the inner products of x with the rows of a.
func subtractDots(dst, a []float64, stride int, x []float64) {
	level2.Dgemv(blas.NoTrans, len(dst), len(x), -1, a, stride, x, 1, 1, dst, 1)
}

// kernel is a way to do the arithmetic of dense blocks. What another one returns differs by rounding.
type kernel struct {
	// subtract takes products off rows from to to of their target.
	subtract func(p products, from, to int)
	// pivots factors the triangle of a panel's own columns, of the given width. It stops at the first pivot that is not
	// above its floor and returns its column, -1 if there is none.
	pivots func(p []float64, width int, floor []float64) int
	// substitute divides rows of a panel by the triangle of its own columns: q·T⁻ᵀ.
	substitute func(q, triangle []float64, rows, width int)
	// rowsInCache is how many rows of a panel are best taken at a time.
	rowsInCache int
}

// plain takes 32 KiB of a panel at a time.
var plain = kernel{subtractPlain, pivotsPlain, substitutePlain, 64}

// products are the inner products of rows of a panel with one another, ⟨row i, row j⟩ for j ≤ i and j < columns, on
// their way to be taken off a target's entries (i, j).
type products struct {
	rows    []float64
	width   int // row i begins at i·width
	target  []float64
	stride  int // row i begins at i·stride; 0 for a triangle without gaps
	columns int
	fresh   bool // what the target held before does not count
}

// at is where row i of the target begins.
func (p products) at(i int) int {
	if p.stride == 0 {
		return triangle(i)
	}
	return i * p.stride
}

// subtractPlain takes the columns in stretches whose factors stay in the first cache.
func subtractPlain(p products, from, to int) {
	k := p.width
	beta := 1.0
	if p.fresh {
		beta = 0
	}
	stretch := max(4096/k&^3, 64)
	for left := 0; left < p.columns; left += stretch {
		for i := max(from, left); i < to; i++ {
			n := min(stretch, p.columns-left, i+1-left)
			target := p.target[p.at(i)+left:]
			level2.Dgemv(blas.NoTrans, n, k, -1, p.rows[left*k:], k, p.rows[i*k:][:k], 1, beta, target, 1)
		}
	}
}

// pivotsPlain goes column after column: column j takes the inner products of its rows with row j, then is divided by
// the root of its pivot.
func pivotsPlain(p []float64, width int, floor []float64) int {
	for j := range width {
		row := p[j*width:]
		if j > 0 {
			level2.Dgemv(blas.NoTrans, width-j, j, -1, row, width, row[:j], 1, 1, row[j:], width)
		}
		d := row[j]
		if !(d > floor[j]) {
			return j
		}
		root := math.Sqrt(d)
		row[j] = root
		scaleColumn(row[width:], width-j-1, j, width, 1/root)
	}
	return -1
}

func substitutePlain(q, triangle []float64, rows, width int) {
	for j := range width {
		row := triangle[j*width:]
		if j > 0 {
			level2.Dgemv(blas.NoTrans, rows, j, -1, q, width, row[:j], 1, 1, q[j:], width)
		}
		scaleColumn(q, rows, j, width, 1/row[j])
	}
}

// Entries of L below negligible times their column's pivot root become zero. Far apart in a large structure such
// entries go on to decay; the products of two of them would be subnormal numbers, on which processors are many times
// slower (the largest plate of the benchmarks took 1.4 times as long). What is left out is 1e-124 of a rounding error.
const negligible = 1e-140

// scaleColumn multiplies the j-th entries of rows by the reciprocal of their pivot's root.
func scaleColumn(q []float64, rows, j, width int, by float64) {
	least := math.Abs(negligible / by)
	for ; rows > 0; rows-- {
		v := q[j] * by
		if math.Abs(v) < least {
			v = 0
		}
		q[j] = v
		j += width
	}
}
