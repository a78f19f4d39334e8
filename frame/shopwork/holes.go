package shopwork

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// Hole is a hole with what its line does not say.
type Hole struct {
	Part    int          // which of the machine's parts it is in
	Normal  machine.Axis // it runs along this axis
	Far     bool         // and opens on the face with the larger coordinate
	FaceMM2 float64      // area of that face
	Sloped  bool         // it ends under a slope
	Flange  *Flange      // of which it is; nil: of none
	Line    answer.HoleLine
}

// Arrange sorts holes by their parts and by where they are on their faces, numbers those of each part and finds which run
// into each other and which must wait: Number, Meets and NotYet of their lines.
func Arrange(holes []*Hole) {
	slices.SortStableFunc(holes, func(a, b *Hole) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), a.alike(b), compareMM(a.Line.YMM, b.Line.YMM),
			compareMM(a.Line.XMM, b.Line.XMM))
	})
	for i, h := range holes {
		h.Line.Number = 1
		if i > 0 && holes[i-1].Part == h.Part {
			h.Line.Number = holes[i-1].Line.Number + 1
		}
	}
	findMet(holes)
	holdBack(holes)
}

// Lines returns the lines of holes.
func Lines(holes []*Hole) []answer.HoleLine {
	list := []answer.HoleLine{}
	for _, h := range holes {
		list = append(list, h.Line)
	}
	return list
}

// Count adds up the drilling of holes.
func Count(holes []*Hole) (sum answer.Holes) {
	for _, h := range holes {
		kind := joint.Clearance
		switch {
		case h.Line.Kind == answer.TappedHole:
			kind = joint.Tapped
		case h.Line.Kind == answer.BoredHole:
			kind = joint.Bored
		case h.Line.SinkMM > 0:
			kind = joint.Counterbored
		}
		switch kind {
		case joint.Tapped:
			sum.Tapped++
		case joint.Bored:
			sum.Bored++
		default:
			sum.Through++
		}
		operations, minutes := joint.HoleWork(kind)
		sum.Operations += operations
		sum.Minutes += minutes.Typical
	}
	return sum
}

// alike orders the holes of a part by where one drills them: the largest face first; first those that go through, which
// are seen from both its sides, then those of one side, then of the other.
func (h *Hole) alike(o *Hole) int {
	from := func(h *Hole) int {
		switch {
		case h.Line.OutOn != "":
			return 0
		case h.Far:
			return 2
		}
		return 1
	}
	return cmp.Or(compareMM(o.FaceMM2, h.FaceMM2), cmp.Compare(h.Normal, o.Normal), cmp.Compare(from(h), from(o)))
}

// compareMM orders lengths, those within the touching distance being one.
func compareMM(a, b float64) int {
	if math.Abs(a-b) <= machine.Touching {
		return 0
	}
	return cmp.Compare(a, b)
}

// cylinder is room that a hole takes up.
type cylinder struct {
	normal machine.Axis // along it
	middle [3]float64   // of any place of it; along normal it is not read
	lo, hi float64      // where it ends along normal, mm
	radius float64      // mm
}

// span is how far a hole reaches along its own axis, mm.
func (h *Hole) span() (lo, hi float64) {
	at := h.Line.AtMM[h.Normal]
	if h.Far {
		return at - h.Line.DepthMM, at
	}
	return at, at + h.Line.DepthMM
}

// room is what a hole takes up: its drill or thread all along, and its counterbore where it comes out.
func (h *Hole) room() []cylinder {
	lo, hi := h.span()
	list := []cylinder{{h.Normal, h.Line.AtMM, lo, hi, h.radius()}}
	if sink := h.Line.SinkMM / 2; sink > 0 {
		if h.Far {
			hi = lo + h.Line.SinkDepthMM
		} else {
			lo = hi - h.Line.SinkDepthMM
		}
		list = append(list, cylinder{h.Normal, h.Line.AtMM, lo, hi, sink})
	}
	return list
}

// radius is half the diameter that a hole takes up all along: that of its thread or drill.
func (h *Hole) radius() float64 {
	if screw, ok := joint.LookupScrew(h.Line.Screw); ok && h.Line.Kind == answer.TappedHole {
		return screw.D / 2
	}
	return h.Line.DrillMM / 2
}

