package structure

import (
	"fmt"
	"math"
	"reflect"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// madeGround is a ground with its links and ties.
type madeGround struct {
	ground *machine.Ground
	number int // of the machine's
	body   *body
	name   string
	kind   string
	zone   box // what it takes of the part, for drawing
	places []r3.Vec
	links  []int // in Model.links
	ties   []int // in Model.ties
	bed    [3]float64
}

func (m *Model) makeGrounds() (faults machine.Faults) {
	for i := range m.machine.Grounds {
		g := &m.machine.Grounds[i]
		made := &madeGround{ground: g, number: i, body: m.bodies[g.Part], name: g.NameAt(i)}
		if fault := m.heldAlready(made); fault != nil {
			faults = append(faults, *fault)
			continue
		}
		firstLink, firstTie := len(m.links), len(m.ties)
		if fault := m.makeGround(made); fault != nil {
			faults = append(faults, *fault)
			continue
		}
		if made.kind != "feet" {
			m.mount(firstLink, firstTie, mountedAt{at: machine.Mounting{Kind: machine.AtGround, Ground: i, Foot: -1},
				centre: made.place(), out: made.out(), factor: 1})
		}
		for l := firstLink; l < len(m.links); l++ {
			made.links = append(made.links, l)
		}
		for t := firstTie; t < len(m.ties); t++ {
			made.ties = append(made.ties, t)
		}
		m.grounds = append(m.grounds, made)
	}
	return faults
}

// heldAlready is the fault of a ground that stands in the file a second time, whatever it is called.
func (m *Model) heldAlready(g *madeGround) *machine.Fault {
	for _, other := range m.grounds {
		a, b := *other.ground, *g.ground
		a.Name, b.Name, a.Number, b.Number, a.Pos, b.Pos = "", "", 0, 0, machine.FilePos{}, machine.FilePos{}
		if !reflect.DeepEqual(a, b) {
			continue
		}
		hint := "take one of them out"
		if other.ground.Pos != (machine.FilePos{}) {
			hint = fmt.Sprintf("the first time is on line %d; %s", other.ground.Pos.Line, hint)
		}
		f := m.fault(g.ground.Pos, hint, "%s is held the same way a second time", g.body.part.Name)
		return &f
	}
	return nil
}

// out is square to the face that is held, towards the part; zero where no face is.
func (g *madeGround) out() r3.Vec {
	w := g.ground
	if !w.OnFace() {
		return r3.Vec{}
	}
	face := w.Face
	if w.Strip != nil {
		for k := machine.X; k <= machine.Z; k++ {
			if machine.Component(w.Strip.From, k) == machine.Component(w.Strip.To, k) {
				face = machine.FaceOf(k, g.body.looksUp(k, machine.Component(w.Strip.From, k)))
			}
		}
	}
	if face.Far() {
		return r3.Scale(-1, face.Normal().Direction())
	}
	return face.Normal().Direction()
}

// source is the name under which the ground's energy is counted.
func (g *madeGround) source() string { return "ground " + g.name }

func (m *Model) makeGround(g *madeGround) *machine.Fault {
	b, w := g.body, g.ground
	switch {
	case w.Fixed, w.Strip != nil, w.Feet != nil, w.BedNPerMM3 > 0:
		return m.groundOnFace(g)
	case w.Bed != ([3]float64{}):
		g.kind, g.zone = "bed", around(b.from, b.to)
		return m.barBed(g)
	}
	at := *w.At
	if f := m.offPart(b, at, w.Pos, "ground"); f != nil {
		return f
	}
	g.kind, g.places, g.zone = "hold", []r3.Vec{at}, around(at)
	where := b.spotOn(at)
	for f := machine.MoveX; f <= machine.TurnZ; f++ {
		direction, turning := f.Direction()
		if w.Hold[f] {
			m.tie(tie{a: b, spot: where, direction: direction, turning: turning, name: g.source()})
		}
		if w.Spring[f] > 0 {
			g.kind = "spring"
			m.link(link{a: b, spot: where, direction: direction, turning: turning, stiffness: w.Spring[f], source: g.source()})
		}
	}
	if w.Skew != nil {
		g.kind = "spring"
		m.link(link{a: b, spot: where, direction: w.Skew.Direction, stiffness: w.Skew.Stiffness, source: g.source()})
	}
	return nil
}

// footWidth is how wide a foot presses, mm [common practice, no source]: a levelling foot's stud.
const footWidth = 20

// offPart is the fault of a place that is not on the part it is said to be on.
func (m *Model) offPart(b *body, at r3.Vec, pos machine.FilePos, what string) *machine.Fault {
	gap := b.off(at)
	if gap <= machine.Touching {
		return nil
	}
	f := m.fault(pos, fmt.Sprintf("%s reaches from %s to %s", b.part.Name, placeText(b.fills.lo), placeText(b.fills.hi)),
		"the %s at %s is not on %s: it is %s away", what, placeText(array(at)), b.part.Name, machine.MM(gap))
	return &f
}

func placeText(p [3]float64) string { return fmt.Sprintf("[%.6g, %.6g, %.6g]", p[0], p[1], p[2]) }

// groundOnFace holds a face of a plate: all of it, a strip of it, on feet, or on an elastic bed.
func (m *Model) groundOnFace(g *madeGround) *machine.Fault {
	b, w := g.body, g.ground
	if !b.flat() {
		f := m.fault(w.Pos, "hold it at a point: hold: [x, y, z, rx, ry, rz], at: [...]",
			"%s has no faces to hold: it is no plate", b.part.Name)
		return &f
	}
	t := touch{kind: onFace, normal: w.Face.Normal(), box: b.fills}
	if w.Strip != nil {
		strip := box{array(w.Strip.From), array(w.Strip.To)}
		face, fault := m.stripFace(b, strip, w.Pos)
		if fault != nil {
			return fault
		}
		t.normal, t.box = face, strip
	} else if w.Face.Far() {
		t.lo[t.normal] = t.hi[t.normal]
	} else {
		t.hi[t.normal] = t.lo[t.normal]
	}
	if k := b.sawn(); k != nil && w.Strip == nil {
		face, found := k.face(t)
		if !found {
			f := m.fault(w.Pos, "hold a face that the outline lies on with an edge, or a strip of another one",
				"%s has no edge along its %s face: its outline comes to that in a point only", b.part.Name, w.Face)
			return &f
		}
		t = face
	}
	g.zone = t.box
	p, q := t.normal.Others()
	switch {
	case w.Feet != nil:
		g.kind = "feet"
		for k, foot := range w.Feet {
			at := t.lo
			at[p], at[q] = foot[0], foot[1]
			if f := m.offPart(b, vector(at), w.Pos, "foot"); f != nil {
				return f
			}
			g.places = append(g.places, vector(at))
			where := b.roundSpot(vector(at), t.normal, footWidth)
			mounting := machine.Mounting{Kind: machine.AtGround, Ground: g.number, Foot: k}
			square, along := m.stackAt(mounting, math.Pi/4*footWidth*footWidth)
			first := len(m.links)
			for _, s := range []struct {
				k         machine.Axis
				stiffness float64
				shims     float64
			}{{t.normal, w.Normal, square}, {p, w.Side, along}, {q, w.Side, along}} {
				m.link(link{a: b, spot: where, direction: s.k.Direction(), stiffness: inRow(s.stiffness, s.shims),
					source: g.source()})
			}
			m.mount(first, len(m.ties), mountedAt{at: mounting, centre: where.at, out: g.out(), factor: 1})
		}
	case w.BedNPerMM3 > 0:
		g.kind = "bed"
		b.bedFace(m, t, w.BedNPerMM3, g.source())
	default:
		g.kind = "fixed face"
		if w.Strip != nil {
			g.kind = "fixed strip"
		}
		b.holdFace(m, t, g.source())
	}
	return nil
}

// stripFace finds the face a strip lies on and checks that it does.
func (m *Model) stripFace(b *body, strip box, pos machine.FilePos) (machine.Axis, *machine.Fault) {
	for k := machine.X; k <= machine.Z; k++ {
		if strip.size(k) > machine.Touching {
			continue
		}
		if !b.onLevel(k, strip.lo[k]) {
			continue
		}
		p, q := k.Others()
		inside := true
		for _, o := range []machine.Axis{p, q} {
			inside = inside && strip.lo[o] >= b.fills.lo[o]-machine.Touching && strip.hi[o] <= b.fills.hi[o]+machine.Touching &&
				strip.size(o) > machine.Touching
		}
		if inside && b.hangsOver(touch{normal: k, box: strip}) {
			f := m.fault(pos, "draw the strip on the metal", "the strip from %s to %s hangs over the outline of %s",
				placeText(strip.lo), placeText(strip.hi), b.part.Name)
			return 0, &f
		}
		if inside {
			return k, nil
		}
	}
	f := m.fault(pos, fmt.Sprintf("%s reaches from %s to %s", b.part.Name, placeText(b.fills.lo), placeText(b.fills.hi)),
		"the strip from %s to %s does not lie on a face of %s", placeText(strip.lo), placeText(strip.hi), b.part.Name)
	return 0, &f
}

// bedStep is the length of a member on a bed over its characteristic length 1/λ: the cubic shape of the member is then
// within 1e-7 of the exact one (its error goes with the fourth power).
const bedStep = 0.05

// barBed puts a bar on an elastic bed along its whole length.
func (m *Model) barBed(g *madeGround) *machine.Fault {
	b := g.body
	bar, ok := b.kind.(*barKind)
	if !ok {
		f := m.fault(g.ground.Pos, "a plate's bed is a pressure per deflection: bed: 0.05 N/mm3 with a face",
			"%s is no bar", b.part.Name)
		return &f
	}
	if b.axis == noAxis || b.upAxis() == noAxis {
		f := m.fault(g.ground.Pos, "turn the model so that the bar and its section lie along the axes",
			"the bed of %s: a bed follows the world's axes and the bar does not", b.part.Name)
		return &f
	}
	if g.ground.Bed[b.axis] > 0 {
		f := m.fault(g.ground.Pos, "hold it along its length with a spring",
			"the bed of %s: a bed presses across the bar, not along %s", b.part.Name, b.axis)
		return &f
	}
	g.bed = g.ground.Bed
	local := b.localBed(g.bed)
	stiffest := 0.0
	for i, inertia := range []float64{b.section.Iz, b.section.Iy} {
		if local[i] > 0 {
			stiffest = math.Max(stiffest, math.Pow(local[i]/(4*b.part.Material.E*inertia), 0.25))
		}
	}
	bar.wantEvery(bedStep/stiffest, 0, b.length)
	return nil
}

// reaction is what a ground does on the machine: force, and moment about its first place.
func (m *Model) reaction(g *madeGround, s *frame.Solution) (force, moment r3.Vec) {
	at := g.place()
	add := func(spot, direction r3.Vec, turning bool, size float64) {
		v := r3.Scale(size, direction)
		if turning {
			moment = r3.Add(moment, v)
			return
		}
		force = r3.Add(force, v)
		moment = r3.Add(moment, r3.Cross(r3.Sub(spot, at), v))
	}
	for _, i := range g.links {
		l := m.links[i]
		add(l.spot.at, l.direction, l.turning, -s.SpringForce(l.spring))
	}
	for _, i := range g.ties {
		t := m.ties[i]
		add(t.spot.at, t.direction, t.turning, s.Reaction(t.constraint))
	}
	if g.bed != ([3]float64{}) {
		force = r3.Add(force, g.body.kind.(*barKind).bedForce(s))
	}
	return force, moment
}

// place is where a ground's moment is taken about.
func (g *madeGround) place() r3.Vec {
	if g.places != nil {
		return g.places[0]
	}
	return r3.Scale(0.5, r3.Add(vector(g.zone.lo), vector(g.zone.hi)))
}

func (m *Model) reactions(l *machine.Load, s *frame.Solution) (list []answer.Reaction) {
	for _, g := range m.grounds {
		force, moment := m.reaction(g, s)
		f, t := array(force), array(moment)
		for k := range f {
			f[k], t[k] = plain(f[k]), plain(t[k])
		}
		list = append(list, answer.Reaction{Load: l.Name, Ground: g.name, ForceN: f, Moment: t})
	}
	return list
}
