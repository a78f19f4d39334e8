package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// madeAxis is an axis with what the geometry added to it.
type madeAxis struct {
	axis   *machine.FeedAxis
	guides []*madeGuide
	drives []*madeDrive
}

// madeGuide is a guide with its carriages.
type madeGuide struct {
	guide     *machine.Guide
	on, part  *body
	rail      *madeRail // nil: of unknown size, a bar that spans freely, or a slide
	carriages []*madeCarriage
	slide     touch        // of a pair of sliding faces
	sliding   *guide.Slide // the same, its sizes found
	links     [2]int       // of a slide in Model.links: the first and the first behind them
	seat      seating
}

// guideSource is the name under which the energy of a guide is counted.
func guideSource(a *machine.FeedAxis, g *machine.Guide) string {
	return "guide " + a.Name + ": " + g.Name
}

// moves tells whether a part goes along with the axis.
func moves(a *machine.FeedAxis, part int) bool { return slices.Contains(a.Moves, part) }

// goes tells whether a body goes along with the axis: a part, or a rail or carriage on one.
func (m *Model) goes(a *machine.FeedAxis, b *body) bool {
	if b.mount != nil {
		b = b.mount
	}
	return moves(a, slices.Index(m.bodies, b))
}

// makeAxes turns guides and drives into springs, but for those of the axes that the model is cut at.
func (m *Model) makeAxes() (faults machine.Faults) {
	for i := range m.machine.Axes {
		if !slices.Contains(m.cut, i) {
			faults = append(faults, m.makeAxis(i)...)
		}
	}
	if faults == nil && m.cut == nil {
		faults = append(m.checkTwice(), m.checkWorkSpace()...)
	}
	return faults
}

// checkTwice makes sure that no two guides and no two drives are in one place: each would count by itself.
func (m *Model) checkTwice() (faults machine.Faults) {
	for _, a := range m.axes {
		for i, g := range a.guides {
			for _, o := range a.guides[:i] {
				if g.over(o) {
					faults = append(faults, m.fault(g.guide.Pos, "move one of them, or take it out",
						"axis %s, %s: its carriages lie on those of another guide, at line %d", a.axis.Name, g.guide.Name,
						o.guide.Pos.Line))
					break
				}
			}
		}
		for i, d := range a.drives {
			for _, o := range a.drives[:i] {
				if v, w := d.drive, o.drive; v.Kind == w.Kind && onePlace(v.From, w.From) && onePlace(v.To, w.To) &&
					onePlace(v.Push, w.Push) {
					faults = append(faults, m.fault(v.Pos, "move one of them, or take it out",
						"axis %s: a drive is where another is, at line %d", a.axis.Name, w.Pos.Line))
				}
			}
		}
	}
	return faults
}

// onePlace tells whether two places are one.
func onePlace(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) <= machine.Touching }

// over tells whether a guide's carriages stand on another's on the same rail, or on another rail in the same line.
func (g *madeGuide) over(o *madeGuide) bool {
	if g.guide.Slide != nil || o.guide.Slide != nil || g.part != o.part || g.seat.out != o.seat.out ||
		math.Abs(g.seat.line-o.seat.line) > machine.Touching || math.Abs(g.seat.level-o.seat.level) > machine.Touching {
		return false
	}
	return slices.ContainsFunc(g.guide.Carriages, func(at float64) bool {
		return slices.ContainsFunc(o.guide.Carriages, func(other float64) bool {
			return math.Abs(at-other) < (g.guide.Length+o.guide.Length)/2-machine.Touching
		})
	})
}

// lineNotes name axes whose rails, two or more, all lie on one line: then only the carriages keep what they carry from
// rolling about it.
func (m *Model) lineNotes() (notes []string) {
	for _, a := range m.axes {
		if len(a.guides) < 2 || a.guides[0].guide.Slide != nil {
			continue
		}
		s := a.guides[0].seat
		if slices.ContainsFunc(a.guides, func(g *madeGuide) bool {
			return g.guide.Slide != nil || g.seat.out != s.out || math.Abs(g.seat.level-s.level) > machine.Touching ||
				math.Abs(g.seat.line-s.line) > machine.Touching
		}) {
			continue
		}
		notes = append(notes, fmt.Sprintf("axis %s: all its rails lie on one line, at %s = %s, %s = %s; only the carriages "+
			"themselves keep %s from rolling about it. Put the rails apart, if that is not meant.", a.axis.Name, s.across,
			machine.MM(s.line), s.out, machine.MM(s.level), a.guides[0].part.part.Name))
	}
	return notes
}

