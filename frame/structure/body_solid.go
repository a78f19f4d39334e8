package structure

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

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
		if b.mesh() != nil {
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
		if s := group[b]; b.mesh() != nil && !done[s] {
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
		s.spec.Parts = append(s.spec.Parts, b.mesh().part)
	}
	for _, j := range m.bonds {
		a, within := number[j.a]
		if !within {
			continue
		}
		s.spec.Ties = append(s.spec.Ties, solid.Tie{
			A: a, B: number[j.b], Normal: int(j.touch.normal), Lo: j.touch.lo, Hi: j.touch.hi,
		})
	}
	s.resting = map[*spot]*spot{}
	var held []*spot
	for _, b := range s.parts {
		for _, where := range b.mesh().spots {
			if where.held != nil {
				region := *where.held
				region.Part = number[b]
				s.spec.Held = append(s.spec.Held, region)
				held = append(held, where)
				continue
			}
			if region := b.mesh().heldRound(where); region != nil {
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
func (k *meshedKind) heldRound(s *spot) *spot {
	p, q := machine.Axis(s.zone.Normal).Others()
	at := array(s.zone.At)
	for _, region := range k.spots {
		h := region.held
		if h == nil || h.Normal != s.zone.Normal || math.Abs(h.Lo[h.Normal]-at[h.Normal]) > machine.Touching {
			continue
		}
		inside := true
		for _, corner := range s.zone.Polygon {
			for i, a := range []machine.Axis{p, q} {
				v := corner[i]
				if s.zone.Outer > 0 {
					v = math.Max(at[a]-s.zone.Outer, math.Min(at[a]+s.zone.Outer, v))
				}
				inside = inside && v >= h.Lo[a]-machine.Touching && v <= h.Hi[a]+machine.Touching
			}
		}
		if inside {
			return region
		}
	}
	return nil
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
	return machine.Faults{m.fault(b.part.Pos,
		"move apart what touches the part there, or ask for "+m.builder.Asks.ForFinerMesh(), "%v", err)}
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
		owner := s.owner(i).mesh()
		if owner.spotNode == nil {
			owner.spotNode = map[*spot]int{}
		}
		owner.spotNode[where] = node
		owner.ids = append(owner.ids, node)
	}
	for where, region := range s.resting {
		for _, b := range s.parts {
			if node, ours := b.mesh().spotNode[region]; ours {
				b.mesh().spotNode[where] = node
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
		size := answer.SolidSize{Elements: len(s.reduced.Mesh().Elements), Unknowns: s.reduced.Unknowns(),
			Spots: len(s.spots)}
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

// snap makes faces that count as touching lie in one plane exactly, so that meshes on both sides of a face meet: of
// places along an axis that are nearer than touching the lowest stands for all.
func snap(s *solid.Body) {
	planes := planesOf(s.Parts)
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Block != nil {
			p.Block.From = vector(planes.onto(array(p.Block.From)))
			p.Block.To = vector(planes.onto(array(p.Block.To)))
			continue
		}
		planes.snapGusset(p.Gusset)
	}
	for i := range s.Ties {
		s.Ties[i].Lo, s.Ties[i].Hi = planes.onto(s.Ties[i].Lo), planes.onto(s.Ties[i].Hi)
	}
	for i := range s.Held {
		s.Held[i].Lo, s.Held[i].Hi = planes.onto(s.Held[i].Lo), planes.onto(s.Held[i].Hi)
	}
	for i := range s.Zones {
		z := &s.Zones[i]
		at := array(z.At)
		at[z.Normal] = planes.along(z.Normal, at[z.Normal])
		z.At = vector(at)
	}
}

// facePlanes are the places along each axis where parts have faces, sorted and farther apart than touching.
type facePlanes [3][]float64

func planesOf(parts []solid.Part) (planes facePlanes) {
	var places [3][]float64
	note := func(v [3]float64) {
		for k := range v {
			places[k] = append(places[k], v[k])
		}
	}
	for _, p := range parts {
		if p.Block != nil {
			note(array(p.Block.From))
			note(array(p.Block.To))
			continue
		}
		reach := r3.Add(p.Gusset.Corner, r3.Add(r3.Add(p.Gusset.Legs[0], p.Gusset.Legs[1]), p.Gusset.Thickness))
		note(array(p.Gusset.Corner))
		note(array(reach)) // legs and thickness lie along one axis each
	}
	for k := range places {
		slices.Sort(places[k])
		for _, v := range places[k] {
			if n := len(planes[k]); n == 0 || v-planes[k][n-1] > machine.Touching {
				planes[k] = append(planes[k], v)
			}
		}
	}
	return planes
}

// along is the plane that a place along an axis counts as lying in, or the place itself.
func (p *facePlanes) along(k int, v float64) float64 {
	i, _ := slices.BinarySearch(p[k], v-machine.Touching)
	if i < len(p[k]) && math.Abs(p[k][i]-v) <= machine.Touching {
		return p[k][i]
	}
	return v
}

// onto is a place moved onto the planes that it counts as lying in.
func (p *facePlanes) onto(v [3]float64) [3]float64 {
	for k := range v {
		v[k] = p.along(k, v[k])
	}
	return v
}

func (p *facePlanes) snapGusset(g *solid.Gusset) {
	was := array(g.Corner)
	corner := p.onto(was)
	stretch := func(side r3.Vec) r3.Vec {
		v := array(side)
		for k := range v {
			if v[k] != 0 {
				v[k] = p.along(k, was[k]+v[k]) - corner[k]
			}
		}
		return vector(v)
	}
	g.Legs[0], g.Legs[1], g.Thickness = stretch(g.Legs[0]), stretch(g.Legs[1]), stretch(g.Thickness)
	g.Corner = vector(corner)
}
