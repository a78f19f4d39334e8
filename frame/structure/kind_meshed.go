package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// meshedKind is a part at detail "solid", which its solid body puts into the frame. It has the shape of the kind that
// it would be otherwise, and feels what touches it over zones of its mesh.
type meshedKind struct {
	kind
	b        *body
	part     solid.Part
	number   int           // in Model.solids
	spots    []*spot       // where others feel it
	spotNode map[*spot]int // the frame's node of each
	ids      []int
}

// meshIn makes a part a solid body, when its kind can be meshed.
func (b *body) meshIn() {
	if part, ok := b.solidPart(); ok {
		b.kind = &meshedKind{kind: b.kind, b: b, part: part}
	}
}

// mesh is the meshed kind of a body; nil when it is not meshed.
func (b *body) mesh() *meshedKind {
	k, _ := b.kind.(*meshedKind)
	return k
}

// readOver is the diameter over the part's least thickness of the round zone that a spot without a size of its own is
// spread over: the metal next to it then gives about as little as a member's, which gives nothing. Under a true point
// a solid body would give without end.
const readOver = 1.0

// spotOn is a round zone in the face the place lies on, or in the plane across the part's thickness when it lies
// inside.
func (k *meshedKind) spotOn(at r3.Vec) *spot {
	return k.roundSpot(at, k.b.normalAt(at), readOver*k.b.fills.size(k.b.fills.shortest()))
}

// workWide is the diameter of the spot on which a work stands, mm: about that of a small vise's foot (common practice,
// no source). The cut turns the work on an arm; on a spot as wide as a thin plate is thick it would be on a stalk.
const workWide = 50

// workSpot is the spot of a part that the work stands on. A part that is not meshed feels it as a point: its sections
// and fields know no dent.
func (b *body) workSpot(at r3.Vec) *spot {
	k := b.mesh()
	if k == nil {
		return b.spotOn(at)
	}
	return k.roundSpot(at, b.normalAt(at), math.Max(workWide, readOver*b.fills.size(b.fills.shortest())))
}

func (k *meshedKind) roundSpot(at r3.Vec, normal machine.Axis, diameter float64) *spot {
	s := &spot{at: at}
	near := k.b.nearestMetal(at)
	s.zone = rectSpot(near, touch{normal: normal, box: k.b.faceRound(near, normal)}).zone
	s.zone.Outer, s.zone.Lone = diameter/2, true
	return s
}

func (k *meshedKind) spotNear(at r3.Vec) *spot {
	s := k.spotOn(k.b.nearestMetal(at))
	s.at = at
	return s
}

// spotOver is the rectangle itself, when there is one on a face.
func (k *meshedKind) spotOver(at r3.Vec, t touch) *spot {
	p, q := t.normal.Others()
	if t.size(p) <= machine.Touching || t.size(q) <= machine.Touching || !k.flat() {
		return k.spotNear(at)
	}
	s := rectSpot(t.at(0.5, 0.5), t)
	s.at = at
	return s
}

func (k *meshedKind) patchSpot(at r3.Vec, t touch) *spot {
	s := rectSpot(at, t)
	s.zone.Aligned, s.zone.Lone = true, true
	return s
}

// patchGive: the patch is read as the mesh moves under it.
func (k *meshedKind) patchGive(touch) (g give, hung bool) { return give{}, false }

// seat: the mesh holds the metal behind its face.
func (k *meshedKind) seat(touch, float64) give { return give{} }

// plate: the mesh holds the spreading of the force.
func (k *meshedKind) plate(t touch) joint.Plate {
	made := k.b.part.Material
	return joint.Plate{E: made.E, Nu: made.Nu, Thickness: k.b.metalAlong(t.normal, t.onMiddle())}
}

func (k *meshedKind) holdFace(m *Model, t touch, source string) {
	m.tieAll(k.b, nil, heldSpot(t), source)
}

func (k *meshedKind) bedFace(m *Model, t touch, modulus float64, source string) {
	m.pressFields(k.b, nil, t, k.b.fills.size(t.normal), modulus, source)
}

func (k *meshedKind) want(s *spot) {
	if !slices.ContainsFunc(k.spots, s.like) {
		k.spots = append(k.spots, s)
	}
}

func (k *meshedKind) wantAt(...float64) {}

func (k *meshedKind) wantSection(r3.Vec) {}

func (k *meshedKind) underFaces(func() []r3.Vec) []float64 { return nil }

func (k *meshedKind) readAnywhere() bool { return true }

