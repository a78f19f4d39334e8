package frame_test

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
)

// plan is a structure before it is built, so that one plan can be built turned, mirrored or in another order.
type plan struct {
	size      float64 // of the whole, mm
	nodes     []r3.Vec
	members   []frame.Member
	strips    []plate
	triangles []plate
	ties      []tie
	pushes    []action
	lines     []frame.Line // Member and places as shares of the length
	warm      []frame.Warm
	gravity   r3.Vec
}

// plate is a strip (from, along, across, places, width, thickness) or a triangle (corner, legs, thickness).
type plate struct {
	from          r3.Vec
	along, across r3.Vec
	places        []float64 // of a strip
	width, thick  float64
	made          beam.Material
}

// body is the kind of thing that a spot belongs to.
type body int

const (
	ground body = iota
	node
	strip
	triangle
)

// spot is a place on a body.
type spot struct {
	on    body
	index int
	at    r3.Vec
}

// motion is what a tie resists and an action drives.
type motion int

const (
	moving motion = iota
	turning
)

// tie makes two spots move or turn alike along a direction: without a stiffness by a constraint, else by a spring.
type tie struct {
	a, b      spot
	motion    motion
	direction r3.Vec
	stiffness float64
}

// action is a force or a moment on a spot.
type action struct {
	at        spot
	motion    motion
	direction r3.Vec
	force     float64
}

// chance is the source of a plan's numbers, from a seed that rapid draws.
type chance struct{ *rand.Rand }

func (c chance) between(lo, hi float64) float64 { return lo + (hi-lo)*c.Float64() }

// log draws evenly over the logarithm.
func (c chance) log(lo, hi float64) float64 {
	return math.Exp(c.between(math.Log(lo), math.Log(hi)))
}

func (c chance) once(in int) bool { return c.IntN(in) == 0 }

// basis is three random directions square to one another, of either hand.
func (c chance) basis() [3]r3.Vec {
	random := func() r3.Vec { return r3.Vec{X: c.NormFloat64(), Y: c.NormFloat64(), Z: c.NormFloat64()} }
	x := r3.Unit(random())
	y := random()
	y = r3.Unit(r3.Sub(y, r3.Scale(r3.Dot(x, y), x)))
	z := r3.Cross(x, y)
	if c.once(2) {
		z = r3.Scale(-1, z)
	}
	return [3]r3.Vec{x, y, z}
}

func (c chance) direction() r3.Vec { return c.basis()[0] }

// Plates are of softer stuff than members. Stiff plates on slender members are so unevenly stiff that no digits of the
// inner forces would be left to compare: a force of K·u is known to sixteen digits of |K|·|u|.
const memberModulus, plateModulus = 3e4, 3e3

// material draws one of a modulus of up to ten times the lowest, MPa.
func (c chance) material(lowest float64) beam.Material {
	return beam.Material{
		E:         lowest * c.log(1, 10),
		Nu:        c.between(0, 0.45),
		Density:   c.log(1e-9, 1e-8),
		Expansion: c.log(1e-6, 3e-5),
	}
}

// section draws plain numbers of a bar of about a given thickness, with principal axes that stand askew.
func (c chance) section(thick float64) beam.Section {
	a := thick * thick
	s := beam.Section{A: a, Iy: a * a * c.log(0.03, 0.3), Iz: a * a * c.log(0.03, 0.3), J: a * a * c.log(0.03, 0.3)}
	s.Iyz = c.between(-0.5, 0.5) * math.Sqrt(s.Iy*s.Iz)
	if c.once(2) {
		s.Ay, s.Az = a*c.between(0.4, 0.9), a*c.between(0.4, 0.9)
		s.ShearY, s.ShearZ = c.between(-0.3, 0.3)*thick, c.between(-0.3, 0.3)*thick
	}
	return s
}

