package shopwork

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// HeadsUnder names screws whose heads, proud of their part, would stand where a carriage or a rail lies on that part too.
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
	for _, h := range holes {
		if slices.ContainsFunc(on[h.Line.Part], h.headIn) {
			under = append(under, fmt.Sprintf("%s: %d (%s)", h.Line.Part, h.Line.Number, h.Line.For))
		}
	}
	if under == nil {
		return nil
	}
	return []string{"heads of screws that would stand where a carriage or rail lies on the same part. Sink them below its face, " +
		"and put them in before it: " + someOf(under) + "."}
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
