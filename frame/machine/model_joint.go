package machine

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/joint"
)

// madeJoint is a joint with what the geometry added to it.
type madeJoint struct {
	joint   *Joint
	a, b    *body
	name    string // "upright/head"
	touch   touch
	drilled *body
	tapped  *body
	screws  []madeScrew
}

// madeScrew is one screw: its spot, and where its springs begin in Model.links: square to the face, then two along it.
type madeScrew struct {
	at     r3.Vec
	spot   joint.SpotStiffness
	normal int
}

// source is the name under which a joint's energy is counted; bodies, grounds and the tool have theirs.
func (j *madeJoint) source() string { return "joint " + j.name }

func (m *Model) makeJoints() (faults Faults) {
	for i := range m.machine.Joints {
		j := &m.machine.Joints[i]
		made := &madeJoint{joint: j, a: m.bodies[j.Parts[0]], b: m.bodies[j.Parts[1]]}
		made.name = made.a.part.Name + "/" + made.b.part.Name
		t, err := findTouch(made.a, made.b)
		if err != nil {
			faults = append(faults, m.fault(j.Place, "move one of them, or take the joint out", "%v", err))
			continue
		}
		made.touch = t
		if fault := m.makeJoint(made); fault != nil {
			faults = append(faults, *fault)
			continue
		}
		m.joints = append(m.joints, made)
	}
	return faults
}

func (m *Model) makeJoint(j *madeJoint) *Fault {
	source := j.source()
	switch {
	case j.joint.Sprung != nil:
		return m.sprung(j, source)
	case j.joint.Screws != nil:
		if j.touch.kind != onFace {
			f := m.fault(j.joint.Place, "use bonded: true, or let two flat faces meet", "joint %s: screws need a face, and these parts meet along a line or at a point", j.name)
			return &f
		}
		return m.screwed(j, source)
	}
	m.bonded(j, source)
	return nil
}

// sprung ties two bars where they meet, but for the freedoms that are loose or sprung.
func (m *Model) sprung(j *madeJoint, source string) *Fault {
	if j.touch.kind != atPoint {
		f := m.fault(j.joint.Place, "use bonded or screws for parts that meet on a face or along a length", "joint %s: a sprung joint is for bars that meet at a point", j.name)
		return &f
	}
	at := j.touch.from()
	for f := MoveX; f <= TurnZ; f++ {
		direction, turning := (Axis(f % 3)).unit(), f >= TurnX
		switch {
		case j.joint.Sprung.Loose[f]:
			j.a.want(at)
			j.b.want(at)
		case j.joint.Sprung.Stiffness[f] > 0:
			m.link(link{a: j.a, b: j.b, at: at, direction: direction, turning: turning, stiffness: j.joint.Sprung.Stiffness[f], source: source})
		default:
			m.tie(tie{a: j.a, b: j.b, at: at, direction: direction, turning: turning, name: source})
		}
	}
	return nil
}

// bonded joins two parts all over what they share.
func (m *Model) bonded(j *madeJoint, source string) {
	switch j.touch.kind {
	case atPoint:
		m.tieAll(j.a, j.b, j.touch.from(), source)
	case along:
		if j.a.part.Bar != nil && j.b.part.Bar != nil {
			m.weldAlong(j, source)
		} else {
			m.embed(j, source)
		}
	case onFace:
		thin := thinner(j.a, j.b, j.touch.normal)
		g := j.a.seat(j.touch, thin).plus(j.b.seat(j.touch, thin))
		m.spread(j.a, j.b, j.touch, g, source)
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
		m.tieAll(j.a, j.b, r3.Add(from, r3.Scale(float64(i)/float64(n), d)), source)
	}
}

