package structure

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// solidBody is meshed parts bonded to one another. The frame knows it as a block of stiffness between the nodes of its
// spots.
type solidBody struct {
	parts   []*body
	spots   []*spot         // in the order of the block's freedoms, six each
	resting map[*spot]*spot // spots that lie in a held region go as it goes
	spec    solid.Body
	reduced *solid.Reduced
	nodes   []int
}

// source is the name under which the frame counts the energy of the whole body; shares splits it among the parts.
func (s *solidBody) source() string { return "body of " + s.parts[0].part.Name }

// makeSolids groups the meshed parts by the faces they are bonded on, once all spots are known.
func (m *Model) makeSolids() {
	group := map[*body]*solidBody{}
	for _, b := range m.bodies {
		if b.meshed {
			group[b] = &solidBody{parts: []*body{b}}
		}
	}
	for _, j := range m.bonds {
		into, from := group[j.a], group[j.b]
		if into == from {
			continue
		}
		into.parts = append(into.parts, from.parts...)
		for _, b := range from.parts {
			group[b] = into
		}
	}
	done := map[*solidBody]bool{}
	for _, b := range m.bodies {
		if s := group[b]; b.meshed && !done[s] {
			done[s] = true
			m.specify(s)
			m.solids = append(m.solids, s)
		}
	}
}

// specify says what a solid body is made of and where it is felt.
func (m *Model) specify(s *solidBody) {
	number := map[*body]int{}
	for i, b := range s.parts {
		number[b] = i
		s.spec.Parts = append(s.spec.Parts, b.solidPart())
	}
	for _, j := range m.bonds {
		a, within := number[j.a]
		if !within {
			continue
		}
		s.spec.Ties = append(s.spec.Ties, solid.Tie{A: a, B: number[j.b], Normal: int(j.touch.normal), Lo: j.touch.lo, Hi: j.touch.hi})
	}
	s.resting = map[*spot]*spot{}
	var held []*spot
	for _, b := range s.parts {
		for _, where := range b.spots {
			if where.held != nil {
				region := *where.held
				region.Part = number[b]
				s.spec.Held = append(s.spec.Held, region)
				held = append(held, where)
				continue
			}
			if region := b.heldRound(where); region != nil {
				s.resting[where] = region
				continue
			}
			zone := where.zone
			zone.Part = number[b]
			s.spec.Zones = append(s.spec.Zones, zone)
			s.spots = append(s.spots, where)
		}
	}
	s.spots = append(s.spots, held...)
	watch := func(b *body, where *spot) {
		if part, ours := number[b]; ours {
			zone := where.zone
			zone.Part = part
			s.spec.Watched = append(s.spec.Watched, zone)
		}
	}
	for _, p := range m.points {
		watch(p.body, p.spot)
	}
	if m.tool != nil {
		watch(m.tool.work, m.tool.spot)
	}
	snap(&s.spec)
}

// heldRound is the held region of the part's face that a spot lies in, nil when there is none.
func (b *body) heldRound(s *spot) *spot {
	p, q := machine.Axis(s.zone.Normal).Others()
	at := array(s.zone.At)
	for _, region := range b.spots {
		h := region.held
		if h == nil || h.Normal != s.zone.Normal || math.Abs(h.Lo[h.Normal]-at[h.Normal]) > machine.Touching {
			continue
		}
		inside := true
		for _, corner := range s.zone.Polygon {
			for i, k := range []machine.Axis{p, q} {
				v := corner[i]
				if s.zone.Outer > 0 {
					v = math.Max(at[k]-s.zone.Outer, math.Min(at[k]+s.zone.Outer, v))
				}
				inside = inside && v >= h.Lo[k]-machine.Touching && v <= h.Hi[k]+machine.Touching
			}
		}
		if inside {
			return region
		}
	}
	return nil
}

