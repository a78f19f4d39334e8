package beam

import "math"

// How fine the mesh of a section is. The errors that result are in the tests of saintvenant.go:
// about 1e-4 of J for the sections of the trade.
const (
	// Away from corners a side is at most this part of the square root of the area long.
	meshCoarse = 0.2
	// At a corner, a side is at most this part of the corner's clearance long. At re-entrant
	// corners stress is singular (for a right angle like r^(−1/3)), so they get the finer one.
	meshSharp     = 0.3
	meshReentrant = 0.05
	// An outline with more re-entrant corners than this gets coarser ones in proportion: each
	// matters less, and the mesh would grow large.
	meshManyCorners = 12
	// From there the size grows by this much per distance.
	meshGrowth = 0.8
	// A corner that turns less than this, rad, is taken as part of a drawn curve.
	meshSmoothTurn = 0.44
	// No mesh grows past this; a section with more detail is solved more coarsely.
	meshMaxTriangles = 12000
)

// meshCorner is a place the mesh is graded to.
type meshCorner struct {
	at   point
	size float64 // longest side there
}

// refine halves the sides that are too long until none is.
func (m *mesh) refine(corners []meshCorner, coarse float64) {
	tooLong := func(a, b point) float64 {
		length, mid := distance(a, b), midpoint(a, b)
		limit := coarse
		for _, c := range corners {
			limit = math.Min(limit, c.size+meshGrowth*distance(c.at, mid))
		}
		return length / limit
	}
	m.legalizeAll()
	// The outline first: in a thin wall its points alone make good triangles, while halving the
	// long diagonals first would fill the wall with points nobody needs.
	m.halveWhile(tooLong, func(tr *triangle, i int) bool { return tr.fixed[i] })
	m.halveWhile(tooLong, func(*triangle, int) bool { return true })
}

// halveWhile halves the sides that counts admits, the worst of a triangle first, until tooLong is
// at most 1 for all of them or the mesh has grown as large as it may.
func (m *mesh) halveWhile(tooLong func(a, b point) float64, counts func(tr *triangle, side int) bool) {
	for again := true; again; {
		again = false
		for t := 0; t < len(m.tris); t++ {
			for len(m.tris) < meshMaxTriangles {
				worst, side := 1.0, -1
				for i := range 3 {
					tr := &m.tris[t]
					if !counts(tr, i) {
						continue
					}
					if r := tooLong(m.points[tr.v[(i+1)%3]], m.points[tr.v[(i+2)%3]]); r > worst {
						worst, side = r, i
					}
				}
				if side < 0 {
					break
				}
				m.halve(t, side)
				again = true
			}
		}
	}
}

// gradedCorners returns the corners of closed outlines that a mesh must be graded to. Loops run
// with the material on their left.
func gradedCorners(loops [][]point) []meshCorner {
	reentrant := 0
	for _, loop := range loops {
		for i := range loop {
			if turnAt(loop, i) <= -meshSmoothTurn {
				reentrant++
			}
		}
	}
	fine := min(meshSharp, meshReentrant*max(1, float64(reentrant)/meshManyCorners))
	var corners []meshCorner
	for l, loop := range loops {
		for i, at := range loop {
			switch turn := turnAt(loop, i); {
			case turn >= meshSmoothTurn:
				corners = append(corners, meshCorner{at, meshSharp * clearance(loops, l, i)})
			case turn <= -meshSmoothTurn:
				corners = append(corners, meshCorner{at, fine * clearance(loops, l, i)})
			}
		}
	}
	return corners
}

// turnAt is the angle, rad, by which a loop turns at its i-th corner; positive to the left.
func turnAt(loop []point, i int) float64 {
	n := len(loop)
	before, at, after := loop[(i+n-1)%n], loop[i], loop[(i+1)%n]
	in := point{at[0] - before[0], at[1] - before[1]}
	out := point{after[0] - at[0], after[1] - at[1]}
	return math.Atan2(in[0]*out[1]-in[1]*out[0], in[0]*out[0]+in[1]*out[1])
}

// clearance is how near to corner i of loop l another corner or a side that does not meet it comes.
func clearance(loops [][]point, l, i int) float64 {
	at := loops[l][i]
	least := math.Inf(1)
	for k, loop := range loops {
		for j := range loop {
			next := (j + 1) % len(loop)
			if k == l && (j == i || next == i) {
				continue
			}
			least = math.Min(least, distanceToSegment(at, loop[j], loop[next]))
		}
	}
	n := len(loops[l])
	for _, j := range []int{(i + n - 1) % n, (i + 1) % n} {
		least = math.Min(least, distance(at, loops[l][j]))
	}
	return least
}

// distanceToSegment is the distance from p to the nearest point between a and b.
func distanceToSegment(p, a, b point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	part := ((p[0]-a[0])*dx + (p[1]-a[1])*dy) / (dx*dx + dy*dy)
	part = math.Max(0, math.Min(1, part))
	return distance(p, point{a[0] + part*dx, a[1] + part*dy})
}