// drawPlan draws a structure that nothing in can move freely: a tree of members with a few more, on a ground.
func drawPlan(t *rapid.T) *plan {
	c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))}
	p := &plan{size: rapid.SampledFrom([]float64{10, 100, 1000, 5000}).Draw(t, "size")}
	for _, cell := range c.Perm(27)[:2+rapid.IntRange(0, 6).Draw(t, "more nodes")] { // apart from one another
		spread := r3.Vec{X: c.between(-0.3, 0.3), Y: c.between(-0.3, 0.3), Z: c.between(-0.3, 0.3)}
		at := r3.Vec{X: float64(cell % 3), Y: float64(cell / 3 % 3), Z: float64(cell / 9)}
		p.nodes = append(p.nodes, r3.Scale(p.size/3, r3.Add(at, spread)))
	}
	for n := 1; n < len(p.nodes); n++ {
		p.addMember(c, c.IntN(n), n)
	}
	for range rapid.IntRange(0, 2).Draw(t, "more members") {
		ends := c.Perm(len(p.nodes))
		p.addMember(c, ends[0], ends[1])
	}
	if rapid.Bool().Draw(t, "hinge") {
		p.addHinge(c)
	}
	for range rapid.IntRange(0, 1).Draw(t, "strips") {
		p.addStrip(c)
	}
	for range rapid.IntRange(0, 1).Draw(t, "triangles") {
		p.addTriangle(c)
	}
	p.addGround(c)
	for range rapid.IntRange(0, 3).Draw(t, "more supports") {
		p.ties = append(p.ties, tie{a: p.anySpot(c), direction: c.direction(), stiffness: p.maybeStiff(c)})
	}
	p.addLoads(c)
	return p
}

func (p *plan) addMember(c chance, a, b int) {
	m := frame.Member{
		Ends:    [2]int{a, b},
		Up:      c.direction(),
		Section: c.section(p.size * c.log(0.08, 0.2)),
		Made:    c.material(memberModulus),
		Source:  "member",
	}
	for e := range m.Arms {
		if c.once(2) {
			m.Arms[e] = r3.Scale(0.05*p.size, c.direction())
		}
	}
	if c.once(4) {
		m.Bed = [2]float64{m.Made.E * c.log(1e-6, 1e-4), m.Made.E * c.log(1e-6, 1e-4)}
	}
	p.members = append(p.members, m)
}

// nodeSpot is a place on a rigid arm from a node; reach 0 is the node itself.
func (p *plan) nodeSpot(c chance, n int, reach float64) spot {
	return spot{node, n, r3.Add(p.nodes[n], r3.Scale(reach*p.size, c.direction()))}
}

func (p *plan) anyNode(c chance) spot { return p.nodeSpot(c, c.IntN(len(p.nodes)), 0.05) }

// anySpot is a spot of any body.
func (p *plan) anySpot(c chance) spot {
	kind := c.IntN(3)
	switch {
	case kind == 1 && len(p.strips) > 0:
		return p.stripSpot(c.IntN(len(p.strips)), c.Float64(), c.between(-0.5, 0.5))
	case kind == 2 && len(p.triangles) > 0:
		share := c.Float64()
		return p.triangleSpot(c.IntN(len(p.triangles)), share, (1-share)*c.Float64())
	}
	return p.anyNode(c)
}

// stripSpot is on the upper face of a strip, at shares of its length and width.
func (p *plan) stripSpot(n int, along, across float64) spot {
	s := p.strips[n]
	first, last := s.places[0], s.places[len(s.places)-1]
	at := r3.Add(s.from, r3.Scale(first+along*(last-first), s.along))
	at = r3.Add(at, r3.Scale(across*s.width, s.across))
	return spot{strip, n, r3.Add(at, r3.Scale(s.thick/2, r3.Cross(s.along, s.across)))}
}

// triangleSpot is on the near face of a triangle, at shares of its legs.
func (p *plan) triangleSpot(n int, along, across float64) spot {
	s := p.triangles[n]
	return spot{triangle, n, r3.Add(s.from, r3.Add(r3.Scale(along, s.along), r3.Scale(across, s.across)))}
}

// maybeStiff is no stiffness, a constraint, or that of a spring comparable with the members.
func (p *plan) maybeStiff(c chance) float64 {
	if c.once(2) {
		return 0
	}
	return c.log(1, 100) * p.size
}

// tieAll ties a spot of a body to another in all three directions, by constraints or by springs.
func (p *plan) tieAll(c chance, a, b spot, stiffness float64) {
	for _, d := range c.basis() {
		p.ties = append(p.ties, tie{a: a, b: b, direction: d, stiffness: stiffness})
	}
}

