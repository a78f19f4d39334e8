package structure

import (
	"math"
	"slices"

	"tiploop/frame/machine"
)

// overHead names what is, anywhere in the work space, where a head would be: a part, a rail, carriages, the ground or
// the work.
func (m *Model) overHead(j *madeJoint, head box) string {
	drilled := slices.Index(m.bodies, j.drilled)
	goes := m.goAlong(m.bodies)
	for i, o := range m.bodies {
		if i == drilled || !o.hasBox {
			continue
		}
		c := m.crossing(j.drilled, o, goes)
		ways := c.ways(c.everywhere())
		if o.fills.swept(ways.lo, ways.hi).shares(head) && o.meetsBox(head.swept(negative(ways.hi), negative(ways.lo))) {
			return o.part.Name
		}
	}
	n := j.touch.normal
	for i := range m.machine.Grounds {
		g := &m.machine.Grounds[i]
		over := g.Face.Normal() == n && g.Face.Far() == j.drilledFar() && (g.Fixed || g.BedNPerMM3 > 0)
		if g.Strip != nil {
			over = thick(box{array(g.Strip.From), array(g.Strip.To)}, n).shares(head)
		}
		if g.Part == drilled && over {
			return "the ground"
		}
	}
	if w := m.machine.Work; w != nil && w.Part == drilled {
		if t := array(m.machine.Tool.At)[n]; j.drilledFar() && t >= head.lo[n] || !j.drilledFar() && t <= head.hi[n] {
			return "the work"
		}
	}
	return m.railOverHead(drilled, head)
}

// railOverHead names the rail that lies, or the carriages that are screwed, where a head would be.
func (m *Model) railOverHead(drilled int, head box) string {
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for k := range a.Guides {
			w := &a.Guides[k]
			g := &madeGuide{guide: w, on: m.bodies[w.On], part: m.bodies[w.Part]}
			if w.Slide != nil || w.RailIsBar || w.On != drilled && w.Part != drilled {
				continue
			}
			s, fault := m.railSeat(a, g)
			if fault != nil { // told where the guide is made
				continue
			}
			if g.footprint(a, s, w.On == drilled).reachedBy(head, s.out) {
				return "the guide of axis " + a.Name
			}
		}
	}
	return ""
}

// footprints are the flat rectangles that a rail, or the carriages, cover of the part they are screwed to.
type footprints []box

func (g *madeGuide) footprint(a *machine.FeedAxis, s seating, rail bool) (list footprints) {
	w := g.guide
	add := func(from, to, width, level float64) {
		b := around(w.From)
		b.lo[a.Along], b.hi[a.Along] = math.Min(from, to), math.Max(from, to)
		b.lo[s.across], b.hi[s.across] = s.line-width/2, s.line+width/2
		b.lo[s.out], b.hi[s.out] = level, level
		list = append(list, b)
	}
	if !rail {
		for _, place := range w.Carriages {
			add(place-w.Length/2, place+w.Length/2, w.Width, s.face())
		}
		return list
	}
	width := w.Width
	if w.Rail != nil {
		width = w.Rail.Rail.SeatWidth
	}
	add(array(w.From)[a.Along], array(w.To)[a.Along], width, s.level)
	return list
}

func (f footprints) reachedBy(head box, out machine.Axis) bool {
	return slices.ContainsFunc(f, func(b box) bool { return thick(b, out).shares(head) })
}

// thick is a flat rectangle with enough thickness to share room with what stands on it.
func thick(b box, normal machine.Axis) box {
	b.lo[normal] -= 2 * machine.Touching
	b.hi[normal] += 2 * machine.Touching
	return b
}