func (k *meshedKind) read(m *Model, ports *solid.Ports, spots []*spot) ([]*gauge, *solid.Places, error) {
	body := m.solids[k.number]
	list, zones := make([]*gauge, len(spots)), make([]solid.Zone, len(spots))
	for i, s := range spots {
		zones[i] = s.zone
	}
	places, err := body.reduced.ReadBeside(ports, zones...)
	if err != nil {
		return nil, nil, fmt.Errorf("part %s: %w", k.b.part.Name, err)
	}
	for i, s := range spots {
		there := places.Gauge(i)
		list[i] = &gauge{spot: s, body: k.number, zone: zones[i], local: there.Local}
		for f := range list[i].forms {
			list[i].forms[f] = body.form(there.Weights[f])
		}
	}
	return list, places, nil
}

// stubby: a mesh is no beam.
func (k *meshedKind) stubby() bool { return false }

// addTo adds nothing: its solid body does.
func (k *meshedKind) addTo(*frame.Frame, [3]float64) {}

func (k *meshedKind) node(s *spot) int { return k.spotNode[k.spots[slices.IndexFunc(k.spots, s.like)]] }

func (k *meshedKind) nodes() []int { return k.ids }

func (k *meshedKind) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return onArm(f, k.node(s), s, direction)
}

func (k *meshedKind) turn(s *spot, direction r3.Vec) frame.Form {
	return frame.Turn(k.node(s), direction)
}

// grown: the mesh grows by itself; what is between it and the spot is air or a bar.
func (k *meshedKind) grown(_ *frame.Frame, s *spot, direction r3.Vec) float64 {
	return k.b.part.Material.Expansion * r3.Dot(r3.Sub(s.at, s.metal()), direction)
}

// warm adds nothing, nor does inertia: its solid body does.
func (k *meshedKind) warm(*frame.Load, float64, r3.Vec) {}

func (k *meshedKind) inertia(*frame.Inertia) {}

func (k *meshedKind) lines(machine.Action) []frame.Line { return nil }

func (k *meshedKind) stress(m *Model, s *state, worst *answer.Stress) (known bool) {
	most, away := s.fields[k.number].Worst()
	worst.MPa, worst.AtMM = away.Stress, array(away.At)
	at := array(most.At)
	worst.EdgeMPa, worst.EdgeAtMM = &most.Stress, &at
	return true
}

// Joints and grounds of meshed parts, at detail "solid". What another part does to a meshed one it does over a zone:
// the mesh holds how the force spreads from there, so no seat and no spreading term is added.

// bondMeshed joins two parts of which one at least is meshed.
func (m *Model) bondMeshed(j *madeJoint, source string) {
	bar, other := j.a, j.b
	if other.mesh() == nil {
		bar, other = other, bar
	}
	switch {
	case bar.mesh() != nil:
		m.bondFaces(j, source)
	case j.touch.kind == atPoint:
		at := j.touch.from()
		m.tieAll(j.a, j.b, other.roundSpot(at, other.normalAt(at), bar.footprint(other)), source)
	case j.touch.kind == along:
		m.embedMeshed(j, bar, other, source)
	default:
		m.layMeshed(j, bar, source)
	}
}

// footprint is how wide a bar presses on a meshed part.
func (b *body) footprint(on *body) float64 {
	if w := 2 * b.halfWidth(); w > 0 {
		return w
	}
	return readOver * on.fills.size(on.fills.shortest())
}

// Two meshed parts are bonded over pieces of their common face: over each both move and turn alike in the mean, so that
// the traction between them is linear over each piece. Pieces are about as wide as bondStep times the thinner part, or
// the face, times the mesh's factor, and about mostPieces at most. That gives a little too much where the mesh gives
// too little, and each of the two errors goes with the cells. A pad that lies on the other part with all of its face
// bends as that does, and its own thickness is no measure. bondStep was found on the bodies of
// testdata/solid-reference.yaml.
const (
	bondStep   = 0.5
	mostPieces = 100
)

// bondFaces ties two meshed parts over pieces of their common face.
func (m *Model) bondFaces(j *madeJoint, source string) {
	p, q := j.touch.normal.Others()
	wide := math.Min(j.touch.size(p), j.touch.size(q))
	for _, pair := range [][2]*body{{j.a, j.b}, {j.b, j.a}} {
		if !j.touch.covers(pair[0]) || j.touch.covers(pair[1]) {
			wide = math.Min(wide, pair[0].fills.size(pair[0].fills.shortest()))
		}
	}
	fields := j.touch.fields(bondStep*wide*m.builder.mesh(), mostPieces)
	for _, f := range fields {
		f.spot.zone.Lone = len(fields) == 1
		m.tieAll(j.a, j.b, f.spot, source)
	}
}

