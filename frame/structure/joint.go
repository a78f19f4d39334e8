package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// madeJoint is a joint with what the geometry added to it.
type madeJoint struct {
	joint    *machine.Joint
	a, b     *body
	name     string // "upright/head"
	touch    touch
	drilled  *body
	tapped   *body
	screws   []madeScrew
	clamping joint.Clamping // of its screws, without what each presses on
	links    [2]int         // in Model.links: the first of its own and the first behind them
	head     joint.Head
	inTheWay string // of heads that can neither stand nor be sunk there
}

// out is square to the face of the joint, towards its second part; zero where they meet on none.
func (j *madeJoint) out() r3.Vec {
	if j.touch.kind != onFace {
		return r3.Vec{}
	}
	if j.touch.aBelow {
		return j.touch.normal.Direction()
	}
	return r3.Scale(-1, j.touch.normal.Direction())
}

// unseated reports misfits of a joint without a face that are square to it.
func (m *Model) unseated(j *madeJoint, number int) (faults machine.Faults) {
	if j.out() != (r3.Vec{}) {
		return nil
	}
	for i := range m.machine.Misfits {
		f := &m.machine.Misfits[i]
		if f.At.Kind == machine.AtJoint && f.At.Joint == number && f.From.High != 0 {
			faults = append(faults, m.fault(f.Pos, "write by: [x, y, z]",
				"misfit %s: nothing says which way high, low or gap is here: the parts of joint %s meet on no face",
				machine.Quote(f.Name), j.name))
		}
	}
	return faults
}

// source is the name under which a joint's energy is counted; bodies, grounds and the tool have theirs.
func (j *madeJoint) source() string { return "joint " + j.name }

func (m *Model) makeJoints() (faults machine.Faults) {
	for i := range m.machine.Joints {
		j := &m.machine.Joints[i]
		made := &madeJoint{joint: j, a: m.bodies[j.Parts[0]], b: m.bodies[j.Parts[1]]}
		made.name = made.a.part.Name + "/" + made.b.part.Name
		t, err := findTouch(made.a, made.b)
		if err != nil {
			faults = append(faults, m.fault(j.Pos, "move one of them, or take the joint out", "%v", err))
			continue
		}
		made.touch = t
		firstLink, firstTie := len(m.links), len(m.ties)
		if fault := m.makeJoint(made); fault != nil {
			faults = append(faults, *fault)
			continue
		}
		made.links = [2]int{firstLink, len(m.links)}
		m.mount(firstLink, firstTie, mountedAt{at: machine.Mounting{Kind: machine.AtJoint, Joint: i},
			centre: made.touch.at(0.5, 0.5), out: made.out(), factor: -1})
		faults = append(faults, m.unseated(made, i)...)
		m.joints = append(m.joints, made)
	}
	return faults
}

func (m *Model) makeJoint(j *madeJoint) *machine.Fault {
	source := j.source()
	switch {
	case j.joint.Sprung != nil:
		return m.sprung(j, source)
	case j.joint.Screws != nil:
		if j.touch.kind != onFace {
			f := m.fault(j.joint.Pos, "use bonded: true, or let two flat faces meet",
				"joint %s: screws need a face, and these parts meet along a line or at a point", j.name)
			return &f
		}
		return m.screwed(j, source)
	}
	m.bonded(j, source)
	return nil
}

// sprung ties two bars where they meet, but for the freedoms that are loose or sprung.
func (m *Model) sprung(j *madeJoint, source string) *machine.Fault {
	if j.touch.kind != atPoint {
		f := m.fault(j.joint.Pos, "use bonded or screws for parts that meet on a face or along a length",
			"joint %s: a sprung joint is for bars that meet at a point", j.name)
		return &f
	}
	at := &spot{at: j.touch.from()}
	for f := machine.MoveX; f <= machine.TurnZ; f++ {
		direction, turning := f.Direction()
		switch {
		case j.joint.Sprung.Loose[f]:
			j.a.want(at)
			j.b.want(at)
		case j.joint.Sprung.Stiffness[f] > 0:
			m.link(link{
				a: j.a, b: j.b, spot: at, direction: direction, turning: turning,
				stiffness: j.joint.Sprung.Stiffness[f], source: source,
			})
		default:
			m.tie(tie{a: j.a, b: j.b, spot: at, direction: direction, turning: turning, name: source})
		}
	}
	return nil
}

