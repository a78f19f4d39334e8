package structure

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/drive"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// What does not line up is a load: a spring whose two ends stand apart by more than its form says pulls both together,
// by its stiffness times what is left of the gap. So every spring of a mounting knows by how much each misfit
// stretches it, and a tie by how much it is moved.

// opening is by how much a misfit, by its number in Model.misfits, opens a link or a tie.
type opening struct {
	misfit int
	by     float64 // added to a link's form, taken by a tie's; mm or rad
}

// mountedAt says which mounting springs belong to, and how the mounting lies.
type mountedAt struct {
	at     machine.Mounting
	centre r3.Vec
	out    r3.Vec         // square to the seat, towards what is held; zero: nothing says which way that is
	across r3.Vec         // of a carriage: across its rail, towards the larger coordinate
	along  r3.Vec         // of a carriage: its axis
	factor float64        // of what the mounting moves in the forms; 1: the first body of a link is held, −1: it holds
	rail   *machine.Guide // whose misfits open the springs, too; nil: no rail's do
}

// misfitsOf are the misfits of a machine with the shims at the same mountings, and behind them, each by itself, the
// shims that correct none, and what else the builder is asked about.
func (b *Builder) misfitsOf(m *machine.Machine) []machine.Misfit {
	list := slices.Clone(m.Misfits)
	for _, s := range m.Shims {
		i := slices.IndexFunc(list, func(f machine.Misfit) bool { return f.At == s.At })
		if i < 0 {
			list = append(list, machine.Misfit{Name: s.Name, Pos: s.Pos, At: s.At, From: s.Lift()})
			continue
		}
		list[i].From = list[i].From.Plus(1, s.Lift())
		if to := list[i].To; to != nil {
			lifted := to.Plus(1, s.Lift())
			list[i].To = &lifted
		}
	}
	return append(list, b.units...)
}

// checkShims finds stacks that are thicker than a part they lie on: their unit is missing, mostly.
func (m *Model) checkShims() (faults machine.Faults) {
	for _, s := range m.machine.Shims {
		for _, b := range m.mounted(s.At) {
			if fault := m.tooThick(s.Pos, "shim "+s.Name, s.Thickness(), b, b.fills.shortest()); fault != nil {
				faults = append(faults, *fault)
				break
			}
		}
	}
	return faults
}

// tooThick is the fault of shims that are thicker along an axis than a part they lie on; nil when they are not.
func (m *Model) tooThick(at machine.FilePos, what string, thickness float64, b *body,
	along machine.Axis) *machine.Fault {
	thick := b.fills.size(along)
	if !(thickness > thick) {
		return nil
	}
	f := m.fault(at, "a shim of that size is a part of its own, or its unit is missing", "%s is %s thick and %s only %s",
		what, machine.MM(thickness), b.part.Name, machine.MM(thick))
	return &f
}

// mounted are the parts that a mounting joins; of a ground the one that stands on it.
func (m *Model) mounted(at machine.Mounting) []*body {
	switch at.Kind {
	case machine.AtGround:
		return []*body{m.bodies[m.machine.Grounds[at.Ground].Part]}
	case machine.AtJoint:
		j := m.machine.Joints[at.Joint]
		return []*body{m.bodies[j.Parts[0]], m.bodies[j.Parts[1]]}
	case machine.AtRail, machine.AtCarriage:
		g := &m.machine.Axes[at.Axis].Guides[at.Guide]
		return []*body{m.bodies[g.On], m.bodies[g.Part]}
	}
	d := &m.machine.Axes[at.Axis].Drives[at.Drive]
	return []*body{m.bodies[d.On], m.bodies[d.Part]}
}

