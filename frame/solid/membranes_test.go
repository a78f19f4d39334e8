package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/solid"
	"tiploop/testdata/checks"
)

// quad is the place in a four-sided piece of the plane, corners anticlockwise.
func quad(c [4]r3.Vec, x r3.Vec) (at r3.Vec) {
	for i, share := range [4]float64{(1 - x.X) * (1 - x.Y), x.X * (1 - x.Y), x.X * x.Y, (1 - x.X) * x.Y} {
		at = r3.Add(at, r3.Scale(share, c[i]))
	}
	return at
}

// corners are the case's four corners of that name, in the plane.
func corners(t *testing.T, c checks.Case, key string) (list [4]r3.Vec) {
	t.Helper()
	places := c.Places(t, key)
	require.Len(t, places, 4)
	for i, p := range places {
		list[i] = r3.Vec{X: p[0], Y: p[1]}
	}
	return list
}

// membranePatch is five bricks: a sheet that may draw in through its thickness.
func membranePatch(t *testing.T, c checks.Case) {
	outer, inner, h := corners(t, c, "corners"), corners(t, c, "inner_nodes"), c.In(t, "thickness")
	m := &mapped{Mesh: &solid.Mesh{Metals: []beam.Material{{E: c.In(t, "E"), Nu: c.In(t, "poisson")}}}}
	single := [3][]float64{{0, 1}, {0, 1}, {0, 1}}
	add := func(corners [4]r3.Vec) {
		m.add(single, func(x r3.Vec) r3.Vec { return r3.Add(quad(corners, x), r3.Vec{Z: h * x.Z}) })
	}
	add(inner)
	for i := range 4 {
		j := (i + 1) % 4
		add([4]r3.Vec{outer[i], outer[j], inner[j], inner[i]})
	}
	m.join()
	p := newProblem(m.Mesh)
	field := func(x r3.Vec) r3.Vec { return r3.Scale(1e-3, r3.Vec{X: x.X + x.Y/2, Y: x.Y + x.X/2}) }
	for n, x := range m.Nodes {
		if x.X == 0 || x.X == outer[2].X || x.Y == 0 || x.Y == outer[2].Y {
			v := field(x)
			p.known[3*n], p.known[3*n+1] = v.X, v.Y
		}
		if x.Z == 0 {
			p.known[3*n+2] = 0
		}
	}
	u := p.solve(t, make([]float64, 3*len(m.Nodes)))
	for n, x := range m.Nodes {
		v, want := move(u, n), field(x)
		require.InDelta(t, want.X, v.X, 1e-15)
		require.InDelta(t, want.Y, v.Y, 1e-15)
	}
	for e := range m.Elements {
		for _, xi := range inside(solid.Brick) {
			s := m.Stress(e, xi, u)
			c.Near(t, "sigma_x", s[0], checks.Printed)
			c.Near(t, "sigma_y", s[1], checks.Printed)
			c.Near(t, "tau_xy", s[3], 1e-9)
		}
	}
}

// cook is half the sheet's thickness, its middle plane at z = 0, free to draw in even where it is held.
func cook(t *testing.T, c checks.Case) {
	outer, h := corners(t, c, "corners"), c.In(t, "thickness")/2
	m := newMapped(beam.Material{E: c.In(t, "E"), Nu: c.In(t, "poisson")}, [3][]float64{graded(.02, .1), towardsEdges(.02),
		{0, 1}},
		func(x r3.Vec) r3.Vec { return r3.Add(quad(outer, x), r3.Vec{Z: h * x.Z}) })
	p := newProblem(m.Mesh).hold(m.on(0, 0), "xy").hold(m.on(2, 0), "z")
	edge := outer[2].Y - outer[1].Y
	u := p.solve(t, m.pressed(0, 1, func(_, _ r3.Vec) r3.Vec { return r3.Vec{Y: c.In(t, "total_load") / edge / (2 * h)} }))
	middle := r3.Scale(.5, r3.Add(outer[1], outer[2]))
	c.Near(t, "deflection_at_middle_of_right_edge", move(u, near(m.Mesh, middle)).Y, 0.005)
}

// ellipse is NAFEMS LE1 in m and MPa, half its thickness.
func ellipse(t *testing.T, c checks.Case) {
	in, out := c.Ins(t, "inner_half_axes_m"), c.Ins(t, "outer_half_axes_m")
	h := c.In(t, "thickness_m") / 2
	// Anticlockwise seen from above: outwards first, then round from the x axis to the y axis.
	m := newMapped(metalOf(t, c), [3][]float64{graded(.05, .1), graded(.05, .1), {0, 1}}, func(x r3.Vec) r3.Vec {
		sin, cos := math.Sincos(x.Y * math.Pi / 2)
		a, b := in[0]+x.X*(out[0]-in[0]), in[1]+x.X*(out[1]-in[1])
		return r3.Vec{X: a * cos, Y: b * sin, Z: h * x.Z}
	})
	p := newProblem(m.Mesh).hold(m.on(1, 1), "x").hold(m.on(1, 0), "y").hold(m.on(2, 0), "z")
	u := p.solve(t, m.pressed(0, 1, func(_, normal r3.Vec) r3.Vec { return r3.Scale(c.In(t, "pressure_MPa"), normal) }))
	s := meanStress(m.Mesh, u, r3.Vec{X: in[0]})
	c.Near(t, "sigma_y_MPa", s[1], 0.005)
}
