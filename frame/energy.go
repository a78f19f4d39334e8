package frame

import "gonum.org/v1/gonum/floats"

// SourceEnergy is the strain energy stored in everything that shares a source, N·mm.
type SourceEnergy struct {
	Source string
	Energy float64
}

// Energy is the strain energy ½·uᵀ·K·u by source, in the order in which the sources were first added: members, springs,
// blocks. It counts deformation from the unloaded shape, so it is meant for loads without temperature or settlement.
func (s *Solution) Energy() []SourceEnergy {
	var list []SourceEnergy
	index := map[string]int{}
	add := func(source string, e float64) {
		i, ok := index[source]
		if !ok {
			i = len(list)
			index[source] = i
			list = append(list, SourceEnergy{Source: source})
		}
		list[i].Energy += e
	}
	f := s.sys.frame
	for m, member := range f.members {
		add(member.Source, s.sys.memberEnergy(m, s.U))
	}
	for i, sp := range f.springs {
		add(sp.Source, s.sys.springEnergy(i, s.U))
	}
	for b, bl := range f.blocks {
		add(bl.Source, s.sys.blockEnergy(b, s.U))
	}
	return list
}

// memberEnergy is ½·uᵀ·K·u of a member.
func (s *System) memberEnergy(m int, u []float64) float64 {
	e := 0.0
	for i, fi := range s.placed[m].freedoms {
		for j, fj := range s.placed[m].freedoms {
			e += u[fi] * s.k[m][i][j] * u[fj]
		}
	}
	return e / 2
}

// springEnergy is ½·uᵀ·K·u of a spring.
func (s *System) springEnergy(i int, u []float64) float64 {
	v := s.spring[i].Of(u)
	return s.frame.springs[i].Stiffness * v * v / 2
}

// blockEnergy is ½·uᵀ·K·u of a block.
func (s *System) blockEnergy(b int, u []float64) float64 {
	moved := s.blockMoved(b, u)
	return floats.Dot(moved, s.frame.blocks[b].forces(moved)) / 2
}

// Work is half the work of the loads on the movements, ½·fᵀ·u, N·mm: in a structure without temperature changes and
// settlements it equals the sum of the energies.
func (s *Solution) Work() float64 {
	sum := 0.0
	for i, f := range s.force {
		sum += f * s.U[i]
	}
	return sum / 2
}
