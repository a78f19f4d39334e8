package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/surface"
)

// What is drawn of things whose size the model does not know, as shares of the machine's diagonal; a shaft and a tool
// are drawn with roundCorners.
const (
	footWide     = 0.022 // radius of a foot on the floor
	footNeck     = 0.012 // radius where it meets its part
	footHigh     = 0.03
	slabHigh     = 0.012 // of a ground that holds a face
	workWidth    = 0.05
	leastWork    = 0.002 // height of a work that the tip touches
	plainRail    = 0.012 // width of a rail without a size
	roundCorners = 10
)

// Metal of unsaid size, tonne/mm³: a motor is copper, iron and air [common practice, no source].
const motorDensity = 4e-9

// nutSize is a nut's width and length over its screw's diameter [common practice, no source].
const nutSize = 2.0

// diagonal is that of the box round all parts, mm.
func (x *shaping) diagonal() float64 {
	lo, hi := x.Model.bodies[0].fills.lo, x.Model.bodies[0].fills.hi
	for _, b := range x.Model.bodies {
		for k := range lo {
			lo[k], hi[k] = min(lo[k], b.fills.lo[k]), max(hi[k], b.fills.hi[k])
		}
	}
	return r3.Norm(r3.Sub(vector(hi), vector(lo)))
}

// fit adds all that is fitted to the parts.
func (x *shaping) fit() {
	size := x.diagonal()
	for i := range x.machine.Axes {
		x.fitAxis(i, size)
	}
	for _, h := range x.hung {
		if h.from == asSaid {
			half := math.Cbrt(h.tonne/machine.ScrewDensity) / 2
			b := x.block(h.name, answer.ShapeMass, h.centre, half, h.body, h.at)
			b.MassKg = h.tonne * constant.KgPerTonne
			x.add(b)
		}
	}
	for _, g := range x.grounds {
		x.fitGround(g, size)
	}
	if x.tool != nil {
		x.fitTool(size)
	}
}

// block is a cube that is fixed to a body at a place.
func (x *shaping) block(name string, kind answer.ShapeKind, middle r3.Vec, half float64, on *body,
	at r3.Vec) answer.ShapeBody {
	reach := r3.Vec{X: half, Y: half, Z: half}
	s := surface.Box(r3.Sub(middle, reach), r3.Add(middle, reach), [3]int{1, 1, 1})
	return surfaced(name, kind, s, x.rigid(on, at, half, s.At))
}

// fitAxis adds rails, carriages and drives.
func (x *shaping) fitAxis(number int, size float64) {
	a := &x.machine.Axes[number]
	for _, g := range x.guides[number] {
		x.fitGuide(a, g, size)
	}
	for i := range a.Drives {
		x.fitDrive(a, &a.Drives[i], size)
	}
}

func (x *shaping) fitGuide(a *machine.FeedAxis, g *madeGuide, size float64) {
	w, source := g.guide, guideSource(a, g.guide)
	if w.Slide != nil {
		return
	}
	if g.rail != nil && g.rail.guide == w || g.rail == nil && !w.RailIsBar {
		rail, on := g.railBox(), g.on
		if g.rail != nil {
			on = g.rail.body
		} else { // no size: a strip on the seat
			for k, half := range map[machine.Axis]float64{g.seat.across: plainRail * size / 2, g.seat.out: g.seat.gap / 2} {
				rail.lo[k], rail.hi[k] = rail.lo[k]-half, rail.hi[k]+half
			}
			rail.lo[g.seat.out] += g.seat.sign() * g.seat.gap / 2
			rail.hi[g.seat.out] += g.seat.sign() * g.seat.gap / 2
		}
		s := boxSurface(rail)
		b := surfaced(w.Name+" of axis "+a.Name, answer.ShapeRail, s, on.moved(x, s.At))
		b.Source = source
		if g.rail != nil {
			tonne, _ := on.mass()
			b.MassKg = tonne * constant.KgPerTonne
		}
		x.add(b)
	}
	for i, c := range g.carriages {
		takes := g.block(a, c)
		s := surface.Box(vector(takes.lo), vector(takes.hi), [3]int{1, 1, 1})
		var moved [][]r3.Vec
		if c.block != nil {
			moved = c.block.moved(x, s.At)
		} else {
			moved = x.rigid(g.part, c.face, math.Max(w.Length, w.Width)/4+size*plainRail/2, s.At)
		}
		b := surfaced(fmt.Sprintf("carriage %d of %s of axis %s", i+1, w.Name, a.Name), answer.ShapeCarriage, s, moved)
		b.Source = source
		if w.Rail != nil {
			b.MassKg = w.Rail.MassKg
		}
		x.add(b)
	}
}

