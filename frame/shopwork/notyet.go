package shopwork

import (
	"fmt"
	"strings"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// screwAt is one screw: what it holds, and where the parts that it goes through touch; or a flange with all its screws.
type screwAt struct {
	of string
	at [3]float64
}

func (h *Hole) screw() screwAt {
	if h.Flange != nil {
		return screwAt{h.Flange.Of, h.Flange.MiddleMM}
	}
	return screwAt{h.Line.For, h.Line.AtMM}
}

// holdBack says of each hole why it is not to be drilled as the model stands. One hole that cannot be holds back the
// others of its screw, whichever part they are in, and those of its flange: when the screw moves, they move with it.
func holdBack(holes []*Hole) {
	faulty := map[screwAt]*Hole{}
	for _, h := range holes {
		if h.Line.NotYet = h.fault(); h.Line.NotYet != "" {
			faulty[h.screw()] = h
		}
	}
	for _, h := range holes {
		if o := faulty[h.screw()]; o != nil && h.Line.NotYet == "" {
			of := "screw"
			if h.Flange != nil {
				of = "flange"
			}
			h.Line.NotYet = fmt.Sprintf("its %s's hole %d in %s cannot be", of, o.Line.Number, o.Line.Part)
		}
	}
}

// fault is what is wrong with a hole by itself; "" when nothing is known.
func (h *Hole) fault() string {
	if n := len(h.Line.Meets); n > 0 {
		numbers := strings.Trim(strings.ReplaceAll(fmt.Sprint(h.Line.Meets), " ", ", "), "[]")
		return "runs into " + map[bool]string{true: "hole ", false: "holes "}[n == 1] + numbers
	}
	switch screw, ok := joint.LookupScrew(h.Line.Screw); {
	case !ok || h.Line.Kind != joint.Tapped.String() || h.Line.DepthMM == 0:
		return ""
	case h.Line.ThreadMM == 0:
		return "cannot be: no metal for a thread"
	case h.Line.ThreadMM < screw.D-machine.Touching:
		return "less thread than a diameter"
	}
	return ""
}
