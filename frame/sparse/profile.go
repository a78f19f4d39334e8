package sparse

import (
	"fmt"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// A pivot below pivotFloor times its own diagonal entry means a structure that can move freely: the diagonal has lost
// all but a few of its sixteen digits to what it hangs on.
const pivotFloor = 1e-12

// Factor is P·K·Pᵀ = L·D·Lᵀ, L unit lower triangular in its row profile.
//
// Row i of L holds columns first[i]..i-1 side by side, so that every inner product of the factorisation and of the
// forward solve runs over two stretches of contiguous memory:
//
//	row 0   D
//	row 1   x D
//	row 2       D
//	row 3     x x D
//	row 4         x D
type Factor struct {
	order []int // order[k] is the matrix row that stands k-th
	first []int // first column of row k's profile
	row   [][]float64
	pivot []float64
}

// LooseError says that the matrix lets its unknowns move without force.
type LooseError struct {
	Row    int       // the unknown whose pivot vanished
	Motion []float64 // a movement of all unknowns that meets no resistance, Motion[Row] = 1
}

// Error names the unknown.
func (e *LooseError) Error() string {
	return fmt.Sprintf("sparse: unknown %d moves without resistance", e.Row)
}

// Factorize orders and factors m. The error is a *LooseError when a pivot vanishes.
func Factorize(m *Matrix) (*Factor, error) {
	n := m.n
	f := &Factor{order: profileOrder(m.neighbours()), first: make([]int, n), row: make([][]float64, n), pivot: make([]float64, n)}
	place := make([]int, n)
	for k, i := range f.order {
		place[i] = k
	}
	for k := range f.first {
		f.first[k] = k
	}
	for i := range n {
		for k := m.start[i]; k < m.start[i+1]; k++ {
			hi, lo := place[i], place[m.col[k]]
			if hi < lo {
				hi, lo = lo, hi
			}
			f.first[hi] = min(f.first[hi], lo)
		}
	}
	size := 0
	for k := range n {
		size += k - f.first[k]
	}
	store := make([]float64, size)
	for k := range n {
		w := k - f.first[k]
		f.row[k], store = store[:w:w], store[w:]
	}
	for i := range n {
		for k := m.start[i]; k < m.start[i+1]; k++ {
			hi, lo := place[i], place[m.col[k]]
			if hi < lo {
				hi, lo = lo, hi
			}
			if hi == lo {
				f.pivot[hi] = m.val[k]
			} else {
				f.row[hi][lo-f.first[hi]] = m.val[k]
			}
		}
	}
	return f, f.eliminate()
}

// eliminate turns the profile of K into that of L, row by row: g_ij = k_ij − Σ_l g_il·L_jl, then L_ij = g_ij/d_j and
// d_i = k_ii − Σ_j g_ij·L_ij.
func (f *Factor) eliminate() error {
	for i := range f.row {
		ri, fi := f.row[i], f.first[i]
		for j := fi; j < i; j++ {
			rj, fj := f.row[j], f.first[j]
			from := max(fi, fj)
			if from < j {
				ri[j-fi] -= dot(ri[from-fi:j-fi], rj[from-fj:])
			}
		}
		diagonal := f.pivot[i]
		d := diagonal
		for j := fi; j < i; j++ {
			g := ri[j-fi]
			l := g / f.pivot[j]
			d -= g * l
			ri[j-fi] = l
		}
		if !(d > pivotFloor*diagonal) {
			return &LooseError{Row: f.order[i], Motion: f.motion(i)}
		}
		f.pivot[i] = d
	}
	return nil
}

// motion solves Lᵀ·x = e_k over the rows up to k: with d_k = 0 it is in the null space of the leading block.
func (f *Factor) motion(k int) []float64 {
	x := make([]float64, len(f.row))
	x[k] = 1
	for i := k; i >= 0; i-- {
		if x[i] != 0 {
			floats.AddScaled(x[f.first[i]:i], -x[i], f.row[i])
		}
	}
	u := make([]float64, len(x))
	for i, v := range x {
		u[f.order[i]] = v
	}
	return u
}

// SolveTo writes the solution of K·x = b into dst. dst may be b itself.
func (f *Factor) SolveTo(dst, b []float64) {
	n := len(f.row)
	if len(dst) != n || len(b) != n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a factor of order %d", len(dst), len(b), n))
	}
	x := make([]float64, n)
	for k, i := range f.order {
		x[k] = b[i]
	}
	for i, r := range f.row {
		if len(r) > 0 {
			x[i] -= dot(r, x[f.first[i]:i])
		}
	}
	for i := range x {
		x[i] /= f.pivot[i]
	}
	for i := n - 1; i >= 0; i-- {
		if x[i] != 0 && len(f.row[i]) > 0 {
			floats.AddScaled(x[f.first[i]:i], -x[i], f.row[i])
		}
	}
	for k, i := range f.order {
		dst[i] = x[k]
	}
}

// Entries is the number of entries of L below its diagonal, zeros inside the profile included.
func (f *Factor) Entries() int {
	n := 0
	for _, r := range f.row {
		n += len(r)
	}
	return n
}

func dot(x, y []float64) float64 {
	n := len(x)
	return blas64.Dot(blas64.Vector{N: n, Inc: 1, Data: x}, blas64.Vector{N: n, Inc: 1, Data: y})
}
