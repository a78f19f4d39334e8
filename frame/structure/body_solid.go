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

// solidBody is a meshed part. The frame knows it as a block of stiffness between the nodes of its spots.
type solidBody struct {
	b       *body
	spots   []*spot         // in the order of the block's freedoms, six each
	resting map[*spot]*spot // spots that lie in a held region go as it goes
	spec    solid.Body
	reduced *solid.Placed
	nodes   []int
}

// makeSolids says what the meshed parts are made of and where they are felt, once all spots are known.
func (m *Model) makeSolids() {
	for _, b := range m.bodies {
		if k := b.mesh(); k != nil {
			k.number = len(m.solids)
			m.solids = append(m.solids, m.specify(k))
		}
	}
}

func (m *Model) specify(k *meshedKind) *solidBody {
	s := &solidBody{b: k.b, resting: map[*spot]*spot{}}
	s.spec.Part = k.part
	var held []*spot
	for _, where := range k.spots {
		if where.held != nil {
			s.spec.Held = append(s.spec.Held, *where.held)
			held = append(held, where)
			continue
		}
		if region := k.heldRound(where); region != nil {
			s.resting[where] = region
			continue
		}
		s.spec.Zones = append(s.spec.Zones, where.zone)
		s.spots = append(s.spots, where)
	}
	s.spots = append(s.spots, held...)
	for _, p := range m.points {
		if p.body == k.b {
			s.spec.Watched = append(s.spec.Watched, p.spot.zone)
		}
	}
	if m.tool != nil && m.tool.work == k.b {
		s.spec.Watched = append(s.spec.Watched, m.tool.spot.zone)
	}
	snap(&s.spec)
	return s
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
		specs = append(specs, s.thickened())
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
	var size *solid.SizeError
	switch {
	case errors.As(err, &zones):
		return machine.Faults{m.fault(s.b.part.Pos,
			"move apart what touches the part there, or ask for "+m.builder.Asks.ForFinerMesh(), "%v", err)}
	case errors.As(err, &size):
		less := "make the part thicker, leave it out"
		if size.Coupled {
			less = "leave out some of what is joined to the part"
		}
		return machine.Faults{m.fault(s.b.part.Pos, less+", or ask for "+m.builder.Asks.ForCoarserMesh(), "%v", err)}
	}
	return fmt.Errorf("%s: %w", s.b.source(), err)
}

// addTo puts a solid body into the frame.
func (s *solidBody) addTo(f *frame.Frame) {
	var freedoms []int
	k := s.b.mesh()
	k.spotNode = map[*spot]int{}
	for _, where := range s.spots {
		node := f.AddNode(where.metal())
		s.nodes = append(s.nodes, node)
		for d := range 6 {
			freedoms = append(freedoms, 6*node+d)
		}
		k.spotNode[where] = node
		k.ids = append(k.ids, node)
	}
	for where, region := range s.resting {
		k.spotNode[where] = k.spotNode[region]
	}
	f.AddBlock(frame.Block{Freedoms: freedoms, K: s.reduced.K, Source: s.b.source()})
}

// solidSizes are those of the model's solid bodies.
func (m *Model) solidSizes() []answer.SolidSize {
	list := []answer.SolidSize{}
	for _, s := range m.solids {
		list = append(list, answer.SolidSize{Parts: []string{s.b.part.Name}, Elements: len(s.reduced.Mesh().Elements),
			Unknowns: s.reduced.Unknowns(), Spots: len(s.spots)})
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

// snap makes zones and held regions lie in the face that they count as touching.
func snap(s *solid.Body) {
	planes := planesOf(&s.Part)
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

// facePlanes are the places along each axis where a part has faces.
type facePlanes [3][]float64

func planesOf(p *solid.Part) (planes facePlanes) {
	lo, hi := p.Box()
	for k := range planes {
		planes[k] = []float64{lo[k], hi[k]}
	}
	if p.Block != nil && p.Block.Sawn != nil {
		u, v := machine.Axis(p.Block.Sawn.Normal).Others()
		for _, s := range p.Block.Sawn.Area.Sides() {
			k := [2]machine.Axis{u, v}[s.Normal]
			planes[k] = append(planes[k], s.At)
		}
	}
	return planes
}

// along is the face that a place along an axis counts as lying in, or the place itself.
func (p *facePlanes) along(k int, v float64) float64 {
	for _, face := range p[k] {
		if math.Abs(face-v) <= machine.Touching {
			return face
		}
	}
	return v
}

// onto is a place moved onto the faces that it counts as lying in.
func (p *facePlanes) onto(v [3]float64) [3]float64 {
	for k := range v {
		v[k] = p.along(k, v[k])
	}
	return v
}