func (m *Model) makeAxis(number int) (faults machine.Faults) {
	a := &madeAxis{axis: &m.machine.Axes[number]}
	for _, g := range m.guides[number] {
		if f := m.makeGuide(a.axis, g); f != nil {
			faults = append(faults, *f)
			continue
		}
		a.guides = append(a.guides, g)
	}
	for k := range a.axis.Drives {
		d := &madeDrive{drive: &a.axis.Drives[k]}
		if f := m.makeDrive(a.axis, d); f != nil {
			faults = append(faults, *f)
			continue
		}
		a.drives = append(a.drives, d)
	}
	m.axes = append(m.axes, a)
	return faults
}

func (m *Model) makeGuide(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	if g.guide.Slide != nil {
		return m.makeSlide(a, g)
	}
	for _, c := range g.carriages {
		m.makeCarriage(a, g, c)
	}
	return nil
}

// seating is how a rail lies: the axis out of its seat, and the line of its seat (of a bar, of its centre) across it.
type seating struct {
	out    machine.Axis
	far    bool // out of the seat is towards the larger coordinate
	level  float64
	across machine.Axis
	line   float64
	gap    float64 // from the seat to the carriage's face on the carried part
	bar    bool
}

func (s seating) sign() float64 {
	if s.far {
		return 1
	}
	return -1
}

// around tells whether the part with the carriages is drawn round the rail and holds its bushes.
func (s seating) around() bool { return s.bar && s.gap == 0 }

// face is where the carriages are screwed to their part.
func (s seating) face() float64 { return s.level + s.sign()*s.gap }

// A drawn gap between seat and carried part may differ from the height of the size's carriage by heightSlack of it:
// carriages of one size are made low and high.
const heightSlack = 0.25

// railSeat finds the face a rail lies on, the one in front of which the part with the carriages is.
func (m *Model) railSeat(a *machine.FeedAxis, g *madeGuide) (seating, *machine.Fault) {
	w := g.guide
	fail := func(hint, format string, args ...any) (seating, *machine.Fault) {
		f := m.fault(w.Pos, hint, "axis "+a.Name+", "+w.Name+": "+format, args...)
		return seating{}, &f
	}
	if w.RailIsBar {
		if g.on.axis != a.Along {
			return fail(fmt.Sprintf("draw it along %s, or give the rail from and to on a face", a.Along),
				"%s is a bar and must run along %s to be a rail", g.on.part.Name, a.Along)
		}
		return barSeat(a.Along, g), nil
	}
	if !g.on.hasBox || !g.on.flat() && !g.on.slender() {
		return fail("put it on a plate", "%s has no flat face for a rail", g.on.part.Name)
	}
	from, to := array(w.From), array(w.To)
	on := facesUnder(a.Along, g)
	if on == nil {
		return fail(fmt.Sprintf("%s reaches from %s to %s", g.on.part.Name, placeText(g.on.fills.lo),
			placeText(g.on.fills.hi)),
			"the rail from %s to %s does not lie on a face of %s", placeText(from), placeText(to), g.on.part.Name)
	}
	s := slices.MaxFunc(on, func(a, b seating) int {
		if a.gap < b.gap {
			return -1
		}
		return 1
	})
	if s.gap < -machine.Touching {
		return fail(fmt.Sprintf("put the rail on the face of %s that looks at %s", g.on.part.Name, g.part.part.Name),
			"%s is not in front of the face of %s that the rail lies on", g.part.part.Name, g.on.part.Name)
	}
	if c := w.Rail; c != nil && w.Own == nil && math.Abs(s.gap-c.Height) > heightSlack*c.Height {
		return fail(fmt.Sprintf("leave about %s between them: the rail and its carriage", machine.MM(c.Height)),
			"%s and %s are %s apart along %s, and a carriage of %s is %s high", g.on.part.Name, g.part.part.Name,
			machine.MM(s.gap), s.out, c.Key, machine.MM(c.Height))
	}
	return s, nil
}

// barSeat is that of a bar that is itself the rail, on the side from which the part with the carriages is farthest.
func barSeat(along machine.Axis, g *madeGuide) seating {
	p, q := along.Others()
	best := seating{out: q, across: p, far: true, bar: true, gap: -1}
	for _, k := range []machine.Axis{p, q} {
		centre := array(g.on.from)[k]
		for _, s := range []seating{{far: true, gap: g.part.fills.lo[k] - centre}, {gap: centre - g.part.fills.hi[k]}} {
			if s.gap > best.gap {
				best = seating{out: k, across: p + q - k, far: s.far, gap: s.gap, bar: true}
			}
		}
	}
	best.gap = math.Max(best.gap, 0) // a part drawn round the bar holds its bushes
	best.level, best.line = array(g.on.from)[best.out], array(g.on.from)[best.across]
	return best
}

