package solid

import "gonum.org/v1/gonum/spatial/r3"

// Weight is the nodal forces, N, that stand for an acceleration of 1 mm/s² along direction acting on every part's mass
// (multiply by 9806.65 for weight): consistent, ∫ N·ρ dV.
func (m *Mesh) Weight(direction r3.Vec) []float64 {
	force := make([]float64, 3*len(m.Nodes))
	for e, el := range m.Elements {
		f := m.family(e)
		density := m.Metals[el.Part].Density
		for i, st := range f.Stations {
			s := f.sampled[i]
			w := m.volume(e, s) * st.Weight * density
			for a, node := range el.Nodes {
				push(force, node, w*s.n[a], direction)
			}
		}
	}
	return force
}

// Warmth is the nodal forces, N, of one part's free thermal growth: its temperature is mean + gradient·(x − about),
// K with a gradient in K/mm. They are the forces that would hold the free growth's strain, ∫ ∇N·(3λ+2μ)·α·T
// dV, so that the mesh left alone under them takes it up without stress.
func (m *Mesh) Warmth(part int, mean float64, gradient, about r3.Vec) []float64 {
	lambda, mu := lame(m.Metals[part])
	pressure := (3*lambda + 2*mu) * m.Metals[part].Expansion
	force := make([]float64, 3*len(m.Nodes))
	for e, el := range m.Elements {
		if el.Part != part {
			continue
		}
		f := m.family(e)
		grad := make([]r3.Vec, f.Nodes)
		for i, st := range f.Stations {
			w := m.gradients(e, f.sampled[i], grad) * st.Weight
			at, _ := m.place(e, f.sampled[i])
			warm := mean + r3.Dot(gradient, r3.Sub(at, about))
			for a, node := range el.Nodes {
				push(force, node, w*pressure*warm, grad[a])
			}
		}
	}
	return force
}

// push adds size·direction to the forces on a node.
func push(force []float64, node int, size float64, direction r3.Vec) {
	force[3*node] += size * direction.X
	force[3*node+1] += size * direction.Y
	force[3*node+2] += size * direction.Z
}
