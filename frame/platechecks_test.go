package frame_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// Stretches of a plate's strip: what is left of the spacing of nodes, 1/stretches², is then below 0.05 % under
// pressure.
const stretches = 80

// The published plates are thin (Kirchhoff); a strip also gives way in transverse shear, which adds 0.2 to 0.7 % at a
// thickness of 1/50 of the side, and which the thick cases contain. Under a point load the deflection has a cusp that
// eight degrees across draw too blunt: the strip is too stiff by 1 to 2 %.
func TestPublishedPlates(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"plate-ss-uniform-1":           func(t *testing.T, c checks.Case) { middleOf(t, c, hard, 0.003) },
		"plate-ss-uniform-2":           func(t *testing.T, c checks.Case) { middleOf(t, c, hard, 0.0025) },
		"plate-ss-central-1":           func(t *testing.T, c checks.Case) { middleOf(t, c, hard, 0.0095) },
		"plate-ss-central-2":           func(t *testing.T, c checks.Case) { middleOf(t, c, hard, 0.006) },
		"plate-clamped-uniform-1":      func(t *testing.T, c checks.Case) { middleOf(t, c, clamp, 0.0085) },
		"plate-clamped-uniform-2":      func(t *testing.T, c checks.Case) { middleOf(t, c, clamp, 0.0065) },
		"plate-clamped-central-1":      func(t *testing.T, c checks.Case) { middleOf(t, c, clamp, 0.018) },
		"plate-thick-ss-0.1":           func(t *testing.T, c checks.Case) { middleOf(t, c, hard, 0.0008) },
		"plate-thick-clamped-0.1":      func(t *testing.T, c checks.Case) { middleOf(t, c, clamp, 0.0003) },
		"plate-two-supported-two-free": twoEdges,
		"plate-cantilever-1":           cantileverPlate,
	})
}

func plateMaterial(t *testing.T, c checks.Case) beam.Material {
	return beam.Material{E: c.In(t, "E_MPa"), Nu: c.In(t, "poisson")}
}

// middle is the deflection in the middle of a plate held all round, under the case's load, times thinner³: a plate
// thinner by that factor has the same coefficient by thin plate theory.
func middle(t *testing.T, c checks.Case, length, width, thinner float64, stretches int, how support) float64 {
	s := newSheet(length, width, c.In(t, "thickness_mm")*thinner, plateMaterial(t, c), stretches)
	for _, e := range []edge{start, end, left, right} {
		s.support(e, how)
	}
	s.inPlane()
	load := frame.Load{}
	if _, ok := c.Inputs["load_N"]; ok {
		load = s.pushed(length/2, 0, c.In(t, "load_N"))
	} else {
		load = s.pressed(c.In(t, "pressure_MPa"))
	}
	return solve(t, &s.Frame, load).Value(s.rises(length/2, 0)) * thinner * thinner * thinner
}

// sides are the longer and the shorter side: a strip lies along the longer.
func sides(t *testing.T, c checks.Case) (long, short float64) {
	short = c.In(t, "side_a_mm")
	if _, ok := c.Inputs["side_b_mm"]; !ok {
		return short, short
	}
	return c.In(t, "side_b_mm"), short
}

func middleOf(t *testing.T, c checks.Case, how support, tolerance float64) {
	long, short := sides(t, c)
	c.Near(t, "mid_deflection_mm", middle(t, c, long, short, 1, stretches, how), tolerance)
}

// opposite edges held, with the middles of the sheet and of a free edge.
var opposite = []struct {
	held   [2]edge
	atEdge r3.Vec // shares of length and width
}{
	{held: [2]edge{start, end}, atEdge: r3.Vec{X: 0.5, Y: 0.5}},
	{held: [2]edge{left, right}, atEdge: r3.Vec{}},
}

func twoEdges(t *testing.T, c checks.Case) {
	a := c.In(t, "side_a_mm")
	for _, o := range opposite {
		s := newSheet(a, a, c.In(t, "thickness_mm"), plateMaterial(t, c), stretches)
		s.support(o.held[0], hard)
		s.support(o.held[1], hard)
		s.inPlane()
		answer := solve(t, &s.Frame, s.pressed(c.In(t, "pressure_MPa")))
		c.Near(t, "centre_deflection_mm", answer.Value(s.rises(a/2, 0)), 0.0015)
		c.Near(t, "free_edge_middle_deflection_mm", answer.Value(s.rises(o.atEdge.X*a, o.atEdge.Y*a)), 0.0045)
	}
}

func cantileverPlate(t *testing.T, c checks.Case) {
	cantilevers(t, c, 1, func(key string, got, want float64) {
		c.NearTo(t, key, got, want, map[string]float64{"corner load": 0.005, "middle load": 0.001}[key]+0.0015)
	})
}

