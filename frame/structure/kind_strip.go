package structure

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// stripKind is a plate wide enough for its sections to bend, and free to: a strip of the frame along its longest side,
// whose fields are known between its nodes too.
//
// Two rules of that have an edge: how wide is wide, and which side is the longest. So that nothing jumps there, a plate
// hardly wide is a member with a share of the metal beside a strip with the rest, and one all but square two strips
// along its two sides. Each takes its share of every force and has its share of every movement, so that the plate's
// compliance is the mean of theirs.
type stripKind struct {
	plateKind // the nodes of the strip along the longest side
	strips    []stripShare
	beam      *plateKind // nil for a plate that is wide
	beamShare float64
	acrossAt  []float64 // distances along the width where the strip across wants a node
	sections  []float64 // distances along the centre line of what needs a node of its own, such as a carriage
}

// stripShare is a strip with a share of the metal.
type stripShare struct {
	*frame.Strip
	share float64
}

// A plate whose width over its thickness is narrow or less is a member, whose sections stay flat; from wide on it is a
// strip, whose sections bend.
const (
	narrow = 1.75
	wide   = 2.5
)

// squarish is the length over the width up to which a plate is a strip along its width, too.
const squarish = 1.1

// stripStep is how far apart the nodes of a strip may be, as a share of its width: the shapes across fade along the
// strip over about a quarter of the width. Nor need they be nearer than leastStep of its thickness, over which metal
// spreads a force anyhow.
const (
	stripStep = 1. / 8
	leastStep = 0.6
)

// keptOff is how near to a section that is asked for a strip's other nodes stand at least, as a share of their step:
// with less between them, what moves the section would move no more than the sliver between the two.
const keptOff = 0.37

// newStrip is a plate as a strip; nil when it is too narrow for that.
func newStrip(b *body) *stripKind {
	k := &stripKind{plateKind: plateKind{memberLine{baseKind: baseKind{b}, share: 1}}}
	if k.slimness() <= narrow {
		return nil
	}
	k.beamShare = math.Max(0, (wide-k.slimness())/(wide-narrow))
	if k.beamShare > 0 {
		k.beam = &plateKind{memberLine{baseKind: baseKind{b}, share: k.beamShare}}
	}
	return k
}

// slimness is the plate's width over its thickness.
func (k *stripKind) slimness() float64 { return k.b.width() / k.b.fills.size(k.b.upAxis()) }

// step is how far apart the nodes of the strip may be, mm.
func (k *stripKind) step() float64 {
	return math.Max(stripStep*k.b.width(), leastStep*k.b.fills.size(k.b.upAxis()))
}

// acrossShare is the share of the metal of strips that the one along the width has: half of it in a square.
func (k *stripKind) acrossShare() float64 {
	return math.Max(0, (squarish-k.b.length/k.b.width())/(squarish-1)/2)
}

// seat: at its edges a strip's own fields hold the metal, but for what a zone narrower than the edge takes to spread
// over the thickness.
func (k *stripKind) seat(t touch, gathered float64) give {
	b, up := k.b, k.b.upAxis()
	beam := k.plateKind.seat(t, gathered)
	if t.normal == up {
		return beam
	}
	along := 3 - t.normal - up
	t.lo[along], t.hi[along] = b.fills.lo[along], b.fills.hi[along]
	return beam.times(k.beamShare).plus(b.seatTo(t, math.Inf(1), b.fills.size(up), true).times(1 - k.beamShare))
}

// thickness: a strip takes up a force on any of its edges over its thickness.
func (k *stripKind) thickness(a machine.Axis) float64 {
	return k.beamShare*k.plateKind.thickness(a) + (1-k.beamShare)*k.b.fills.size(k.b.upAxis())
}

// want asks for nothing of a strip: the fields are known between the nodes.
func (k *stripKind) want(s *spot) {
	if k.beam != nil {
		k.beam.want(s)
	}
}

func (k *stripKind) wantAt(places ...float64) {
	k.plateKind.wantAt(places...)
	if k.beam != nil {
		k.beam.wantAt(places...)
	}
}

