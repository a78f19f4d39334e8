package solid_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/solid"
	"tiploop/testdata/checks"
)

// support is how the edge of a plate is held, all through its thickness.
type support string

const (
	hard    support = "hard"    // no deflection and no movement along the edge, so no twist of the edge either
	clamped support = "clamped" // no movement
)

// holdEdge holds a side of the unit cube along x (0) or y (1).
func (p *problem) holdEdge(m *mapped, axis int, at float64, how support) *problem {
	which := map[support]string{hard: [2]string{"yz", "xz"}[axis], clamped: "xyz"}[how]
	return p.hold(m.on(axis, at), which)
}

// plate is a flat rectangle from the origin, its middle plane at z = 0.
func plate(made beam.Material, a, b, thickness float64, lines [3][]float64) *mapped {
	return newMapped(made, lines, func(x r3.Vec) r3.Vec {
		return r3.Vec{X: a * x.X, Y: b * x.Y, Z: thickness * (x.Z - .5)}
	})
}

// graded are lines from 0 to 1 with a cell of the first size at one end and of the second at the other.
func graded(first, last float64) []float64 {
	const growth, largest = 1.5, 0.1
	return solid.Lines([]float64{0, first, 1 - last, 1}, []solid.Want{{0, first, first}, {1 - last, 1, last}}, growth,
		largest)
}

// up is a traction along z.
func up(size float64) func(x, normal r3.Vec) r3.Vec {
	return func(_, _ r3.Vec) r3.Vec { return r3.Vec{Z: size} }
}

// over is a traction along z spread evenly over a rectangle of the top, with a force of size in all. The mesh has lines
// at its edges.
func over(lo, hi r3.Vec, size float64) func(x, normal r3.Vec) r3.Vec {
	across := r3.Sub(hi, lo)
	return func(x, _ r3.Vec) r3.Vec {
		if x.X < lo.X || x.X > hi.X || x.Y < lo.Y || x.Y > hi.Y {
			return r3.Vec{}
		}
		return r3.Vec{Z: size / (across.X * across.Y)}
	}
}

// pressedAt is a traction along z over the rectangle of the top from a spot to the opposite corner, with a force of
// size at that spot and no moment about it: along each side it falls from four times its mean to minus twice. The mesh
// has lines at the rectangle's edges. So a point load on an edge is spread and still acts there.
func pressedAt(spot, opposite r3.Vec, size float64) func(x, normal r3.Vec) r3.Vec {
	across := r3.Sub(opposite, spot)
	area := math.Abs(across.X * across.Y)
	return func(x, _ r3.Vec) r3.Vec {
		p, q := (x.X-spot.X)/across.X, (x.Y-spot.Y)/across.Y
		if p < 0 || p > 1 || q < 0 || q > 1 {
			return r3.Vec{}
		}
		return r3.Vec{Z: size / area * (4 - 6*p) * (4 - 6*q)}
	}
}

// middleOf is the deflection in the middle of a plate held all round: a quarter of it, with the middle at the far
// corner. A point load is spread over a square as wide as the plate is thick.
func middleOf(t *testing.T, c checks.Case, how support, tolerance float64) {
	a, h := c.In(t, "side_a_mm"), c.In(t, "thickness_mm")
	b := a
	if _, ok := c.Inputs["side_b_mm"]; ok {
		b = c.In(t, "side_b_mm")
	}
	lines := [3][]float64{graded(h/a, 0.1), graded(h/b, 0.1), even(max(1, int(40*h/a)))}
	_, pushed := c.Inputs["load_N"]
	if pushed {
		lines[0], lines[1] = graded(h/a, h/a), graded(h/b, h/b)
	}
	m := plate(metalOf(t, c), a/2, b/2, h, lines)
	var force []float64
	if pushed {
		middle := r3.Vec{X: a / 2, Y: b / 2}
		force = m.pressed(2, 1, over(r3.Sub(middle, r3.Vec{X: h / 2, Y: h / 2}), middle, c.In(t, "load_N")/4))
	} else {
		force = m.pressed(2, 1, up(c.In(t, "pressure_MPa")))
	}
	p := newProblem(m.Mesh).holdEdge(m, 0, 0, how).holdEdge(m, 1, 0, how).hold(m.on(0, 1), "x").hold(m.on(1, 1), "y")
	u := p.solve(t, force)
	c.Near(t, "mid_deflection_mm", move(u, near(m.Mesh, r3.Vec{X: a / 2, Y: b / 2})).Z, tolerance)
}

