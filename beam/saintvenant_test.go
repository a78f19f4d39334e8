package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// turned returns the polygon turned by an angle about the origin and moved.
func turned(p Polygon, angle, dy, dz float64) Polygon {
	sin, cos := math.Sincos(angle)
	turn := func(loop [][2]float64) (out [][2]float64) {
		for _, c := range loop {
			out = append(out, [2]float64{c[0]*cos - c[1]*sin + dy, c[0]*sin + c[1]*cos + dz})
		}
		return out
	}
	q := Polygon{Outer: turn(p.Outer)}
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, turn(h))
	}
	return q
}

func TestTurnedSectionIsTheSameSection(t *testing.T) {
	angle := Polygon{Outer: [][2]float64{{0, 0}, {100, 0}, {100, 8}, {8, 8}, {8, 65}, {0, 65}}}
	want := mustSection(t, angle, 0.3)
	imax, imin, axis := want.Principal()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "angle")
		got := mustSection(t, turned(angle, a, 1e4, -3e3), 0.3)
		gotMax, gotMin, gotAxis := got.Principal()
		diff := math.Remainder(gotAxis-axis-a, math.Pi)
		sin, cos := math.Sincos(a)
		for _, c := range []struct {
			what           string
			got, want, tol float64
		}{
			{"A", got.A, want.A, 1e-9 * want.A},
			{"Imax", gotMax, imax, 1e-8 * imax},
			{"Imin", gotMin, imin, 1e-8 * imax},
			{"axis", diff, 0, 1e-8},
			{"J", got.J, want.J, 3e-4 * want.J},
			{"shear centre y", got.ShearY, want.ShearY*cos - want.ShearZ*sin, 0.02},
			{"shear centre z", got.ShearZ, want.ShearY*sin + want.ShearZ*cos, 0.02},
		} {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Fatalf("%s is %g, want %g", c.what, c.got, c.want)
			}
		}
	})
}

func TestSectionScales(t *testing.T) {
	small, large := mustSection(t, Tube{6e-3, 4e-3, 3e-4}, 0.3), mustSection(t, Tube{6e4, 4e4, 3e3}, 0.3)
	const s = 1e7
	for _, c := range []struct {
		what         string
		small, large float64
	}{
		{"A", small.A * s * s, large.A}, {"Iy", small.Iy * s * s * s * s, large.Iy},
		{"J", small.J * s * s * s * s, large.J}, {"Ay", small.Ay * s * s, large.Ay},
	} {
		checks.CloseTo(t, c.what, c.small, c.large, 1e-4)
	}
}

// solveAt solves a polygon on a mesh of the given coarseness.
func solveAt(t *testing.T, p Polygon, coarse, nu float64) elasticSection {
	t.Helper()
	loops, err := CleanOutline(p.Outer, p.Holes)
	require.NoError(t, err)
	a, sy, sz, _, _, _ := areaMoments(loops)
	loops = shifted(loops, point{sy / a, sz / a}, 1/math.Sqrt(a))
	m, err := triangulate(loops)
	require.NoError(t, err)
	m.refine(nil, coarse)
	el, err := solveSection(m, []stiffnessRatio{{1, 1}}, nu)
	require.NoError(t, err)
	return el
}

func TestBoundsCloseInWithTheFourthPower(t *testing.T) {
	// Quadratic triangles on a smooth problem: energy errors fall with size⁴. For the equilateral
	// triangle J = √3·a⁴/80 (Timoshenko & Goodier, art. 104; from memory); φ is a cubic there.
	p := Polygon{Outer: [][2]float64{{0, 0}, {1, 0}, {0.5, math.Sqrt(3) / 2}}}
	area := math.Sqrt(3) / 4
	exact := math.Sqrt(3) / 80 / (area * area)
	coarse, fine := solveAt(t, p, 0.2, 0.3), solveAt(t, p, 0.05, 0.3)
	for _, el := range []elasticSection{coarse, fine} {
		require.LessOrEqual(t, el.jLow, exact*(1+1e-12))
		require.GreaterOrEqual(t, el.jHigh, exact*(1-1e-12))
	}
	order := math.Log((exact-coarse.jLow)/(exact-fine.jLow)) / math.Log(4)
	if !(order > 3.5) {
		t.Errorf("order of convergence %g, want 4", order)
	}
}

