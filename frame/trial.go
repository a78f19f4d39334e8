package frame

import "gonum.org/v1/gonum/floats"

// Trial is a frame that has been assembled but not factored, held against a solved one with the same freedoms: the same
// structure with a thickness, a place or a stiffness a little different.
//
// It is there for derivatives. The compliance of a form b is the most that the potential can be,
//
//	c = bᵀ·K⁻¹·b = max over u of 2·bᵀ·u − uᵀ·K·u,
//
// over all movements u that keep the constraints, and it is reached at the solution. To first order, c therefore
// changes as the potential does at the movements of the solution, whatever b, K and the constraints do:
//
//	dc/dp = 2·uᵀ·db/dp − uᵀ·(dK/dp)·u,
//
// without solving again (the envelope theorem; for structures, Haug, Choi & Komkov, Design Sensitivity Analysis of
// Structural Systems, 1986, sec. 1.2). Constraints are kept by leaving the free unknowns as they are and letting those
// that constraints express follow.
type Trial struct {
	sys *System
}

// Try assembles a frame to be held against the solved one. It is false when the two have not the same freedoms.
func (s *System) Try(f *Frame) (*Trial, bool) {
	if len(f.nodes) != len(s.frame.nodes) || len(f.extra) != len(s.frame.extra) ||
		len(f.constraints) != len(s.frame.constraints) {
		return nil, false
	}
	red := f.reduceLike(&s.red)
	for c, freedom := range red.solved {
		if freedom != s.red.solved[c] {
			return nil, false
		}
	}
	return &Trial{f.elements(red)}, true
}

// Potential is 2·bᵀ·u − uᵀ·K·u of the trial at movements of the solved frame, mm/N for those under a unit force on b.
func (t *Trial) Potential(b Form, u []float64) float64 {
	s := t.sys
	q := make([]float64, s.red.unknowns)
	for i, terms := range s.red.t {
		if !s.red.bound[i] {
			q[terms[0].Freedom] = u[i]
		}
	}
	v := make([]float64, s.size)
	s.red.toFreedoms(v, q, make([]float64, len(s.frame.constraints)))
	return 2*s.frame.numbered(b).Of(v) - floats.Dot(v, s.innerForces(v))
}