// embed joins a bar to the part it runs through: a bed of springs along the shared length in all three directions. Its
// give per length is that of the metal on the two sides of the bar, each a zone as wide as the bar and as long as the
// shared length that spreads into the part as far as its half width, and half the bar's own width.
func (m *Model) embed(j *madeJoint, source string) {
	bar, other := j.a, j.b
	if other.part.Bar != nil {
		bar, other = other, bar
	}
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	length := r3.Norm(d)
	width := 2 * bar.halfWidth()
	if width == 0 {
		m.tieAll(j.a, j.b, r3.Add(from, r3.Scale(0.5, d)), source)
		return
	}
	p, q := j.touch.normal.others()
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
		at := r3.Add(from, r3.Scale(s.at, d))
		for k := X; k <= Z; k++ {
			// Two sides press, four shear, of which two count: the give of one side, twice.
			along := math.Abs(r3.Dot(direction, k.unit()))
			give := along*shear + (1-along)*normal
			m.link(link{a: j.a, b: j.b, at: at, direction: k.unit(), stiffness: 2 * s.weight * length * width / give, source: source})
		}
		// Spinning in its hole shears the same metal at the bar's own radius.
		spin := 2 * s.weight * length * width / shear * width * width / 4
		m.link(link{a: j.a, b: j.b, at: at, direction: direction, turning: true, stiffness: spin, source: source})
	}
}

// mostCells bounds the number of cells along one side of a face.
const mostCells = 24

