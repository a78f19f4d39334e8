package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// kinds are the ways of modelling a part. Each looks at a body of which only the part is known; the one that the part
// is of fills in its size and is the answer, the others give nil. A new kind is one line here.
var kinds = []func(b *body) (kind, error){
	newPlate,
	newGusset,
	newBar,
}

// kind is one way of modelling a part: what it looks like, how it is touched, and what it adds to the frame. Much of it
// baseKind answers for a block that is touched at points, so that a kind says only in what it differs.
type kind interface {
	shape
	touched
	framed
}

// shape is a kind's geometry.
type shape interface {
	// slender tells whether others know it by its centre line: they meet it along that, and it may run through them.
	slender() bool
	// flat tells whether its faces are rectangles on which a ground, a patch or a carriage may lie.
	flat() bool
	// faces are those along the axes that other parts may be joined to.
	faces() []facet
	// off is how far a spot is from the metal, mm.
	off(at r3.Vec) float64
	// meetsBox tells whether the metal shares room with a box, when its own box does. meets is the same with another
	// part, which moves by some way within ways; meetsGusset says it of a part that moves so against a gusset.
	meetsBox(o box) bool
	meets(o *body, ways box) bool
	meetsGusset(g *machine.Gusset, ways box) bool
	// across is the axis of the part's thickness.
	across() machine.Axis
	// fill is the share of the box that is metal.
	fill() float64
	// depth is how far below a face the idealisation takes over; see baseKind.seat.
	depth(t touch) (mm float64, through bool)
	// thickness is that along an axis, as it takes up a force along that: a part that stands on its end counts with its
	// least width.
	thickness(k machine.Axis) float64
	// reachThrough is how far a screw would have to go to come out of the part: the thinner one is drilled through.
	reachThrough(normal machine.Axis) float64
	// metal is a thickness of which there could be more, mm; not ok when there is none.
	metal() (mm float64, ok bool)
	// mass of the part, tonne, and its centre.
	mass() (tonne float64, centre r3.Vec)
	// stubby tells whether the part is more a plate than the beam it is taken for.
	stubby() bool
	// solidPart is the part at detail "solid"; not ok when it stays as it is.
	solidPart() (part solid.Part, ok bool)
}

// touched is where others are joined to a kind, and what metal lies between.
type touched interface {
	// spotOn is the spot round a place that has no size of its own, roundSpot that of a disc square to an axis,
	// spotOver that of a place by way of a rectangle on a face, spotNear that of a place by way of the nearest metal.
	spotOn(at r3.Vec) *spot
	roundSpot(at r3.Vec, normal machine.Axis, diameter float64) *spot
	spotOver(at r3.Vec, t touch) *spot
	spotNear(at r3.Vec) *spot
	// patchSpot is where a patch is read; it hangs there on the give of the metal under it, if it does.
	patchSpot(at r3.Vec, t touch) *spot
	patchGive(t touch) (g give, hung bool)
	// seat is the give of the metal between a face and what the frame knows; see baseKind.seat.
	seat(t touch, gathered float64) give
	// plate is the part as a screw's spot feels it.
	plate(t touch) joint.Plate
	// holdFace holds a rectangle of a face to the ground, bedFace lays it on an elastic bed, N/mm³.
	holdFace(m *Model, t touch, source string)
	bedFace(m *Model, t touch, modulus float64, source string)
	// cellAlong is how long the cells of a bonded face may be along an axis, mm; the kind asks for the nodes that
	// they want. bedCells is the number of cells along an axis on an elastic bed.
	cellAlong(k machine.Axis, t touch, thin float64) float64
	bedCells(k, normal machine.Axis) int
	// want asks for a node of a spot, or level with it; wantAt for nodes along the centre line; wantSection as
	// stripKind says.
	want(s *spot)
	wantAt(places ...float64)
	wantSection(at r3.Vec)
	// underFaces are the places along the centre line where faces that slide want a node; slid gives those of the
	// springs.
	underFaces(slid func() []r3.Vec) []float64
	// readAnywhere tells whether a gauge needs no node.
	readAnywhere() bool
	// read makes the gauges of spots, once the frame's nodes are there. A part whose solid body has ports is read
	// beside them, and the places that its gauges are come with them.
	read(m *Model, ports *solid.Ports, spots []*spot) ([]*gauge, *solid.Places, error)
}

