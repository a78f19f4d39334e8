package beam

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// errNoTriangulation is returned for an outline that passed all checks but is too nearly
// degenerate to be divided into triangles.
var errNoTriangulation = errors.New("the outline is too thin or too nearly touches itself")

// triangulate divides a simple outline with holes into triangles with corners at its corners
// only. loops[0] is the outer one, anticlockwise; holes run clockwise. The points of the mesh are
// those of the loops in order.
//
// Each hole is joined to the outside by a cut from its rightmost corner, then corners are clipped
// off one by one (Eberly, Triangulation by Ear Clipping, 2002).
func triangulate(loops [][]point) (*mesh, error) {
	var points []point
	ring := make([]int, len(loops[0]))
	for i := range loops[0] {
		ring[i] = i
	}
	points = append(points, loops[0]...)
	var holes []holeRun
	for _, loop := range loops[1:] {
		h := holeRun{first: len(points), n: len(loop)}
		for i, p := range loop {
			if p[0] > loop[h.right][0] {
				h.right = i
			}
		}
		points = append(points, loop...)
		holes = append(holes, h)
	}
	slices.SortStableFunc(holes, func(a, b holeRun) int { // rightmost first, so that cuts cannot cross later holes
		return -cmp.Compare(points[a.first+a.right][0], points[b.first+b.right][0])
	})
	for k, h := range holes {
		at := bridge(points, ring, holes[k:])
		if at < 0 {
			return nil, errNoTriangulation
		}
		cut := make([]int, 0, h.n+2)
		for i := range h.n + 1 {
			cut = append(cut, h.corner(i))
		}
		cut = append(cut, ring[at])
		ring = slices.Insert(ring, at+1, cut...)
	}
	corners, ok := clipEars(points, ring)
	if !ok {
		return nil, errNoTriangulation
	}
	m, ok := newMesh(points, corners, make([]int, len(corners)))
	if !ok {
		return nil, errNoTriangulation
	}
	return m, nil
}

// holeRun is where the corners of one hole lie among the points: n of them from first on; right
// counts from first to the rightmost.
type holeRun struct {
	first, n, right int
}

// corner is the point number of the hole's i-th corner after the rightmost; i may be -1.
func (h holeRun) corner(i int) int { return h.first + (h.right+i+h.n)%h.n }

// bridge returns the place in ring of the nearest corner that the rightmost corner of holes[0]
// sees: the cut between them meets no other side of the ring nor of the holes, and runs in the
// material at both of its ends. It returns -1 if there is none.
func bridge(points []point, ring []int, holes []holeRun) int {
	own := holes[0]
	from := own.corner(0)
	n := len(ring)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	p := points[from]
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(distance(p, points[ring[a]]), distance(p, points[ring[b]]))
	})
	sees := func(at int) bool {
		q := points[ring[at]]
		before, after := points[ring[(at+n-1)%n]], points[ring[(at+1)%n]]
		if !insideCorner(before, q, after, p) || !insideCorner(points[own.corner(-1)], p, points[own.corner(1)], q) {
			return false
		}
		for i := range n {
			a, b := points[ring[i]], points[ring[(i+1)%n]]
			if a == q || b == q {
				continue
			}
			if segmentsMeet(p, q, a, b) {
				return false
			}
		}
		for k, h := range holes {
			for i := range h.n {
				if k == 0 && (i == 0 || i == h.n-1) {
					continue // the two sides that meet at from
				}
				if segmentsMeet(p, q, points[h.corner(i)], points[h.corner(i+1)]) {
					return false
				}
			}
		}
		return true
	}
	for _, at := range order {
		if sees(at) {
			return at
		}
	}
	return -1
}

// insideCorner tells whether the direction from the corner q to p points into the material, which
// lies left of before → q → after.
func insideCorner(before, q, after, p point) bool {
	if cross(before, q, after) >= 0 {
		return cross(before, q, p) > 0 && cross(q, after, p) > 0
	}
	return cross(before, q, p) > 0 || cross(q, after, p) > 0
}

// clipEars divides a ring, which may touch itself along the cuts to holes, into triangles.
func clipEars(points []point, ring []int) ([][3]int, bool) {
	ring = slices.Clone(ring)
	var corners [][3]int
	for at := 0; len(ring) > 3; {
		n := len(ring)
		found := false
		for range n {
			if isEar(points, ring, at%n) {
				found = true
				break
			}
			at++
		}
		if !found {
			return nil, false
		}
		i := at % n
		corners = append(corners, [3]int{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]})
		ring = slices.Delete(ring, i, i+1)
		at = i + 1 // step on, so that a round outline is not clipped into a fan
	}
	last := [3]int{ring[0], ring[1], ring[2]}
	if !(cross(points[last[0]], points[last[1]], points[last[2]]) > 0) {
		return nil, false
	}
	return append(corners, last), true
}

// isEar tells whether the corner i of the ring can be clipped: it is convex and no other corner
// lies in its triangle or on the new side.
func isEar(points []point, ring []int, i int) bool {
	n := len(ring)
	before, after := (i+n-1)%n, (i+1)%n
	a, b, c := points[ring[before]], points[ring[i]], points[ring[after]]
	scale := math.Max(distance(a, b), math.Max(distance(b, c), distance(c, a)))
	slack := touchTolerance * scale * scale
	if !(cross(a, b, c) > slack) {
		return false
	}
	for j, v := range ring {
		p := points[v]
		if j == before || j == i || j == after || p == a || p == b || p == c {
			continue
		}
		if cross(a, b, p) >= -slack && cross(b, c, p) >= -slack && cross(c, a, p) >= -slack {
			return false
		}
	}
	return true
}
