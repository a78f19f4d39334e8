package beam

import "math"

// point is a place in the plane of a section, (y, z).
type point = [2]float64

// mesh is a triangulation of a section. It is refined by halving sides and swapping the diagonal
// of two neighbours, which keeps it Delaunay within its fixed sides (Lawson 1977).
type mesh struct {
	points []point
	tris   []triangle
}

// triangle has its corners anticlockwise; side i is the one opposite corner i.
type triangle struct {
	v      [3]int  // corners
	n      [3]int  // neighbour across each side, noNeighbour at the boundary
	fixed  [3]bool // the side belongs to the outline or parts two regions: never swapped
	region int     // which material
}

const noNeighbour = -1

// newMesh joins triangles to their neighbours; sides without one, and sides between two regions,
// become fixed. It reports false if more than two triangles share a side.
func newMesh(points []point, corners [][3]int, regions []int) (*mesh, bool) {
	m := &mesh{points: points, tris: make([]triangle, len(corners))}
	type sideOf struct{ tri, side int }
	open := make(map[[2]int]sideOf, 3*len(corners))
	for t, v := range corners {
		m.tris[t] = triangle{
			v:      v,
			n:      [3]int{noNeighbour, noNeighbour, noNeighbour},
			fixed:  [3]bool{true, true, true},
			region: regions[t],
		}
		for i := range 3 {
			a, b := v[(i+1)%3], v[(i+2)%3]
			if _, taken := open[[2]int{a, b}]; taken {
				return nil, false
			}
			open[[2]int{a, b}] = sideOf{t, i}
			o, ok := open[[2]int{b, a}]
			if !ok {
				continue
			}
			same := regions[o.tri] == regions[t]
			m.tris[t].n[i], m.tris[t].fixed[i] = o.tri, !same
			m.tris[o.tri].n[o.side], m.tris[o.tri].fixed[o.side] = t, !same
		}
	}
	return m, true
}

