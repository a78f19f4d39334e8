package frame

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

// Held are movements of a solved frame, at which trials are held against it.
type Held struct {
	sys    *System
	u      []float64
	blocks []float64 // energies
}

// Hold keeps movements of the frame for its trials, and what its blocks store at them.
func (s *System) Hold(u []float64) *Held {
	h := &Held{sys: s, u: u}
	for b := range s.block {
		h.blocks = append(h.blocks, s.blockEnergy(b, u))
	}
	return h
}

// Potential is 2·bᵀ·u − uᵀ·K·u of the trial at movements of the solved frame, mm/N for those under a unit force on b.
func (t *Trial) Potential(b Form, held *Held) float64 {
	s := t.sys
	q := make([]float64, s.red.unknowns)
	for i, terms := range s.red.t {
		if !s.red.bound[i] {
			q[terms[0].Freedom] = held.u[i]
		}
	}
	v := make([]float64, s.size)
	s.red.toFreedoms(v, q, make([]float64, len(s.frame.constraints)))
	energy := 0.0
	for m := range s.placed {
		energy += s.memberEnergy(m, v)
	}
	for i := range s.spring {
		energy += s.springEnergy(i, v)
	}
	for n := range s.block {
		if held.alike(s, n, v) {
			energy += held.blocks[n]
		} else {
			energy += s.blockEnergy(n, v)
		}
	}
	return 2*s.frame.numbered(b).Of(v) - 2*energy
}

// alike tells whether a block of a trial moved by v is the held frame's, moved as there. Most are: a little of the
// structure is different.
func (h *Held) alike(s *System, block int, v []float64) bool {
	if block >= len(h.blocks) || s.frame.blocks[block].K != h.sys.frame.blocks[block].K {
		return false
	}
	ids, here := s.block[block], h.sys.block[block]
	for i, id := range ids {
		if v[id] != h.u[here[i]] {
			return false
		}
	}
	return true
}
