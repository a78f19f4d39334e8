package solid

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/outline"
)

// Equal bodies
//
// A body that is another one shifted or mirrored is reduced once, as their shape: the part's box begins at the origin
// and lies along the positive axes, coordinates are whole multiples of sameCoordinate (else what is left of subtracting
// large ones would tell equal bodies apart), zones stand in the order of their numbers, and of the eight ways of
// mirroring it is the one whose numbers come first. Between the world and the shape a movement along an axis keeps or
// changes its sign, s_k; a rotation, which is an axial vector, goes by s_x·s_y·s_z·s_k. So the stiffness, the
// readings and the fields of a body are those of its shape with other signs, in another order.

// Shape is a body as all that are equal to it, shifted or mirrored, have it.
type Shape struct {
	Body Body // to be told apart by, in coordinates of its own

	place placement
	order []int // of the shape's zones among those of the body
}

// placement is where a shape stands: mirrored along some axes, then with its origin at a place.
type placement struct {
	origin   [3]float64
	mirrored [3]bool
}

// sameCoordinate is the grid of a shape's coordinates, mm: a power of two, so that the grid is exact, far above the
// rounding of coordinates of metres and far below any size.
const sameCoordinate = 1. / (1 << 30)

func onGrid(x float64) float64 {
	return math.Round(x/sameCoordinate)*sameCoordinate + 0 // + 0: zero has one sign
}

// Shape is the body's. It fails when the body cannot be reduced at all.
func (b *Body) Shape() (*Shape, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	lo, hi := b.Part.Box()
	var best *Shape
	var least []float64
	for way := range 8 {
		p := placement{origin: lo}
		for k := range 3 {
			if p.mirrored[k] = way>>k&1 == 1; p.mirrored[k] {
				p.origin[k] = hi[k]
			}
		}
		s := b.shapeAt(p)
		if numbers := s.Body.numbers(); best == nil || slices.Compare(numbers, least) < 0 {
			best, least = s, numbers
		}
	}
	return best, nil
}

func (b *Body) shapeAt(p placement) *Shape {
	s := &Shape{place: p, Body: Body{Part: p.part(b.Part), place: &p}}
	zones := make([]Zone, len(b.Zones))
	for i := range b.Zones {
		zones[i] = p.zone(&b.Zones[i])
		s.order = append(s.order, i)
	}
	slices.SortStableFunc(s.order, func(i, j int) int { return slices.Compare(zones[i].numbers(), zones[j].numbers()) })
	for _, i := range s.order {
		s.Body.Zones = append(s.Body.Zones, zones[i])
	}
	for i := range b.Watched {
		s.Body.Watched = append(s.Body.Watched, p.zone(&b.Watched[i]))
	}
	slices.SortStableFunc(s.Body.Watched, func(x, y Zone) int { return slices.Compare(x.numbers(), y.numbers()) })
	for _, h := range b.Held { // in the body's order, which says whose a node of two regions is
		s.Body.Held = append(s.Body.Held, p.region(h))
	}
	return s
}

// numbers are those that mirroring changes.
func (b *Body) numbers() (list []float64) {
	if g := b.Part.Gusset; g != nil {
		for _, v := range []r3.Vec{g.Corner, g.Legs[0], g.Legs[1], g.Thickness} {
			list = append(list, v.X, v.Y, v.Z)
		}
	}
	list = append(list, b.Part.sawn().numbers()...)
	for _, zones := range [][]Zone{b.Zones, b.Watched} {
		for i := range zones {
			list = append(list, zones[i].numbers()...)
		}
	}
	for _, h := range b.Held {
		list = append(append(append(list, h.Lo[:]...), h.Hi[:]...), h.At.X, h.At.Y, h.At.Z)
	}
	return list
}

func (z *Zone) numbers() []float64 {
	list := []float64{float64(z.Normal), z.At.X, z.At.Y, z.At.Z, z.Outer, z.Inner, float64(len(z.Polygon))}
	for _, corner := range z.Polygon {
		list = append(list, corner[:]...)
	}
	for _, is := range []bool{z.Aligned, z.Lone} {
		v := 0.0
		if is {
			v = 1
		}
		list = append(list, v)
	}
	return list
}

// coordinate of the shape along an axis.
func (p *placement) coordinate(k int, world float64) float64 {
	if p.mirrored[k] {
		return onGrid(p.origin[k] - world)
	}
	return onGrid(world - p.origin[k])
}

func (p *placement) inward(world r3.Vec) r3.Vec {
	c := components(world)
	for k := range c {
		c[k] = p.coordinate(k, c[k])
	}
	return vector(c)
}

func (p *placement) outward(at r3.Vec) r3.Vec {
	return r3.Add(vector(p.origin), p.turned(at))
}

// turned is a direction of the world in the shape, or the other way round.
func (p *placement) turned(v r3.Vec) r3.Vec {
	c, signs := components(v), p.signs()
	for k := range c {
		c[k] *= signs[k]
	}
	return vector(c)
}