// fitDrive adds a screw or a belt, the nut or clamp on it, and a motor of known mass. The shaft is straight between the
// ends that are held, or the driven end and the nut.
func (x *shaping) fitDrive(a *machine.FeedAxis, v *machine.Drive, size float64) {
	source := driveSource(a, v)
	name := " of " + source[len("drive "):]
	part, on := x.Model.bodies[v.Part], x.Model.bodies[v.On]
	add := func(b answer.ShapeBody) {
		b.Source = source
		x.add(b)
	}
	wide := plainRail * size
	switch v.Kind {
	case machine.ByScrew:
		wide = v.ScrewDiameter()
	case machine.ByBelt:
		wide = v.Belt.Belt.Width
	}
	if v.Kind == machine.ByScrew || v.Kind == machine.ByBelt {
		along := r3.Unit(r3.Sub(v.To, v.From))
		kind, corners := answer.ShapeScrew, roundCorners
		if v.Kind == machine.ByBelt {
			kind, corners = answer.ShapeBelt, 4
		}
		s := surface.Loft([][][]r3.Vec{{surface.Circle(v.From, along, wide/2, corners)},
			{surface.Circle(v.To, along, wide/2, corners)}}, along)
		far, farAt := part, v.Push
		if v.Far != nil {
			far, farAt = x.Model.bodies[*v.Far], v.To
		}
		near, end := x.rigid(on, v.From, wide, s.At), x.rigid(far, farAt, wide, s.At)
		reach := r3.Norm(r3.Sub(farAt, v.From))
		for n := range near {
			for i, at := range s.At {
				share := math.Min(1, r3.Dot(r3.Sub(at, v.From), along)/reach)
				slack := r3.Sub(end[n][i], near[n][i])
				if v.Far == nil { // which the nut leaves free along it
					slack = r3.Sub(slack, r3.Scale(r3.Dot(slack, along), along))
				}
				near[n][i] = r3.Add(near[n][i], r3.Scale(share, slack))
			}
		}
		words := map[answer.ShapeKind]string{answer.ShapeScrew: "screw", answer.ShapeBelt: "belt"}
		add(surfaced(words[kind]+name, kind, s, near))
	}
	add(x.block("nut"+name, answer.ShapeNut, v.Push, nutSize*wide/2, part, v.Push))
	if v.Motor.Tonne > 0 {
		half := math.Cbrt(v.Motor.Tonne/motorDensity) / 2
		at, held := v.From, on
		if v.Kind == machine.ByRack || v.Kind == machine.BySpring {
			at, held = v.Push, part
		}
		middle := at
		if v.Kind == machine.ByScrew {
			middle = r3.Sub(at, r3.Scale(half, r3.Unit(r3.Sub(v.To, v.From)))) // before the driven end
		}
		b := x.block("motor"+name, answer.ShapeMotor, middle, half, held, at)
		b.MassKg = v.Motor.Tonne * constant.KgPerTonne
		add(b)
	}
}

