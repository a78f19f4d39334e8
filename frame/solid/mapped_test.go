package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/solid"
	"tiploop/frame/sparse"
)

var axes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// mapped is a grid of bricks over the unit cube, bent into shape.
type mapped struct {
	*solid.Mesh
	unit []r3.Vec // where each node was in the unit cube
}

// even are lines at equal distances from 0 to 1.
func even(cells int) []float64 {
	lines := make([]float64, cells+1)
	for i := range lines {
		lines[i] = float64(i) / float64(cells)
	}
	return lines
}

func newMapped(made beam.Material, lines [3][]float64, shape func(r3.Vec) r3.Vec) *mapped {
	m := &mapped{Mesh: &solid.Mesh{Metals: []beam.Material{made}}}
	m.add(lines, shape)
	return m
}

// add puts another bent grid into the mesh.
func (m *mapped) add(lines [3][]float64, shape func(r3.Vec) r3.Vec) {
	first := len(m.Nodes)
	m.AddBlock(0, lines)
	m.unit = append(m.unit, m.Nodes[first:]...)
	for i := first; i < len(m.Nodes); i++ {
		m.Nodes[i] = shape(m.Nodes[i])
	}
}

// join makes one node of nodes in one place. unit places are those of the first.
func (m *mapped) join() {
	span := 0.
	for _, x := range m.Nodes {
		span = math.Max(span, r3.Norm(x))
	}
	const same = 1e-9
	known, number := map[[3]int64]int{}, make([]int, len(m.Nodes))
	var nodes, unit []r3.Vec
	for i, x := range m.Nodes {
		key := [3]int64{int64(math.Round(x.X / span / same)), int64(math.Round(x.Y / span / same)),
			int64(math.Round(x.Z / span / same))}
		n, ok := known[key]
		if !ok {
			n = len(nodes)
			known[key] = n
			nodes, unit = append(nodes, x), append(unit, m.unit[i])
		}
		number[i] = n
	}
	m.Nodes, m.unit = nodes, unit
	for _, el := range m.Elements {
		for i, n := range el.Nodes {
			el.Nodes[i] = number[n]
		}
	}
}

// pressed are the nodal forces of a traction over the face at which a coordinate of the unit cube is 0 or 1. The
// traction may depend on the place and on the face's outward normal.
func (m *mapped) pressed(axis int, at float64, traction func(x, normal r3.Vec) r3.Vec) []float64 {
	force := make([]float64, 3*len(m.Nodes))
	for e := range m.Elements {
		if side := m.side(e, axis, at); side != 0 {
			m.pressFace(force, e, axis, side, traction)
		}
	}
	return force
}

// side is the sign of the local coordinate at which an element's face is on the face of the unit cube, else 0.
func (m *mapped) side(e, axis int, at float64) float64 {
	nodes := m.Elements[e].Nodes
	low, high := r3.Dot(m.unit[nodes[0]], axes[axis]), r3.Dot(m.unit[nodes[6]], axes[axis])
	switch at {
	case low:
		return -1
	case high:
		return 1
	}
	return 0
}

// Three points along each edge of a face integrate shape functions times the face's size exactly.
var points = [3][2]float64{{-math.Sqrt(0.6), 5. / 9}, {0, 8. / 9}, {math.Sqrt(0.6), 5. / 9}}

func (m *mapped) pressFace(force []float64, e, axis int, side float64, traction func(x, normal r3.Vec) r3.Vec) {
	for _, p := range points {
		for _, q := range points {
			var xi [3]float64
			xi[axis], xi[(axis+1)%3], xi[(axis+2)%3] = side, p[0], q[0]
			area := r3.Scale(side, r3.Cross(m.tangent(e, xi, (axis+1)%3), m.tangent(e, xi, (axis+2)%3)))
			n, _ := m.Shape(e, xi)
			t := r3.Scale(p[1]*q[1]*r3.Norm(area), traction(m.Place(e, xi), r3.Unit(area)))
			for i, node := range m.Elements[e].Nodes {
				for k := range 3 {
					force[3*node+k] += n[i] * r3.Dot(t, axes[k])
				}
			}
		}
	}
}

// tangent is ∂x/∂ξ: a place is quadratic along each local coordinate, for which a central difference is exact.
func (m *mapped) tangent(e int, xi [3]float64, k int) r3.Vec {
	lower, upper := xi, xi
	lower[k] -= 0.5
	upper[k] += 0.5
	return r3.Sub(m.Place(e, upper), m.Place(e, lower))
}

// on are the nodes at which a coordinate of the unit cube is 0 or 1.
func (m *mapped) on(axis int, at float64) (nodes []int) {
	for i, x := range m.unit {
		if r3.Dot(x, axes[axis]) == at {
			nodes = append(nodes, i)
		}
	}
	return nodes
}

// near is the node nearest to a place.
func near(m *solid.Mesh, at r3.Vec) int {
	best := 0
	for i, x := range m.Nodes {
		if r3.Norm(r3.Sub(x, at)) < r3.Norm(r3.Sub(m.Nodes[best], at)) {
			best = i
		}
	}
	return best
}

