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
// So that nothing jumps where a plate becomes wide, one hardly wide is a member with a share of the metal beside a
// strip with the rest. Each takes its share of every force and has its share of every movement, so that the plate's
// compliance is the mean of theirs.
type stripKind struct {
	plateKind // the nodes of the strip
	strip     *frame.Strip
	beam      *plateKind // nil for a plate that is wide
	beamShare float64
	sections  []float64 // distances along the centre line of what needs a node of its own, such as a carriage

	// A plate nearly square is in the same way two strips, one along either side; nil for others.
	turned      *stripKind
	turnedShare float64
	whole       float64 // share of the plate's metal that a strip has, its member's included, that of turned not
}

// A plate whose width over its thickness is narrow or less is a member, whose sections stay flat; from wide on it is a
// strip, whose sections bend.
const (
	narrow = 1.75
	wide   = 2.5
)

// A plate less than oblong times as long as wide is two strips, along and across; a square one half of each, so that
// nothing jumps where its longest side becomes another one.
const oblong = 1.15

// stripStep is how far apart the nodes of a strip may be, as a share of its width: the shapes across fade along the
// strip over about a quarter of the width. Nor need they be nearer than leastStep of its thickness, over which metal
// spreads a force anyhow.
const (
	stripStep = 1. / 8
	leastStep = 0.6
)

// leastSteps is how many steps lie at least between places that are wanted, such as the end of a hold and that of the
// plate, where leastStep leaves room for them: with fewer, one more or less moved answers by up to 12 %.
const leastSteps = 4

// keptOff is how near to a section that is asked for a strip's other nodes stand at least, as a share of their step:
// with less between them, what moves the section would move no more than the sliver between the two.
const keptOff = 0.37

// newStrip is a plate as a strip; nil when it is too narrow for that.
func newStrip(b *body) (*stripKind, error) {
	k := &stripKind{plateKind: plateKind{memberLine{baseKind: baseKind{b}, share: 1}}, whole: 1}
	if k.slimness() <= narrow {
		return nil, nil
	}
	if t := b.length / b.width(); t < oblong {
		k.turnedShare = (oblong - t) / (oblong - 1) / 2
		k.whole -= k.turnedShare
		across, err := b.turned()
		if err != nil {
			return nil, err
		}
		k.turned = &stripKind{plateKind: plateKind{memberLine{baseKind: baseKind{across}, share: 1}},
			whole: k.turnedShare}
		across.kind = k.turned
		k.turned.addBeam()
	}
	k.addBeam()
	return k, nil
}

// addBeam makes the member beside a strip that is hardly wide.
func (k *stripKind) addBeam() {
	k.beamShare = math.Max(0, (wide-k.slimness())/(wide-narrow))
	if k.beamShare > 0 {
		k.beam = &plateKind{memberLine{baseKind: baseKind{k.b}, share: k.beamShare * k.whole}}
	}
}

// turned is a plate with its centre line the other way in its plane.
func (b *body) turned() (*body, error) {
	t := *b
	t.axis = 3 - b.axis - b.upAxis()
	middle := r3.Scale(0.5, r3.Add(b.from, b.to))
	half := r3.Scale(b.width()/2, t.axis.Direction())
	t.from, t.to, t.length = r3.Sub(middle, half), r3.Add(middle, half), b.width()
	var err error
	t.section, err = beam.Rect{Width: b.length, Height: b.fills.size(b.upAxis())}.Section(b.part.Material.Nu)
	return &t, err
}

// slimness is the plate's width over its thickness.
func (k *stripKind) slimness() float64 { return k.b.width() / k.b.fills.size(k.b.upAxis()) }

// step is how far apart the nodes of the strip may be, mm.
func (k *stripKind) step() float64 {
	return math.Max(stripStep*k.b.width(), leastStep*k.b.fills.size(k.b.upAxis()))
}