// fitGround adds what a machine stands on: a foot under each place that is held, or a slab on the face.
func (x *shaping) fitGround(g *madeGround, size float64) {
	out := g.out()
	if out == (r3.Vec{}) {
		out = machine.Z.Direction()
	}
	places := g.places
	if len(places) == 0 && g.zone.lo == g.zone.hi {
		places = []r3.Vec{vector(g.zone.lo)}
	}
	name := fmt.Sprintf("ground %s of %s", g.name, g.body.part.Name)
	for i, at := range places {
		at = r3.Sub(at, r3.Scale(g.body.halfBar(at, out), out))
		floor := r3.Sub(at, r3.Scale(footHigh*size, out))
		s := surface.Loft([][][]r3.Vec{{surface.Circle(floor, out, footWide*size, roundCorners)},
			{surface.Circle(at, out, footNeck*size, roundCorners)}}, out)
		moved := x.rigid(g.body, at, footNeck*size, s.At)
		for n := range moved {
			for k := range roundCorners {
				moved[n][k] = r3.Vec{} // the floor
			}
		}
		b := surfaced(fmt.Sprintf("%s, %d", name, i+1), answer.ShapeFoot, s, moved)
		b.Source = g.source()
		x.add(b)
	}
	if places != nil {
		return
	}
	slab := g.zone
	for k, o := range array(out) {
		slab.lo[k] -= slabHigh * size * math.Max(0, o)
		slab.hi[k] += slabHigh * size * math.Max(0, -o)
		if slab.size(machine.Axis(k)) == 0 {
			slab.lo[k], slab.hi[k] = slab.lo[k]-slabHigh*size/2, slab.hi[k]+slabHigh*size/2
		}
	}
	s := surface.Box(vector(slab.lo), vector(slab.hi), [3]int{1, 1, 1})
	still := make([][]r3.Vec, len(x.loads))
	for n := range still {
		still[n] = make([]r3.Vec, len(s.At))
	}
	b := surfaced(name, answer.ShapeGround, s, still)
	b.Source = g.source()
	x.add(b)
}

// halfBar is how far it is from a bar's centre line to its surface against the way out, mm; 0 for a place that is not on
// the line, for one at the end of a bar that stands on it, and for what is no bar.
func (b *body) halfBar(at, out r3.Vec) float64 {
	if b.part.Bar == nil || b.length == 0 {
		return 0
	}
	along := b.direction()
	off := r3.Cross(along, r3.Sub(at, b.from))
	square := r3.Sub(out, r3.Scale(r3.Dot(out, along), along))
	const standing = 0.7 // of the way out that may be along the bar
	if r3.Norm(off) > machine.Touching || r3.Norm(square) < standing {
		return 0
	}
	half := 0.0
	for _, p := range b.outline()[0] {
		half = math.Max(half, -(p[0]*r3.Dot(square, b.side()) + p[1]*r3.Dot(square, b.up)))
	}
	return half
}

// motion is a movement and a rotation.
type motion struct{ move, turn r3.Vec }

// at is the movement of the end of an arm.
func (v motion) at(arm r3.Vec) r3.Vec { return r3.Add(v.move, r3.Cross(v.turn, arm)) }

// fitTool adds the tool, and the work that it cuts as the block that it is taken for.
func (x *shaping) fitTool(size float64) {
	t := x.tool
	var sections [][][]r3.Vec
	moves := make([][]motion, len(x.loads)) // by load and section
	var middles []r3.Vec
	ring := func(at r3.Vec, radius float64, how func(n int) motion) {
		sections, middles = append(sections, [][]r3.Vec{surface.Circle(at, t.back(), radius, roundCorners)}), append(middles, at)
		for n := range x.loads {
			moves[n] = append(moves[n], how(n))
		}
	}
	if t.node < 0 {
		x.ringsOfStub(ring, size)
	} else {
		x.ringsOfTool(ring)
	}
	s := surface.Loft(sections, r3.Sub(middles[len(middles)-1], middles[0]))
	moved := make([][]r3.Vec, len(x.loads))
	for n := range moved {
		for i, at := range s.At {
			section := i / roundCorners
			moved[n] = append(moved[n], moves[n][section].at(r3.Sub(at, middles[section])))
		}
	}
	b := surfaced("tool", answer.ShapeTool, s, moved)
	b.Source, b.Material = toolSource, t.tool.Material.Key
	x.add(b)
	x.fitWork(size)
}