func cells(length, step float64) int {
	return max(1, min(mostCells, int(math.Ceil(length/step-1e-9))))
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

// spread puts springs over a whole face: along a part that lies on the face, cells of half the thinner part's thickness;
// across a strip, cells no finer than its shapes; otherwise one cell. b nil is the ground.
func (m *Model) spread(a, b *body, t touch, g give, source string) {
	p, q := t.normal.others()
	floor := seatFloor * math.Min(t.size(p), t.size(q)) / a.part.Material.E
	g = give{math.Max(g.normal, floor), math.Max(g.p, floor), math.Max(g.q, floor)}
	step := [2]float64{math.Inf(1), math.Inf(1)}
	thin := thinner(a, b, t.normal)
	for _, part := range []*body{a, b} {
		if part == nil {
			continue
		}
		for i, k := range []Axis{p, q} {
			switch {
			case part.part.Gusset != nil:
				step[i] = math.Min(step[i], thin/2)
			case part.axis == k:
				step[i] = math.Min(step[i], thin/2)
				from := array(part.from)[k]
				part.wantEvery(t.size(k)/float64(cells(t.size(k), thin/2)), t.lo[k]-from, t.hi[k]-from)
			case part.axis != t.normal && part.isStrip():
				step[i] = math.Min(step[i], math.Max(thin/2, stripStep*part.fills.size(k)))
			}
		}
	}
	np, nq := cells(t.size(p), step[0]), cells(t.size(q), step[1])
	if t.inside != nil {
		np, nq = max(np, insideCells), max(nq, insideCells)
	}
	for _, sp := range gaussAlong(np) {
		for _, sq := range gaussAlong(nq) {
			at := t.spot(sp.at, sq.at)
			if t.inside != nil && !t.inside(at) {
				continue
			}
			area := sp.weight * sq.weight * t.area()
			for _, s := range []struct {
				axis Axis
				give float64
			}{{t.normal, g.normal}, {p, g.p}, {q, g.q}} {
				m.link(link{a: a, b: b, at: at, direction: s.axis.unit(), stiffness: area / s.give, source: source})
			}
		}
	}
}

// insideCells is how finely a face with a slope is sampled; the slope cuts cells by their sample places.
const insideCells = 8

// spot is the place at given shares of the two sides of a face.
func (t touch) spot(sp, sq float64) r3.Vec {
	p, q := t.normal.others()
	at := t.lo
	at[p] += sp * t.size(p)
	at[q] += sq * t.size(q)
	return vector(at)
}

// thinner is the lesser thickness of two parts square to a face.
func thinner(a, b *body, normal Axis) float64 {
	thin := a.thickness(normal)
	if b != nil {
		thin = math.Min(thin, b.thickness(normal))
	}
	return thin
}

// thickness of a part along an axis; a part that stands on its end counts with its least width, across which it takes
// up the force.
func (b *body) thickness(k Axis) float64 {
	if b.axis == k {
		p, q := k.others()
		return math.Min(b.fills.size(p), b.fills.size(q))
	}
	return b.fills.size(k)
}

// screwed joins two parts by the springs of each screw.
func (m *Model) screwed(j *madeJoint, source string) *Fault {
	j.drilled, j.tapped = j.a, j.b
	switch {
	case j.joint.Drilled >= 0:
		if m.bodies[j.joint.Drilled] == j.b {
			j.drilled, j.tapped = j.b, j.a
		}
	case j.b.reachThrough(j.touch.normal) < j.a.reachThrough(j.touch.normal):
		j.drilled, j.tapped = j.b, j.a
	}
	places, fault := m.screwPlaces(j)
	if fault != nil {
		return fault
	}
	p, q := j.touch.normal.others()
	spot := joint.Spot{
		Screw: j.joint.Screws.Size, TorqueNm: j.joint.Screws.TorqueNm, Surface: j.joint.Surface,
		Drilled: j.drilled.plate(j.touch), Tapped: j.tapped.plate(j.touch),
	}
	if s := j.joint.Shim; s != nil {
		spot.Shim = &joint.Layer{Key: s.Key, Thickness: s.Thickness, E: s.Material.E, Nu: s.Material.Nu, Paper: s.Key == "paper"}
	}
	rect := joint.Rect2{Min: [2]float64{j.touch.lo[p], j.touch.lo[q]}, Max: [2]float64{j.touch.hi[p], j.touch.hi[q]}}
	inner, outer := spot.Ring()
	for i, place := range places {
		spot.ZoneArea = joint.ZoneArea(rect, places, i, inner, outer)
		if spot.ZoneArea == 0 {
			f := m.fault(j.joint.Screws.Place, "move the screws apart or away from the edge", "joint %s: edges and neighbours leave nothing of the pressed ring of a screw", j.name)
			return &f
		}
		k, err := spot.Stiffness()
		if err != nil {
			f := m.fault(j.joint.Screws.Place, "move the screws apart or away from the edge", "joint %s: %v", j.name, err)
			return &f
		}
		at := j.touch.lo
		at[p], at[q] = place[0], place[1]
		m.addScrew(j, vector(at), k, zoneReach(rect, places, i, outer), source)
	}
	return nil
}

// reachThrough is how far a screw would have to go to come out of a part: the thinner one is drilled through. The edge
// of a gusset is never drilled along its leg.
func (b *body) reachThrough(normal Axis) float64 {
	if g := b.part.Gusset; g != nil && array(g.Thickness)[normal] == 0 {
		return math.Inf(1)
	}
	return b.fills.size(normal)
}

// plate is the part as a screw's spot feels it.
func (b *body) plate(t touch) joint.Plate {
	p := joint.Plate{E: b.part.Material.E, Nu: b.part.Material.Nu, Thickness: b.fills.size(t.normal)}
	depth, through := b.depth(t)
	if through || b.part.Gusset != nil && depth == 0 {
		// A part on its end, a gusset on its edge: the force has spread once it is as deep as the part is thin.
		k, l := t.normal.others()
		depth = math.Min(b.fills.size(k), b.fills.size(l)) / 2
	}
	p.Depth = depth
	return p
}

// zoneReach is how far the pressed zone of a screw reaches along the two axes of the face, before the edges of the face
// and half the way to its neighbours.
func zoneReach(rect joint.Rect2, places [][2]float64, i int, outer float64) (reach [2]float64) {
	for k := range reach {
		reach[k] = math.Min(outer, math.Min(places[i][k]-rect.Min[k], rect.Max[k]-places[i][k]))
		for o, other := range places {
			across := math.Abs(other[1-k] - places[i][1-k])
			if gap := math.Abs(other[k] - places[i][k]); o != i && gap > across {
				reach[k] = math.Min(reach[k], gap/2)
			}
		}
	}
	return reach
}

// addScrew adds the springs of one screw: square to the face, along it, and against the turning of the pressed ring.
// The ring resists tilting about an axis of the face with its normal stiffness spread over it, k·(R² + r²)/4 with R how
// far it reaches across that axis, and spinning with its tangential stiffness in the same way. A single row of screws
// depends on that.
func (m *Model) addScrew(j *madeJoint, at r3.Vec, k joint.SpotStiffness, reach [2]float64, source string) {
	p, q := j.touch.normal.others()
	hole := k.ZoneInner * k.ZoneInner
	across := [2]float64{(reach[0]*reach[0] + hole) / 4, (reach[1]*reach[1] + hole) / 4}
	pressed := k.Normal - k.ScrewAxial
	screw := madeScrew{at: at, spot: k, normal: len(m.links)}
	for _, s := range []struct {
		axis      Axis
		turning   bool
		stiffness float64
	}{
		{j.touch.normal, false, k.Normal}, {p, false, k.Tangential}, {q, false, k.Tangential},
		{p, true, pressed * across[1]}, {q, true, pressed * across[0]}, {j.touch.normal, true, k.Tangential * (across[0] + across[1])},
	} {
		m.link(link{a: j.a, b: j.b, at: at, direction: s.axis.unit(), turning: s.turning, stiffness: s.stiffness, source: source})
	}
	j.screws = append(j.screws, screw)
}

// Distances a drilled hole needs, in screw diameters [common practice, no source]: a grid keeps gridEdge from the sides;
// a hole given by hand may come as near as leastEdge.
const (
	gridEdge  = 1.5
	leastEdge = 1.0
)

// screwPlaces are the screws' places on the contact face, checked.
func (m *Model) screwPlaces(j *madeJoint) ([][2]float64, *Fault) {
	s, t := j.joint.Screws, j.touch
	p, q := t.normal.others()
	fail := func(hint, format string, args ...any) ([][2]float64, *Fault) {
		f := m.fault(s.Place, hint, "joint "+j.name+": "+format, args...)
		return nil, &f
	}
	places := s.At
	if s.At == nil {
		var lines [2][]float64
		for i, k := range []Axis{p, q} {
			n := s.Grid[i]
			need := float64(n-1)*s.Size.HeadDiameter + 2*gridEdge*s.Size.D
			if n == 1 {
				need = 2 * leastEdge * s.Size.D
			}
			if t.size(k) < need-touching {
				return fail(fmt.Sprintf("use fewer or smaller screws along %s", k),
					"%d %s screws in a row along %s need %s, and the faces share %s", n, s.Size.Size, k, mm(need), mm(t.size(k)))
			}
			if n == 1 {
				lines[i] = []float64{t.middle(k)}
				continue
			}
			edge := gridEdge * s.Size.D
			for c := range n {
				lines[i] = append(lines[i], t.lo[k]+edge+(t.size(k)-2*edge)*float64(c)/float64(n-1))
			}
		}
		for _, a := range lines[0] {
			for _, b := range lines[1] {
				places = append(places, [2]float64{a, b})
			}
		}
	}
	for i, place := range places {
		at := t.lo
		at[p], at[q] = place[0], place[1]
		for c, k := range []Axis{p, q} {
			if edge := math.Min(place[c]-t.lo[k], t.hi[k]-place[c]); edge < leastEdge*s.Size.D-touching {
				return fail(fmt.Sprintf("the faces share %s to %s along %s; keep %s from the edge", mm(t.lo[k]), mm(t.hi[k]), k, mm(leastEdge*s.Size.D)),
					"the %s screw at %s = %s, %s = %s is too near the edge of the face or off it", s.Size.Size, p, mm(place[0]), q, mm(place[1]))
			}
		}
		if t.inside != nil && !t.inside(vector(at)) {
			return fail("give the places with at: [[…], …]", "the %s screw at %s = %s, %s = %s is beside the gusset's slope", s.Size.Size, p, mm(place[0]), q, mm(place[1]))
		}
		for _, other := range places[:i] {
			if d := math.Hypot(place[0]-other[0], place[1]-other[1]); d < s.Size.HeadDiameter-touching {
				return fail("use fewer or smaller screws", "two %s screws stand %s apart and their heads are %s wide", s.Size.Size, mm(d), mm(s.Size.HeadDiameter))
			}
		}
	}
	return places, nil
}