// pieces cuts a face into equal rectangles no longer than step along either side, longer ones where there would be more
// than most.
func (t touch) pieces(step float64, most int) (list []touch) {
	p, q := t.normal.Others()
	step = math.Max(step, math.Sqrt(t.area()/float64(most)))
	np, nq := cells(t.size(p), step), cells(t.size(q), step)
	for i := range np {
		for k := range nq {
			piece := t
			piece.lo = array(t.at(float64(i)/float64(np), float64(k)/float64(nq)))
			piece.hi = array(t.at(float64(i+1)/float64(np), float64(k+1)/float64(nq)))
			list = append(list, piece)
		}
	}
	return list
}

// A bar is tied in stretches of half its width, three at least. One alone lets the metal of the hole tilt against it
// and shear: on plates a sixth to one and a half times as thick as the bar is wide, the bar's end then moved aside 14
// to 57 % farther than that of a bar of the plate's own metal that stands on its face; with three 2 to 13 %.
const (
	stretchShare   = 0.5
	leastStretches = 3
)

// embedMeshed ties a bar to the metal it runs through: at the middle of every stretch the bar's node goes with the mean
// movement and rotation of the metal in its section. The metal of the hole is not taken out; the bar fills it.
func (m *Model) embedMeshed(j *madeJoint, bar, other *body, source string) {
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	width := bar.footprint(other)
	n := max(leastStretches, cells(r3.Norm(d), width*stretchShare))
	for i := range n {
		at := r3.Add(from, r3.Scale((float64(i)+0.5)/float64(n), d))
		where := other.roundSpot(at, j.touch.normal, width)
		where.zone.Lone = false
		m.tieAll(j.a, j.b, where, source)
	}
}

// layMeshed joins a bar, or another part that is not meshed, that lies or stands on a meshed part with one of its
// faces. Its own metal between face and centre line is its seat.
func (m *Model) layMeshed(j *madeJoint, bar *body, source string) {
	n := 1
	if bar.axis != j.touch.normal && bar.axis != noAxis {
		n = cells(j.touch.size(bar.axis), 2*bar.halfWidth())
	}
	for i := range n {
		t := j.touch
		if n > 1 {
			k := bar.axis
			t.lo[k] = j.touch.lo[k] + j.touch.size(k)*float64(i)/float64(n)
			t.hi[k] = j.touch.lo[k] + j.touch.size(k)*float64(i+1)/float64(n)
		}
		g, where := bar.seat(t, math.Inf(1)), rectSpot(t.at(0.5, 0.5), t)
		p, q := t.normal.Others()
		floor := seatFloor * math.Min(t.size(p), t.size(q)) / bar.part.Material.E
		for _, s := range []struct {
			axis machine.Axis
			give float64
		}{{t.normal, g.normal}, {p, g.p}, {q, g.q}} {
			stiffness := t.area() / math.Max(s.give, floor)
			m.link(link{a: j.a, b: j.b, spot: where, direction: s.axis.Direction(), stiffness: stiffness, source: source})
			m.tie(tie{a: j.a, b: j.b, spot: where, direction: s.axis.Direction(), turning: true, name: source})
		}
	}
}

// heldSpot is a region of a face that moves as one rigid piece.
func heldSpot(t touch) *spot {
	at := t.at(0.5, 0.5)
	return &spot{at: at, held: &solid.Region{Normal: int(t.normal), Lo: t.lo, Hi: t.hi, At: at}}
}

// A bed under a meshed part, or a sliding face, is felt over fields about padStep times as wide as the part is thick,
// about mostFields at most; over each the pressure may vary linearly.
const (
	padStep    = 2.0
	mostFields = 36
)

// pressFields joins a meshed part to the ground (b nil), or to another part, by a pressure per movement square to a
// face, N/mm³; thickness is the one that sets how wide the fields are.
func (m *Model) pressFields(a, b *body, t touch, thickness, modulus float64, source string) {
	p, q := t.normal.Others()
	for _, f := range t.fields(padStep*thickness, mostFields) {
		stiffness := modulus * f.area
		m.link(link{a: a, b: b, spot: f.spot, direction: t.normal.Direction(), stiffness: stiffness, source: source})
		for i, about := range []machine.Axis{p, q} {
			m.link(link{a: a, b: b, spot: f.spot, direction: about.Direction(), turning: true,
				stiffness: stiffness * f.square[1-i], source: source})
		}
	}
}
