package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// spacing is how far apart the carriages of a rail stand, from the middle of the first to that of the last. Guides of
// one axis whose carriages stand at the same places have one spacing: the builder drills them with one setting.
type spacing struct {
	axis   int   // index into Machine.Axes
	guides []int // indices into its Guides
	span   float64
}

// spacings lists those of all rails that have two carriages or more.
func (m *Model) spacings() (list []spacing) {
	for i := range m.machine.Axes {
		first := len(list)
		for k := range m.machine.Axes[i].Guides {
			g := &m.machine.Axes[i].Guides[k]
			if len(g.Carriages) < 2 {
				continue
			}
			alike := slices.IndexFunc(list[first:], func(s spacing) bool { return sameCarriages(m.guideOf(s), g) })
			if alike >= 0 {
				list[first+alike].guides = append(list[first+alike].guides, k)
				continue
			}
			list = append(list, spacing{i, []int{k}, slices.Max(g.Carriages) - slices.Min(g.Carriages)})
		}
	}
	return list
}

// guideOf is the first of the guides with a spacing.
func (m *Model) guideOf(s spacing) *machine.Guide { return &m.machine.Axes[s.axis].Guides[s.guides[0]] }

// sameCarriages tells whether the carriages of two rails stand at the same places along them.
func sameCarriages(a, b *machine.Guide) bool {
	x, y := slices.Sorted(slices.Values(a.Carriages)), slices.Sorted(slices.Values(b.Carriages))
	return slices.EqualFunc(x, y, func(p, q float64) bool { return math.Abs(p-q) <= machine.Touching })
}

// spacingName is the axis with its rails: "x: rail 1, rail 2".
func (m *Model) spacingName(s spacing) string {
	a := &m.machine.Axes[s.axis]
	var names []string
	for _, k := range s.guides {
		names = append(names, a.Guides[k].Name)
	}
	return a.Name + ": " + strings.Join(names, ", ")
}

// spreadCarriages is the machine with the outer carriages farther apart by so much, each by half of it; those between
// keep their share.
func spreadCarriages(m *machine.Machine, s spacing, by float64) *machine.Machine {
	other := *m
	other.Axes = slices.Clone(m.Axes)
	a := &other.Axes[s.axis]
	a.Guides = slices.Clone(a.Guides)
	for _, k := range s.guides {
		g := &a.Guides[k]
		middle := (slices.Min(g.Carriages) + slices.Max(g.Carriages)) / 2
		g.Carriages = slices.Clone(g.Carriages)
		for c, at := range g.Carriages {
			g.Carriages[c] = at + (at-middle)*by/s.span
		}
	}
	return &other
}

// leeway is how far the spacing can change on the way on which the tip gains, mm, and what bounds it. It is zero, and
// not less, where carriages already hang over.
type leeway struct {
	mm    float64
	bound string
}

func (r *leeway) atMost(mm float64, format string, args ...any) {
	if mm = math.Max(mm, 0); mm < r.mm {
		r.mm, r.bound = mm, fmt.Sprintf(format, args...)
	}
}

// roomApart is by how much the carriages can go apart: none may run off its rail with the axis at either end of its
// travel, nor may what is screwed to the part hang over the part's end.
func (m *Model) roomApart(s spacing) leeway {
	r := leeway{mm: math.Inf(1)}
	a := &m.machine.Axes[s.axis]
	for _, k := range s.guides {
		g := m.axes[s.axis].guides[k]
		w := g.guide
		lo, hi := machine.Component(w.From, a.Along), machine.Component(w.To, a.Along)
		lo, hi = math.Min(lo, hi), math.Max(lo, hi)
		first, last := slices.Min(w.Carriages), slices.Max(w.Carriages)
		for _, end := range a.Travel {
			on := end - a.At
			if !moves(a, w.Part) {
				on = -on
			}
			free := math.Min(first+on-w.Length/2-lo, hi-(last+on+w.Length/2))
			r.atMost(2*free, "with axis %s at %s a carriage of %s is at the end of its rail", a.Name, machine.MM(end), w.Name)
		}
		half := w.Length / 2
		if w.Rail != nil {
			half = w.Rail.Body / 2
		}
		if seat, _ := m.railSeat(a, g); !seat.around() {
			free := math.Min(first-half-g.part.fills.lo[a.Along], g.part.fills.hi[a.Along]-(last+half))
			r.atMost(2*free, "a carriage of %s is at the end of %s", w.Name, g.part.part.Name)
		}
	}
	return r
}

