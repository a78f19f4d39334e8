package structure

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// follow adds to the answer of a complete machine what its tip does while axes run: along each path of one axis, with
// the straightness of its motion, and over each plane of two. A machine without a tool has no such answer.
func (b *Builder) follow(ctx context.Context, m *machine.Machine, r *answer.Result) error {
	if m.Tool == nil {
		return nil
	}
	for i := range m.Travel {
		p := &m.Travel[i]
		if len(p.Axes) == 0 {
			continue
		}
		if err := b.followPath(ctx, m, p, r); err != nil {
			return fmt.Errorf("path %s: %w", p.Name, err)
		}
	}
	return nil
}

// ownWeight is the load under which the straightness of a motion is told.
var ownWeight = machine.Load{Name: "own weight", Actions: []machine.Action{{Kind: machine.Weight,
	Force: r3.Vec{Z: -machine.StandardGravity}}}}

func (b *Builder) followPath(ctx context.Context, m *machine.Machine, p *machine.Path, r *answer.Result) error {
	var axes []*runningAxis
	for _, n := range p.Axes {
		a := &m.Axes[n]
		axes = append(axes, &runningAxis{axis: a, at: pathPositions(p, a)})
	}
	run, err := b.run(ctx, m, axes)
	if err != nil {
		return err
	}
	var loads []*machine.Load
	for _, n := range p.Loads {
		loads = append(loads, &m.Loads[n])
	}
	if len(axes) == 2 {
		c, err := run.chart(loads)
		if err != nil {
			return err
		}
		found, err := c.plane(p)
		if err != nil {
			return err
		}
		r.Maps = append(r.Maps, *found)
		return b.holdAgainst(ctx, m, r, map[string]float64{found.Axes[0]: found.Softest.AtMM[0],
			found.Axes[1]: found.Softest.AtMM[1]}, found.Softest.Value)
	}
	c, err := run.chart(append(loads, &ownWeight))
	if err != nil {
		return err
	}
	found, lines, err := c.line(p)
	if err != nil {
		return err
	}
	r.Travel = append(r.Travel, found...)
	r.Straight = longest(r.Straight, lines)
	if len(found) == 0 {
		return nil
	}
	softest := floats.MinIdx(found[0].SoftestNPerUm)
	return b.holdAgainst(ctx, m, r, map[string]float64{found[0].Axis: found[0].AtMM[softest]},
		found[0].SoftestNPerUm[softest])
}

// Where positions share nodes, under faces that slide, an answer may be off by some thousandths from that of the
// machine built there; what is more than offUnsaid is told, and beyond offWrong something is wrong.
const (
	offUnsaid = 1e-3
	offWrong  = 0.05
)

// holdAgainst holds a stiffness found in a position against the machine built and solved whole there. Meshed bodies are
// not built again for that.
func (b *Builder) holdAgainst(ctx context.Context, m *machine.Machine, r *answer.Result, at map[string]float64,
	softest float64) error {
	if b.Detail != Section {
		return nil
	}
	moved, err := m.At(at)
	if err != nil {
		return err
	}
	model, err := b.Build(ctx, moved)
	if err != nil {
		return err
	}
	tip, err := model.tipStiffness()
	if err != nil {
		return err
	}
	var places []string
	for _, name := range slices.Sorted(maps.Keys(at)) {
		places = append(places, fmt.Sprintf("%s at %s", name, machine.MM(at[name])))
	}
	off := math.Abs(softest/tip.StiffnessNPerUm.Softest - 1)
	switch {
	case !(off <= offWrong):
		return fmt.Errorf("with %s the tip came out %.2g %% off from the machine built there: the structure is too "+
			"unevenly stiff to be followed; ask for %s", strings.Join(places, ", "), 100*off, b.Asks.ForPositions())
	case off > offUnsaid:
		r.Notes = append(r.Notes,
			fmt.Sprintf("travel: with %s the stiffness is %.1g %% off from that of the machine built there",
				strings.Join(places, ", "), 100*off))
	}
	return nil
}

// port is a spot of a meshed part that moves along it while an axis runs. It is none of the body's freedoms: those that
// an axis takes through its travel are known together (solid.Ports).
type port struct {
	body *ported
	zone int
}

