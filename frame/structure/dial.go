package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// dialStand is what a point is read against; nil: the ground.
type dialStand struct {
	body  *body
	spot  *spot
	gauge *gauge
}

// makeStand finds where on a part the dial that reads a point is fixed. Those on points and the work are there anyway.
func (m *Model) makeStand(p *madePoint) {
	if p.point.Stand.Kind != machine.OnPart {
		return
	}
	p.stand = &dialStand{body: m.bodies[p.point.Stand.Index]}
	if p.stand.spot = p.stand.body.spotNear(p.point.At); !p.stand.body.readAnywhere() {
		p.stand.body.want(p.stand.spot)
	}
}

// placeStand makes the gauge that a point is read against, once all others are there.
func (m *Model) placeStand(p *madePoint) error {
	switch p.point.Stand.Kind {
	case machine.OnPart:
		r, err := m.gauges(p.stand.body, p.stand.spot)
		if err != nil {
			return fmt.Errorf("point %s: %w", p.point.Name, err)
		}
		if p.stand.gauge = r[0]; p.stand.body.mesh() != nil { // which knows the spot where its metal is
			p.stand.gauge = r[0].raised(r3.Sub(p.point.At, p.stand.spot.metal()))
		}
	case machine.OnWork:
		t := m.tool
		p.stand = &dialStand{t.work, t.spot, t.gauge.raised(r3.Sub(p.point.At, t.tool.At))}
	case machine.OnOther:
		o := m.points[p.point.Stand.Index]
		p.stand = &dialStand{o.body, o.spot, o.gauge}
	}
	return nil
}

// stands names what points are read against; nil where all are read against the ground.
func (m *Model) stands() map[string]string {
	names := map[string]string{}
	for _, p := range m.points {
		switch s := p.point.Stand; s.Kind {
		case machine.OnPart:
			names[p.point.Name] = m.machine.Parts[s.Index].Name
		case machine.OnWork:
			names[p.point.Name] = "work"
		case machine.OnOther:
			names[p.point.Name] = m.machine.Points[s.Index].Name
		}
	}
	if len(names) == 0 {
		return nil
	}
	return names
}

// reads are the forms of a point's movement and rotation against its stand.
func (p *madePoint) reads() [6]frame.Form {
	forms := p.gauge.forms
	if p.stand != nil {
		for k := range forms {
			forms[k] = forms[k].Plus(-1, p.stand.gauge.forms[k])
		}
	}
	return forms
}

// readPoint is how far a point moves and turns against its stand in a state, mm and rad.
func (m *Model) readPoint(l *machine.Load, s *state, p *madePoint) (v [6]float64) {
	at := func(b *body, spot *spot, g *gauge) [6]float64 {
		moved, grown := s.of(g), m.growth(l, b, spot)
		for k := range grown {
			moved[k] += grown[k]
		}
		return moved
	}
	v = at(p.body, p.spot, p.gauge)
	if p.stand != nil {
		for k, w := range at(p.stand.body, p.stand.spot, p.stand.gauge) {
			v[k] -= w
		}
	}
	return v
}

// A push by hand is tried with trialPush, N, and then as hard as it may be: no harder than pulled, N, which a person
// pulls by a luggage scale with ease (common practice, no source), and than keeps off limits of every joint and part by
// a half.
const (
	trialPush = 100.0
	pulled    = 200.0
	kept      = 0.5
)

// mostChecks is how many pushes are told: those under which the dial moves most.
const mostChecks = 2

// handPush is a push along an axis, in its negative direction, on a point that is read along it.
type handPush struct {
	on             *madePoint
	place, against string
	axis           machine.Axis
	give           float64 // of the point, mm/N, by which pushes are chosen
}

// withPushes is the model with the places that are pushed as points of its own, and the pushes as loads.
func (m *Model) withPushes(pushes []handPush) (*Model, []*machine.Load) {
	pushed := *m
	pushed.points = slices.Clone(m.points)
	var loads []*machine.Load
	for _, p := range pushes {
		loads = append(loads, &machine.Load{Name: "push by hand", Actions: []machine.Action{{Kind: machine.OnPoint,
			Point: len(pushed.points), Force: r3.Scale(-trialPush, p.axis.Direction())}}})
		pushed.points = append(pushed.points, p.on)
	}
	return &pushed, loads
}