// mount marks the links and ties from some on as those of a mounting.
func (m *Model) mount(firstLink, firstTie int, on mountedAt) {
	for i := firstLink; i < len(m.links); i++ {
		l := &m.links[i]
		l.mount = &on
		for n := range m.misfits {
			if by := on.opened(&m.misfits[n], l.spot.at, l.direction, l.turning); by != 0 {
				l.gaps = append(l.gaps, opening{n, -by})
			}
		}
	}
	for i := firstTie; i < len(m.ties); i++ {
		t := &m.ties[i]
		for n := range m.misfits {
			if by := on.opened(&m.misfits[n], t.spot.at, t.direction, t.turning); by != 0 {
				t.gaps = append(t.gaps, opening{n, by})
			}
		}
	}
}

// opened is what a misfit would have a form at a spot of the mounting be.
func (on *mountedAt) opened(f *machine.Misfit, spot, direction r3.Vec, turning bool) float64 {
	if !f.At.Covers(on.at) || f.At.Kind == machine.AtRail && on.rail == nil {
		return 0
	}
	o, centre, slope := f.From, on.centre, r3.Vec{}
	if f.At.Kind == machine.AtRail {
		centre = r3.Scale(0.5, r3.Add(on.rail.From, on.rail.To))
		if f.To != nil {
			run := r3.Dot(r3.Sub(on.rail.To, on.rail.From), on.along)
			rise := f.To.Plus(-1, f.From)
			o = f.From.Plus(r3.Dot(r3.Sub(on.centre, on.rail.From), on.along)/run, rise)
			// a carriage takes the rail's slope: it turns so that what is along it goes with the rise
			slope = r3.Cross(on.along, r3.Scale(1/run, on.moved(rise)))
		}
	}
	turn := r3.Add(r3.Add(r3.Scale(o.Twist, on.along), o.Turn), slope)
	if turning {
		return on.factor * r3.Dot(turn, direction)
	}
	// about the middle of the carriage goes what is of the rail's own line; a lean is about the middle of the rail
	move := r3.Add(on.moved(o), r3.Cross(o.Turn, r3.Sub(spot, centre)))
	move = r3.Add(move, r3.Cross(r3.Sub(turn, o.Turn), r3.Sub(spot, on.centre)))
	return on.factor * r3.Dot(move, direction)
}

// moved is how far an offset moves the middle of the mounting.
func (on *mountedAt) moved(o machine.Offset) r3.Vec {
	return r3.Add(o.By, r3.Add(r3.Scale(o.High, on.out), r3.Scale(o.Aside, on.across)))
}

// misfit puts a misfit into a load.
func (m *Model) misfit(out *frame.Load, number int) {
	for _, l := range m.links {
		for _, g := range l.gaps {
			if g.misfit == number {
				out.Stretched = append(out.Stretched, frame.Stretched{Spring: l.spring, By: g.by})
			}
		}
	}
	for _, t := range m.ties {
		for _, g := range t.gaps {
			if g.misfit == number {
				out.Moved = append(out.Moved, frame.Moved{Constraint: t.constraint, Value: g.by})
			}
		}
	}
}

// opens is by how much a link is stretched by the misfits of a load.
func (l *link) opens(load *machine.Load) (by float64) {
	for _, a := range load.Actions {
		if a.Kind != machine.Misfitting {
			continue
		}
		for _, g := range l.gaps {
			if g.misfit == a.Misfit {
				by += g.by
			}
		}
	}
	return by
}

// stackAt is the give of the shims under a mounting over an area, square to it and along it, mm/N; a stack with an area
// of its own presses on that.
func (m *Model) stackAt(at machine.Mounting, area float64) (square, along float64) {
	for _, s := range m.machine.Shims {
		if !s.At.Covers(at) {
			continue
		}
		pressed := area
		if s.Area > 0 {
			pressed = s.Area
		}
		a, b := s.Give(pressed, nil)
		square, along = square+a, along+b
	}
	return square, along
}

// inRow is a stiffness with a give in a row.
func inRow(stiffness, give float64) float64 {
	if give == 0 {
		return stiffness
	}
	return 1 / (1/stiffness + give)
}