// bonded joins two parts all over what they share.
func (m *Model) bonded(j *madeJoint, source string) {
	a, b := j.a, j.b
	if a.mesh() != nil || b.mesh() != nil {
		m.bondMeshed(j, source)
		return
	}
	switch j.touch.kind {
	case atPoint:
		m.tieAll(a, b, &spot{at: j.touch.from()}, source)
	case along:
		if a.slender() && b.slender() {
			m.weldAlong(j, source)
		} else {
			m.embed(j, source)
		}
	case onFace:
		thin := thinner(j.a, j.b, j.touch.normal)
		g := j.a.seat(j.touch, thin).plus(j.b.seat(j.touch, thin))
		m.spread(j.a, j.b, j.touch, g, source)
		m.stiffenTilt(j, g, source)
	}
}

// weldAlong ties two bars that run side by side at places half a section apart.
func (m *Model) weldAlong(j *madeJoint, source string) {
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	n := 1
	if h := math.Max(j.a.halfWidth(), j.b.halfWidth()); h > 0 {
		n = cells(r3.Norm(d), h)
	}
	for i := range n + 1 {
		m.tieAll(j.a, j.b, &spot{at: r3.Add(from, r3.Scale(float64(i)/float64(n), d))}, source)
	}
}

// What metal all round holds a round bar of radius r and length L with, over G·L along its own axis and over G·r²·L
// against turning. Turning about its axis: the shear stress T/(2π·ρ²·L) that balances the torque T turns the bar by
// ∫T/(2π·G·ρ³·L)·dρ from r on = T/(4π·G·r²·L). Tilting: its wall moves by w = θ·r·cos φ along the bar, which fades as
// r²/ρ, so that the stress G·θ·cos φ on the wall takes the moment π·G·r²·L·θ. Both have faded to a tenth a few radii
// out, so that no side of the part need be near. Movement along the axis fades as far as the part goes, by
// F/(2π·G·L)·ln(R/r); from the length L away from the wall on it is the part's own matter. The bar's metal lets its
// wall stay behind the mean of its section by F/(8π·G·L).
const (
	spinning = 4 * math.Pi
	tilting  = math.Pi
	sliding  = 2 * math.Pi
	own      = 8 * math.Pi
)

// embed joins a bar to the part it runs through: a bed of springs along the shared length, across it on the centre
// line, along it on the four sides of its wall, so that a thin part is held over all of the bar's width. Across, the
// give per length is that of the metal on the two sides of the bar, each a zone as wide as the bar and as long as the
// shared length that spreads into the part as far as its half width, and half the bar's own width.
func (m *Model) embed(j *madeJoint, source string) {
	bar, other := j.a, j.b
	if other.slender() {
		bar, other = other, bar
	}
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	length := r3.Norm(d)
	r := bar.halfWidth()
	if r == 0 {
		m.tieAll(j.a, j.b, &spot{at: r3.Add(from, r3.Scale(0.5, d))}, source)
		return
	}
	p, q := j.touch.normal.Others()
	depth := math.Min(other.fills.size(p), other.fills.size(q)) / 2
	far := math.Inf(1)
	zone := joint.Zone{A: length, B: 2 * r, RoomBMinus: far, RoomBPlus: far}
	made, filling := other.part.Material, bar.part.Material
	press := func(deep float64) float64 {
		return 2 * 2 * r / (zone.ColumnDepth(math.Min(deep, depth), made.Nu)/made.E + r/filling.E)
	}
	across := press(depth)
	slide := 1 / (math.Log1p(length/r)/(sliding*made.G()) + 1/(own*filling.G()))
	// What the ring of springs along the bar leaves, and that pressing one way at one end and the other way at the other
	// evens out within half the length.
	tilt := math.Max(0, tilting*made.G()-slide/2)*r*r + (press(length/2)-across)*length*length/12
	along, sides := bar.direction(), [2]r3.Vec{bar.side(), bar.up}
	for _, s := range gaussAlong(cells(length, r)) {
		at, share := r3.Add(from, r3.Scale(s.at, d)), s.weight*length
		bed := func(at, direction r3.Vec, turning bool, stiffness float64) {
			m.link(link{a: j.a, b: j.b, spot: &spot{at: at}, direction: direction, turning: turning,
				stiffness: share * stiffness, source: source})
		}
		for _, side := range sides {
			bed(at, side, false, across)
			bed(at, side, true, tilt)
			for _, off := range []float64{-r, r} {
				bed(r3.Add(at, r3.Scale(off, side)), along, false, slide/4)
			}
		}
		bed(at, along, true, spinning*made.G()*r*r)
	}
}

