package frame

import "gonum.org/v1/gonum/spatial/r3"

// Solution is what one load does.
type Solution struct {
	sys      *System
	load     Load
	U        []float64 // movements of all freedoms: node n's at 6n
	force    []float64 // loads on all freedoms
	inner    []float64 // K·u − what the strain-free state would need
	Residual float64   // largest force out of balance, relative to the largest load
}

// Value reads a form.
func (s *Solution) Value(f Form) float64 { return s.sys.Value(f, s.U) }

// Reaction is the generalised force that a constraint puts on the structure along its form, N or N·mm.
func (s *Solution) Reaction(constraint int) float64 {
	sum := 0.0
	for i, terms := range s.sys.red.v {
		for _, t := range terms {
			if t.Freedom == constraint {
				sum += t.Factor * (s.inner[i] - s.force[i])
			}
		}
	}
	return sum
}

// SpringForce is stiffness times form: positive when the form is positive and the spring pulls it back.
func (s *Solution) SpringForce(spring int) float64 {
	value := s.sys.spring[spring].Of(s.U)
	for _, st := range s.load.Stretched {
		if st.Spring == spring {
			value += st.By
		}
	}
	return s.sys.frame.springs[spring].Stiffness * value
}

// EndForces are the forces and moments that the nodes put on a member's two ends, in its local axes (x along it, z its
// height): Fx, Fy, Fz, Mx, My, Mz at the first end, then at the second. They are about the member's ends, not the
// nodes.
func (s *Solution) EndForces(member int) (ends [12]float64) {
	p := &s.sys.placed[member]
	k := p.own.Stiffness()
	u := p.toEnds(s.U)
	loads := s.sys.memberLoad(member, s.load)
	for i := range ends {
		for j := range u {
			ends[i] += k[i][j] * u[j]
		}
		ends[i] -= loads[i]
	}
	return ends
}

// BedForce is what the elastic bed under a member puts on it, in the world's axes: a member alone carries no force from
// nothing, so whatever K·u adds up to over its two ends comes from the bed.
func (s *Solution) BedForce(member int) r3.Vec {
	p := &s.sys.placed[member]
	var sum r3.Vec
	for i, fi := range p.freedoms {
		force := 0.0
		for j, fj := range p.freedoms {
			force += s.sys.k[member][i][j] * s.U[fj]
		}
		switch fi % NodeFreedoms {
		case 0:
			sum.X -= force
		case 1:
			sum.Y -= force
		case 2:
			sum.Z -= force
		}
	}
	return sum
}