// handPushes are the pushes by which a builder holds the machine against its answer: on the holder where the tool
// leaves it, with the dial standing on the work; without a tool on the points that are read against the ground. Of all
// those along the axes they are the ones under which most gives.
func (m *Model) handPushes() ([]handPush, error) {
	list, err := m.allPushes()
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, func(a, b handPush) int {
		if math.Abs(a.give-b.give) <= stirring*math.Max(a.give, b.give) { // equal but for rounding
			return 0
		}
		return cmp.Compare(b.give, a.give)
	})
	return list[:min(mostChecks, len(list))], nil
}

// allPushes are those along all axes.
func (m *Model) allPushes() (list []handPush, err error) {
	add := func(p handPush) {
		forms := p.on.reads()
		give := m.system.Compliance(forms[:3], p.on.gauge.forms[:3])
		for k := machine.X; k <= machine.Z; k++ {
			p.axis, p.give = k, give[k][k]+p.on.gauge.local[k][k]
			list = append(list, p)
		}
	}
	if t := m.tool; t != nil {
		r, err := m.gauges(t.holder, t.root)
		if err != nil {
			return nil, fmt.Errorf("push by hand: %w", err)
		}
		at := t.root.at
		if t.nose != nil { // which its bearings let move, whatever holds the housing
			r[0] = t.nose.gauge()
		}
		add(handPush{place: "where the tool leaves it", against: "work on " + t.work.part.Name,
			on: &madePoint{point: &machine.Point{At: at}, body: t.holder, spot: t.root, gauge: r[0],
				stand: &dialStand{t.work, t.spot, t.gauge.raised(r3.Sub(at, t.tool.At))}}})
	} else {
		for _, p := range m.points {
			if p.point.Name != "" && p.stand == nil {
				add(handPush{place: "point " + p.point.Name, against: "the ground", on: p})
			}
		}
	}
	return list, nil
}

// check is what one push does, and how hard it may be; nil where it moves nothing or nothing can be pushed that hard.
func (m *Model) check(p handPush, l *machine.Load, s *state) *answer.Check {
	c := &answer.Check{Part: p.on.body.part.Name, Place: p.place, AtMM: array(p.on.point.At), Against: p.against,
		Direction: array(r3.Scale(-1, p.axis.Direction()))}
	used := stirring // of the nearest limit, percent
	nearer := func(percent float64, by string) {
		if percent > used {
			used, c.LimitedBy = percent, by
		}
	}
	for _, screw := range m.screwLoads(l, s.Solution) {
		nearer(screw.SlipPercent, "joint "+screw.Joint+" "+answer.Slips)
		nearer(screw.OpenPercent, "joint "+screw.Joint+" "+answer.Opens)
	}
	for _, stress := range m.stresses(l, s) {
		if stress.TimesYield != nil {
			nearer(100 / *stress.TimesYield, "part "+stress.Part+" yields")
		}
	}
	c.ForceN = pulled
	if c.LimitedBy != "" {
		safe := kept * 100 * trialPush / used
		c.SafeN, c.ForceN = &safe, handy(math.Min(safe, pulled))
	}
	read := -m.readPoint(l, s, p.on)[p.axis] * constant.UmPerMM
	c.ReadingUm = plain(read * c.ForceN / trialPush)
	if c.ForceN == 0 || c.ReadingUm < leastReading {
		return nil
	}
	return c
}

// leastReading is the least that is read on a dial indicator of a home workshop, µm: a tenth of a division of a hundredth
// of a millimetre. Common practice, no source.
const leastReading = 1.0

// handy is the largest even force that is no more than a given one, 0 below one newton.
func handy(force float64) float64 {
	for _, even := range []float64{200, 100, 50, 20, 10, 5, 2, 1} {
		if even <= force {
			return even
		}
	}
	return 0
}