// framed is what a kind is to the frame.
type framed interface {
	// addTo puts the part into the frame. bed is the stiffness of an elastic bed under it along the world's axes,
	// N/mm².
	addTo(f *frame.Frame, bed [3]float64)
	// node is the one that a spot hangs on.
	node(s *spot) int
	nodes() []int
	// move is the movement of a spot along a direction, turn its rotation about one.
	move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form
	turn(s *spot, direction r3.Vec) frame.Form
	// grown is how far a spot moves along a direction, against what the freedoms say, when the part is warmed by a
	// kelvin: the growth of the metal between a node and the spot that no freedom describes.
	grown(f *frame.Frame, s *spot, direction r3.Vec) float64
	// warm adds to a load what warming does to the part's own freedoms, inertia the part's masses.
	warm(out *frame.Load, rise float64, across r3.Vec)
	inertia(out *frame.Inertia)
	// lines cuts a load along the part at its nodes.
	lines(a machine.Action) []frame.Line
	// moved is how places of the part move under the loads of a solved model, by load and place.
	moved(x *shaping, at []r3.Vec) [][]r3.Vec
	// stress fills in the largest stress; not known when the kind does not tell it.
	stress(m *Model, s *state, worst *answer.Stress) (known bool)
}

// baseKind is a block that is touched at points: what most kinds that are not meshed have in common.
type baseKind struct{ b *body }

func (k *baseKind) slender() bool { return false }

func (k *baseKind) flat() bool { return false }

// faces are the six of the box.
func (k *baseKind) faces() []facet {
	var list []facet
	for f := machine.Left; f <= machine.Top; f++ {
		g := facet{box: k.b.fills, normal: f.Normal(), far: f.Far()}
		if g.far {
			g.lo[g.normal] = g.hi[g.normal]
		} else {
			g.hi[g.normal] = g.lo[g.normal]
		}
		list = append(list, g)
	}
	return list
}

func (k *baseKind) off(at r3.Vec) float64 { return k.b.distance(at) }

// meets: a box that moves sweeps a box.
func (k *baseKind) meets(o *body, ways box) bool {
	return k.b.meetsBox(o.fills.swept(ways.lo, ways.hi)) &&
		o.meetsBox(k.b.fills.swept(negative(ways.hi), negative(ways.lo)))
}

func (k *baseKind) meetsBox(box) bool { return true }

func (k *baseKind) meetsGusset(g *machine.Gusset, ways box) bool {
	return k.b.meetsBox(gussetBox(g).swept(negative(ways.hi), negative(ways.lo))) &&
		gussetReaches(g, k.b.fills.swept(ways.lo, ways.hi))
}

func (k *baseKind) across() machine.Axis { return k.b.fills.shortest() }

func (k *baseKind) fill() float64 { return 1 }

func (k *baseKind) thickness(a machine.Axis) float64 {
	if k.b.axis == a {
		p, q := a.Others()
		return math.Min(k.b.fills.size(p), k.b.fills.size(q))
	}
	return k.b.fills.size(a)
}

func (k *baseKind) reachThrough(normal machine.Axis) float64 { return k.b.fills.size(normal) }

func (k *baseKind) metal() (mm float64, ok bool) { return 0, false }

func (k *baseKind) stubby() bool { return false }

func (k *baseKind) solidPart() (part solid.Part, meshable bool) { return solid.Part{}, false }

func (k *baseKind) spotOn(at r3.Vec) *spot { return &spot{at: at} }

func (k *baseKind) roundSpot(at r3.Vec, _ machine.Axis, _ float64) *spot { return &spot{at: at} }

func (k *baseKind) spotOver(at r3.Vec, _ touch) *spot { return &spot{at: at} }

