package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// family is what elements of one kind have in common.
type family struct {
	Nodes    int
	Edges    [][2]int
	Places   [][3]float64 // of the nodes, local
	Shapes   func(xi [3]float64, n []float64, d [][3]float64)
	Stations []station
	Middle   [3]float64

	sampled []sample // the shapes at the stations
}

// sample is the shapes at a place and their local derivatives.
type sample struct {
	n []float64
	d [][3]float64
}

func (f *family) sample(xi [3]float64) sample {
	s := sample{make([]float64, f.Nodes), make([][3]float64, f.Nodes)}
	f.Shapes(xi, s.n, s.d)
	return s
}

var families = func() (all [2]family) {
	all[Brick] = family{
		Nodes: 20, Edges: brickEdges[:], Places: brickPlaces[:], Shapes: brickShapes, Stations: brickStations,
	}
	all[Wedge] = family{
		Nodes: 15, Edges: wedgeEdges[:], Places: wedgePlaces[:], Shapes: wedgeShapes, Stations: wedgeStations,
		Middle: [3]float64{1. / 3, 1. / 3, 0},
	}
	for k := range all {
		for _, s := range all[k].Stations {
			all[k].sampled = append(all[k].sampled, all[k].sample(s.Xi))
		}
	}
	return all
}()

// family of an element. It panics unless the element has its kind's number of nodes.
func (m *Mesh) family(e int) *family {
	el := m.Elements[e]
	f := &families[el.Kind]
	if len(el.Nodes) != f.Nodes {
		panic(fmt.Sprintf("solid: element %d has %d nodes, its kind has %d", e, len(el.Nodes), f.Nodes))
	}
	return f
}

// place is where a sample lies, with j[k] = ∂x/∂ξₖ.
func (m *Mesh) place(e int, s sample) (at r3.Vec, j [3]r3.Vec) {
	for i, node := range m.Elements[e].Nodes {
		x := m.Nodes[node]
		at = r3.Add(at, r3.Scale(s.n[i], x))
		for k := range 3 {
			j[k] = r3.Add(j[k], r3.Scale(s.d[i][k], x))
		}
	}
	return at, j
}

// reciprocal are the gradients of the local coordinates, ∂ξₖ/∂x, and the volume of the mapped unit cube.
func reciprocal(j [3]r3.Vec) (r [3]r3.Vec, volume float64) {
	volume = r3.Dot(j[0], r3.Cross(j[1], j[2]))
	for k := range 3 {
		r[k] = r3.Scale(1/volume, r3.Cross(j[(k+1)%3], j[(k+2)%3]))
	}
	return r, volume
}

// gradients of an element's shapes at a sample, written to grad. The volume is that which a unit of local volume has
// there; it panics if the element is folded over.
func (m *Mesh) gradients(e int, s sample, grad []r3.Vec) (volume float64) {
	if m.Elements[e].box {
		h := m.halves(e)
		x, y, z := 1/h[0], 1/h[1], 1/h[2]
		for i, d := range s.d {
			grad[i] = r3.Vec{X: x * d[0], Y: y * d[1], Z: z * d[2]}
		}
		return h[0] * h[1] * h[2]
	}
	_, j := m.place(e, s)
	r, volume := reciprocal(j)
	if !(volume > 0) {
		panic(fmt.Sprintf("solid: element %d is folded over", e))
	}
	for i, d := range s.d {
		grad[i] = r3.Add(r3.Scale(d[0], r[0]), r3.Add(r3.Scale(d[1], r[1]), r3.Scale(d[2], r[2])))
	}
	return volume
}

// halves are half the extents of a box.
func (m *Mesh) halves(e int) [3]float64 {
	nodes := m.Elements[e].Nodes
	return components(r3.Scale(0.5, r3.Sub(m.Nodes[nodes[6]], m.Nodes[nodes[0]])))
}

// Place is the place of local coordinates of element e, mm. A brick's run from −1 to 1; a wedge has r, s ≥ 0 with
// r+s ≤ 1 in its triangle and t from −1 at the bottom to 1.
func (m *Mesh) Place(e int, xi [3]float64) r3.Vec {
	at, _ := m.place(e, m.family(e).sample(xi))
	return at
}

// Shape is the values of the shape functions of element e at local coordinates, one for each of its nodes, and their
// gradients, 1/mm. It panics where the element is folded over.
func (m *Mesh) Shape(e int, xi [3]float64) (n []float64, grad []r3.Vec) {
	s := m.family(e).sample(xi)
	grad = make([]r3.Vec, len(s.n))
	m.gradients(e, s, grad)
	return s.n, grad
}

const (
	// Local coordinates are found when a step of Newton's method is shorter than localStep: the next would be its
	// square, below rounding.
	localStep = 1e-10
	// A place within localEdge outside an element is in it: rounding of places on a face.
	localEdge = 1e-9
	// The method doubles its digits with each step. An element so bent that this does not do is not worth having.
	localSteps = 30
)

// Local is the local coordinates of a place in element e, and whether the place is inside it, faces included. Outside a
// bent element there need not be any; the last attempt is then given.
func (m *Mesh) Local(e int, at r3.Vec) (xi [3]float64, inside bool) {
	f := m.family(e)
	xi = f.Middle
	found := false
	for range localSteps {
		x, j := m.place(e, f.sample(xi))
		r, _ := reciprocal(j)
		miss, step := r3.Sub(at, x), 0.
		for k := range 3 {
			dk := r3.Dot(r[k], miss)
			xi[k] += dk
			step = math.Max(step, math.Abs(dk))
		}
		if !(step < math.Inf(1)) { // the mapping is singular there
			break
		}
		if step < localStep {
			found = true
			break
		}
	}
	return xi, found && m.Elements[e].Kind.holds(xi)
}

// holds tells whether local coordinates are within an element.
func (k Kind) holds(xi [3]float64) bool {
	if k == Wedge {
		return xi[0] >= -localEdge && xi[1] >= -localEdge && xi[0]+xi[1] <= 1+localEdge && math.Abs(xi[2]) <= 1+localEdge
	}
	return math.Max(math.Abs(xi[0]), math.Max(math.Abs(xi[1]), math.Abs(xi[2]))) <= 1+localEdge
}