// problem is a mesh with some movements known.
type problem struct {
	mesh  *solid.Mesh
	axes  map[int][3]r3.Vec // of nodes that have their own
	known map[int]float64   // unknowns, along those axes
}

func newProblem(m *solid.Mesh) *problem {
	return &problem{mesh: m, axes: map[int][3]r3.Vec{}, known: map[int]float64{}}
}

// hold holds the named axes ("x", "xy") of nodes at zero.
func (p *problem) hold(nodes []int, which string) *problem {
	for _, n := range nodes {
		for _, a := range which {
			p.known[3*n+int(a-'x')] = 0
		}
	}
	return p
}

// along gives nodes their own axes in the plane: x along direction.
func (p *problem) along(nodes []int, direction r3.Vec) *problem {
	x := r3.Unit(direction)
	for _, n := range nodes {
		p.axes[n] = [3]r3.Vec{x, r3.Cross(axes[2], x), axes[2]}
	}
	return p
}

// solve gives all nodes' movements under forces, along x, y and z.
func (p *problem) solve(t testing.TB, force []float64) []float64 {
	t.Helper()
	return p.solver(t)(force)
}

// solver factors once for many forces.
func (p *problem) solver(t testing.TB) func(force []float64) []float64 {
	t.Helper()
	m := p.mesh
	place, sizes, free := make([]int, 3*len(m.Nodes)), make([]int, len(m.Nodes)), 0
	for i := range place {
		place[i] = -1
		if _, ok := p.known[i]; !ok {
			place[i] = free
			free++
			sizes[i/3]++
		}
	}
	coupled := make([][]int, len(m.Elements))
	for e, el := range m.Elements {
		coupled[e] = el.Nodes
	}
	k := sparse.NewPattern(sizes, coupled).NewMatrix()
	pull := make([]float64, free) // of the known movements
	for e, el := range m.Elements {
		p.add(k, pull, place, el.Nodes, p.turned(e))
	}
	f, err := k.Factorize()
	require.NoError(t, err)
	return func(force []float64) []float64 {
		b := make([]float64, free)
		for n := range m.Nodes {
			for a, axis := range p.frame(n) {
				if i := place[3*n+a]; i >= 0 {
					b[i] = r3.Dot(axis, move(force, n)) - pull[i]
				}
			}
		}
		f.SolveTo(b, b)
		u := make([]float64, 0, 3*len(m.Nodes))
		for n := range m.Nodes {
			var v r3.Vec
			for a, axis := range p.frame(n) {
				along := p.known[3*n+a]
				if i := place[3*n+a]; i >= 0 {
					along = b[i]
				}
				v = r3.Add(v, r3.Scale(along, axis))
			}
			u = append(u, v.X, v.Y, v.Z)
		}
		return u
	}
}

// frame is a node's axes.
func (p *problem) frame(node int) [3]r3.Vec {
	if own, ok := p.axes[node]; ok {
		return own
	}
	return axes
}

// turned is an element's stiffness along its nodes' axes.
func (p *problem) turned(e int) []float64 {
	k, nodes := p.mesh.ElementStiffness(e), p.mesh.Elements[e].Nodes
	n := 3 * len(nodes)
	for a, node := range nodes {
		own, ok := p.axes[node]
		if !ok {
			continue
		}
		for i := range n { // columns, then rows
			row := r3.Vec{X: k[i*n+3*a], Y: k[i*n+3*a+1], Z: k[i*n+3*a+2]}
			for r, axis := range own {
				k[i*n+3*a+r] = r3.Dot(axis, row)
			}
		}
		for i := range n {
			column := r3.Vec{X: k[3*a*n+i], Y: k[(3*a+1)*n+i], Z: k[(3*a+2)*n+i]}
			for r, axis := range own {
				k[(3*a+r)*n+i] = r3.Dot(axis, column)
			}
		}
	}
	return k
}

// add adds an element's matrix, and the forces of known movements to pull.
func (p *problem) add(k *sparse.Matrix, pull []float64, place, nodes []int, ke []float64) {
	n, all := 3*len(nodes), true
	unknown := func(i int) int { return 3*nodes[i/3] + i%3 }
	for i := range n {
		all = all && place[unknown(i)] >= 0
	}
	if all {
		k.AddBlock(nodes, ke)
		return
	}
	for i := range n {
		row := place[unknown(i)]
		if row < 0 {
			continue
		}
		for j := range n {
			column := place[unknown(j)]
			switch {
			case column < 0:
				pull[row] += ke[i*n+j] * p.known[unknown(j)]
			case j <= i:
				k.Add(row, column, ke[i*n+j])
			}
		}
	}
}

// forces are those that hold the nodes in movements u.
func forces(m *solid.Mesh, u []float64) []float64 {
	force := make([]float64, len(u))
	for e, el := range m.Elements {
		k, n := m.ElementStiffness(e), 3*len(el.Nodes)
		for i, v := range k {
			force[3*el.Nodes[i/n/3]+i/n%3] += v * u[3*el.Nodes[i%n/3]+i%n%3]
		}
	}
	return force
}

// move is a node's movement.
func move(u []float64, node int) r3.Vec {
	return r3.Vec{X: u[3*node], Y: u[3*node+1], Z: u[3*node+2]}
}

func dot(a, b []float64) (sum float64) {
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
