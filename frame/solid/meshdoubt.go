package solid

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// How far the jumps of stress tell what a mesh holds back, by where an element lies. Found by measurement at the usual
// mesh (TestMeshErrorAgainstReferences of frame/structure has the rest and the count):
//
//   - Over a face that is held whole stress fades square to it within half the thickness, inside the first row of
//     cells. Nothing on the face's other side shows a jump, and the estimate there is six times too small: it is most
//     of what a plate fixed by its end lacks.
//   - Where a held region ends inside a face, cells are small, but the stress has no bound.
//   - Beside a zone the estimate is too large: what cells hold back of a lone zone's own give has been added already,
//     and pieces of a bonded face are tied in the mean only, which is freer than metal is.
const (
	doubtInside    = 1.2
	doubtWholeFace = 6
	doubtHeldPart  = 1.6
	doubtAtZone    = 0.5
)

// MeshDoubt is an estimate of the strain energy that the mesh holds back, N·mm: that of the difference between the
// stress in the elements and a stress that is continuous between them, linear from corner to corner, which is nearer to
// the truth (Zienkiewicz & Zhu, International Journal for Numerical Methods in Engineering 24 (1987)), weighed by where
// it lies. Under a load the mesh moves by that share too little in the load's direction: work and energy are short by
// the same.
func (f *Field) MeshDoubt() (energy float64) {
	m, made := f.reduced.mesh, f.reduced.body.Part.Made
	t := f.stress()
	weights := f.reduced.doubtWeights()
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
			energy += weights[e] * m.gradients(e, p, grad[:len(el.Nodes)]) * s.Weight * density / 2
		}
	}
	return energy
}

// doubtWeights are those of the elements, worked out when they are first asked for.
func (r *Reduced) doubtWeights() []float64 {
	r.weighDoubt.Do(func() {
		places := r.doubtPlaces()
		near := sameShare * r.body.Part.longest()
		for _, b := range r.bounds {
			i := slices.IndexFunc(places, func(p doubtPlace) bool { return p.meets(b, near) })
			if i < 0 {
				r.doubts = append(r.doubts, doubtInside)
			} else {
				r.doubts = append(r.doubts, places[i].weight)
			}
		}
	})
	return r.doubts
}

// doubtPlace is a box, and what the estimate in elements that meet it is weighed by.
type doubtPlace struct {
	bounds
	weight float64
}

// doubtPlaces are those of a body: in an element that meets several, the first counts.
func (r *Reduced) doubtPlaces() (places []doubtPlace) {
	lo, hi := r.body.Part.Box()
	for _, h := range r.body.Held {
		p := doubtPlace{bounds{h.Lo, h.Hi}, doubtWholeFace}
		for k := range 3 {
			near := sameLine * (hi[k] - lo[k])
			if k != h.Normal && (h.Lo[k] > lo[k]+near || h.Hi[k] < hi[k]-near) {
				p.weight = doubtHeldPart
			}
		}
		places = append(places, p)
	}
	slices.SortStableFunc(places, func(a, b doubtPlace) int { return cmp.Compare(b.weight, a.weight) })
	for i := range r.body.Zones {
		z := &r.body.Zones[i]
		outer := z.outline()[0]
		if outer == nil {
			continue
		}
		u, v := across(z.Normal)
		from, to := outer.bounds()
		at := components(z.At)
		p := doubtPlace{bounds{at, at}, doubtAtZone}
		p.lo[u], p.lo[v], p.hi[u], p.hi[v] = from[0], from[1], to[0], to[1]
		places = append(places, p)
	}
	return places
}

// meets reports whether two boxes touch, or are no farther apart than near.
func (a bounds) meets(b bounds, near float64) bool {
	for k := range 3 {
		if a.lo[k] > b.hi[k]+near || b.lo[k] > a.hi[k]+near {
			return false
		}
	}
	return true
}