func (k *stripKind) readAnywhere() bool { return k.beam == nil }

// patchSpot is as fine as the strip's nodes along it.
func (k *stripKind) patchSpot(at r3.Vec, t touch) *spot {
	return patchSpot(at, t, k.step())
}

// wantSection asks for a node level with a place, for a model that slopes are taken of. Between two nodes a section
// turns in a straight line: that is near enough for what the tip moves, but what moving a carriage does would come
// out by a quarter too little before it passes a node and by a quarter too much behind. Other models go without, so
// that a machine keeps its nodes when an axis runs.
func (k *stripKind) wantSection(at r3.Vec) { k.sections = append(k.sections, k.b.along(at)) }

// wantSteps asks for the nodes that a strip has all along, between those that are wanted, but for those that would stand
// close to one of the sections.
func (k *stripKind) wantSteps() {
	k.wanted = append(k.wanted, 0, k.b.length)
	edges := k.wanted
	k.wanted = k.between(edges)
	k.wanted = slices.DeleteFunc(k.wanted, func(at float64) bool {
		return slices.ContainsFunc(k.sections, func(s float64) bool { return math.Abs(at-s) < keptOff*k.step() })
	})
	k.wanted = append(append(k.wanted, k.sections...), edges...)
}

// between are places at most a step apart from one edge to the next.
func (k *stripKind) between(edges []float64) []float64 {
	var line memberLine
	sort.Float64s(edges)
	for i := range edges[1:] {
		line.wantEvery(k.step(), edges[i], edges[i+1])
	}
	return line.wanted
}

// cellAlong: cells are no longer along a strip than between two nodes, and across it no finer than its shapes. In a plate
// all but square both directions are along a strip.
func (k *stripKind) cellAlong(a machine.Axis, t touch, thin float64) float64 {
	if a == k.b.upAxis() {
		return k.baseKind.cellAlong(a, t, thin)
	}
	if k.beam != nil {
		k.beam.cellAlong(a, t, thin)
	}
	fine := math.Min(thin/2, k.step())
	switch {
	case a == k.b.axis:
		return k.plateKind.cellAlong(a, t, 2*fine)
	case k.acrossShare() == 0:
		return math.Max(thin/2, k.step())
	}
	n := cells(t.size(a), fine)
	for i := range n + 1 {
		at := t.lo[a] + t.size(a)*float64(i)/float64(n)
		if r3.Dot(k.b.side(), a.Direction()) > 0 {
			k.acrossAt = append(k.acrossAt, at-k.b.fills.lo[a])
		} else {
			k.acrossAt = append(k.acrossAt, k.b.fills.hi[a]-at)
		}
	}
	return fine
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
	b, share, turned := k.b, 1-k.beamShare, k.acrossShare()
	k.addStrip(f, b.from, b.direction(), b.side(), k.stations, b.width(), share*(1-turned))
	k.ids = k.strips[0].Nodes()
	if turned > 0 {
		line := memberLine{wanted: k.between(append(k.acrossAt, 0, b.width()))}
		line.standOver(b.width())
		from := r3.Add(r3.Scale(0.5, r3.Add(b.from, b.to)), r3.Scale(-b.width()/2, b.side()))
		k.addStrip(f, from, b.side(), b.direction(), line.stations, b.length, share*turned)
	}
	if k.beam != nil {
		k.beam.addTo(f, [3]float64{})
		k.goWith(f, k.beam.ids[0])
	}
}

// addStrip adds a strip with a share of the metal.
func (k *stripKind) addStrip(
	f *frame.Frame, from, along, across r3.Vec, places []float64, width, share float64,
) {
	b := k.b
	thickness := b.fills.size(b.upAxis()) + b.thicker
	made := shareOf(b.part.Material, share)
	strip := f.AddStrip(from, along, across, places, width, thickness, made, b.source())
	k.strips = append(k.strips, stripShare{strip, share})
	if len(k.strips) > 1 {
		k.goWith(f, strip.Nodes()[0])
	}
}