// cantilevers clamps a square along its start, then along its left edge, and gives the deflections at the middle of the
// free edge and at a corner of it.
func cantilevers(t *testing.T, c checks.Case, thinner float64, near func(key string, got, want float64)) {
	a, p, q := c.In(t, "length_a_mm"), c.In(t, "load_N"), c.In(t, "pressure_MPa")
	h := c.In(t, "thickness_mm")
	bending := c.In(t, "E_MPa") * h * h * h / (12 * (1 - math.Pow(c.In(t, "poisson"), 2)))
	for _, row := range []struct {
		held           edge
		middle, corner [2]float64
	}{
		{start, [2]float64{a, 0}, [2]float64{a, a / 2}},
		{left, [2]float64{a / 2, -a / 2}, [2]float64{a, -a / 2}},
	} {
		s := newSheet(a, a, h*thinner, plateMaterial(t, c), stretches)
		s.support(row.held, clamp)
		s.inPlane()
		at := func(load frame.Load, spot [2]float64) float64 {
			return solve(t, &s.Frame, load).Value(s.rises(spot[0], spot[1])) * thinner * thinner * thinner
		}
		pressed := s.pressed(q)
		near("pressure, middle", at(pressed, row.middle), c.Want(t, "uniform_mid_tip_deflection_mm"))
		near("pressure, corner", at(pressed, row.corner), c.Want(t, "uniform_corner_coefficient")*q*math.Pow(a, 4)/bending)
		near(
			"corner load",
			at(s.pushed(row.corner[0], row.corner[1], p), row.corner),
			c.Want(t, "corner_load_corner_deflection_mm"),
		)
		near(
			"middle load",
			at(s.pushed(row.middle[0], row.middle[1], p), row.middle),
			c.Want(t, "mid_load_mid_deflection_mm"),
		)
	}
}

// At a tenth of the thickness shear is gone but for a hundredth, and what is left is the spacing of nodes, a few times
// 1/80². It also shows that thin strips do not lock.
func TestThinPlates(t *testing.T) {
	const thinner = 0.1
	for id, row := range map[string]struct {
		how       support
		tolerance float64
	}{
		"plate-ss-uniform-1":      {hard, 8e-4},
		"plate-ss-uniform-2":      {hard, 7e-4},
		"plate-clamped-uniform-1": {clamp, 8e-4},
		"plate-clamped-uniform-2": {clamp, 7e-4},
	} {
		c := checks.Find(t, id)
		long, short := sides(t, c)
		checks.CloseTo(
			t,
			id,
			middle(t, c, long, short, thinner, stretches, row.how),
			c.Want(t, "mid_deflection_mm"),
			row.tolerance,
		)
		checks.CloseTo(
			t,
			id+" crosswise",
			middle(t, c, short, long, thinner, stretches, row.how),
			c.Want(t, "mid_deflection_mm"),
			row.tolerance,
		)
	}
	c := checks.Find(t, "plate-cantilever-1")
	cantilevers(
		t,
		c,
		thinner,
		func(key string, got, want float64) { checks.CloseTo(t, key, got, want, 1.5e-3) },
	) // cusps at the loads
}

// Across a plate twice as wide as long, eight degrees draw the cusp under a point load too blunt. It is then too stiff.
func TestDegreeAcrossLimitsPointLoads(t *testing.T) {
	c := checks.Find(t, "plate-ss-central-2")
	long, short := sides(t, c)
	off := middle(t, c, short, long, 1, stretches, hard)/c.Want(t, "mid_deflection_mm") - 1
	if !(off < 0 && off > -0.038) {
		t.Errorf("off by %.2f %%, want up to 3.8 %% too stiff", 100*off)
	}
}

// navier is the middle deflection of a plate with all edges held down, under pressure, with transverse shear: w, a, c =
// sums of W·sin·sin, A·cos·sin, C·sin·cos, for each pair of harmonics three equations (Navier's method; Reddy, Theory
// and Analysis of Elastic Plates and Shells, 2nd ed., ch. 10; from memory).
func navier(a, b, bending, nu, shear, pressure float64) (w float64) {
	twisting := (1 - nu) / 2 * bending
	const harmonics = 99 // the terms fall as 1/m⁵
	for m := 1; m <= harmonics; m += 2 {
		for n := 1; n <= harmonics; n += 2 {
			x, y := float64(m)*math.Pi/a, float64(n)*math.Pi/b
			k := mat.NewDense(3, 3, []float64{
				shear * (x*x + y*y), shear * x, shear * y,
				shear * x, bending*x*x + twisting*y*y + shear, (bending*nu + twisting) * x * y,
				shear * y, (bending*nu + twisting) * x * y, bending*y*y + twisting*x*x + shear,
			})
			var amplitude mat.VecDense
			q := 16 * pressure / (math.Pi * math.Pi * float64(m*n))
			if err := amplitude.SolveVec(k, mat.NewVecDense(3, []float64{q, 0, 0})); err != nil {
				panic(err)
			}
			w += amplitude.AtVec(0) * math.Sin(float64(m)*math.Pi/2) * math.Sin(float64(n)*math.Pi/2)
		}
	}
	return w
}

// Thick or thin, nothing but spacing, which is extrapolated, and degree stand between a strip and Navier's solution.
// Without its shear that gives the published values of thin plates.
func TestStripsAgreeWithNavier(t *testing.T) {
	for _, id := range []string{"plate-ss-uniform-1", "plate-ss-uniform-2", "plate-thick-ss-0.1"} {
		c := checks.Find(t, id)
		long, short := sides(t, c)
		h, m, q := c.In(t, "thickness_mm"), plateMaterial(t, c), c.In(t, "pressure_MPa")
		bending, shear := m.E*h*h*h/(12*(1-m.Nu*m.Nu)), 5./6*m.G()*h
		published := shear
		if id != "plate-thick-ss-0.1" {
			published *= 1e6
		}
		checks.CloseTo(
			t,
			id+" as published",
			navier(long, short, bending, m.Nu, published, q),
			c.Want(t, "mid_deflection_mm"),
			1e-5,
		)
		coarse, fine := middle(t, c, long, short, 1, 160, hard), middle(t, c, long, short, 1, 320, hard)
		checks.CloseTo(t, id, (4*fine-coarse)/3, navier(long, short, bending, m.Nu, shear, q), 2e-5)
	}
}
