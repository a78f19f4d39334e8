package sparse

import (
	"fmt"
	"math"
	"slices"
)

// A pivot below pivotFloor times its own diagonal entry means a structure that can move freely: the diagonal has lost
// all but a few of its sixteen digits to what it hangs on.
const pivotFloor = 1e-12

// Factor is P·K·Pᵀ = L·D·Lᵀ, L unit lower triangular in the matrix's profile, with D in the place of its diagonal.
type Factor struct {
	l Matrix
}

// LooseError says that the matrix lets its unknowns move without force.
type LooseError struct {
	Unknown int       // the one whose pivot vanished
	Motion  []float64 // a movement of all unknowns that meets no resistance, Motion[Unknown] = 1
}

// Error names the unknown.
func (e *LooseError) Error() string {
	return fmt.Sprintf("sparse: unknown %d moves without resistance", e.Unknown)
}

// Factorize factors the matrix, which stays as it is. The error is a *LooseError when a pivot vanishes.
//
// Row i of L follows from the rows above: g_ij = k_ij − Σ_l g_il·L_jl, then L_ij = g_ij/d_j and d_i = k_ii − Σ_j
// g_ij·L_ij. Every sum runs over two stretches of contiguous memory.
func (m *Matrix) Factorize() (*Factor, error) {
	f := &Factor{Matrix{m.pattern, slices.Clone(m.store)}}
	p := m.pattern
	for i := range p.n {
		ri, fi := f.l.row(i), p.first[i]
		for j := fi; j < i; j++ {
			fj := p.first[j]
			if from := max(fi, fj); from < j {
				ri[j-fi] -= dot(ri[from-fi:j-fi], f.l.row(j)[from-fj:])
			}
		}
		diagonal := f.pivot(i)
		d := diagonal
		for j := fi; j < i; j++ {
			g := ri[j-fi]
			l := g / f.pivot(j)
			d -= g * l
			ri[j-fi] = l
		}
		if !(d > pivotFloor*diagonal) {
			return nil, f.loose(i)
		}
		f.l.store[p.start[i+1]-1] = d
	}
	return f, nil
}

// pivot is d of the row that stands k-th.
func (f *Factor) pivot(k int) float64 { return f.l.store[f.l.pattern.start[k+1]-1] }

// loose solves Lᵀ·x = e_k over the rows up to k: with d_k = 0 it is in the null space of the leading block.
func (f *Factor) loose(k int) *LooseError {
	p := f.l.pattern
	x := make([]float64, p.n)
	x[k] = 1
	for i := k; i >= 0; i-- {
		axpy(-x[i], f.l.row(i), x[p.first[i]:i])
	}
	e := &LooseError{Motion: make([]float64, p.n)}
	for i, at := range p.place {
		e.Motion[i] = x[at]
		if at == k {
			e.Unknown = i
		}
	}
	return e
}

// HalfTo writes y = D^(−1/2)·L⁻¹·P·b into dst, so that bᵀ·K⁻¹·c is the inner product of the halves of b and c: half the
// work of a solve where only such products are wanted. dst must not overlap b.
func (f *Factor) HalfTo(dst, b []float64) {
	p := f.l.pattern
	if len(dst) != p.n || len(b) != p.n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a factor of order %d", len(dst), len(b), p.n))
	}
	for i, k := range p.place {
		dst[k] = b[i]
	}
	start := 0 // nothing happens before the first entry
	for start < p.n && dst[start] == 0 {
		start++
	}
	for k := start; k < p.n; k++ {
		if from := max(p.first[k], start); from < k {
			dst[k] -= dot(f.l.row(k)[from-p.first[k]:], dst[from:k])
		}
	}
	for k := start; k < p.n; k++ {
		dst[k] /= math.Sqrt(f.pivot(k))
	}
}

// SolveTo writes the solution of K·x = b into dst. dst may be b itself.
func (f *Factor) SolveTo(dst, b []float64) {
	p := f.l.pattern
	if len(dst) != p.n || len(b) != p.n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a factor of order %d", len(dst), len(b), p.n))
	}
	x := make([]float64, p.n)
	for i, k := range p.place {
		x[k] = b[i]
	}
	for k := range x {
		x[k] -= dot(f.l.row(k), x[p.first[k]:k])
	}
	for k := range x {
		x[k] /= f.pivot(k)
	}
	for k := p.n - 1; k >= 0; k-- {
		axpy(-x[k], f.l.row(k), x[p.first[k]:k])
	}
	for i, k := range p.place {
		dst[i] = x[k]
	}
}