// cross is twice the area of the triangle a, b, c; positive when they run anticlockwise.
func cross(a, b, c point) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func distance(a, b point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func midpoint(a, b point) point { return point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }

// sideOf returns which side of t lies against the triangle o.
func (m *mesh) sideOf(t, o int) int {
	for i, n := range m.tris[t].n {
		if n == o {
			return i
		}
	}
	panic("beam: mesh neighbours do not agree")
}

// relink tells the neighbour n, which lay against from, that it now lies against to.
func (m *mesh) relink(n, from, to int) {
	if n != noNeighbour {
		m.tris[n].n[m.sideOf(n, from)] = to
	}
}

// swapTolerance keeps four corners on one circle, as in every square, from being swapped to and
// fro: it is the sine by which two opposite angles must exceed 180° together.
const swapTolerance = 1e-9

// wantsSwap tells whether the diagonal at side i of t makes opposite angles of more than 180°.
func (m *mesh) wantsSwap(t, i int) bool {
	tr := &m.tris[t]
	if tr.fixed[i] || tr.n[i] == noNeighbour {
		return false
	}
	o := &m.tris[tr.n[i]]
	p, q := m.points[tr.v[i]], m.points[o.v[m.sideOf(tr.n[i], t)]]
	a, b := m.points[tr.v[(i+1)%3]], m.points[tr.v[(i+2)%3]]
	dot := func(c point) float64 { return (a[0]-c[0])*(b[0]-c[0]) + (a[1]-c[1])*(b[1]-c[1]) }
	sinP, cosP := cross(p, a, b), dot(p)
	sinQ, cosQ := cross(q, b, a), dot(q)
	scale := math.Hypot(sinP, cosP) * math.Hypot(sinQ, cosQ)
	return sinP*cosQ+cosP*sinQ < -swapTolerance*scale && cross(p, a, q) > 0 && cross(p, q, b) > 0
}

// swap replaces the diagonal at side i of t by the other one of the two triangles' quadrilateral.
// Afterwards both triangles have t's corner i as corner 0; it returns the other triangle.
func (m *mesh) swap(t, i int) int {
	old := m.tris[t]
	o := old.n[i]
	oo := m.tris[o]
	j := m.sideOf(o, t)
	p, a, b := old.v[i], old.v[(i+1)%3], old.v[(i+2)%3]
	q := oo.v[j]
	// The neighbour's corners run q, b, a.
	aq, aqFixed := oo.n[(j+1)%3], oo.fixed[(j+1)%3]
	qb, qbFixed := oo.n[(j+2)%3], oo.fixed[(j+2)%3]
	bp, bpFixed := old.n[(i+1)%3], old.fixed[(i+1)%3]
	pa, paFixed := old.n[(i+2)%3], old.fixed[(i+2)%3]
	m.relink(aq, o, t)
	m.relink(bp, t, o)
	m.tris[t] = triangle{
		v:      [3]int{p, a, q},
		n:      [3]int{aq, o, pa},
		fixed:  [3]bool{aqFixed, false, paFixed},
		region: old.region,
	}
	m.tris[o] = triangle{
		v:      [3]int{p, q, b},
		n:      [3]int{qb, bp, t},
		fixed:  [3]bool{qbFixed, bpFixed, false},
		region: old.region,
	}
	return o
}

// legalize swaps diagonals about corner 0 of each triangle listed until all are Delaunay.
func (m *mesh) legalize(stack []int) {
	for len(stack) > 0 {
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if m.wantsSwap(t, 0) {
			stack = append(stack, t, m.swap(t, 0))
		}
	}
}

// legalizeAll swaps until the whole mesh is Delaunay within its fixed sides.
func (m *mesh) legalizeAll() {
	for swapped := true; swapped; {
		swapped = false
		for t := range m.tris {
			for i := range 3 {
				if m.wantsSwap(t, i) {
					m.swap(t, i)
					swapped = true
					break
				}
			}
		}
	}
}

// halve puts a new point in the middle of side i of t and divides the triangles on both sides.
func (m *mesh) halve(t, i int) {
	old := m.tris[t]
	c, a, b := old.v[i], old.v[(i+1)%3], old.v[(i+2)%3]
	o, fixed := old.n[i], old.fixed[i]
	p := len(m.points)
	m.points = append(m.points, midpoint(m.points[a], m.points[b]))

	bc, bcFixed := old.n[(i+1)%3], old.fixed[(i+1)%3]
	ca, caFixed := old.n[(i+2)%3], old.fixed[(i+2)%3]
	t2 := len(m.tris)
	m.relink(bc, t, t2)
	if o == noNeighbour {
		m.tris[t] = triangle{
			v:      [3]int{p, c, a},
			n:      [3]int{ca, noNeighbour, t2},
			fixed:  [3]bool{caFixed, true, false},
			region: old.region,
		}
		m.tris = append(
			m.tris,
			triangle{
				v:      [3]int{p, b, c},
				n:      [3]int{bc, t, noNeighbour},
				fixed:  [3]bool{bcFixed, false, true},
				region: old.region,
			},
		)
		m.legalize([]int{t, t2})
		return
	}

	oo := m.tris[o]
	j := m.sideOf(o, t) // the neighbour's corners run d, b, a
	d := oo.v[j]
	ad, adFixed := oo.n[(j+1)%3], oo.fixed[(j+1)%3]
	db, dbFixed := oo.n[(j+2)%3], oo.fixed[(j+2)%3]
	o2 := t2 + 1
	m.relink(ad, o, o2)
	m.tris[t] = triangle{
		v:      [3]int{p, c, a},
		n:      [3]int{ca, o2, t2},
		fixed:  [3]bool{caFixed, fixed, false},
		region: old.region,
	}
	m.tris[o] = triangle{
		v:      [3]int{p, d, b},
		n:      [3]int{db, t2, o2},
		fixed:  [3]bool{dbFixed, fixed, false},
		region: oo.region,
	}
	m.tris = append(m.tris,
		triangle{v: [3]int{p, b, c}, n: [3]int{bc, t, o}, fixed: [3]bool{bcFixed, false, fixed}, region: old.region},
		triangle{v: [3]int{p, a, d}, n: [3]int{ad, o, t}, fixed: [3]bool{adFixed, false, fixed}, region: oo.region})
	m.legalize([]int{t, t2, o, o2})
}

// loops returns the boundary of the mesh as closed loops of point numbers, the material on their
// left, each once. It reports false if the boundary touches itself at a point.
func (m *mesh) loops() ([][]int, bool) {
	next := make(map[int]int)
	var starts []int
	for _, t := range m.tris {
		for i := range 3 {
			if t.n[i] != noNeighbour {
				continue
			}
			a, b := t.v[(i+1)%3], t.v[(i+2)%3]
			if _, twice := next[a]; twice {
				return nil, false
			}
			next[a] = b
			starts = append(starts, a)
		}
	}
	seen := make(map[int]bool, len(next))
	var loops [][]int
	for _, s := range starts {
		if seen[s] {
			continue
		}
		var loop []int
		for at := s; !seen[at]; at = next[at] {
			seen[at] = true
			loop = append(loop, at)
		}
		loops = append(loops, loop)
	}
	return loops, true
}
