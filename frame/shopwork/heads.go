package shopwork

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// HeadsUnder names screws whose heads, proud of their part, would stand where a carriage, a rail or a flange lies on that
// part too.
func HeadsUnder(holes []*Hole, axes []answer.AxisLine) (notes []string) {
	on := map[string][]answer.Block{}
	for _, a := range axes {
		for _, g := range a.Guides {
			on[g.Part] = append(on[g.Part], g.Blocks...)
			if g.Rail != nil {
				on[g.On] = append(on[g.On], *g.Rail)
			}
		}
	}
	var under []string
	flanged := slices.DeleteFunc(slices.Clone(holes), func(h *Hole) bool { return h.Flange == nil || h.Flange.OuterMM == 0 })
	for _, h := range holes {
		if slices.ContainsFunc(on[h.Line.Part], h.headIn) || slices.ContainsFunc(flanged, h.headUnderFlange) {
			under = append(under, fmt.Sprintf("%s: %d (%s)", h.Line.Part, h.Line.Number, h.Line.For))
		}
	}
	if under == nil {
		return nil
	}
	return []string{"heads of screws that would stand where a carriage, rail or flange lies on the same part. Sink them below its " +
		"face, and put them in before it: " + someOf(under) + "."}
}

// headIn tells whether a proud head of a hole's screw, at its far end, reaches into a box.
func (h *Hole) headIn(b answer.Block) bool {
	screw, ok := joint.LookupScrew(h.Line.Screw)
	if !ok || h.Line.Kind != joint.Clearance.String() {
		return false
	}
	for k := machine.X; k <= machine.Z; k++ {
		lo, hi := h.Line.AtMM[k]-screw.HeadDiameter/2, h.Line.AtMM[k]+screw.HeadDiameter/2
		if k == h.Normal {
			if from, to := h.span(); h.Far {
				lo, hi = from-screw.HeadHeight, from
			} else {
				lo, hi = to, to+screw.HeadHeight
			}
		}
		if b.FromMM[k] > hi-machine.Touching || lo > b.ToMM[k]-machine.Touching {
			return false
		}
	}
	return true
}

// headUnderFlange tells whether a proud head of a hole's screw, at its far end, reaches under the flange that another hole
// is of.
func (h *Hole) headUnderFlange(o *Hole) bool {
	screw, ok := joint.LookupScrew(h.Line.Screw)
	if !ok || h.Line.Kind != joint.Clearance.String() || o.Part != h.Part || o.Normal != h.Normal ||
		o.Far == h.Far || h.Flange != nil && h.Flange.Of == o.Flange.Of {
		return false
	}
	p, q := h.Normal.Others()
	apart := math.Hypot(h.Line.AtMM[p]-o.Flange.MiddleMM[p], h.Line.AtMM[q]-o.Flange.MiddleMM[q])
	return apart < (screw.HeadDiameter+o.Flange.OuterMM)/2-machine.Touching
}
