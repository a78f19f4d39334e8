package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// checkLoads finds what in the loads does not fit the built model.
func (m *Model) checkLoads() (faults machine.Faults) {
	for i := range m.machine.Loads {
		for _, a := range m.machine.Loads[i].Actions {
			switch a.Kind {
			case machine.AlongBar:
				if b := m.bodies[a.Bar]; a.To > b.length+machine.Touching {
					faults = append(faults, m.fault(a.Pos, "", "load %s reaches to %s along %s, which is %s long",
						m.machine.Loads[i].Name, machine.MM(a.To), b.part.Name, machine.MM(b.length)))
				} else {
					b.wantAt(a.From, math.Min(a.To, b.length))
				}
			case machine.Settling:
				if f := m.checkSettling(a); f != nil {
					faults = append(faults, *f)
				}
			case machine.Warming:
				if f := m.checkAcross(a); f != nil {
					faults = append(faults, *f)
				}
			}
		}
	}
	return faults
}

// checkSettling: a ground can only move a part in directions it holds.
func (m *Model) checkSettling(a machine.Action) *machine.Fault {
	g := m.grounds[a.Ground]
	for f := machine.MoveX; f <= machine.TurnZ; f++ {
		if a.By[f] == 0 {
			continue
		}
		direction, turning := f.Direction()
		held := false
		for _, t := range g.ties {
			held = held || m.ties[t].turning == turning && r3.Dot(m.ties[t].direction, direction) != 0
		}
		for _, l := range g.links {
			held = held || !turning || m.links[l].turning
		}
		if !held {
			fault := m.fault(a.Pos, "hold that freedom, or leave it out of settle",
				"ground %s does not hold %s, so it cannot move it", g.name, f)
			return &fault
		}
	}
	return nil
}

// checkAcross: a temperature difference needs a part with a size across.
func (m *Model) checkAcross(a machine.Action) *machine.Fault {
	if a.Across == (r3.Vec{}) {
		return nil
	}
	for _, b := range m.bodies {
		if m.warms(a, b) && !b.hasBox {
			fault := m.fault(a.Pos, "give a section with sizes, along an axis",
				"a temperature difference across %s: it has no width along the axes", b.part.Name)
			return &fault
		}
	}
	return nil
}

// frameLoad turns a load case into what acts on the frame; work is what the tip pushes on.
func (m *Model) frameLoad(l *machine.Load, work *gauge) frame.Load {
	var out frame.Load
	push := func(forms [6]frame.Form, force, moment r3.Vec) {
		f, t := array(force), array(moment)
		for k, v := range append(f[:], t[:]...) {
			if v != 0 {
				out.Pushes = append(out.Pushes, frame.Push{Form: forms[k], Force: v})
			}
		}
	}
	for _, a := range l.Actions {
		switch a.Kind {
		case machine.OnTip:
			push(m.against(work), a.Force, a.Moment)
		case machine.OnPoint:
			push(m.points[a.Point].gauge.forms, a.Force, a.Moment)
		case machine.AlongBar:
			out.Lines = append(out.Lines, m.bodies[a.Bar].lines(a)...)
		case machine.Weight:
			out.Gravity = r3.Add(out.Gravity, a.Force)
			for _, s := range m.solids {
				for k, felt := range s.reduced.Weight() {
					out.Pushes = append(out.Pushes, s.pushes(felt, array(a.Force)[k])...)
				}
			}
			m.eachHung(a, func(h *hungMass, force r3.Vec) { push(h.gauge.forms, force, r3.Vec{}) })
		case machine.Accelerating:
			m.accelerate(&out, a)
			m.eachHung(a, func(h *hungMass, force r3.Vec) { push(h.gauge.forms, force, r3.Vec{}) })
		case machine.Settling:
			m.settle(&out, a)
		case machine.Warming:
			m.warm(&out, a)
		case machine.Misfitting:
			m.misfit(&out, a.Misfit)
		}
	}
	return out
}

// hungMass hangs on a part that it gives no stiffness: a screw in its bearings, a nut, a motor, or what the builder
// says hangs there. A new sort of them is one more call of add in hang.
type hungMass struct {
	name, from string // what it is; where its mass is from
	tonne      float64
	body       *body
	at         r3.Vec // where its weight presses, on a rigid arm from the nearest metal, mm
	centre     r3.Vec // mm
	spot       *spot
	gauge      *gauge
}