// mostCells bounds the number of cells along one side of a face.
const mostCells = 24

func cells(length, step float64) int {
	return max(1, min(mostCells, int(math.Ceil(length/step-stepRounding))))
}

// sample is a place on 0..1 and its weight.
type sample struct{ at, weight float64 }

// gaussAlong gives two Gauss places in each of n equal cells: force, lever and square of the lever are integrated
// exactly.
func gaussAlong(n int) []sample {
	const off = 0.28867513459481287 // 1/(2√3)
	var list []sample
	for i := range n {
		for _, o := range []float64{-off, off} {
			list = append(list, sample{(float64(i) + 0.5 + o) / float64(n), 0.5 / float64(n)})
		}
	}
	return list
}

// spread puts springs over a whole face, in cells as short as one of the parts asks for. b nil is the ground.
func (m *Model) spread(a, b *body, t touch, g give, source string) {
	p, q := t.normal.Others()
	floor := seatFloor * math.Min(t.size(p), t.size(q)) / a.part.Material.E
	g = give{math.Max(g.normal, floor), math.Max(g.p, floor), math.Max(g.q, floor)}
	step := [2]float64{math.Inf(1), math.Inf(1)}
	thin := thinner(a, b, t.normal)
	switch {
	case b == nil:
	case t.covers(a) && !t.covers(b): // a pad bends as what it lies on does
		thin = b.thickness(t.normal)
	case t.covers(b) && !t.covers(a):
		thin = a.thickness(t.normal)
	}
	for _, part := range []*body{a, b} {
		if part == nil {
			continue
		}
		for i, k := range []machine.Axis{p, q} {
			step[i] = math.Min(step[i], part.cellAlong(k, t, thin))
		}
	}
	np, nq := cells(t.size(p), step[0]), cells(t.size(q), step[1])
	if t.inside != nil {
		np, nq = max(np, insideCells), max(nq, insideCells)
	}
	for _, sp := range gaussAlong(np) {
		for _, sq := range gaussAlong(nq) {
			at := t.at(sp.at, sq.at)
			if t.inside != nil && !t.inside(at) {
				continue
			}
			where := &spot{at: at}
			area := sp.weight * sq.weight * t.area()
			for _, s := range []struct {
				axis machine.Axis
				give float64
			}{{t.normal, g.normal}, {p, g.p}, {q, g.q}} {
				m.link(link{a: a, b: b, spot: where, direction: s.axis.Direction(), stiffness: area / s.give, source: source})
			}
		}
	}
}

// stiffenTilt adds what a face resists tilting beyond what its springs do: tilting presses on one half and pulls on the
// other, and that evens out within half the face's own width, however deep the metal behind.
func (m *Model) stiffenTilt(j *madeJoint, g give, source string) {
	t := j.touch
	thin := thinner(j.a, j.b, t.normal)
	p, q := t.normal.Others()
	for _, about := range [][2]machine.Axis{{p, q}, {q, p}} {
		across := t.size(about[1])
		tilt := j.a.tiltGive(t, thin, across) + j.b.tiltGive(t, thin, across)
		floor := seatFloor * across / j.a.part.Material.E
		if tilt = math.Max(tilt, floor); tilt >= g.normal {
			continue
		}
		k := t.area() * across * across / 12 * (1/tilt - 1/g.normal)
		m.link(link{a: j.a, b: j.b, spot: &spot{at: t.at(0.5, 0.5)}, direction: about[0].Direction(), turning: true,
			stiffness: k, source: source})
	}
}

// insideCells is how finely a face with a slope is sampled; the slope cuts cells by their sample places.
const insideCells = 8

// at is the place at given shares of the two sides of a face.
func (t touch) at(sp, sq float64) r3.Vec {
	p, q := t.normal.Others()
	at := t.lo
	at[p] += sp * t.size(p)
	at[q] += sq * t.size(q)
	return vector(at)
}

// covers says that a part touches with all of its face.
func (t touch) covers(b *body) bool {
	p, q := t.normal.Others()
	return t.size(p) >= b.fills.size(p)-machine.Touching && t.size(q) >= b.fills.size(q)-machine.Touching
}

// thinner is the lesser thickness of two parts square to a face.
func thinner(a, b *body, normal machine.Axis) float64 {
	thin := a.thickness(normal)
	if b != nil {
		thin = math.Min(thin, b.thickness(normal))
	}
	return thin
}