// shareOf is a share of some metal.
func shareOf(m beam.Material, share float64) beam.Material {
	m.E *= share
	m.Density *= share
	return m
}

// goWith ties a node to the first strip. Shares of one plate need to be tied so that they move as one, and no more: all
// that acts on the plate acts on each by its share, so that nothing goes through the tie.
func (k *stripKind) goWith(f *frame.Frame, node int) {
	at := f.Node(node)
	for a := machine.X; a <= machine.Z; a++ {
		d := a.Direction()
		f.Constrain(frame.Constraint{Name: k.b.source(),
			Form: frame.Move(node, r3.Vec{}, d).Plus(-1, k.strips[0].Move(at, d))})
		f.Constrain(frame.Constraint{Name: k.b.source(), Form: frame.Turn(node, d).Plus(-1, k.strips[0].Turn(at, d))})
	}
}

// mean is that of what a form of each share is.
func (k *stripKind) mean(beam func() frame.Form, strip func(*frame.Strip) frame.Form) (form frame.Form) {
	for _, s := range k.strips {
		form = form.Plus(s.share, strip(s.Strip))
	}
	if k.beam != nil {
		form = form.Plus(k.beamShare, beam())
	}
	return form
}

// beside is the place of the strip's area nearest to a spot, level with it. A nut or a clamp may lie beside its part: it
// goes with the edge as on a rigid arm, for the shapes across mean nothing outside the metal.
func (k *stripKind) beside(s *spot) r3.Vec {
	near, up := array(k.b.nearestMetal(s.at)), k.b.upAxis()
	near[up] = array(s.at)[up]
	return vector(near)
}

func (k *stripKind) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	edge := k.beside(s)
	arm := r3.Sub(s.at, edge)
	return k.mean(func() frame.Form { return k.beam.move(f, s, direction) }, func(strip *frame.Strip) frame.Form {
		form := strip.Move(edge, direction)
		if arm == (r3.Vec{}) {
			return form
		}
		return form.Plus(1, strip.Turn(edge, r3.Cross(arm, direction)))
	})
}

func (k *stripKind) turn(s *spot, direction r3.Vec) frame.Form {
	edge := k.beside(s)
	return k.mean(func() frame.Form { return k.beam.turn(s, direction) },
		func(strip *frame.Strip) frame.Form { return strip.Turn(edge, direction) })
}

// grown is that of the arm through the thickness: length and width of a strip have freedoms of their own.
func (k *stripKind) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	b := k.b
	arm := r3.Dot(r3.Sub(s.at, b.from), b.up)
	grown := (1 - k.beamShare) * b.part.Material.Expansion * arm * r3.Dot(b.up, direction)
	if k.beam != nil {
		grown += k.beamShare * k.beam.grown(f, s, direction)
	}
	return grown
}

func (k *stripKind) warm(out *frame.Load, rise float64, across r3.Vec) {
	var gradient r3.Vec
	if across != (r3.Vec{}) {
		gradient = k.b.slope(across)
	}
	for _, s := range k.strips {
		out.Swollen = append(out.Swollen, s.Warmed(rise, gradient)...)
	}
	if k.beam != nil {
		k.beam.warm(out, rise, across)
	}
}

func (k *stripKind) inertia(out *frame.Inertia) {
	for _, s := range k.strips {
		out.Blocks = append(out.Blocks, s.Blocks()...)
	}
	if k.beam != nil {
		k.beam.inertia(out)
	}
}

// bendsAcross is the width over the thickness from which the stress of a plate is not told: it is that of a member, and
// wider ones bend across as much as along.
const bendsAcross = 5

func (k *stripKind) stress(_ *Model, s *state, worst *answer.Stress) (known bool) {
	if k.slimness() >= bendsAcross {
		return false
	}
	first := k.strips[0]
	mpa, at, known := s.StripStress(first.Strip, k.b.section)
	worst.MPa, worst.AtMM = mpa/first.share, array(at)
	return known
}
