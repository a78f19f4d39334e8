package frame

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"
)

// Solution is what one load does.
type Solution struct {
	sys      *System
	load     Load
	U        []float64 // movements of all freedoms: node n's at 6n
	force    []float64 // loads on all freedoms
	inner    []float64 // K·u − what the strain-free state would need
	Residual float64   // largest force out of balance, relative to the largest load
}

// Solve finds the movements under one load. A residual above worstResidual is an error.
func (s *System) Solve(load Load) (*Solution, error) {
	list, _, err := s.SolveAll(load)
	if err != nil {
		return nil, err
	}
	return list[0], nil
}

// solving is a solution on its way.
type solving struct {
	*Solution
	values []float64 // of the constraints
	q      []float64 // movements of the unknowns
	scale  float64   // the largest load on an unknown
}

// SolveAll is Solve of several loads, which together take less than one after the other. With an error goes the number
// of the first load that has one.
func (s *System) SolveAll(loads ...Load) (list []*Solution, failed int, err error) {
	n := s.red.unknowns
	left := make([]*solving, len(loads))
	for i, load := range loads {
		l := &solving{values: make([]float64, len(s.frame.constraints)), q: make([]float64, n),
			Solution: &Solution{sys: s, load: load, U: make([]float64, s.size), inner: make([]float64, s.size)}}
		for _, m := range load.Moved {
			l.values[m.Constraint] += m.Value
		}
		if err := s.red.check(l.values); err != nil {
			return nil, i, err
		}
		l.force = s.forces(load)
		left[i], list = l, append(list, l.Solution)
	}
	out, unbalanced := make([]float64, n*len(loads)), make([]float64, s.size)
	for pass := 0; ; pass++ {
		waiting := left[:0]
		for _, l := range left {
			if s.rest(l, out[n*len(waiting):][:n], unbalanced, pass) {
				waiting = append(waiting, l)
			}
		}
		if left = waiting; len(left) == 0 {
			break
		}
		// first the solutions, then a step of refinement, more where one does not do
		s.factor.SolveManyTo(out[:n*len(left)], out[:n*len(left)], len(left))
		for i, l := range left {
			floats.Add(l.q, out[n*i:][:n])
		}
	}
	for i, l := range list {
		if !(l.Residual <= worstResidual) {
			floats.SubTo(unbalanced, l.force, l.inner)
			return nil, i, &UnevenError{Residual: l.Residual, Node: s.frame.Owner(
				blas64.Iamax(blas64.Vector{N: len(unbalanced), Data: unbalanced, Inc: 1}))}
		}
	}
	return list, 0, nil
}

// rest writes into out what is still out of balance on the unknowns before a pass, and tells whether it needs another.
func (s *System) rest(l *solving, out, unbalanced []float64, pass int) bool {
	if pass > 0 || l.load.Moved != nil { // before the first pass nothing has moved
		s.red.toFreedoms(l.U, l.q, l.values)
		l.inner = s.innerForces(l.U)
	}
	clear(out)
	floats.SubTo(unbalanced, l.force, l.inner)
	s.red.toUnknowns(out, unbalanced)
	left := floats.Norm(out, math.Inf(1))
	if pass == 0 {
		l.scale = left
		if l.load.Moved != nil {
			l.scale = math.Max(left, strainFree*s.largestTerm(l.U))
		}
	}
	if l.scale > 0 {
		l.Residual = left / l.scale
	}
	return l.scale != 0 && (pass < 2 || !(l.Residual <= worstResidual) && pass < mostPasses)
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
