package solid

import "gonum.org/v1/gonum/spatial/r3"

// Energy is the strain energy, N·mm: ½∫ε·D·ε dV, what free thermal growth would strain taken off, and what
// zones dent beyond what the cells show.
func (f *Field) Energy() float64 {
	r := f.reduced
	lambda, mu := lame(r.body.Part.Made)
	energy := f.dents
	grad := make([]r3.Vec, families[Brick].Nodes)
	for e, el := range r.mesh.Elements {
		fam := r.mesh.family(e)
		for i, st := range fam.Stations {
			s := fam.sampled[i]
			w := r.mesh.gradients(e, s, grad[:fam.Nodes]) * st.Weight
			strain := strainOf(grad, el.Nodes, f.U)
			if len(f.warm) > 0 {
				at, _ := r.mesh.place(e, s)
				grown := f.grown(at)
				for k := range 3 {
					strain[k] -= grown
				}
			}
			dilation := strain[0] + strain[1] + strain[2]
			density := lambda * dilation * dilation
			for k := range 3 {
				density += 2*mu*strain[k]*strain[k] + mu*strain[3+k]*strain[3+k]
			}
			energy += w * density / 2
		}
	}
	return energy
}

// strainOf is the strain of a movement of nodes whose shape functions have these gradients.
func strainOf(grad []r3.Vec, nodes []int, u []float64) (strain [6]float64) {
	for a, node := range nodes {
		g, x, y, z := grad[a], u[3*node], u[3*node+1], u[3*node+2]
		strain[0] += g.X * x
		strain[1] += g.Y * y
		strain[2] += g.Z * z
		strain[3] += g.Y*x + g.X*y
		strain[4] += g.Z*y + g.Y*z
		strain[5] += g.X*z + g.Z*x
	}
	return strain
}