func TestShearAreaOfTheTwoWaysAgreesWithoutPoisson(t *testing.T) {
	// At ν = 0 Cowper's shear area is that of equal shear energy. For a solid square 5/6 (from memory,
	// any text), and for a thin-walled tube loaded along its webs the energy integral of the shear
	// flow q: 1/As = ∮q²/t ds for a unit force.
	s := mustSection(t, Tube{60, 40, 0.2}, 0)
	b, h, wall := 59.8, 39.8, 0.2
	iy := wall * (h*h*h/6 + b*h*h/2)
	// From the middle of the flange q = t·(h/2)·s/I up to the corner, then along the web it grows by t·(h²/8 − z²/2)/I.
	flange, web := 0.0, 0.0
	const n = 2000
	for i := range n {
		x := (float64(i) + 0.5) / n
		q := wall * h / 2 * (b / 2 * x) / iy
		flange += q * q * b / 2 / n
		z := h / 2 * x
		q = wall * (h/2*b/2 + h*h/8 - z*z/2) / iy
		web += q * q * h / 2 / n
	}
	want := wall / (4 * (flange + web))
	checks.CloseTo(t, "shear area along z", s.Az, want, 5e-3) // middle-line theory
}

func TestPoissonStaysASmallPartOfShear(t *testing.T) {
	// Cowper's formula taken literally gives this tee a negative shear area along its width: the
	// rows are shapes that do, found by trial; the bound is maxPoissonEffect.
	for _, shape := range []Shape{Tee{13.5, 126.6, 1.4, 3.2}, Angle{136, 7.6, 1.9}, I{79, 13, 4.2, 3.7},
		Tee{200, 10, 1.6, 1.8}, drawn(400, 2)} {
		without, with := mustSection(t, shape, 0), mustSection(t, shape, 0.45)
		for _, pair := range [][2]float64{{without.Ay, with.Ay}, {without.Az, with.Az}} {
			require.Greater(t, pair[1], pair[0]/(1+maxPoissonEffect)*(1-1e-9))
			require.Less(t, pair[1], pair[0]/(1-maxPoissonEffect)*(1+1e-9))
		}
	}
}

func TestBoundsOfJHoldForRandomOutlines(t *testing.T) {
	// Star-shaped outlines with a star-shaped hole: any such outline is valid, however spiky.
	rapid.Check(t, func(t *rapid.T) {
		star := func(name string, low, high float64) (loop [][2]float64) {
			n := rapid.IntRange(3, 14).Draw(t, name)
			for i := range n {
				r := rapid.Float64Range(low, high).Draw(t, name+" radius")
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				loop = append(loop, [2]float64{r * cos, r * sin})
			}
			return loop
		}
		p := Polygon{Outer: star("outer", 20, 60)}
		if rapid.Bool().Draw(t, "hole") {
			p.Holes = append(p.Holes, star("hole", 1, 9)) // the outline stays 10 away from the middle
		}
		nu := rapid.Float64Range(0, 0.5).Draw(t, "nu")
		s, err := p.Section(nu)
		require.NoError(t, err)
		polar := s.Iy + s.Iz
		if !(s.J > 0 && s.J <= polar) { // Saint-Venant: J is at most the polar moment
			t.Fatalf("J %g, polar moment %g", s.J, polar)
		}
		solid := s.A * s.A * s.A * s.A / (4 * math.Pi * math.Pi * polar)
		if len(p.Holes) == 0 && !(s.J >= 0.05*solid) {
			t.Fatalf("J %g is far below Saint-Venant's estimate A⁴/4π²Ip = %g", s.J, solid)
		}
		if !(s.Ay > 0 && s.Az > 0 && s.Ay < 1.2*s.A && s.Az < 1.2*s.A) {
			t.Fatalf("shear areas %g, %g of %g", s.Ay, s.Az, s.A)
		}
	})
}

func BenchmarkSection(b *testing.B) {
	for name, shape := range map[string]Shape{
		"tube": Tube{60, 40, 3}, "I": I{100, 60, 8, 5}, "angle": Angle{100, 65, 8}, "round of 128 sides": inscribed(128, 10,
			10),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				mustSection(b, shape, 0.3)
			}
		})
	}
}

// Cowper's shear area of a rectangle is 10(1+ν)/(12+11ν) of its area whichever way the force runs and however long its
// sides (Cowper, J. Appl. Mech. 33 (1966) 335; from memory), so that a rectangle drawn askew has it too, with Iyz in
// every term.
func TestShearAreasOfARectangleDrawnAskew(t *testing.T) {
	r := Polygon{Outer: [][2]float64{{0, 0}, {60, 0}, {60, 30}, {0, 30}}}
	for _, nu := range []float64{0, 0.3, 0.45} {
		for _, angle := range []float64{0, 0.4, -0.9} {
			s := mustSection(t, turned(r, angle, 5, -7), nu)
			want := 10 * (1 + nu) / (12 + 11*nu) * 60 * 30
			checks.CloseTo(t, "Ay", s.Ay, want, 2e-3)
			checks.CloseTo(t, "Az", s.Az, want, 2e-3)
		}
	}
}
