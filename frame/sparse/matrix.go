package sparse

import (
	"fmt"

	"gonum.org/v1/gonum/blas/blas64"
)

// Matrix is a symmetric matrix of some pattern. Its store holds the profile of the lower triangle row by row in the
// order of elimination, each row from its first column to its diagonal:
//
//	D
//	x D
//	    D
//	  x x D
//	      x D
type Matrix struct {
	pattern *Pattern
	store   []float64
}

// NewMatrix returns a matrix of zeros.
func (p *Pattern) NewMatrix() *Matrix { return &Matrix{p, make([]float64, p.Entries())} }

// Add adds v at (i, j) and, when i ≠ j, at (j, i): give every unordered pair once.
func (m *Matrix) Add(i, j int, v float64) {
	hi, lo := m.pattern.place[i], m.pattern.place[j]
	if hi < lo {
		hi, lo = lo, hi
	}
	if lo < m.pattern.first[hi] {
		panic(fmt.Sprintf("sparse: entry (%d, %d) outside the pattern", i, j))
	}
	m.store[m.pattern.start[hi]+lo-m.pattern.first[hi]] += v
}

// At is the entry (i, j).
func (m *Matrix) At(i, j int) float64 {
	hi, lo := m.pattern.place[i], m.pattern.place[j]
	if hi < lo {
		hi, lo = lo, hi
	}
	if lo < m.pattern.first[hi] {
		return 0
	}
	return m.store[m.pattern.start[hi]+lo-m.pattern.first[hi]]
}

// row is the k-th row in the order of elimination, without its diagonal.
func (m *Matrix) row(k int) []float64 {
	return m.store[m.pattern.start[k] : m.pattern.start[k+1]-1]
}

// MulTo writes K·x into dst. dst must not overlap x.
func (m *Matrix) MulTo(dst, x []float64) {
	p := m.pattern
	if len(dst) != p.n || len(x) != p.n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a matrix of order %d", len(dst), len(x), p.n))
	}
	in, out := make([]float64, p.n), make([]float64, p.n)
	for i, k := range p.place {
		in[k] = x[i]
	}
	for k := range p.n {
		row, first := m.row(k), p.first[k]
		out[k] += dot(row, in[first:k]) + m.store[p.start[k+1]-1]*in[k]
		axpy(in[k], row, out[first:k])
	}
	for i, k := range p.place {
		dst[i] = out[k]
	}
}

func dot(x, y []float64) float64 {
	n := len(x)
	return blas64.Dot(blas64.Vector{N: n, Inc: 1, Data: x}, blas64.Vector{N: n, Inc: 1, Data: y})
}

func axpy(a float64, x, y []float64) {
	n := len(x)
	blas64.Axpy(a, blas64.Vector{N: n, Inc: 1, Data: x}, blas64.Vector{N: n, Inc: 1, Data: y})
}
