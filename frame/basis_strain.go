package frame

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// Loads that press harder on what is stiffer
//
// Warmth, misfits and settlement do not push: they make parts and springs want another length, or hold a ground
// elsewhere, and what that takes goes with the stiffness of each. With movements held + V·c, where held is what the
// constraints prescribe, the forces on V are those of the load's own pushes and
//
//	− Σ kᵢ·gapᵢ·fᵢ + Σ θ_p·F_p,  gapᵢ = byᵢ + fᵢ·held
//
// with gapᵢ how much longer a spring is than it wants to be before anything gives, and F_p the forces of the growth of a
// part's members and blocks less those of their being held. A draw costs no more with them.

// strained is what is in a load beside pushes.
type strained struct {
	parts [][]float64 // F_p over freedoms; nil: none
	gaps  []float64   // of every spring, mm or rad
}

// steady is a load without what goes with the stiffness.
func (l Load) steady() Load {
	return Load{Pushes: l.Pushes, Lines: l.Lines, Gravity: l.Gravity, Inertia: l.Inertia}
}

// strain finds what goes with the stiffness in a load, and the movements that its constraints prescribe; nil: nothing.
func (b *Basis) strain(load Load) (*strained, []float64) {
	if load.Warm == nil && load.Swollen == nil && load.Stretched == nil && load.Moved == nil {
		return nil, nil
	}
	s := b.sys
	values, held := make([]float64, len(s.frame.constraints)), make([]float64, s.size)
	for _, m := range load.Moved {
		values[m.Constraint] += m.Value
	}
	s.red.toFreedoms(held, make([]float64, s.red.unknowns), values)
	out := &strained{parts: make([][]float64, len(b.parts)), gaps: make([]float64, len(s.spring))}
	add := func(part, freedom int, force float64) {
		if force == 0 {
			return
		}
		if out.parts[part] == nil {
			out.parts[part] = make([]float64, s.size)
		}
		out.parts[part][freedom] += force
	}
	growth := Load{Warm: load.Warm}
	for m := range s.placed {
		ids, grown := &s.placed[m].freedoms, s.placed[m].toNodes(s.memberLoad(m, growth))
		for i, f := range ids {
			add(b.ofMember[m], f, grown[i])
			for j, of := range ids {
				add(b.ofMember[m], f, -s.k[m][i][j]*held[of])
			}
		}
	}
	by := make([][]float64, len(s.block))
	for _, sw := range load.Swollen {
		if by[sw.Block] == nil {
			by[sw.Block] = make([]float64, len(s.block[sw.Block]))
		}
		floats.Add(by[sw.Block], sw.By)
	}
	for n, ids := range s.block {
		wants := s.blockMoved(n, held)
		floats.Scale(-1, wants)
		if by[n] != nil {
			floats.Add(wants, by[n])
		}
		for i, force := range s.frame.blocks[n].forces(wants) {
			add(b.ofBlock[n], ids[i], force)
		}
	}
	for i, form := range s.spring {
		out.gaps[i] = form.Of(held)
	}
	for _, st := range load.Stretched {
		out.gaps[st.Spring] += st.By
	}
	return out, held
}

// Gap is how much longer than it wants to be a spring is under one of the loads before anything moves, mm or rad.
func (b *Basis) Gap(spring, load int) float64 {
	if s := b.sides[load].strained; s != nil {
		return s.gaps[spring]
	}
	return 0
}

// force is a side's in a draw, over freedoms.
func (b *Basis) force(s side, factors []float64) []float64 {
	if s.strained == nil {
		return s.force
	}
	force := append([]float64(nil), s.force...)
	for p, f := range s.strained.parts {
		if f != nil {
			floats.AddScaled(force, factors[p], f)
		}
	}
	for i, form := range b.sys.spring {
		pull := b.stiffness(i, factors) * s.strained.gaps[i]
		for _, t := range form {
			force[t.Freedom] -= pull * t.Factor
		}
	}
	return force
}

// packedStrain is a strained side on some movements.
type packedStrain struct {
	side  int
	parts blas64.General // what each part does on each movement
}

// packStrain is what the strained sides do on some movements, on which the springs stretch so.
func (b *Basis) packStrain(moved, stretch blas64.General) (list []packedStrain) {
	for k, s := range b.sides {
		if s.strained == nil || moved.Rows == 0 {
			continue
		}
		p := packedStrain{k, general(moved.Rows, len(b.parts))}
		for n, f := range s.strained.parts {
			if f != nil {
				blas64.Gemv(blas.NoTrans, 1, moved, vector(f), 0, column(p.parts, n))
			}
			for _, h := range b.parts[n].springs {
				blas64.Axpy(-h.stiffness*s.strained.gaps[h.spring], column(stretch, h.spring), column(p.parts, n))
			}
		}
		list = append(list, p)
	}
	return list
}