// roomTogether is by how much the carriages can come together: none may run into the next.
func (m *Model) roomTogether(s spacing) leeway {
	w := m.guideOf(s)
	at := slices.Sorted(slices.Values(w.Carriages))
	nearest := math.Inf(1)
	for i := range at[1:] {
		nearest = math.Min(nearest, at[i+1]-at[i])
	}
	r := leeway{mm: math.Inf(1)}
	for _, k := range s.guides {
		g := &m.machine.Axes[s.axis].Guides[k]
		r.atMost(s.span*(1-g.Length/nearest), "carriages of %s touch", g.Name)
	}
	return r
}

// spacingCandidate is how far the carriages stand apart.
func (m *Model) spacingCandidate(s spacing) candidate {
	return candidate{
		gain: answer.Gain{What: m.spacingName(s), Kind: answer.OfSpacing, Unit: "mm", At: s.span},
		per:  1,
		step: math.Min(slopeStep*s.span, longestStep),
		draw: []func(float64) (*Model, error){func(by float64) (*Model, error) {
			return m.forTrials().draw(spreadCarriages(m.machine, s, by))
		}},
		spacing: &s,
	}
}

// leastRoom is the least way, mm, for which anybody would move a carriage.
const leastRoom = 0.1

// boundSpacing says how far a spacing can change on the way on which the tip gains, or why it cannot.
func (m *Model) boundSpacing(c *candidate, found slopes) (why string) {
	r, way := m.roomApart(*c.spacing), "farther apart"
	if found.moved[0] > 0 {
		r, way = m.roomTogether(*c.spacing), "closer together"
	}
	if r.mm < leastRoom {
		return fmt.Sprintf("they would have to go %s: %s already", way, r.bound)
	}
	c.gain.Room, c.gain.Bound = &r.mm, r.bound
	return ""
}

// Where two things act on one place of a member they share a node, and go on sharing it until they are stationMerge
// apart, the one on a rigid arm. What the tip moves is as good as exact with that, but not its slope: the arm turns
// with the section, and the section's shear, which has its place on the stretch that opens between the two, is missed.
// The slope even differs from side to side then, for a shear force jumps where something acts. So no step is taken that
// lets places part without parting their nodes; where there is no other, whole solutions over steps that part the
// nodes, too, give the slope to one side.

// sharedRounding is by how much places may move against their nodes for nothing but rounding, mm.
const sharedRounding = 1e-9

// The wide steps, as multiples of an ordinary one, which is at most longestStep: some tenths of a millimetre, or a
// millimetre.
var wideSteps = []float64{16, 64}

// besideNodes is by how much in all places stand beside the nodes that they share.
func (m *Model) besideNodes() (mm float64) {
	for _, b := range m.allBodies() {
		mm += b.shared
	}
	return mm
}

// wideSlope is the slope to one side, more before less, found by whole solutions; false when there is none.
func (a *adjoint) wideSlope(draw func(by float64) (*Model, error), step float64) (slopes, bool) {
	mass, shared := a.model.mass(), a.model.besideNodes()
	for _, wide := range wideSteps {
		for side, name := range []answer.Side{answer.MoreOnly, answer.LessOnly} {
			h, sign := wide*step, float64(1-2*side)
			s := slopes{side: name, step: h}
			var along [3][]float64
			parted := true
			for n := range along {
				other, c, err := a.solved(draw, sign*h/float64(int(1)<<n))
				if err != nil || other.besideNodes() > shared+sharedRounding {
					parted = false
					break
				}
				if n == 0 {
					s.mass = sign * (other.mass() - mass) / h
				}
				along[n] = c
			}
			if !parted {
				continue
			}
			smooth := true
			for i, still := range a.still {
				slope, straight := slopeToOneSide(still, [3]float64{along[0][i], along[1][i], along[2][i]}, h)
				smooth = smooth && straight
				s.moved = append(s.moved, sign*slope)
			}
			if smooth {
				return s, true
			}
		}
	}
	return slopes{}, false
}
