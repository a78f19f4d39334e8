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
//	− Σ kᵢ·gapᵢ·fᵢ + Σ s_g·F_g,  gapᵢ = byᵢ + fᵢ·held
//
// with gapᵢ how much longer a spring is than it wants to be before anything gives, and F_g the forces of a group's growth
// less those of its being held. The same products make the stiffness of a draw, so a draw costs no more with them.

// strained is what is in a load beside pushes.
type strained struct {
	groups [][]float64 // F_g over freedoms; nil: none
	gaps   []float64   // of every spring, mm or rad
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
	out := &strained{groups: make([][]float64, len(b.groups)), gaps: make([]float64, len(s.spring))}
	add := func(group, freedom int, force float64) {
		if force == 0 {
			return
		}
		if out.groups[group] == nil {
			out.groups[group] = make([]float64, s.size)
		}
		out.groups[group][freedom] += force
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
	for _, i := range b.certain {
		for _, t := range s.spring[i] {
			add(0, t.Freedom, -s.frame.springs[i].Stiffness*out.gaps[i]*t.Factor)
		}
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
func (b *Basis) force(s side, numbers []float64) []float64 {
	if s.strained == nil {
		return s.force
	}
	force := append([]float64(nil), s.force...)
	for g, f := range s.strained.groups {
		if f != nil {
			floats.AddScaled(force, numbers[g], f)
		}
	}
	for k, i := range b.doubtful {
		pull := numbers[len(b.groups)+k] * s.strained.gaps[i]
		for _, t := range b.sys.spring[i] {
			force[t.Freedom] -= pull * t.Factor
		}
	}
	return force
}

// packedStrain is a strained side ready for many draws.
type packedStrain struct {
	side   int
	groups blas64.General // F_g on each of the movements or probes: rows × groups
	gaps   []float64      // of the doubtful springs
}

// packStrain makes the strained sides ready on some movements.
func (b *Basis) packStrain(movements [][]float64) (list []packedStrain) {
	for k, s := range b.sides {
		if s.strained == nil {
			continue
		}
		p := packedStrain{side: k, groups: general(len(movements), len(b.groups)), gaps: make([]float64, len(b.doubtful))}
		for i, v := range movements {
			for g, f := range s.strained.groups {
				if f != nil {
					p.groups.Data[i*len(b.groups)+g] = blas64.Dot(vector(v), vector(f))
				}
			}
		}
		for n, i := range b.doubtful {
			p.gaps[n] = s.strained.gaps[i]
		}
		list = append(list, p)
	}
	return list
}

// addTo adds what a draw makes of the side on the movements or probes, whose doubtful springs stretch so, to its column.
func (p packedStrain) addTo(sides, stretch blas64.General, numbers []float64) {
	column := blas64.Vector{N: sides.Rows, Data: sides.Data[p.side:], Inc: sides.Stride}
	groups := p.groups.Cols
	blas64.Gemv(blas.NoTrans, 1, p.groups, vector(numbers[:groups]), 1, column)
	if stretch.Cols == 0 {
		return
	}
	pull := make([]float64, len(p.gaps))
	floats.MulTo(pull, numbers[groups:], p.gaps)
	blas64.Gemv(blas.NoTrans, -1, stretch, vector(pull), 1, column)
}

// withStrain are the sides on movements or probes with what a draw makes of those that are strained.
func withStrain(sides blas64.General, strained []packedStrain, stretch blas64.General, numbers []float64) blas64.General {
	if strained == nil {
		return sides
	}
	out := sides
	out.Data = append([]float64(nil), sides.Data...)
	for _, p := range strained {
		p.addTo(out, stretch, numbers)
	}
	return out
}