// seat: at its edges a strip's own fields hold the metal, but for what a zone narrower than the edge takes to spread
// over the thickness.
func (k *stripKind) seat(t touch, gathered float64) give {
	b, up := k.b, k.b.upAxis()
	beam := k.plateKind.seat(t, gathered)
	if t.normal == up {
		return beam
	}
	if k.turned != nil {
		beam = beam.times(1 - k.turnedShare).plus(k.turned.plateKind.seat(t, gathered).times(k.turnedShare))
	}
	along := 3 - t.normal - up
	t.lo[along], t.hi[along] = b.fills.lo[along], b.fills.hi[along]
	return beam.times(k.beamShare).plus(b.seatTo(t, math.Inf(1), b.fills.size(up), true).times(1 - k.beamShare))
}

// thickness: a strip takes up a force on any of its edges over its thickness.
func (k *stripKind) thickness(a machine.Axis) float64 {
	own := k.plateKind.thickness(a)
	if k.turned != nil {
		own = (1-k.turnedShare)*own + k.turnedShare*k.turned.plateKind.thickness(a)
	}
	return k.beamShare*own + (1-k.beamShare)*k.b.fills.size(k.b.upAxis())
}

// want asks for nothing of a strip: the fields are known between the nodes.
func (k *stripKind) want(s *spot) {
	if k.beam != nil {
		k.beam.want(s)
	}
	if k.turned != nil {
		k.turned.want(s)
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
	step := k.step()
	return patchSpot(at, t, [3]float64{step, step, step})
}

// wantSection asks for a node level with a place, for a model that slopes are taken of. Between two nodes a section
// turns in a straight line: that is near enough for what the tip moves, but what moving a carriage does would come
// out by a quarter too little before it passes a node and by a quarter too much behind. Other models go without, so
// that a machine keeps its nodes when an axis runs.
func (k *stripKind) wantSection(at r3.Vec) {
	k.sections = append(k.sections, k.b.along(at))
	if k.turned != nil {
		k.turned.wantSection(at)
	}
}

// wantSteps asks for the nodes that a strip has all along, between those that are wanted, but for those that would
// stand close to one of the sections.
func (k *stripKind) wantSteps() {
	edges := append(k.wanted, 0, k.b.length)
	sort.Float64s(edges)
	k.wanted = nil
	for i := range edges[1:] {
		step := math.Max((edges[i+1]-edges[i])/leastSteps, leastStep*k.b.fills.size(k.b.upAxis()))
		k.wantEvery(math.Min(k.step(), step), edges[i], edges[i+1])
	}
	k.wanted = slices.DeleteFunc(k.wanted, func(at float64) bool {
		return slices.ContainsFunc(k.sections, func(s float64) bool { return math.Abs(at-s) < keptOff*k.step() })
	})
	k.wanted = append(append(k.wanted, k.sections...), edges...)
}

// cellAlong: cells are no longer along a strip than between two nodes, and across it no finer than its shapes.
func (k *stripKind) cellAlong(a machine.Axis, t touch, thin float64) float64 {
	if a == k.b.upAxis() {
		return k.baseKind.cellAlong(a, t, thin)
	}
	if k.turned != nil {
		straight := *k
		straight.turned = nil
		cell := straight.cellAlong(a, t, thin)
		k.wanted = straight.wanted
		finer := math.Min(1, k.turned.cellAlong(a, t, thin)/cell)
		return cell * math.Pow(finer, 2*k.turnedShare) // by and by, so that nothing jumps
	}
	if k.beam != nil {
		k.beam.cellAlong(a, t, thin)
	}
	if a == k.b.axis {
		return k.plateKind.cellAlong(a, t, math.Min(thin, 2*k.step()))
	}
	return math.Max(thin/2, k.step())
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
	thickness, made := b.fills.size(b.upAxis())+b.thicker, shareOf(b.part.Material, (1-k.beamShare)*k.whole)
	k.strip = f.AddStrip(b.from, b.direction(), b.side(), k.stations, b.width(), thickness, made, b.source())
	k.ids = k.strip.Nodes()
	if k.beam != nil {
		k.beam.addTo(f, [3]float64{})
		k.goWith(f, k.beam.ids[0])
	}
	if k.turned != nil {
		k.turned.b.thicker = b.thicker
		k.turned.addTo(f, [3]float64{})
		b.shared += k.turned.b.shared
		k.goWith(f, k.turned.ids[0])
	}
}

// shareOf is a share of some metal.
func shareOf(m beam.Material, share float64) beam.Material {
	m.E *= share
	m.Density *= share
	return m
}

// goWith ties a node of the member to the strip. Shares of one plate need to be tied so that they move as one, and no
// more: all that acts on the plate acts on each by its share, so that nothing goes through the tie.
func (k *stripKind) goWith(f *frame.Frame, node int) {
	at := f.Node(node)
	for a := machine.X; a <= machine.Z; a++ {
		d := a.Direction()
		f.Constrain(frame.Constraint{Name: k.b.source(),
			Form: frame.Move(node, r3.Vec{}, d).Plus(-1, k.strip.Move(at, d))})
		f.Constrain(frame.Constraint{Name: k.b.source(), Form: frame.Turn(node, d).Plus(-1, k.strip.Turn(at, d))})
	}
}

// mean is that of what a form is for the strip, for its member and for the strip across.
func (k *stripKind) mean(form frame.Form, beam, turned func() frame.Form) frame.Form {
	if k.beam != nil {
		form = frame.Form{}.Plus(1-k.beamShare, form).Plus(k.beamShare, beam())
	}
	if k.turned != nil {
		form = frame.Form{}.Plus(1-k.turnedShare, form).Plus(k.turnedShare, turned())
	}
	return form
}

func (k *stripKind) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return k.mean(k.strip.Move(s.at, direction), func() frame.Form { return k.beam.move(f, s, direction) },
		func() frame.Form { return k.turned.move(f, s, direction) })
}

