package sparse

import (
	"fmt"
)

// A pivot below pivotFloor times its own diagonal entry means a structure that can move freely: the diagonal has lost
// all but a few of its sixteen digits to what it hangs on.
const pivotFloor = 1e-12

// Factor is P·K·Pᵀ = L·Lᵀ, L lower triangular.
type Factor struct {
	pattern *Pattern
	store   []float64 // in the shape of the supernodes' panels
}

func (f *Factor) supernodes() *supernodes { return f.pattern.factors }

// LooseError says that the matrix lets its unknowns move without force.
type LooseError struct {
	Unknown int       // the one whose pivot vanished
	Motion  []float64 // a movement of all unknowns that meets no resistance, Motion[Unknown] = 1
}

// Error names the unknown.
func (e *LooseError) Error() string {
	return fmt.Sprintf("sparse: unknown %d moves without resistance", e.Unknown)
}

// Factorize factors the matrix, which stays as it is. The error is a *LooseError when a pivot vanishes. It uses as many
// goroutines as GOMAXPROCS allows; the factor is the same, byte for byte, with any number of them.
func (m *Matrix) Factorize() (*Factor, error) {
	f := &Factor{m.pattern, make([]float64, m.pattern.factors.store)}
	if k := f.fill(m); k >= 0 {
		return nil, f.loose(k)
	}
	return f, nil
}

// loose solves Lᵀ·x = e_k over the columns up to k: with no pivot at k that is in the null space of the leading block.
// Only columns of the subtree below k take part, and those are factored.
func (f *Factor) loose(k int32) *LooseError {
	s := f.supernodes()
	x := make([]float64, f.pattern.n)
	number := 0
	for s.first[number+1] <= k {
		number++
	}
	// Row k of the supernode stands in for the right-hand side: x_j = −(Lᵀ)⁻¹·L_kj for its columns before k.
	x[k] = 1
	scratch := make([]float64, s.most())
	panels := s.panelsOf(number)
	for b := len(panels) - 1; b >= 0; b-- {
		p := panels[b]
		if p.first > k {
			continue
		}
		width := int(p.width)
		for i := min(k, s.first[number+1]-1); i >= p.first; i-- {
			at := p.at + int(i-p.first)*width
			n := min(int(i-p.first), width)
			if i < p.first+p.width && i != k {
				x[i] /= f.store[at+n]
			}
			for j := range n {
				x[p.first+int32(j)] -= f.store[at+j] * x[i]
			}
		}
	}
	for c := number - 1; c >= int(s.descendant[number]); c-- {
		f.back(c, x, scratch)
	}
	e := &LooseError{Motion: make([]float64, f.pattern.n)}
	for i, at := range f.pattern.place {
		e.Motion[i] = x[at]
		if at == k {
			e.Unknown = i
		}
	}
	return e
}

// most is the largest number of rows below a supernode.
func (s *supernodes) most() int {
	most := int32(0)
	for _, b := range s.below {
		most = max(most, b)
	}
	return int(most)
}