// hang finds what hangs on the parts: the masses of the model, and of the drives what is of a known size. A screw hangs
// in its bearings, half in each where both ends are held to a part; otherwise in the one at its driven end, for its nut
// keeps it from tilting.
func (m *Model) hang() machine.Faults {
	add := func(name, from string, tonne float64, part int, at, centre r3.Vec) {
		if tonne == 0 {
			return
		}
		h := &hungMass{name: name, from: from, tonne: tonne, body: m.bodies[part], at: at, centre: centre}
		if h.spot = h.body.spotNear(at); !h.body.readAnywhere() {
			h.body.want(h.spot)
		}
		m.hung = append(m.hung, h)
	}
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for k := range a.Drives {
			v := &a.Drives[k]
			source := driveName(a, v)
			if v.Kind == machine.ByScrew {
				tonne, middle := v.Screw.Shaft.Mass(machine.ScrewDensity), r3.Scale(0.5, r3.Add(v.From, v.To))
				if v.Far != nil {
					tonne /= 2
					add("screw of "+source+", far half", ofTheRoot, tonne, *v.Far, v.To, r3.Scale(0.5, r3.Add(middle, v.To)))
					middle = r3.Scale(0.5, r3.Add(v.From, middle))
				}
				add("screw of "+source, ofTheRoot, tonne, v.On, v.From, middle)
				add("nut of "+source, ofTheScrew, drive.NutMass(v.ScrewDiameter(), machine.ScrewDensity), v.Part, v.Push, v.Push)
			}
			motor, at := v.On, v.From
			if v.Kind == machine.ByRack {
				motor, at = v.Part, v.Push
			}
			add("motor of "+source, ofItsSize, v.Motor.Tonne, motor, at, at)
		}
	}
	for _, w := range m.machine.Masses {
		add(w.Name, asSaid, w.Tonne, w.Part, w.At, w.At)
	}
	return nil
}

// Where the masses of what hangs on parts are from.
const (
	asSaid     = "the model"
	ofItsSize  = "typical of the size"
	ofTheRoot  = "steel as thick as its root"
	ofTheScrew = "a sleeve usual for its screw"
)

// placeHung makes the gauges by which what hangs on parts weighs.
func (m *Model) placeHung() error {
	for _, b := range m.bodies {
		var spots []*spot
		var on []*hungMass
		for _, h := range m.hung {
			if h.body == b {
				spots, on = append(spots, h.spot), append(on, h)
			}
		}
		if spots == nil {
			continue
		}
		list, err := m.gauges(b, spots...)
		if err != nil {
			return fmt.Errorf("what hangs on %s: %w", b.part.Name, err)
		}
		for i, h := range on {
			if h.gauge = list[i]; b.mesh() != nil { // which knows the spot where its metal is
				h.gauge = list[i].raised(r3.Sub(h.at, h.spot.metal()))
			}
		}
	}
	return nil
}

// eachHung gives what hangs on parts its force under an action that pulls at masses.
func (m *Model) eachHung(a machine.Action, do func(h *hungMass, force r3.Vec)) {
	for _, h := range m.hung {
		switch {
		case a.Kind == machine.Weight:
			do(h, r3.Scale(h.tonne, a.Force))
		case a.Kind == machine.Accelerating && m.goes(&m.machine.Axes[a.Axis], h.body):
			do(h, r3.Scale(-h.tonne, a.Force))
		}
	}
}

// settle moves a ground: its springs to ground are stretched, its ties prescribed.
func (m *Model) settle(out *frame.Load, a machine.Action) {
	g := m.grounds[a.Ground]
	move, turn := r3.Vec{X: a.By[0], Y: a.By[1], Z: a.By[2]}, r3.Vec{X: a.By[3], Y: a.By[4], Z: a.By[5]}
	by := func(direction r3.Vec, turning bool) float64 {
		if turning {
			return r3.Dot(turn, direction)
		}
		return r3.Dot(move, direction)
	}
	for _, i := range g.links {
		l := m.links[i]
		if v := by(l.direction, l.turning); v != 0 {
			out.Stretched = append(out.Stretched, frame.Stretched{Spring: l.spring, By: -v})
		}
	}
	for _, i := range g.ties {
		t := m.ties[i]
		if v := by(t.direction, t.turning); v != 0 {
			out.Moved = append(out.Moved, frame.Moved{Constraint: t.constraint, Value: v})
		}
	}
}

