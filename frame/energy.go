package frame

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
		ids, k := &s.sys.placed[m].freedoms, &s.sys.k[m]
		e := 0.0
		for i, fi := range ids {
			for j, fj := range ids {
				e += s.U[fi] * k[i][j] * s.U[fj]
			}
		}
		add(member.Source, e/2)
	}
	for i, sp := range f.springs {
		v := s.sys.spring[i].Of(s.U)
		add(sp.Source, sp.Stiffness*v*v/2)
	}
	for b, bl := range f.blocks {
		ids := s.sys.block[b]
		e := 0.0
		for i, fi := range ids {
			for j, fj := range ids {
				e += s.U[fi] * bl.K.At(i, j) * s.U[fj]
			}
		}
		add(bl.Source, e/2)
	}
	return list
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
