package structure

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// thickened is what a meshed part is reduced from. Where its metal is to be thicker, the block and all that touches it are
// stretched through the thickness, from the middle out: a slope meets the same mesh. What is joined to a face moves out with
// it, as it would be built; it is felt by the frame where it was, for a shift of all that hangs on a face bends nothing.
func (s *solidBody) thickened() *solid.Body {
	if s.b.thicker == 0 {
		return &s.spec
	}
	n := s.b.sawn().across()
	middle, more := array(s.b.middle())[n], s.b.thicker/s.b.fills.size(n)
	through := func(v float64) float64 { return v + more*(v-middle) }
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
			k := 0 // which of the zone's axes the thickness is along
			if u, _ := machine.Axis(z.Normal).Others(); u != n {
				k = 1
			}
			z.Polygon = slices.Clone(z.Polygon)
			for c := range z.Polygon {
				z.Polygon[c][k] = through(z.Polygon[c][k])
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