// shim adds the give of the shims under a carriage, or under its rail, pressed all over the face that is given, or over
// the shims' own area in the same proportions.
func (m *Model) shim(give *[6]float64, at machine.Mounting, s seating, t touch) {
	for _, shim := range m.machine.Shims {
		if shim.At != at {
			continue
		}
		area := shim.Area
		if area == 0 {
			area = t.area()
		}
		if area == 0 {
			continue
		}
		length, width := t.size(3-s.out-s.across), t.size(s.across)
		normal, along := shim.Give(area, nil)
		add(give, [6]float64{along, along, normal, 0, 0, 0})
		if length > machine.Touching && width > machine.Touching {
			add(give, [6]float64{0, 0, 0, normal * 12 / (width * width), normal * 12 / (length * length),
				along * 12 / (length*length + width*width)})
		}
	}
}

// railMounted is how the rail of a guide lies: about its middle.
func (m *Model) railMounted(a *machine.FeedAxis, g *madeGuide) mountedAt {
	on := mountedAt{at: machine.Mounting{Kind: machine.AtRail}, out: r3.Scale(g.seat.sign(), g.seat.out.Direction()),
		across: g.seat.across.Direction(), along: a.Along.Direction(), factor: 1, rail: g.guide}
	on.at.Axis = slices.IndexFunc(m.machine.Axes, func(o machine.FeedAxis) bool { return o.Name == a.Name })
	on.at.Guide = slices.IndexFunc(a.Guides, func(o machine.Guide) bool { return o.Name == g.guide.Name })
	on.centre = r3.Scale(0.5, r3.Add(g.guide.From, g.guide.To))
	return on
}

// shimScrew adds the sheets of a stack to a screw of a joint: the first with the face that it adds, as any shim of a
// joint, the others by their give alone.
func (m *Model) shimScrew(pinch *joint.Clamping, at machine.Mounting) (more []machine.Shim) {
	for _, s := range m.machine.Shims {
		if s.At == at {
			more = append(more, s.Stack...)
		}
	}
	if len(more) == 0 || pinch.Shim != nil {
		return more
	}
	first := layerOf(more[0])
	pinch.Shim = &first
	return more[1:]
}

// layerOf is a sheet as the sums of a joint take it.
func layerOf(s machine.Shim) joint.Layer {
	return joint.Layer{Key: s.Key, Thickness: s.Thickness, E: s.Material.E, Nu: s.Material.Nu, Paper: s.Paper}
}

// softened is a screw's stiffness with further sheets under its ring.
func softened(k joint.ClampingStiffness, sheets []machine.Shim, area float64) joint.ClampingStiffness {
	if len(sheets) == 0 {
		return k
	}
	pressure := k.Preload / area
	square, along := machine.Shimmed{Stack: sheets}.Give(area, func(s machine.Shim) float64 {
		return layerOf(s).Modulus(pressure)
	})
	faces := k.Normal - k.ScrewAxial
	normal := 1 / (1/faces + square)
	tangential := 1 / (1/k.Tangential + along)
	k.Tilt *= normal / faces
	k.Spin *= tangential / k.Tangential
	k.Normal, k.Tangential = normal+k.ScrewAxial, tangential
	return k
}

// shimmedScrew is a screw drive with the shims under its nut and bearings, which are sheared along the travel.
func (m *Model) shimmedScrew(axis, number int, v *machine.Drive) drive.ScrewDrive {
	s := v.Screw
	for _, b := range []struct {
		kind machine.MountingKind
		to   *float64
		is   bool
	}{{machine.AtNut, &s.NutBracket, true}, {machine.AtBearing, &s.NearBracket, true},
		{machine.AtFarBearing, &s.FarBracket, s.Shaft.Ends == drive.FixedFixed}} {
		_, along := m.stackAt(machine.Mounting{Kind: b.kind, Axis: axis, Drive: number}, 0)
		if along == 0 || !b.is {
			continue
		}
		if *b.to > 0 {
			along += 1 / *b.to
		}
		*b.to = 1 / along
	}
	return s
}

