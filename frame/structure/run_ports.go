package structure

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

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