func (b *body) solidPart() solid.Part {
	p := solid.Part{Name: b.part.Name, Made: b.part.Material}
	if g := b.part.Gusset; g != nil {
		p.Gusset = &solid.Gusset{Corner: g.Corner, Legs: g.Legs, Thickness: g.Thickness}
	} else {
		p.Block = &solid.Block{From: b.part.Plate.From, To: b.part.Plate.To}
	}
	return p
}

// reduceSolids works out, or takes from what the builder has, the stiffness of every solid body between its spots.
func (m *Model) reduceSolids(ctx context.Context, by *Builder) error {
	var specs []*solid.Body
	for _, s := range m.solids {
		specs = append(specs, &s.spec)
	}
	reduced, failed, err := by.reduce(ctx, specs)
	if err != nil {
		return m.unreduced(m.solids[failed], err)
	}
	for i, s := range m.solids {
		s.reduced = reduced[i]
	}
	return nil
}

// unreduced says in the model's words why a solid body could not be reduced.
func (m *Model) unreduced(s *solidBody, err error) error {
	var zones *solid.ZoneError
	if !errors.As(err, &zones) || len(zones.Zones) == 0 {
		return fmt.Errorf("%s: %w", s.source(), err)
	}
	b := s.parts[s.spec.Zones[zones.Zones[0]].Part]
	return machine.Faults{m.fault(b.part.Place, "move apart what touches the part there, or ask for "+m.builder.Asks.ForFinerMesh(), "%v", err)}
}

// addTo puts a solid body into the frame.
func (s *solidBody) addTo(f *frame.Frame) {
	var freedoms []int
	for i, where := range s.spots {
		node := f.AddNode(where.metal())
		s.nodes = append(s.nodes, node)
		for k := range 6 {
			freedoms = append(freedoms, 6*node+k)
		}
		owner := s.owner(i)
		if owner.spotNode == nil {
			owner.spotNode = map[*spot]int{}
		}
		owner.spotNode[where] = node
		owner.nodes = append(owner.nodes, node)
	}
	for where, region := range s.resting {
		for _, b := range s.parts {
			if node, ours := b.spotNode[region]; ours {
				b.spotNode[where] = node
			}
		}
	}
	f.AddBlock(frame.Block{Freedoms: freedoms, K: s.reduced.K, Source: s.source()})
}

// owner is the part that a spot is on.
func (s *solidBody) owner(spot int) *body {
	if n := len(s.spec.Zones); spot >= n {
		return s.parts[s.spec.Held[spot-n].Part]
	}
	return s.parts[s.spec.Zones[spot].Part]
}

// solidSizes are those of the model's solid bodies.
func (m *Model) solidSizes() []answer.SolidSize {
	list := []answer.SolidSize{}
	for _, s := range m.solids {
		size := answer.SolidSize{Elements: len(s.reduced.Mesh().Elements), Unknowns: s.reduced.Unknowns(), Spots: len(s.spots)}
		for _, b := range s.parts {
			size.Parts = append(size.Parts, b.part.Name)
		}
		list = append(list, size)
	}
	return list
}

// movements are those of the body's freedoms in a solution.
func (s *solidBody) movements(solution *frame.Solution) []float64 {
	v := make([]float64, 0, 6*len(s.nodes))
	for _, n := range s.nodes {
		v = append(v, solution.U[6*n:6*n+6]...)
	}
	return v
}

// pushes are forces on the body's freedoms as the frame's loads.
func (s *solidBody) pushes(forces []float64, factor float64) (list []frame.Push) {
	for i, v := range forces {
		if v != 0 && factor != 0 {
			list = append(list, frame.Push{Form: frame.Form{{Freedom: 6*s.nodes[i/6] + i%6, Factor: 1}}, Force: factor * v})
		}
	}
	return list
}

// slope is the temperature rise per mm along the world's axes, K/mm.
func (b *body) slope(across r3.Vec) r3.Vec {
	var rise [3]float64
	for k, d := range array(across) {
		if d != 0 {
			rise[k] = d / b.fills.size(machine.Axis(k))
		}
	}
	return vector(rise)
}
