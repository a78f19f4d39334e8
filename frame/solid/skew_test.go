package solid_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/solid"
	"tiploop/testdata/checks"
)

// quarterRhombus is the deflection and the stress at the middle of the lower face of a rhombic plate held on all sides
// against deflection and movement along them, pressed upwards evenly. Both diagonals are planes of symmetry, so a
// quarter is a gusset with its legs along them and its slope held. Moments grow without limit towards an obtuse corner,
// about as r^(-0.8) where it is 150 degrees: cells there are 0.0003 of the leg or the deflection lacks percents.
func quarterRhombus(t *testing.T, made beam.Material, side, thickness, angle, pressure float64) (deflection float64,
	stress [6]float64) {
	const obtuse, acute, growth, largest = .0003, .03, 1.6, .04
	sin, cos := math.Sincos(angle / 2)
	legs := [2]r3.Vec{{X: side * cos}, {Y: side * sin}}
	made.Density = pressure / thickness // so that its weight is the pressure
	m := &solid.Mesh{Metals: []beam.Material{made}}
	m.AddGusset(0, r3.Vec{}, legs, r3.Vec{Z: thickness},
		solid.Lines([]float64{0, 1}, []solid.Want{{0, 0, obtuse}, {1, 1, acute}}, growth, largest), []float64{0, 1})
	p := newProblem(m)
	const slope = 1 - 1e-9
	for n, x := range m.Nodes {
		node := []int{n}
		if x.X == 0 {
			p.hold(node, "x")
		}
		if x.Y == 0 {
			p.hold(node, "y")
		}
		if x.X/legs[0].X+x.Y/legs[1].Y < slope {
			continue
		}
		if x.X == 0 || x.Y == 0 { // a corner, on two sides
			p.hold(node, "xyz")
		} else {
			p.along(node, r3.Sub(legs[1], legs[0])).hold(node, "xz")
		}
	}
	u := p.solve(t, m.Weight(axes[2]))
	return move(u, near(m, r3.Vec{Z: thickness / 2})).Z, meanStress(m, u, r3.Vec{})
}

func morley(t *testing.T, c checks.Case) {
	w, _ := quarterRhombus(t, metalOf(t, c), c.In(t, "side_mm"), c.In(t, "thickness_mm"),
		c.In(t, "corner_angle_deg")*math.Pi/180, c.In(t, "pressure_MPa"))
	c.Near(t, "centre_deflection_mm", w, 0.01)
}

// obtuse is NAFEMS LE6 in mm and MPa.
func obtuse(t *testing.T, c checks.Case) {
	const mm, mpa = 1e3, 1e-6
	made := beam.Material{E: c.In(t, "E_Pa") * mpa, Nu: c.In(t, "poisson")}
	_, s := quarterRhombus(t, made, c.In(t, "side_m")*mm, c.In(t, "thickness_m")*mm,
		math.Pi-c.In(t, "obtuse_angle_deg")*math.Pi/180, -c.In(t, "pressure_Pa")*mpa)
	largest := (s[0]+s[1])/2 + math.Hypot((s[0]-s[1])/2, s[3])
	c.Near(t, "principal_stress_MPa", largest, 0.02)
}

// meanStress is the mean of the stresses that the elements at a place have there.
func meanStress(m *solid.Mesh, u []float64, at r3.Vec) (mean [6]float64) {
	count := 0.
	for e := range m.Elements {
		if xi, inside := m.Local(e, at); inside {
			count++
			for i, v := range m.Stress(e, xi, u) {
				mean[i] += v
			}
		}
	}
	for i := range mean {
		mean[i] /= count
	}
	return mean
}

// razzaque has its sides along x held, the other two free.
func razzaque(t *testing.T, c checks.Case) {
	const pressure = 1.
	a, h, made := c.In(t, "side_mm"), c.In(t, "thickness_mm"), metalOf(t, c)
	sin, cos := math.Sincos(c.In(t, "corner_angle_deg") * math.Pi / 180)
	skew := r3.Vec{X: cos, Y: sin}
	lines := towardsEdges(.01)
	m := newMapped(made, [3][]float64{lines, lines, {0, 1}}, func(x r3.Vec) r3.Vec {
		return r3.Add(r3.Vec{X: a * x.X, Z: h * (x.Z - .5)}, r3.Scale(a*x.Y, skew))
	})
	p := newProblem(m.Mesh).hold(m.on(1, 0), "xz").hold(m.on(1, 1), "xz").hold([]int{near(m.Mesh, r3.Vec{})}, "y")
	u := p.solve(t, m.pressed(2, 1, up(pressure)))
	middle := r3.Scale(a/2, r3.Add(axes[0], skew))
	bending := made.E * h * h * h / (12 * (1 - made.Nu*made.Nu))
	c.Near(t, "deflection_coefficient", move(u, near(m.Mesh, middle)).Z*bending/(pressure*math.Pow(a, 4)), 0.01)
	s := meanStress(m.Mesh, u, r3.Add(middle, r3.Vec{Z: -h / 2}))
	c.Near(t, "moment_coefficient_along_span", -s[1]*h*h/6/(pressure*a*a), 0.01)
}

// towardsEdges are lines from 0 to 1 that are close at both ends and meet the middle.
func towardsEdges(first float64) []float64 {
	return solid.Lines([]float64{0, .5, 1}, []solid.Want{{0, 0, first}, {1, 1, first}}, 1.5, .04)
}
