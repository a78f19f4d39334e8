package solid

import "gonum.org/v1/gonum/spatial/r3"

// MeshDoubt is an estimate of the strain energy that the mesh holds back, N·mm: that of the difference between the
// stress in the elements and a stress that is continuous between them, linear from corner to corner, which is nearer to
// the truth (Zienkiewicz & Zhu, International Journal for Numerical Methods in Engineering 24 (1987)). Under a load the
// mesh moves by that share too little in the load's direction: work and energy are short by the same.
//
// What cells hold back of a lone zone's own give has been added already; its part of the estimate remains.
func (f *Field) MeshDoubt() (energy float64) {
	m, made := f.reduced.mesh, f.reduced.body.Part.Made
	t := f.stress()
	grad := make([]r3.Vec, families[Brick].Nodes)
	for e, el := range m.Elements {
		s := &samplings[el.Kind]
		for i, p := range s.sampled {
			miss := t.raw[e][i]
			for c, share := range s.Linear[i] {
				for k, v := range t.nodal[el.Nodes[c]] {
					miss[k] -= share * v
				}
			}
			mean := made.Nu * (miss[0] + miss[1] + miss[2])
			density := 0.0 // of energy, twice
			for k := range 3 {
				density += miss[k]*((1+made.Nu)*miss[k]-mean)/made.E + miss[3+k]*miss[3+k]/made.G()
			}
			energy += m.gradients(e, p, grad[:len(el.Nodes)]) * s.Weight * density / 2
		}
	}
	return energy
}