// warm changes the temperature of parts: their members and triangles grow, and so do the offsets between their nodes
// and the spots where they touch others.
func (m *Model) warm(out *frame.Load, a machine.Action) {
	for _, b := range m.allBodies() {
		if m.warms(a, b) {
			rise, across := m.rise(a, b)
			b.warm(out, rise, across)
		}
	}
	for _, s := range m.solids {
		if m.warms(a, s.b) {
			warm := solid.Warm{Mean: a.Rise, Gradient: s.b.slope(a.Across)}
			out.Pushes = append(out.Pushes, s.pushes(s.reduced.Warmth(warm), 1)...)
		}
	}
	m.warmTool(out, a)
	grown := func(b *body, s *spot, direction r3.Vec) float64 {
		if b == nil || !m.warms(a, b) {
			return 0
		}
		rise, _ := m.rise(a, b)
		return rise * b.grown(m.frame, s, direction)
	}
	for _, l := range m.links {
		by := grown(l.a, l.spot, l.direction) - grown(l.b, l.spot, l.direction)
		for _, e := range l.others {
			by += e.factor * grown(e.body, e.spot, l.direction)
		}
		if by != 0 && !l.turning {
			out.Stretched = append(out.Stretched, frame.Stretched{Spring: l.spring, By: by})
		}
	}
	for _, t := range m.ties {
		if by := grown(t.a, t.spot, t.direction) - grown(t.b, t.spot, t.direction); by != 0 && !t.turning {
			out.Moved = append(out.Moved, frame.Moved{Constraint: t.constraint, Value: -by})
		}
	}
}

// gradient is the temperature rise per mm along the section's axes for differences across the part along the world's.
func (b *body) gradient(across r3.Vec) (y, z float64) {
	if across == (r3.Vec{}) {
		return 0, 0
	}
	slope := b.slope(across)
	return r3.Dot(slope, b.side()), r3.Dot(slope, b.up)
}

// warms tells whether an action changes the temperature of a body. A rail or carriage is as warm as what it is screwed
// to.
func (m *Model) warms(a machine.Action, b *body) bool {
	return a.Kind == machine.Warming && (a.Part == nil || m.bodies[*a.Part] == b || m.bodies[*a.Part] == b.mount)
}

// rise is the temperature change of a body: of a part the mean and the differences across it; a rail or carriage is all
// over as warm as the face that it is screwed to.
func (m *Model) rise(a machine.Action, b *body) (mean float64, across r3.Vec) {
	if b.mount == nil || a.Across == (r3.Vec{}) {
		return a.Rise, a.Across
	}
	on := b.mount
	slope, at := array(on.slope(a.Across)), on.nearestMetal(b.middle())
	mean = a.Rise
	for k, v := range array(at) {
		mean += slope[k] * (v - on.fills.middle(machine.Axis(k)))
	}
	return mean, r3.Vec{}
}

// growth is how far a spot of a body moves under the warming actions of a load without the nodes moving.
func (m *Model) growth(l *machine.Load, b *body, s *spot) (by [3]float64) {
	for _, a := range l.Actions {
		if !m.warms(a, b) {
			continue
		}
		for k := machine.X; k <= machine.Z; k++ {
			rise, _ := m.rise(a, b)
			by[k] += rise * b.grown(m.frame, s, k.Direction())
		}
	}
	return by
}

// growths are the same for the tip and for a spot of the work. The tip of a cutter has a node of its own.
func (m *Model) growths(l *machine.Load, work *spot) (tip, under [3]float64) {
	if m.tool.node < 0 {
		tip = m.growth(l, m.tool.holder, m.tool.root)
	}
	return tip, m.growth(l, m.tool.work, work)
}

// tipGrowth is that of the tip against a spot of the work.
func (m *Model) tipGrowth(l *machine.Load, work *spot) [3]float64 { return less(m.growths(l, work)) }

// Accelerating an axis is a load at rest: by d'Alembert's principle all that moves with the axis feels the opposite of
// its acceleration on its mass, and the drive and the guides hold it against what the axis stands on. The machine is
// taken as it bends once the push is steady; that a sudden one makes it swing to twice as far is left out.

// accelerate puts the inertia of all that an axis moves into a load.
func (m *Model) accelerate(out *frame.Load, a machine.Action) {
	felt := r3.Scale(-1, a.Force)
	inertia := frame.Inertia{Felt: felt}
	for _, b := range m.allBodies() {
		if m.goes(&m.machine.Axes[a.Axis], b) {
			b.inertia(&inertia)
		}
	}
	out.Inertia = append(out.Inertia, inertia)
	for _, s := range m.solids {
		if !m.goes(&m.machine.Axes[a.Axis], s.b) {
			continue
		}
		for k, weight := range s.reduced.Weight() {
			out.Pushes = append(out.Pushes, s.pushes(weight, array(felt)[k])...)
		}
	}
}
