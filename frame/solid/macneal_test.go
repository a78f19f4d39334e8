package solid_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/testdata/checks"
)

// spread is a force of 1 along a direction, spread evenly over the far end of a beam along x; twist a moment of 1 about
// x, by a traction that grows from the axis as that of rigid turning.
func spread(m *mapped, direction r3.Vec, area float64) []float64 {
	return m.pressed(0, 1, func(_, _ r3.Vec) r3.Vec { return r3.Scale(1/area, direction) })
}

func twist(m *mapped, polar float64) []float64 {
	return m.pressed(0, 1, func(x, _ r3.Vec) r3.Vec { return r3.Scale(1/polar, r3.Cross(axes[0], x)) })
}

// straightBeam is MacNeal and Harder's cantilever with six pieces that are boxes, trapezoids or parallelograms, each
// cut into so many bricks along, across and through. A single distorted brick a piece is too stiff by a tenth or so.
func straightBeam(t *testing.T, c checks.Case) {
	length, depth, thickness := c.In(t, "length"), c.In(t, "depth_in_plane"), c.In(t, "thickness")
	const pieces, lean = 6, .5 // the slanting lines stand at 45 degrees: half the depth to and fro
	for _, shape := range []struct {
		name string
		lean func(line int) float64 // at the lines between pieces, in half depths
	}{
		{"boxes", func(int) float64 { return 0 }},
		{"trapezoids", func(line int) float64 { return float64(1 - 2*(line%2)) }},
		{"parallelograms", func(int) float64 { return 1 }},
	} {
		for _, mesh := range []struct {
			name string
			cuts [3]int
			near func(t testing.TB, key string, got float64)
		}{
			{"one brick a piece", [3]int{1, 1, 1}, func(t testing.TB, key string, got float64) {
				checks.CloseTo(t, key, got,
					c.Want(t, key), 0.16)
			}},
			{"fine", [3]int{8, 4, 4}, func(t testing.TB, key string, got float64) { c.Near(t, key, got, 0.02) }},
		} {
			t.Run(shape.name+", "+mesh.name, func(t *testing.T) {
				m := newMapped(beam.Material{E: c.In(t, "E"), Nu: c.In(t, "poisson")},
					[3][]float64{even(pieces * mesh.cuts[0]), even(mesh.cuts[1]), even(mesh.cuts[2])}, func(x r3.Vec) r3.Vec {
						at := x.X * pieces
						line := math.Min(math.Floor(at), pieces-1)
						leans := func(i float64) float64 {
							if i == 0 || i == pieces {
								return 0
							}
							return shape.lean(int(i)) * lean * depth
						}
						lean := leans(line) + (at-line)*(leans(line+1)-leans(line))
						return r3.Vec{X: length*x.X + lean*(2*x.Y-1), Y: depth * (x.Y - .5), Z: thickness * (x.Z - .5)}
					})
				solve := newProblem(m.Mesh).hold(m.on(0, 0), "xyz").solver(t)
				area := depth * thickness
				mean := func(direction r3.Vec) float64 {
					f := spread(m, direction, area)
					return dot(f, solve(f))
				}
				mesh.near(t, "extension", mean(axes[0]))
				mesh.near(t, "in_plane_shear", mean(axes[1]))
				mesh.near(t, "out_of_plane_shear", mean(axes[2]))
				f := twist(m, area*(depth*depth+thickness*thickness)/12)
				mesh.near(t, "twist_rad", dot(f, solve(f)))
			})
		}
	}
}

// twistedBeam turns by a right angle from end to end: width along y where it is held, along z at the tip.
func twistedBeam(t *testing.T, c checks.Case) {
	length, width, thickness := c.In(t, "length"), c.In(t, "width"), c.In(t, "thickness")
	turn := c.In(t, "twist_deg") * math.Pi / 180
	m := newMapped(beam.Material{E: c.In(t, "E"), Nu: c.In(t, "poisson")}, [3][]float64{even(24), even(3), even(2)},
		func(x r3.Vec) r3.Vec {
			sin, cos := math.Sincos(turn * x.X)
			y, z := width*(x.Y-.5), thickness*(x.Z-.5)
			return r3.Vec{X: length * x.X, Y: y*cos - z*sin, Z: y*sin + z*cos}
		})
	solve := newProblem(m.Mesh).hold(m.on(0, 0), "xyz").solver(t)
	load := c.In(t, "load")
	moves := func(direction r3.Vec) float64 {
		f := spread(m, direction, width*thickness)
		return load * dot(f, solve(f))
	}
	// The load along y finds the root on edge, where its moment is largest, and moves the tip less.
	c.Near(t, "larger_deflection", moves(axes[2]), 0.02)
	c.Near(t, "smaller_deflection", moves(axes[1]), 0.02)
}
