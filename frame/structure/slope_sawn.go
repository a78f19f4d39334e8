package structure

import (
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// thickened is what a meshed part is reduced from. Where its metal is thicker than its faces are apart, the block and all
// that touches it are stretched through the thickness, from the middle out: a slope meets the same mesh.
func (s *solidBody) thickened() *solid.Body {
	if s.b.thicker == 0 {
		return &s.spec
	}
	n := s.b.sawn().across()
	through := func(v float64) float64 { return v + s.outward(v) }
	place := func(at r3.Vec) r3.Vec {
		stretched := array(at)
		stretched[n] = through(stretched[n])
		return vector(stretched)
	}
	zones := func(list []solid.Zone) []solid.Zone {
		list = slices.Clone(list)
		for i := range list {
			z := &list[i]
			z.At = place(z.At)
			if machine.Axis(z.Normal) == n {
				continue
			}
			u, _ := machine.Axis(z.Normal).Others()
			z.Polygon = slices.Clone(z.Polygon)
			for c := range z.Polygon {
				if u == n {
					z.Polygon[c][0] = through(z.Polygon[c][0])
				} else {
					z.Polygon[c][1] = through(z.Polygon[c][1])
				}
			}
		}
		return list
	}
	block := *s.spec.Part.Block
	block.From, block.To = place(block.From), place(block.To)
	body := s.spec
	body.Part.Block, body.Zones, body.Watched = &block, zones(s.spec.Zones), zones(s.spec.Watched)
	body.Held = slices.Clone(s.spec.Held)
	for i := range body.Held {
		h := &body.Held[i]
		h.Lo[n], h.Hi[n], h.At = through(h.Lo[n]), through(h.Hi[n]), place(h.At)
	}
	return &body
}

// outward is how far what lies at a place through the thickness is stretched, mm.
func (s *solidBody) outward(v float64) float64 {
	n := s.b.sawn().across()
	return s.b.thicker * (v - array(s.b.middle())[n]) / s.b.fills.size(n)
}

// stiffness is that between the body's freedoms. Thicker metal is felt where the faces were: a rigid arm leads from what
// was stretched back to each spot, so that what is joined there is joined where it was.
func (s *solidBody) stiffness() *mat.SymDense {
	if s.b.thicker == 0 {
		return s.reduced.K
	}
	size := s.reduced.K.SymmetricDim()
	arms := mat.NewDense(size, size, nil)
	for i := range size {
		arms.Set(i, i, 1)
	}
	n := s.b.sawn().across()
	for i, where := range s.spots {
		arm := r3.Scale(s.outward(array(where.metal())[n]), n.Direction())
		for turn, about := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			for k, moved := range array(r3.Cross(about, arm)) {
				arms.Set(6*i+k, 6*i+3+turn, moved)
			}
		}
	}
	var half, whole mat.Dense
	half.Mul(s.reduced.K, arms)
	whole.Mul(arms.T(), &half)
	k := mat.NewSymDense(size, nil)
	for i := range size {
		for j := i; j < size; j++ {
			k.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2)
		}
	}
	return k
}