func (k *stripKind) turn(s *spot, direction r3.Vec) frame.Form {
	return k.mean(k.strip.Turn(s.at, direction), func() frame.Form { return k.beam.turn(s, direction) },
		func() frame.Form { return k.turned.turn(s, direction) })
}

// grown is that of the arm through the thickness: length and width of a strip have freedoms of their own.
func (k *stripKind) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	b := k.b
	arm := r3.Dot(r3.Sub(s.at, b.from), b.up)
	grown := (1 - k.beamShare) * b.part.Material.Expansion * arm * r3.Dot(b.up, direction)
	if k.beam != nil {
		grown += k.beamShare * k.beam.grown(f, s, direction)
	}
	if k.turned != nil {
		grown = (1-k.turnedShare)*grown + k.turnedShare*k.turned.grown(f, s, direction)
	}
	return grown
}

func (k *stripKind) warm(out *frame.Load, rise float64, across r3.Vec) {
	var gradient r3.Vec
	if across != (r3.Vec{}) {
		gradient = k.b.slope(across)
	}
	out.Swollen = append(out.Swollen, k.strip.Warmed(rise, gradient)...)
	if k.beam != nil {
		k.beam.warm(out, rise, across)
	}
	if k.turned != nil {
		k.turned.warm(out, rise, across)
	}
}

func (k *stripKind) inertia(out *frame.Inertia) {
	out.Blocks = append(out.Blocks, k.strip.Blocks()...)
	if k.beam != nil {
		k.beam.inertia(out)
	}
	if k.turned != nil {
		k.turned.inertia(out)
	}
}

// bendsAcross is the width over the thickness from which the stress of a plate is not told: it is that of a member, and
// wider ones bend across as much as along.
const bendsAcross = 5

func (k *stripKind) stress(_ *Model, s *state, worst *answer.Stress) (known bool) {
	if k.slimness() >= bendsAcross {
		return false
	}
	mpa, at, known := s.StripStress(k.strip, k.b.section)
	worst.MPa, worst.AtMM = mpa/((1-k.beamShare)*k.whole), array(at)
	return known
}
