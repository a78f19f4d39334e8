package solid

import "tiploop/beam"

// Strain is the strain at local coordinates of element e when the mesh's nodes move by u, mm.
func (m *Mesh) Strain(e int, xi [3]float64, u []float64) [6]float64 {
	if len(u) != 3*len(m.Nodes) {
		panic("solid: three unknowns belong to each node of the mesh")
	}
	_, grad := m.Shape(e, xi)
	return strainOf(grad, m.Elements[e].Nodes, u)
}

// Stress is the stress at local coordinates of element e, MPa, when the mesh's nodes move by u, mm, and nothing is
// warm: the caller takes off D·(free thermal strain).
func (m *Mesh) Stress(e int, xi [3]float64, u []float64) (stress [6]float64) {
	return hooke(m.Metals[m.Elements[e].Part], m.Strain(e, xi, u))
}

// hooke is the stress of a strain.
func hooke(made beam.Material, strain [6]float64) (stress [6]float64) {
	lambda, mu := lame(made)
	pressure := lambda * (strain[0] + strain[1] + strain[2])
	for k := range 3 {
		stress[k], stress[3+k] = pressure+2*mu*strain[k], mu*strain[3+k]
	}
	return stress
}
