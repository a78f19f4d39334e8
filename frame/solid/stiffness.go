package solid

import (
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// lame are Lamé's constants of a metal, MPa: stress = lambda·tr(strain)·1 + 2·mu·strain. They panic at a Poisson's
// ratio of a half or more, for which the first is infinite.
func lame(made beam.Material) (lambda, mu float64) {
	if !(made.Nu < 0.5 && made.Nu > -1) {
		panic("solid: Poisson's ratio must lie between -1 and 0.5")
	}
	return made.E * made.Nu / ((1 + made.Nu) * (1 - 2*made.Nu)), made.G()
}

// Elasticity is the matrix D of a part's metal, stress = D·strain, MPa.
func (m *Mesh) Elasticity(part int) [6][6]float64 {
	lambda, mu := lame(m.Metals[part])
	var d [6][6]float64
	for i := range 3 {
		for j := range 3 {
			d[i][j] = lambda
		}
		d[i][i] += 2 * mu
		d[3+i][3+i] = mu
	}
	return d
}

// ElementStiffness is the stiffness matrix of element e, N/mm, whole, row by row: the freedoms x, y, z of its first
// node, then of its second, and so on.
//
// With Lamé's constants the part of nodes a and b is
//
//	K_ab = ∫ λ·∇Na⊗∇Nb + μ·∇Nb⊗∇Na + μ·(∇Na·∇Nb)·1 dV,
//
// so that only ∫ ∇Na⊗∇Nb is needed: nine numbers for each pair (Hughes, The Finite Element Method, 2000, sec.
// 2.7 in components).
func (m *Mesh) ElementStiffness(e int) []float64 {
	f := m.family(e)
	if m.Elements[e].box {
		return m.boxStiffness(e)
	}
	pairs := make([][3][3]float64, f.Nodes*f.Nodes)
	grad := make([]r3.Vec, f.Nodes)
	for i, st := range f.Stations {
		w := m.gradients(e, f.sampled[i], grad) * st.Weight
		for a, ga := range grad {
			x, y, z := w*ga.X, w*ga.Y, w*ga.Z
			for b, gb := range grad[:a+1] {
				p := &pairs[a*f.Nodes+b]
				p[0][0] += x * gb.X
				p[0][1] += x * gb.Y
				p[0][2] += x * gb.Z
				p[1][0] += y * gb.X
				p[1][1] += y * gb.Y
				p[1][2] += y * gb.Z
				p[2][0] += z * gb.X
				p[2][1] += z * gb.Y
				p[2][2] += z * gb.Z
			}
		}
	}
	return m.ofPairs(e, pairs, [3][3]float64{{1, 1, 1}, {1, 1, 1}, {1, 1, 1}})
}

// cubePairs are ∫ ∇Na⊗∇Nb over the cube of local coordinates, for b up to a.
var cubePairs = func() [][3][3]float64 {
	f := &families[Brick]
	pairs := make([][3][3]float64, f.Nodes*f.Nodes)
	for i, st := range f.Stations {
		for a, ga := range f.sampled[i].d {
			for b, gb := range f.sampled[i].d[:a+1] {
				for k := range 3 {
					for l := range 3 {
						pairs[a*f.Nodes+b][k][l] += st.Weight * ga[k] * gb[l]
					}
				}
			}
		}
	}
	return pairs
}()

// boxStiffness is the stiffness matrix of a box: its gradients are those of the cube, each axis on its own scale.
func (m *Mesh) boxStiffness(e int) []float64 {
	h := m.halves(e)
	var scale [3][3]float64
	for k := range 3 {
		for l := range 3 {
			scale[k][l] = h[0] * h[1] * h[2] / (h[k] * h[l])
		}
	}
	return m.ofPairs(e, cubePairs, scale)
}

// ofPairs is the stiffness matrix with ∫ ∇Na⊗∇Nb of each pair of an element's nodes, b up to a, times a scale for each
// two axes.
func (m *Mesh) ofPairs(e int, pairs [][3][3]float64, scale [3][3]float64) []float64 {
	f := m.family(e)
	lambda, mu := lame(m.Metals[m.Elements[e].Part])
	n := 3 * f.Nodes
	k := make([]float64, n*n)
	for a := range f.Nodes {
		for b := range a + 1 {
			p := pairs[a*f.Nodes+b]
			for i := range 3 {
				for j := range 3 {
					p[i][j] *= scale[i][j]
				}
			}
			dot := mu * (p[0][0] + p[1][1] + p[2][2])
			for i := range 3 {
				for j := range 3 {
					v := lambda*p[i][j] + mu*p[j][i]
					if i == j {
						v += dot
					}
					k[(3*a+i)*n+3*b+j] = v
					k[(3*b+j)*n+3*a+i] = v
				}
			}
		}
	}
	return k
}

// volume is that which a unit of local volume has at a sample, mm³.
func (m *Mesh) volume(e int, s sample) float64 {
	if m.Elements[e].box {
		h := m.halves(e)
		return h[0] * h[1] * h[2]
	}
	_, j := m.place(e, s)
	_, v := reciprocal(j)
	return v
}
