package beam

import "math"

// This file finds the largest shear stresses in the solution of saintvenant.go.
//
// On the outline stress runs along it, and what one quadratic side of the mesh says of a slope is
// best at its two Gauss points (Barlow, Int. J. Numer. Methods Eng. 10 (1976) 243). Between three
// such points on a straight side the top of a parabola is taken. Torsion is largest on the outline
// (Timoshenko & Goodier, Theory of Elasticity, art. 105; from memory); shear of a force may be so
// inside, where the middles of the triangles are looked at too.
//
// The shear of a force is taken at ν = 0. That is the parabola of elementary theory in a rectangle and
// V·Q/(I·t) along thin walls, whichever way they run; what ν adds in wide sections is left out, as
// handbooks leave it out.
//
// In a sharp re-entrant corner the stress of theory has no bound. What a part sees there hangs on its
// fillet and belongs to notch effect, not to the nominal stress a yield stress is held against, so the
// surroundings of such corners, as far as the wall is thick, are passed over.

// shearPeaks are the largest shear stress per G and twist, and per force along y and along z, in the
// mesh's length unit.
type shearPeaks struct{ twist, alongY, alongZ float64 }

// notch is a re-entrant corner and how far round it stresses are passed over.
type notch struct {
	at    point
	reach float64
}

// notches returns the re-entrant corners that are no part of a drawn curve. The middle third of every
// side is left to be looked at.
func notches(loops [][]point) (list []notch) {
	for l, loop := range loops {
		n := len(loop)
		for i, at := range loop {
			if turnAt(loop, i) > -meshSmoothTurn {
				continue
			}
			third := min(distance(loop[(i+n-1)%n], at), distance(at, loop[(i+1)%n])) / 3
			list = append(list, notch{at, min(clearance(loops, l, i), third)})
		}
	}
	return list
}

// outlineStress is the shear stress along the outline at one of its points.
type outlineStress struct {
	at, along   point
	twist, y, z float64
	passed      bool // it lies in the reach of a notch
}

// shearPeaks returns the largest shear stresses outside the notches of the mesh that was solved.
func (el elasticSection) shearPeaks(m *mesh, passed []notch) (p shearPeaks) {
	near := func(at point) bool {
		for _, n := range passed {
			if distance(at, n.at) < n.reach {
				return true
			}
		}
		return false
	}
	for _, run := range el.alongOutline(m) {
		for i := range run {
			run[i].passed = near(run[i].at)
		}
		n := len(run)
		for i := range run {
			a, b, c := run[(i+n-1)%n], run[i], run[(i+1)%n]
			if b.passed {
				continue
			}
			p.twist = max(p.twist, sideTop(a, b, c, a.twist, b.twist, c.twist))
			p.alongY = max(p.alongY, sideTop(a, b, c, a.y, b.y, c.y))
			p.alongZ = max(p.alongZ, sideTop(a, b, c, a.z, b.z, c.z))
		}
	}
	for t, nodes := range el.mesh.elems {
		v := m.tris[t].v
		p0, p1, p2 := m.points[v[0]], m.points[v[1]], m.points[v[2]]
		if near(point{(p0[0] + p1[0] + p2[0]) / 3, (p0[1] + p1[1] + p2[1]) / 3}) {
			continue
		}
		_, grad := shapeFunctions(p0, p1, p2, [3]float64{1. / 3, 1. / 3, 1. / 3})
		size := func(f []float64) float64 {
			var g point
			for i, node := range nodes {
				g[0] += f[node] * grad[i][0]
				g[1] += f[node] * grad[i][1]
			}
			return math.Hypot(g[0], g[1])
		}
		p.alongY = max(p.alongY, size(el.forceY))
		p.alongZ = max(p.alongZ, size(el.forceZ))
	}
	return p
}

// alongOutline returns the stresses at the Gauss points of every loop's sides, in order.
func (el elasticSection) alongOutline(m *mesh) [][]outlineStress {
	middle := make(map[[2]int]int) // of the sides on the boundary
	for t, tr := range m.tris {
		for i := range 3 {
			if tr.n[i] == noNeighbour {
				middle[[2]int{tr.v[(i+1)%3], tr.v[(i+2)%3]}] = el.mesh.elems[t][3+i]
			}
		}
	}
	loops, ok := m.loops()
	if !ok {
		panic("beam: the outline of a solved mesh touches itself")
	}
	runs := make([][]outlineStress, len(loops))
	for l, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			c := middle[[2]int{a, b}]
			pa, pb := m.points[a], m.points[b]
			length := distance(pa, pb)
			along := point{(pb[0] - pa[0]) / length, (pb[1] - pa[1]) / length}
			for _, g := range [2]float64{-1 / math.Sqrt(3), 1 / math.Sqrt(3)} {
				slope := func(f []float64) float64 {
					return 2 / length * ((g-0.5)*f[a] - 2*g*f[c] + (g+0.5)*f[b])
				}
				at := point{(pa[0]*(1-g) + pb[0]*(1+g)) / 2, (pa[1]*(1-g) + pb[1]*(1+g)) / 2}
				runs[l] = append(runs[l], outlineStress{
					at: at, along: along,
					twist: slope(el.warping) + at[0]*along[1] - at[1]*along[0],
					y:     slope(el.forceY), z: slope(el.forceZ),
				})
			}
		}
	}
	return runs
}

// straightSine is the sine below which two sides of the mesh lie on one side of the outline: far
// above the rounding of halved sides, far below a turn of any drawn curve.
const straightSine = 1e-6

// sideTop is the size of the stress fb at b, or the top of the parabola through it and its neighbours
// if it is the largest of the three and they lie on one straight side.
func sideTop(a, b, c outlineStress, fa, fb, fc float64) float64 {
	if fb < 0 {
		fa, fb, fc = -fa, -fb, -fc
	}
	straight := func(o outlineStress) bool {
		return math.Abs(o.along[0]*b.along[1]-o.along[1]*b.along[0]) <= straightSine
	}
	if a.passed || c.passed || !straight(a) || !straight(c) || fb <= fa || fb <= fc {
		return fb
	}
	before, after := distance(a.at, b.at), distance(b.at, c.at)
	bend := ((fa-fb)/before + (fc-fb)/after) / (before + after) // negative: fb is the largest
	rise := (fc-fb)/after - bend*after
	return fb - rise*rise/(4*bend)
}