// Half the supported edges and half the free ones: a quarter of the plate.
func twoEdges(t *testing.T, c checks.Case) {
	a, h := c.In(t, "side_a_mm"), c.In(t, "thickness_mm")
	m := plate(metalOf(t, c), a/2, a/2, h, [3][]float64{graded(h/a, 0.1), graded(h/a, 0.1), {0, 1}})
	p := newProblem(m.Mesh).holdEdge(m, 0, 0, hard).hold(m.on(0, 1), "x").hold(m.on(1, 1), "y")
	u := p.solve(t, m.pressed(2, 1, up(c.In(t, "pressure_MPa"))))
	c.Near(t, "centre_deflection_mm", move(u, near(m.Mesh, r3.Vec{X: a / 2, Y: a / 2})).Z, 0.005)
	c.Near(t, "free_edge_middle_deflection_mm", move(u, near(m.Mesh, r3.Vec{X: a / 2})).Z, 0.005)
}

// Clamped along the side x = 0. Point loads are spread over a square as wide as half the plate is thick.
func cantileverPlate(t *testing.T, c checks.Case) {
	a, h, load := c.In(t, "length_a_mm"), c.In(t, "thickness_mm"), c.In(t, "load_N")
	patch := h / 2
	ends := graded(patch/a, patch/a)
	m := plate(metalOf(t, c), a, a, h, [3][]float64{ends, solid.Lines([]float64{0, patch / a, .5 - patch/a/2, .5,
		.5 + patch/a/2, 1},
		[]solid.Want{{0, patch / a, patch / a}, {1 - patch/a, 1, patch / a}, {.5, .5, patch / a / 2}}, 1.5, .1), {0, 1}})
	solve := newProblem(m.Mesh).hold(m.on(0, 0), "xyz").solver(t)
	middle, corner := r3.Vec{X: a, Y: a / 2}, r3.Vec{X: a}
	at := func(u []float64, spot r3.Vec) float64 { return move(u, near(m.Mesh, spot)).Z }
	pressed := solve(m.pressed(2, 1, up(c.In(t, "pressure_MPa"))))
	c.Near(t, "uniform_mid_tip_deflection_mm", at(pressed, middle), 0.005)
	bending := c.In(t, "E_MPa") * h * h * h / (12 * (1 - math.Pow(c.In(t, "poisson"), 2)))
	c.NearTo(t, "uniform corner", at(pressed, corner), c.Want(t, "uniform_corner_coefficient")*c.In(t,
		"pressure_MPa")*math.Pow(a, 4)/bending, 0.005)
	pushed := solve(m.pressed(2, 1, pressedAt(corner, r3.Vec{X: a - patch, Y: patch}, load)))
	c.Near(t, "corner_load_corner_deflection_mm", at(pushed, corner), 0.005)
	both := m.pressed(2, 1, pressedAt(middle, r3.Vec{X: a - patch, Y: a/2 - patch/2}, load/2))
	for i, f := range m.pressed(2, 1, pressedAt(middle, r3.Vec{X: a - patch, Y: a/2 + patch/2}, load/2)) {
		both[i] += f
	}
	pushed = solve(both)
	c.Near(t, "mid_load_mid_deflection_mm", at(pushed, middle), 0.005)
}

// coreShare of a disc's radius lies between its middle and the corner of the square within.
const coreShare = 0.55

