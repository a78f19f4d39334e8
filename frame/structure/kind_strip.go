package structure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// stripKind is a plate wide enough for its sections to bend, and free to: a strip of the frame along its longest
// side, whose fields are known between its nodes too.
type stripKind struct {
	plateKind
	strip    *frame.Strip
	sections []float64 // distances along the centre line of what needs a node of its own, such as a carriage
	asked    []*spot   // for nodes, in case it becomes a layer
}

// wide is the width over thickness from which a plate is a strip, whose sections may bend, and not a member, whose
// sections stay flat.
const wide = 5

// stripStep is how far apart the nodes of a strip may be, as a share of its width: the shapes across fade along the
// strip over about a quarter of the width.
const stripStep = 1. / 8

// keptOff is how near to a section that is asked for a strip's other nodes stand at least, as a share of their step:
// with less between them, what moves the section would move no more than the sliver between the two.
const keptOff = 0.37

// becomeLayer: a plate that is held to the ground all over one face cannot bend across, it is a layer that the seats
// describe.
func (k *stripKind) becomeLayer() {
	k.baseKind.becomeLayer()
	for _, s := range k.asked {
		k.plateKind.want(s)
	}
	k.b.kind = &k.plateKind
}

// want asks for no node: the fields are known between them, unless the strip becomes a layer yet.
func (k *stripKind) want(s *spot) { k.asked = append(k.asked, s) }

func (k *stripKind) readAnywhere() bool { return true }

// patchSpot is as fine as the strip's nodes along it.
func (k *stripKind) patchSpot(at r3.Vec, t touch) *spot {
	return patchSpot(at, t, stripStep*k.b.width())
}

// wantSection asks for a node level with a place, for a model that slopes are taken of. Between two nodes a section
// turns in a straight line: that is near enough for what the tip moves, but what moving a carriage does would come
// out by a quarter too little before it passes a node and by a quarter too much behind. Other models go without, so
// that a machine keeps its nodes when an axis runs.
func (k *stripKind) wantSection(at r3.Vec) { k.sections = append(k.sections, k.b.along(at)) }

// wantSteps asks for the nodes that a strip has all along, but for those that would stand close to one of the sections.
func (k *stripKind) wantSteps() {
	step, others := stripStep*k.b.width(), k.wanted
	k.wanted = nil
	k.wantEvery(step, 0, k.b.length)
	k.wanted = slices.DeleteFunc(k.wanted, func(at float64) bool {
		return slices.ContainsFunc(k.sections, func(s float64) bool { return math.Abs(at-s) < keptOff*step })
	})
	k.wanted = append(append(k.wanted, k.sections...), others...)
}

// cellAlong: across a strip cells are no finer than its shapes.
func (k *stripKind) cellAlong(a machine.Axis, t touch, thin float64) float64 {
	if k.b.axis == a || k.b.axis == t.normal {
		return k.plateKind.cellAlong(a, t, thin)
	}
	return math.Max(thin/2, stripStep*k.b.fills.size(a))
}

func (k *stripKind) bedCells(a, normal machine.Axis) int {
	if k.b.axis == a || k.b.axis == normal {
		return k.plateKind.bedCells(a, normal)
	}
	return int(1 / stripStep)
}

// underFaces are the places that the slide itself has asked for.
func (k *stripKind) underFaces(func() []r3.Vec) []float64 { return k.wanted }

func (k *stripKind) addTo(f *frame.Frame, _ [3]float64) {
	k.wantSteps()
	k.stand()
	b := k.b
	thickness := b.fills.size(b.upAxis()) + b.thicker
	k.strip = f.AddStrip(b.from, b.direction(), b.side(), k.stations, b.width(), thickness, b.part.Material, b.source())
	k.ids = k.strip.Nodes()
}

func (k *stripKind) move(_ *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return k.strip.Move(s.at, direction)
}

func (k *stripKind) turn(s *spot, direction r3.Vec) frame.Form { return k.strip.Turn(s.at, direction) }

// grown is that of the arm across, and beyond the ends: the length of a strip has freedoms of its own.
func (k *stripKind) grown(_ *frame.Frame, s *spot, direction r3.Vec) float64 {
	arm := r3.Sub(s.at, r3.Add(k.b.from, r3.Scale(k.b.along(s.at), k.b.direction())))
	return k.b.part.Material.Expansion * r3.Dot(arm, direction)
}

func (k *stripKind) warm(out *frame.Load, rise float64, across r3.Vec) {
	gradY, gradZ := k.b.gradient(across)
	out.Swollen = append(out.Swollen, k.strip.Warmed(rise, gradY, gradZ)...)
}

func (k *stripKind) inertia(out *frame.Inertia) { out.Blocks = append(out.Blocks, k.strip.Blocks()...) }

// stress: the stress of shapes across is not worked out.
func (k *stripKind) stress(*Model, *state, *answer.Stress) (known bool) { return false }