// span is how far a cylinder reaches along an axis, mm.
func (c cylinder) span(k machine.Axis) (lo, hi float64) {
	if k == c.normal {
		return c.lo, c.hi
	}
	return c.middle[k] - c.radius, c.middle[k] + c.radius
}

// meets tells whether two cylinders have room in common.
func (c cylinder) meets(o cylinder) bool {
	for k := machine.X; k <= machine.Z; k++ {
		lo, hi := c.span(k)
		from, to := o.span(k)
		if from > hi-machine.Touching || lo > to-machine.Touching {
			return false
		}
	}
	apart := func(k machine.Axis) float64 { return c.middle[k] - o.middle[k] }
	reach := c.radius + o.radius - machine.Touching
	p, q := c.normal.Others()
	if c.normal == o.normal {
		return math.Hypot(apart(p), apart(q)) < reach
	}
	return math.Abs(apart(3-c.normal-o.normal)) < reach
}

// extent is how far a hole reaches along x, mm.
func (h *Hole) extent() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range h.room() {
		from, to := c.span(machine.X)
		lo, hi = math.Min(lo, from), math.Max(hi, to)
	}
	return lo, hi
}

// meets tells whether two holes of a part run into each other, their counterbores with them.
func (h *Hole) meets(o *Hole) bool {
	for _, c := range h.room() {
		if slices.ContainsFunc(o.room(), c.meets) {
			return true
		}
	}
	return false
}

// mostNamedHoles is how many holes, or pairs of them, a note names.
const mostNamedHoles = 4

// Notes name holes that run into each other, and threads for which a gusset's slope leaves too little metal. The holes are
// arranged.
func Notes(holes []*Hole) (notes []string) {
	return append(metHoles(holes), slopedHoles(holes)...)
}

// slopedHoles name the threads shorter than a diameter in the edges of gussets.
func slopedHoles(holes []*Hole) (notes []string) {
	var short []string
	for _, h := range holes {
		screw, ok := joint.LookupScrew(h.Line.Screw)
		if ok && h.Line.Kind == answer.TappedHole && h.Sloped && h.Line.ThreadMM < screw.D-machine.Touching {
			short = append(short, fmt.Sprintf("%s: %d (%s, %s)", h.Line.Part, h.Line.Number, h.Line.For, h.Line.Screw))
		}
	}
	if short == nil {
		return nil
	}
	return []string{"holes for which the slope of the gusset leaves less thread than a diameter. Move the screws towards its " +
		"corner, or take smaller ones: " + someOf(short) + "."}
}

// someOf joins the first of some names and says how many more there are.
func someOf(names []string) string {
	more := ""
	if n := len(names) - mostNamedHoles; n > 0 {
		names, more = names[:mostNamedHoles], fmt.Sprintf("; and %d more", n)
	}
	return strings.Join(names, "; ") + more
}

// findMet finds the holes of a part that run into each other.
func findMet(holes []*Hole) {
	byPart := map[int][]*Hole{}
	for _, h := range holes {
		h.Line.Meets = []int{}
		byPart[h.Part] = append(byPart[h.Part], h)
	}
	for _, list := range byPart {
		begin := func(h *Hole) float64 { lo, _ := h.extent(); return lo }
		slices.SortStableFunc(list, func(x, y *Hole) int { return cmp.Compare(begin(x), begin(y)) })
		for i, h := range list {
			_, end := h.extent()
			for _, o := range list[i+1:] {
				if begin(o) > end {
					break
				}
				if h.meets(o) {
					h.Line.Meets = append(h.Line.Meets, o.Line.Number)
					o.Line.Meets = append(o.Line.Meets, h.Line.Number)
				}
			}
		}
	}
	for _, h := range holes {
		slices.Sort(h.Line.Meets)
	}
}

// metHoles name holes of a part that run into each other.
func metHoles(holes []*Hole) (notes []string) {
	var met []string
	first := 0 // of the part in holes
	for i, h := range holes {
		if h.Line.Number == 1 {
			first = i
		}
		for _, n := range h.Line.Meets {
			if n > h.Line.Number {
				met = append(met, fmt.Sprintf("%s: %d (%s) and %d (%s)", h.Line.Part, h.Line.Number, h.Line.For, n,
					holes[first+n-1].Line.For))
			}
		}
	}
	if met == nil {
		return nil
	}
	return []string{"holes that run into each other. Move the screws, or let them share a hole: " + someOf(met) + "."}
}