// disc is a quarter of a disc round the origin: a square with round sides in the middle and two pieces round it.
func disc(made beam.Material, radius, thickness float64, core, ring []float64) *mapped {
	z := func(x r3.Vec) float64 { return thickness * (x.Z - .5) }
	// inner is a place in the square at shares p and q: its far sides bulge half as much as the rim.
	inner := func(p, q float64) r3.Vec {
		bulge := func(s float64) float64 { return .5 + .5*math.Cos(s*math.Pi/4)/math.Cos(math.Pi/4) }
		flat := coreShare * radius * math.Sqrt(.5)
		return r3.Vec{X: flat * p * (1 + p*p*(bulge(q)-1)), Y: flat * q * (1 + q*q*(bulge(p)-1))}
	}
	rim := func(s float64) r3.Vec { // from the x axis to the diagonal
		sin, cos := math.Sincos(s * math.Pi / 4)
		return r3.Vec{X: radius * cos, Y: radius * sin}
	}
	m := newMapped(made, [3][]float64{core, core, {0, 1}}, func(x r3.Vec) r3.Vec {
		at := inner(x.X, x.Y)
		at.Z = z(x)
		return at
	})
	for i := range m.unit { // the square has no rim
		m.unit[i].X /= 2
	}
	right := func(x r3.Vec) r3.Vec {
		at := r3.Add(r3.Scale(1-x.X, inner(1, x.Y)), r3.Scale(x.X, rim(x.Y)))
		at.Z = z(x)
		return at
	}
	m.add([3][]float64{ring, core, {0, 1}}, right)
	// The other piece is the first mirrored at the diagonal; a mirrored brick would be folded over, so it is run through
	// from the diagonal back.
	back := make([]float64, len(core))
	for i := range core {
		back[i] = 1 - core[len(core)-1-i]
	}
	m.add([3][]float64{ring, back, {0, 1}}, func(x r3.Vec) r3.Vec {
		at := right(r3.Vec{X: x.X, Y: 1 - x.Y, Z: x.Z})
		at.X, at.Y = at.Y, at.X
		return at
	})
	m.join()
	return m
}

// discProblem holds a quarter of a disc at its planes of symmetry; rim are the nodes round it.
func discProblem(m *mapped) (p *problem, rim []int) {
	const flat = 1e-9
	p = newProblem(m.Mesh)
	for n, x := range m.Nodes {
		if math.Abs(x.X) < flat {
			p.hold([]int{n}, "x")
		}
		if math.Abs(x.Y) < flat {
			p.hold([]int{n}, "y")
		}
	}
	return p, m.on(0, 1)
}

func circularPressed(t *testing.T, c checks.Case) {
	r, h := c.In(t, "radius_mm"), c.In(t, "thickness_mm")
	m := disc(metalOf(t, c), r, h, even(10), graded(.05, h/8/r/(1-coreShare)))
	p, rim := discProblem(m)
	u := p.hold(rim, "xyz").solve(t, m.pressed(2, 1, up(c.In(t, "pressure_MPa"))))
	c.Near(t, "mid_deflection_mm", move(u, near(m.Mesh, r3.Vec{})).Z, 0.01)
}

// The load is spread over the first cell in the middle.
func circularPushed(t *testing.T, c checks.Case) {
	const cell = .05 // of the square's sides
	r, h := c.In(t, "radius_mm"), c.In(t, "thickness_mm")
	m := disc(metalOf(t, c), r, h, graded(cell, .1), graded(.1, h/2/r/(1-coreShare)))
	p, rim := discProblem(m)
	force := m.pressed(2, 1, func(x, _ r3.Vec) r3.Vec {
		if math.Max(x.X, x.Y) > cell*coreShare*r*math.Sqrt(.5) {
			return r3.Vec{}
		}
		return r3.Vec{Z: 1}
	})
	whole := 0.
	for _, f := range force {
		whole += f
	}
	for i := range force {
		force[i] *= c.In(t, "load_N") / 4 / whole
	}
	u := p.hold(rim, "z").solve(t, force)
	c.Near(t, "mid_deflection_mm", move(u, near(m.Mesh, r3.Vec{})).Z, 0.01)
}