// facesUnder are the faces along an axis that both ends of a rail lie on.
func facesUnder(along machine.Axis, g *madeGuide) (on []seating) {
	p, q := along.Others()
	w, from := g.guide, array(g.guide.From)
	for _, k := range []machine.Axis{p, q} {
		for _, far := range []bool{false, true} {
			level, across := g.on.fills.lo[k], p+q-k
			if far {
				level = g.on.fills.hi[k]
			}
			if math.Abs(from[k]-level) > machine.Touching || g.on.off(w.From) > machine.Touching ||
				g.on.off(w.To) > machine.Touching {
				continue
			}
			s := seating{out: k, far: far, level: level, across: across, line: from[across]}
			s.gap = g.part.fills.lo[k] - level
			if !far {
				s.gap = level - g.part.fills.hi[k]
			}
			on = append(on, s)
		}
	}
	return on
}

// checkRail makes sure that no carriage leaves its rail between the ends of travel.
func (m *Model) checkRail(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	w := g.guide
	lo, hi := machine.Component(w.From, a.Along), machine.Component(w.To, a.Along)
	lo, hi = math.Min(lo, hi), math.Max(lo, hi)
	sign := 1.0
	if !moves(a, w.Part) {
		sign = -1
	}
	for _, end := range a.Travel {
		for _, place := range w.Carriages {
			at := place + sign*(end-a.At)
			for _, tip := range []struct{ reach, over float64 }{{at - w.Length/2, lo - (at - w.Length/2)},
				{at + w.Length/2, at + w.Length/2 - hi}} {
				if tip.over > machine.Touching {
					f := m.fault(w.Pos, fmt.Sprintf("make the rail %s longer there, or the travel shorter", machine.MM(tip.over)),
						"axis %s, %s: with the axis at %s the carriage at %s runs off its rail by %s", a.Name, w.Name, machine.MM(end),
						machine.MM(place), machine.MM(tip.over))
					return &f
				}
			}
		}
	}
	return nil
}

// makeSlide spreads a lubricated contact over the face that two parts share.
func (m *Model) makeSlide(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	w := g.guide
	fail := func(hint, format string, args ...any) *machine.Fault {
		f := m.fault(w.Pos, hint, "axis "+a.Name+", "+w.Name+": "+format, args...)
		return &f
	}
	t, err := findTouch(g.on, g.part)
	if err != nil {
		return fail("move one of them, or take the slide out", "%v", err)
	}
	if t.kind != onFace {
		return fail("let two flat faces meet", "%s and %s do not meet on a face", g.on.part.Name, g.part.part.Name)
	}
	if t.normal == a.Along {
		return fail(fmt.Sprintf("a slide's face runs along %s", a.Along), "%s and %s meet on a face that stops the travel",
			g.on.part.Name, g.part.part.Name)
	}
	g.slide = t
	s := *w.Slide
	s.Length, s.Width = t.size(a.Along), t.size(3-a.Along-t.normal)
	if t.normal != machine.Z {
		s.Facing = guide.UprightFace
	}
	per, err := s.PerArea()
	if err != nil {
		return fail("", "%v", err)
	}
	first := len(m.links)
	film, source := give{normal: 1 / per.Typical, p: math.Inf(1), q: math.Inf(1)}, guideSource(a, w)
	for _, b := range []*body{g.on, g.part} {
		film.normal += b.seat(t, thinner(g.on, g.part, t.normal)).normal
	}
	if g.on.mesh() != nil || g.part.mesh() != nil {
		m.pressFields(g.on, g.part, t, thinner(g.on, g.part, t.normal), 1/film.normal, source)
	} else {
		m.spread(g.on, g.part, t, film, source)
	}
	g.sliding, g.links = &s, [2]int{first, len(m.links)}
	for i := range m.links[first:] {
		m.links[first+i].slides = true
	}
	return nil
}

// axisSources are the guides and drives that can give way, in the order of the file.
func (m *Model) axisSources() (list []string) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			list = append(list, guideSource(a.axis, g.guide))
		}
		for _, d := range a.drives {
			list = append(list, driveSource(a.axis, d.drive))
		}
	}
	return list
}