// ported is a solid body with ports.
type ported struct {
	number int // in Model.solids
	zones  []solid.Zone
	ports  *solid.Ports
	first  int // number of the first of its touched unknowns among the freedoms
}

// endsOf are the places at which a link holds on to parts.
func endsOf(l *link) []end { return append([]end{{l.a, l.spot, 1}}, l.others...) }

// fixSpots decides for every place at which an axis holds on to a meshed part whether it stays where it is or moves
// along the part, and asks for a node of those that stay.
func (r *running) fixSpots() machine.Faults {
	r.port = map[*spot]*port{}
	for _, a := range r.axes {
		for _, links := range a.links {
			for k := range links {
				for i, e := range endsOf(&links[k]) {
					mesh := e.body.mesh()
					switch {
					case mesh == nil && links[k].slides:
						continue // faceNodes has asked
					case mesh == nil || a.stays(k, i):
						e.body.want(e.spot)
						continue
					}
					if len(mesh.spots) == 0 {
						e.body.want(e.spot) // a body is reduced to some freedoms at least
					}
					r.port[e.spot] = nil
				}
			}
		}
	}
	return nil
}

// stays tells whether a link's end is over the same zone of its part in every position.
func (a *runningAxis) stays(link, number int) bool {
	var first *spot
	for _, links := range a.links {
		if len(links) != len(a.links[0]) {
			return false // a face that sheds springs: all its places move
		}
		s := endsOf(&links[link])[number].spot
		if first == nil {
			first = s
		}
		if !s.like(first) {
			return false
		}
	}
	return true
}

// makePorts makes the spots that move along solid bodies to ports of them.
func (r *running) makePorts() error {
	m := r.model
	bodies := make([]*ported, len(m.solids))
	known := map[*body][]*spot{}
	for _, a := range r.axes {
		for n := range a.links {
			for k := range a.links[n] {
				for _, e := range endsOf(&a.links[n][k]) {
					if _, moves := r.port[e.spot]; !moves {
						continue
					}
					if i := slices.IndexFunc(known[e.body], e.spot.like); i >= 0 {
						r.port[e.spot] = r.port[known[e.body][i]]
						continue
					}
					number := e.body.mesh().number
					if bodies[number] == nil {
						bodies[number] = &ported{number: number}
						r.ported = append(r.ported, bodies[number])
					}
					b := bodies[number]
					r.port[e.spot] = &port{b, len(b.zones)}
					known[e.body] = append(known[e.body], e.spot)
					b.zones = append(b.zones, e.spot.zone)
				}
			}
		}
	}
	for _, b := range r.ported {
		s := m.solids[b.number]
		var err error
		if b.ports, err = s.reduced.Ports(b.zones...); err != nil {
			return fmt.Errorf("%s: %w", s.b.source(), err)
		}
		touched, _ := b.ports.Weights.Dims()
		weights := make([]frame.Form, touched)
		for i := range weights {
			weights[i] = s.form(b.ports.Weights.RawRowView(i))
		}
		b.first = r.pieces.AddSkin(weights, b.ports.Local)
	}
	return nil
}

// form is the movement of a place at which an axis holds on to a part.
func (r *running) form(e end, direction r3.Vec, turning bool) frame.Form {
	p, moves := r.port[e.spot]
	if !moves {
		return r.model.form(e.body, nil, e.spot, direction, turning)
	}
	var form frame.Form
	add := func(freedom int, factor float64) {
		if factor == 0 {
			return
		}
		for _, t := range p.body.ports.Zones[p.zone][freedom] {
			form = append(form, frame.Term{Freedom: p.body.first + t.Unknown, Factor: factor * t.Factor})
		}
	}
	turn := direction
	if !turning {
		for k, d := range array(direction) {
			add(k, d)
		}
		turn = r3.Cross(r3.Add(r3.Sub(e.spot.at, e.spot.metal()), e.spot.arm), direction)
	}
	for k, d := range array(turn) {
		add(3+k, d)
	}
	return form.Plus(0, nil)
}

// portsOf are those of a meshed part; none of another.
func (r *running) portsOf(b *body) *solid.Ports {
	for _, p := range r.ported {
		if k := b.mesh(); k != nil && p.number == k.number {
			return p.ports
		}
	}
	return &solid.Ports{}
}
