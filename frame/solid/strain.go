package solid

import "gonum.org/v1/gonum/spatial/r3"

// Strain is the strain at local coordinates of element e when the mesh's nodes move by u, mm.
func (m *Mesh) Strain(e int, xi [3]float64, u []float64) (strain [6]float64) {
	if len(u) != 3*len(m.Nodes) {
		panic("solid: three unknowns belong to each node of the mesh")
	}
	_, grad := m.Shape(e, xi)
	for a, node := range m.Elements[e].Nodes {
		g, v := grad[a], r3.Vec{X: u[3*node], Y: u[3*node+1], Z: u[3*node+2]}
		strain[0] += g.X * v.X
		strain[1] += g.Y * v.Y
		strain[2] += g.Z * v.Z
		strain[3] += g.Y*v.X + g.X*v.Y
		strain[4] += g.Z*v.Y + g.Y*v.Z
		strain[5] += g.X*v.Z + g.Z*v.X
	}
	return strain
}

// Stress is the stress at local coordinates of element e, MPa, when the mesh's nodes move by u, mm, and nothing is
// warm: the caller takes off D·(free thermal strain).
func (m *Mesh) Stress(e int, xi [3]float64, u []float64) (stress [6]float64) {
	d := m.Elasticity(m.Elements[e].Part)
	strain := m.Strain(e, xi, u)
	for i := range stress {
		for j := range strain {
			stress[i] += d[i][j] * strain[j]
		}
	}
	return stress
}