// ringsOfStub are those of a tip that goes with its part: a cone that stands on the tip.
func (x *shaping) ringsOfStub(ring func(r3.Vec, float64, func(int) motion), size float64) {
	t := x.tool
	wide := math.Max(t.tool.Diameter/2, footNeck*size/2)
	rigid := func(arm r3.Vec) func(n int) motion {
		return func(n int) motion {
			v := x.tipMotion(n)
			return motion{v.at(arm), v.turn}
		}
	}
	const pointed = 0.1
	arm := r3.Scale(4*wide, t.back())
	ring(r3.Add(t.tool.At, arm), wide, rigid(arm))
	ring(t.tool.At, pointed*wide, rigid(r3.Vec{}))
}

// tipMotion is how the tip of the tool moves under a load.
func (x *shaping) tipMotion(n int) (v motion) {
	move, turn := [3]float64{}, [3]float64{}
	if x.tool.node < 0 {
		move = x.growth(x.loads[n], x.tool.holder, x.tool.root)
	}
	for k := range move {
		move[k] += x.states[n].Value(x.tool.tip[k])
		turn[k] = x.states[n].Value(x.tool.turn[k])
	}
	return motion{vector(move), vector(turn)}
}

// ringsOfTool are those of a tool that bends, from the root to the tip.
func (x *shaping) ringsOfTool(ring func(r3.Vec, float64, func(int) motion)) {
	t := x.tool
	stretches := toolStretches(t.tool)
	at := t.root.at
	for i, s := range stretches {
		radius := s.diameter / 2
		if s.last {
			radius = t.tool.Diameter / 2
			s.length = r3.Norm(r3.Sub(at, t.tool.At))
		}
		const cells = 2
		for k := range cells + 1 {
			along := s.length * float64(k) / cells
			ring(r3.Sub(at, r3.Scale(along, t.back())), radius, func(n int) (v motion) {
				v.move, v.turn = x.states[n].MemberMoved(t.members[i], along)
				return v
			})
		}
		at = r3.Sub(at, r3.Scale(s.length, t.back()))
	}
}

// fitWork adds the work: a block from its spot to the height of the tip.
func (x *shaping) fitWork(size float64) {
	t := x.tool
	n := t.work.normalAt(t.spot.at)
	block := around(t.spot.at, t.spot.at)
	p, q := n.Others()
	for _, k := range []machine.Axis{p, q} {
		block.lo[k], block.hi[k] = block.lo[k]-workWidth*size/2, block.hi[k]+workWidth*size/2
	}
	tip, least := array(t.tool.At)[n], leastWork*size
	if tip >= block.lo[n] {
		block.hi[n] = math.Max(tip, block.lo[n]+least)
	} else {
		block.lo[n] = math.Min(tip, block.hi[n]-least)
	}
	s := surface.Box(vector(block.lo), vector(block.hi), [3]int{1, 1, 1})
	moved := make([][]r3.Vec, len(x.loads))
	for i := range x.loads {
		v := x.workMotion(i)
		for _, at := range s.At {
			moved[i] = append(moved[i], v.at(r3.Sub(at, t.tool.At)))
		}
	}
	x.add(surfaced("work", answer.ShapeWork, s, moved))
}

// workMotion is how the work moves under a load, where the tool cuts it.
func (x *shaping) workMotion(n int) motion {
	v := x.states[n].of(x.tool.gauge)
	grown := x.growth(x.loads[n], x.tool.work, x.tool.gauge.spot)
	return motion{r3.Add(r3.Vec{X: v[0], Y: v[1], Z: v[2]}, vector(grown)), r3.Vec{X: v[3], Y: v[4], Z: v[5]}}
}

// tip is where the tool cuts, and how it and the work move there.
func (x *shaping) tip() *answer.ShapeTip {
	tip := &answer.ShapeTip{AtMM: array(x.tool.tool.At)}
	for n, l := range x.loads {
		tool, work := x.tipAndWork(l, x.states[n], x.tool.gauge)
		tip.ToolMM, tip.WorkMM = append(tip.ToolMM, tool), append(tip.WorkMM, work)
	}
	return tip
}