// signs of the six freedoms of a place.
func (p *placement) signs() (s [6]float64) {
	all := 1.0
	for k, mirrored := range p.mirrored {
		s[k] = 1
		if mirrored {
			s[k], all = -1, -all
		}
	}
	for k := range 3 {
		s[3+k] = all * s[k]
	}
	return s
}

func (p *placement) part(part Part) Part {
	if b := part.Block; b != nil {
		from, to := p.inward(b.From), p.inward(b.To)
		part.Block = &Block{From: least(from, to), To: most(from, to), Sawn: p.sawn(b.Sawn)}
	}
	if g := part.Gusset; g != nil {
		in := Gusset{Corner: p.inward(g.Corner)}
		for i, leg := range g.Legs {
			in.Legs[i] = r3.Sub(p.inward(r3.Add(g.Corner, leg)), in.Corner)
		}
		far := p.inward(r3.Add(g.Corner, g.Thickness))
		in.Thickness = r3.Sub(most(in.Corner, far), least(in.Corner, far)) // either side may be the corner's
		in.Corner = least(in.Corner, far)
		part.Gusset = &in
	}
	return part
}

// sawn is the shape's: each loop from its least corner on, windows in order.
func (p *placement) sawn(world *Sawn) *Sawn {
	if world == nil {
		return nil
	}
	u, v := across(world.Normal)
	s := &Sawn{Normal: world.Normal, Area: world.Area.Mapped(func(c outline.Point) outline.Point {
		return outline.Point{p.coordinate(u, c[0]), p.coordinate(v, c[1])}
	})}
	for i, loop := range s.Area {
		first := 0
		for k := range loop {
			if slices.Compare(loop[k][:], loop[first][:]) < 0 {
				first = k
			}
		}
		s.Area[i] = append(loop[first:len(loop):len(loop)], loop[:first]...)
	}
	slices.SortFunc(s.Area[1:], func(a, b []outline.Point) int { return slices.Compare(a[0][:], b[0][:]) })
	return s
}

// numbers of a shape, the number of corners before each loop.
func (s *Sawn) numbers() (list []float64) {
	if s == nil {
		return nil
	}
	for _, loop := range s.Area {
		list = append(list, float64(len(loop)))
		for _, c := range loop {
			list = append(list, c[:]...)
		}
	}
	return list
}

func least(a, b r3.Vec) r3.Vec { return r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)} }

func most(a, b r3.Vec) r3.Vec { return r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)} }

// zone of the shape, its corners from the least one on.
func (p *placement) zone(world *Zone) Zone {
	z := *world
	z.At, z.Inner, z.Outer = p.inward(z.At), onGrid(z.Inner), onGrid(z.Outer)
	u, v := across(z.Normal)
	z.Polygon = nil
	for _, corner := range world.Polygon {
		z.Polygon = append(z.Polygon, [2]float64{p.coordinate(u, corner[0]), p.coordinate(v, corner[1])})
	}
	if p.mirrored[u] != p.mirrored[v] {
		slices.Reverse(z.Polygon)
	}
	first := 0
	for i := range z.Polygon {
		if slices.Compare(z.Polygon[i][:], z.Polygon[first][:]) < 0 {
			first = i
		}
	}
	z.Polygon = append(z.Polygon[first:len(z.Polygon):len(z.Polygon)], z.Polygon[:first]...)
	return z
}

func (p *placement) zones(world []Zone) []Zone {
	list := make([]Zone, len(world))
	for i := range world {
		list[i] = p.zone(&world[i])
	}
	return list
}

func (p *placement) region(h Region) Region {
	lo, hi := p.inward(vector(h.Lo)), p.inward(vector(h.Hi))
	return Region{h.Normal, components(least(lo, hi)), components(most(lo, hi)), p.inward(h.At)}
}

// Reduce reduces the shape: see Body.Reduce. What is wrong with a zone is said in the body's words.
func (s *Shape) Reduce(ctx context.Context, settings Settings) (*Reduced, error) {
	r, err := s.Body.Reduce(ctx, settings)
	var zones *ZoneError
	if errors.As(err, &zones) {
		for i, z := range zones.Zones {
			zones.Zones[i] = s.order[z]
		}
	}
	return r, err
}

// Placed is a reduced shape where a body stands that has it. Its methods are those of Reduced, in the world and in the
// order of the body's zones.
type Placed struct {
	// K is the stiffness between the freedoms as Reduced.K has it: six of each of the body's zones, then six of each of
	// its held regions, in the body's order; three movements along the world's axes, mm, and three turns about them, rad,
	// with forces N and moments N·mm that push the body the same way.
	K *mat.SymDense

	shape   *Shape
	reduced *Reduced
	inside  []int     // the shape's freedom of each of the body's
	signs   []float64 // of each
}

