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
		m.mount(firstLink, firstTie, mountedAt{at: machine.Mounting{Kind: machine.AtJoint, Joint: i},
			centre: made.touch.at(0.5, 0.5), out: made.out(), factor: -1})
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

// spinning is the stiffness of endless metal against the turning of a round bar about its axis, over G·r²·L: the
// shear stress T/(2π·ρ²·L) that balances the torque T turns the bar by ∫T/(2π·G·ρ³·L)·dρ from r on =
// T/(4π·G·r²·L). It has faded to a tenth three radii out, so that no side of the part need be near. The bar's own
// sections turn as a whole.
const spinning = 4 * math.Pi

// embed joins a bar to the part it runs through: a bed of springs along the shared length in all three directions. Its
// give per length is that of the metal on the two sides of the bar, each a zone as wide as the bar and as long as the
// shared length that spreads into the part as far as its half width, and half the bar's own width.
func (m *Model) embed(j *madeJoint, source string) {
	bar, other := j.a, j.b
	if other.slender() {
		bar, other = other, bar
	}
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	length := r3.Norm(d)
	width := 2 * bar.halfWidth()
	if width == 0 {
		m.tieAll(j.a, j.b, &spot{at: r3.Add(from, r3.Scale(0.5, d))}, source)
		return
	}
	p, q := j.touch.normal.Others()
	depth := math.Min(other.fills.size(p), other.fills.size(q)) / 2
	far := math.Inf(1)
	zone := joint.Zone{A: length, B: width, RoomBMinus: far, RoomBPlus: far}
	made, own := other.part.Material, bar.part.Material
	normal := zone.ColumnDepth(depth, made.Nu)/made.E + width/2/own.E
	shear, _ := zone.ShearDepth(depth, made.Nu)
	shear = shear/made.G() + width/2/own.G()
	n := cells(length, width/2)
	direction := r3.Unit(d)
	for _, s := range gaussAlong(n) {
		at := &spot{at: r3.Add(from, r3.Scale(s.at, d))}
		for k := machine.X; k <= machine.Z; k++ {
			// Two sides press, four shear, of which two count: the give of one side, twice.
			along := math.Abs(r3.Dot(direction, k.Direction()))
			give := along*shear + (1-along)*normal
			m.link(link{
				a: j.a, b: j.b, spot: at, direction: k.Direction(),
				stiffness: 2 * s.weight * length * width / give, source: source,
			})
		}
		spin := s.weight * spinning * made.G() * width * width / 4 * length
		m.link(link{a: j.a, b: j.b, spot: at, direction: direction, turning: true, stiffness: spin, source: source})
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