func (k *baseKind) spotNear(at r3.Vec) *spot { return &spot{at: at} }

// anyStep are steps along no axis.
var anyStep = [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}

func (k *baseKind) patchSpot(at r3.Vec, t touch) *spot { return patchSpot(at, t, anyStep) }

func (k *baseKind) patchGive(t touch) (g give, hung bool) { return k.b.seat(t, math.Inf(1)), true }

// seat is the give of a part's metal between a zone on its face and its centre line. A part that runs along the face
// feels the force gathered on no more than the given length. The kind's depth is how far below the face its
// idealisation takes over; through tells that it runs on from there along the normal, so that its own stretch is not
// to be counted again.
func (k *baseKind) seat(t touch, gathered float64) give {
	depth, through := k.b.depth(t)
	return k.b.seatTo(t, gathered, depth, through)
}

func (k *baseKind) plate(t touch) joint.Plate {
	b := k.b
	depth, through := b.depth(t)
	if through {
		// A part on its end, a gusset on its edge: the force has spread once it is as deep as the part is thin.
		p, q := t.normal.Others()
		depth = math.Min(b.fills.size(p), b.fills.size(q)) / 2
	}
	return joint.Plate{E: b.part.Material.E, Nu: b.part.Material.Nu, Thickness: b.fills.size(t.normal), Depth: depth}
}

func (k *baseKind) holdFace(m *Model, t touch, source string) {
	m.spread(k.b, nil, t, k.b.seat(t, k.b.thickness(t.normal)), source)
}

func (k *baseKind) bedFace(m *Model, t touch, modulus float64, source string) {
	p, q := t.normal.Others()
	for _, sp := range gaussAlong(k.b.bedCells(p, t.normal)) {
		for _, sq := range gaussAlong(k.b.bedCells(q, t.normal)) {
			stiffness := modulus * sp.weight * sq.weight * t.area()
			m.link(link{
				a: k.b, spot: &spot{at: t.at(sp.at, sq.at)}, direction: t.normal.Direction(),
				stiffness: stiffness, source: source,
			})
		}
	}
}

func (k *baseKind) cellAlong(machine.Axis, touch, float64) float64 { return math.Inf(1) }

func (k *baseKind) bedCells(_, _ machine.Axis) int { return 1 }

func (k *baseKind) want(*spot) {}

func (k *baseKind) wantSection(r3.Vec) {}

func (k *baseKind) wantAt(...float64) {}

func (k *baseKind) underFaces(func() []r3.Vec) []float64 { return nil }

func (k *baseKind) readAnywhere() bool { return false }

func (k *baseKind) read(m *Model, _ *solid.Ports, spots []*spot) ([]*gauge, *solid.Places, error) {
	list := make([]*gauge, len(spots))
	for i, s := range spots {
		list[i] = &gauge{spot: s, body: -1}
		for d := machine.X; d <= machine.Z; d++ {
			if s.over != nil {
				list[i].forms[d], list[i].forms[3+d] = s.means(m.frame, k.b, d.Direction())
				continue
			}
			list[i].forms[d], list[i].forms[3+d] = k.b.move(m.frame, s, d.Direction()), k.b.turn(s, d.Direction())
		}
	}
	return list, nil, nil
}

// onArm is the movement of a spot on a rigid arm from a node.
func onArm(f *frame.Frame, node int, s *spot, direction r3.Vec) frame.Form {
	return frame.Move(node, r3.Sub(s.at, f.Node(node)), direction)
}

// armGrown is by how much the metal between a node and a spot grows along a direction, mm/K.
func (b *body) armGrown(f *frame.Frame, node int, s *spot, direction r3.Vec) float64 {
	return b.part.Material.Expansion * r3.Dot(r3.Sub(s.at, f.Node(node)), direction)
}

func (k *baseKind) lines(machine.Action) []frame.Line { return nil }

func (k *baseKind) stress(*Model, *state, *answer.Stress) (known bool) { return false }