// Place puts a reduced shape where the body stands: one that was reduced from an equal shape's body.
func (s *Shape) Place(r *Reduced) *Placed {
	n := r.K.SymmetricDim()
	p := &Placed{K: mat.NewSymDense(n, nil), shape: s, reduced: r, inside: make([]int, n), signs: make([]float64, n)}
	signs := s.place.signs()
	for i := range n {
		p.inside[i], p.signs[i] = i, signs[i%6]
	}
	for in, zone := range s.order {
		for c := range 6 {
			p.inside[6*zone+c] = 6*in + c
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			p.K.SetSym(i, j, p.signs[i]*p.signs[j]*r.K.At(p.inside[i], p.inside[j]))
		}
	}
	return p
}

// Shape is the body's.
func (p *Placed) Shape() *Shape { return p.shape }

// Unknowns is the number of unknowns that were eliminated.
func (p *Placed) Unknowns() int { return p.reduced.Unknowns() }

// Mesh is the shape's mesh, in its own coordinates: the same for all bodies that share it. It must not be changed.
func (p *Placed) Mesh() *Mesh { return p.reduced.Mesh() }

// outward are numbers by the shape's freedoms, by those of the body and times a factor.
func (p *Placed) outward(in []float64, factor float64) []float64 {
	out := make([]float64, len(in))
	for i, at := range p.inside {
		out[i] = factor * p.signs[i] * in[at]
	}
	return out
}

// Weight is Reduced.Weight.
func (p *Placed) Weight() (world [3][]float64) {
	signs := p.shape.place.signs()
	for k, along := range p.reduced.Weight() {
		world[k] = p.outward(along, signs[k])
	}
	return world
}

// Warmth is Reduced.Warmth.
func (p *Placed) Warmth(w Warm) []float64 {
	w.Gradient = p.shape.place.turned(w.Gradient)
	return p.outward(p.reduced.Warmth(w), 1)
}

// Ports is Reduced.Ports.
func (p *Placed) Ports(zones ...Zone) (*Ports, error) {
	ports, err := p.reduced.ports(&p.shape.Body, p.shape.place.zones(zones))
	if err != nil || len(zones) == 0 {
		return ports, err
	}
	signs := p.shape.place.signs()
	for i := range ports.Zones {
		for k, terms := range ports.Zones[i] {
			for a := range terms {
				ports.Zones[i][k][a].Factor *= signs[k]
			}
		}
	}
	in := ports.Weights
	touched, n := in.Dims()
	ports.Weights = mat.NewDense(touched, n, nil)
	for i := range touched {
		ports.Weights.SetRow(i, p.outward(in.RawRowView(i), 1))
	}
	return ports, nil
}

// ReadBeside is Reduced.ReadBeside; the ports are this body's.
func (p *Placed) ReadBeside(ports *Ports, zones ...Zone) (*Places, error) {
	places, err := p.reduced.readBeside(&p.shape.Body, ports, p.shape.place.zones(zones))
	if err == nil {
		places.placed = p
	}
	return places, err
}

// Recover is Reduced.Recover.
func (p *Placed) Recover(v []float64, inner Load) *Field {
	return p.RecoverAll([][]float64{v}, []Load{inner})[0]
}

// RecoverAll is Reduced.RecoverAll.
func (p *Placed) RecoverAll(moved [][]float64, inner []Load) []*Field {
	ins, loads := make([][]float64, len(moved)), make([]Load, len(inner))
	for i, v := range moved {
		ins[i] = make([]float64, len(p.inside))
		for k, at := range p.inside {
			ins[i][at] = p.signs[k] * v[k]
		}
		loads[i] = p.inward(inner[i])
	}
	fields := p.reduced.RecoverAll(ins, loads)
	for _, f := range fields {
		f.place = &p.shape.place
	}
	return fields
}

// inward is a load in the shape.
func (p *Placed) inward(world Load) Load {
	place, signs := &p.shape.place, p.shape.place.signs()
	load := Load{Gravity: place.turned(world.Gravity)}
	for _, w := range world.Warm {
		load.Warm = append(load.Warm, Warm{Mean: w.Mean, Gradient: place.turned(w.Gradient)})
	}
	for _, push := range world.Pushes {
		push.Zone = place.zone(&push.Zone)
		for c, sign := range signs {
			push.Force[c] *= sign
		}
		load.Pushes = append(load.Pushes, push)
	}
	return load
}

// turnOut turns a gauge of the shape into the body's.
func (p *Placed) turnOut(g *Gauge) {
	signs := p.shape.place.signs()
	for k := range 6 {
		g.Weights[k] = p.outward(g.Weights[k], signs[k])
		for l := range 6 {
			g.Local[k][l] *= signs[k] * signs[l]
		}
		for i := range g.Across[k] {
			g.Across[k][i] *= signs[k]
		}
	}
}