// holdSideways adds the springs by which the shaft of a screw holds its nut across itself, between the nut and the
// line that the bearings give the shaft. They stiffen a tip by up to a hundredth, and are there where it matters that
// nut and screw do not line up.
func (m *Model) holdSideways(number int, a *machine.FeedAxis, d *madeDrive, push, near *spot) {
	if len(m.misfits) == 0 && !m.sideways {
		return
	}
	v := d.drive
	k := slices.IndexFunc(a.Drives, func(o machine.Drive) bool { return o.Name == v.Name })
	hold := v.Screw.Shaft.Side(nutAt(v))
	run := r3.Unit(r3.Sub(v.To, v.From))
	part, on := m.bodies[v.Part], m.bodies[v.On]
	far := m.farEnd(a, v)
	d.hold = hold
	onArm := func(s *spot, arm float64) *spot {
		out := *s
		out.arm = r3.Scale(arm, run)
		return &out
	}
	others := []end{{on, onArm(near, hold.Near.Arm), -hold.Near.Factor}}
	if hold.Far.Factor != 0 {
		others = append(others, end{far, onArm(far.spotNear(v.To), hold.Far.Arm), -hold.Far.Factor})
	}
	at := func(kind machine.MountingKind) machine.Mounting {
		return machine.Mounting{Kind: kind, Axis: number, Drive: k}
	}
	p, q := a.Along.Others()
	for _, across := range []machine.Axis{p, q} {
		give := 0.0
		if v.NutSide > 0 {
			give = 1 / v.NutSide
		}
		for _, e := range []struct {
			kind   machine.MountingKind
			factor float64
		}{{machine.AtNut, 1}, {machine.AtBearing, hold.Near.Factor}, {machine.AtFarBearing, hold.Far.Factor}} {
			give += e.factor * e.factor * m.sideGive(at(e.kind), across)
		}
		d.sides = append(d.sides, len(m.links))
		first := len(m.links)
		m.link(link{a: part, spot: push, others: others, direction: across.Direction(),
			stiffness: inRow(hold.Stiffness, give), source: driveSource(a, v)})
		m.mount(first, len(m.ties), mountedAt{at: at(machine.AtBearing), centre: v.From, factor: hold.Near.Factor})
		m.mount(first, len(m.ties), mountedAt{at: at(machine.AtFarBearing), centre: v.To, factor: hold.Far.Factor})
		m.mount(first, len(m.ties), mountedAt{at: at(machine.AtNut), centre: v.Push, factor: -1})
	}
}

// sideGive is the give of shims under a nut or a bearing in a direction across the screw.
func (m *Model) sideGive(at machine.Mounting, across machine.Axis) (give float64) {
	for _, s := range m.machine.Shims {
		if s.At != at {
			continue
		}
		square, along := s.Give(s.Area, nil)
		c := r3.Dot(s.Lifts, across.Direction())
		give += c*c*square + (1-c*c)*along
	}
	return give
}

// farEnd is the part that a screw's far end stands on: the one that holds it along itself, or else of the parts joined
// to that with the driven end the one nearest to it.
func (m *Model) farEnd(a *machine.FeedAxis, v *machine.Drive) *body {
	if v.Far != nil {
		return m.bodies[*v.Far]
	}
	joined := map[int]bool{v.On: true}
	for grew := true; grew; {
		grew = false
		for _, j := range m.machine.Joints {
			if joined[j.Parts[0]] != joined[j.Parts[1]] {
				joined[j.Parts[0]], joined[j.Parts[1]], grew = true, true, true
			}
		}
	}
	best := v.On
	for p, b := range m.bodies {
		if joined[p] && b.distance(v.To) < m.bodies[best].distance(v.To)-machine.Touching {
			best = p
		}
	}
	return m.bodies[best]
}