// addHinge puts a hinge with a soft spring between a member and its second node.
func (p *plan) addHinge(c chance) {
	m := &p.members[c.IntN(len(p.members))]
	at := m.Ends[1]
	p.nodes = append(p.nodes, p.nodes[at])
	m.Ends[1] = len(p.nodes) - 1
	a, b := spot{node, m.Ends[1], p.nodes[at]}, spot{node, at, p.nodes[at]}
	p.tieAll(c, a, b, 0)
	soft := c.log(3, 100) * p.size * p.size * p.size
	for k, d := range c.basis() {
		p.ties = append(p.ties, tie{a: a, b: b, motion: turning, direction: d, stiffness: []float64{0, 0, soft}[k]})
	}
}

func (p *plan) addStrip(c chance) {
	basis := c.basis()
	length := p.size * c.between(0.3, 1)
	places := []float64{0, length * c.between(0.3, 0.7), length}
	for i := range places {
		places[i] += 0.1 * p.size
	}
	width := length * c.between(0.2, 1)
	p.strips = append(
		p.strips,
		plate{
			from:   r3.Scale(p.size, c.direction()),
			along:  basis[0],
			across: basis[1],
			places: places,
			width:  width,
			thick:  width * c.log(0.05, 0.2),
			made:   c.material(plateModulus),
		},
	)
	n, stiffness := c.IntN(len(p.nodes)), p.maybeStiff(c)
	for _, s := range [][2]float64{{0.15, -0.4}, {0.6, 0.45}, {0.85, -0.1}} {
		on := p.stripSpot(len(p.strips)-1, s[0], s[1])
		p.tieAll(c, on, spot{node, n, on.at}, stiffness)
	}
}

func (p *plan) addTriangle(c chance) {
	basis := c.basis()
	a, b := p.size*c.log(0.1, 0.5), p.size*c.log(0.1, 0.5)
	p.triangles = append(
		p.triangles,
		plate{
			from:   r3.Scale(p.size, c.direction()),
			along:  r3.Scale(a, basis[0]),
			across: r3.Scale(b, basis[1]),
			thick:  math.Min(a, b) * c.log(0.05, 0.5),
			made:   c.material(plateModulus),
		},
	)
	n, stiffness := c.IntN(len(p.nodes)), p.maybeStiff(c)
	for _, s := range [][2]float64{{0.1, 0.05}, {0.8, 0}, {0.1, 0.7}} {
		on := p.triangleSpot(len(p.triangles)-1, s[0], s[1])
		p.tieAll(c, on, spot{node, n, on.at}, stiffness)
	}
}

// addGround holds the first node in six ways.
func (p *plan) addGround(c chance) {
	a := p.nodeSpot(c, 0, 0.05)
	stiffness := p.maybeStiff(c)
	p.tieAll(c, a, spot{}, stiffness)
	for _, d := range c.basis() {
		p.ties = append(p.ties, tie{a: a, motion: turning, direction: d, stiffness: stiffness * p.size * p.size})
	}
}

func (p *plan) addLoads(c chance) {
	for range 3 {
		p.pushes = append(p.pushes, action{at: p.anySpot(c), direction: c.direction(), force: c.between(10, 1000)})
	}
	p.pushes = append(
		p.pushes,
		action{at: p.anyNode(c), motion: turning, direction: c.direction(), force: c.between(10, 1000) * p.size},
	)
	for m := range p.members {
		if from := c.Float64(); c.once(2) {
			q := func() r3.Vec { return r3.Scale(c.between(10, 1000)/p.size, c.direction()) }
			p.lines = append(p.lines, frame.Line{Member: m, From: from, To: c.between(from, 1), AtFrom: q(), AtTo: q()})
		}
	}
	p.gravity = r3.Scale(9806.65, c.direction())
}

// withoutBeds takes the beds away, which hold on to the ground.
func (p *plan) withoutBeds() *plan {
	for i := range p.members {
		p.members[i].Bed = [2]float64{}
	}
	return p
}

func (p *plan) length(m frame.Member) float64 {
	return r3.Norm(r3.Sub(r3.Add(p.nodes[m.Ends[1]], m.Arms[1]), r3.Add(p.nodes[m.Ends[0]], m.Arms[0])))
}

// clone copies what tests change.
func (p *plan) clone() *plan {
	q := *p
	q.nodes, q.members, q.ties, q.lines, q.warm = slices.Clone(
		p.nodes,
	), slices.Clone(
		p.members,
	), slices.Clone(
		p.ties,
	), slices.Clone(
		p.lines,
	), slices.Clone(
		p.warm,
	)
	return &q
}
