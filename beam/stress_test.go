package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// Internal forces, in the order of Member.Inside.
const (
	forceN = iota
	forceVy
	forceVz
	forceT
	forceMy
	forceMz
)

func TestStress(t *testing.T) {
	rect := mustSection(t, Rect{40, 20}, 0.3)
	bar := mustSection(t, Round{16}, 0.3)
	pipe := mustSection(t, Pipe{40, 3}, 0.3)
	box := mustSection(t, Tube{60, 40, 3}, 0.3)
	channel := mustSection(t, Channel{100, 50, 6, 6}, 0.3)
	modulus := math.Pi * 16 * 16 * 16 / 32
	square := checks.Find(t, "sec-rect-40x20")
	boxI := checks.Find(t, "sec-box-60x40x3").Want(t, "I_about_width_axis_mm4")
	const root3 = 1.7320508075688772
	for _, tt := range []struct {
		name, source string
		section      Section
		forces       [6]float64
		want, tol    float64
	}{
		{"pull", "N/A; any text", rect, [6]float64{forceN: 1000}, 1000. / 800, 1e-12},
		{"cantilever root", "F·L/W, W = b·h²/6; any text", rect, [6]float64{forceMy: -100 * 300},
			100 * 300 * 6 / (40. * 20 * 20), 1e-12},
		{"sideways", "F·L/W, W = h·b²/6; any text", rect, [6]float64{forceMz: 100 * 300}, 100 * 300 * 6 / (20. * 40 * 40),
			1e-12},
		{"both ways", "My/Wy + Mz/Wz in a corner; any text", rect, [6]float64{forceMy: 3e4, forceMz: 2e4}, 3e4*6/(40.*400) +
			2e4*6/(20.*1600), 1e-12},
		{"pull and bend", "N/A + M/W; any text", rect, [6]float64{forceN: -4000, forceMy: 3e4}, 4000./800 + 3e4*6/(40.*400),
			1e-12},
		{"box", "M·c/I, I of the check", box, [6]float64{forceMy: 1e5}, 1e5 * 20 / boxI, checks.Printed},
		{"shaft", "√3·T·r/J (von Mises in pure shear); any text", bar, [6]float64{forceT: 5e4},
			root3 * 5e4 * 16 / (math.Pi * 16 * 16 * 16), 1e-12},
		{"twisted rectangle", "√3·T/(α·a·b²), α of the check", rect, [6]float64{forceT: 5e4},
			root3 * 5e4 / (square.Want(t, "tau_max_alpha") * 40 * 400), checks.Printed},
		{"shaft bent and twisted", "√(σ²+3τ²), σ = 32M/πd³, τ = 16T/πd³; texts on machine elements", bar,
			[6]float64{forceT: 5e4, forceMy: 4e4},
			math.Sqrt(math.Pow(4e4/modulus, 2) + 3*math.Pow(5e4/(2*modulus), 2)), 1e-12},
		{"bent between two corners of the drawn circle", "the same, 0.12 % of the polygon", bar,
			[6]float64{forceMy: 4e4 * math.Cos(math.Pi/64), forceMz: 4e4 * math.Sin(math.Pi/64)}, 4e4 / modulus, 1.3e-3},
		{"pipe twisted and pulled", "√(σ²+3τ²), N/A and T·r/J; any text", pipe, [6]float64{forceN: 8000, forceT: 2e5},
			math.Sqrt(math.Pow(8000/(math.Pi/4*(1600-1156)), 2) +
				3*math.Pow(2e5*16*40/(math.Pi*(math.Pow(40, 4)-math.Pow(34, 4))), 2)), 1e-12},
		{"cut", "√3·3/2·V/A; any text", rect, [6]float64{forceVz: -900}, root3 * 1.5 * 900 / 800, 1e-12},
		{"pin in single shear", "√3·4/3·V/A; any text", bar, [6]float64{forceVy: 900}, root3 * 4 / 3 * 900 / (math.Pi * 64),
			1e-12},
		{"channel, force through the shear centre", "no torsion (Timoshenko & Goodier, art. 125): √3·V·Q/(I·t)", channel,
			[6]float64{forceVz: 1000, forceT: 1000 * channel.ShearY}, root3 * 1000 * (50*6*47 + 6*44*22) / (channel.Iy * 6),
			numericForce},
		{"channel, force through the centroid", "torsion V·ys on top", channel,
			[6]float64{forceVz: 1000}, root3 * 1000 * ((50*6*47+6*44*22)/(channel.Iy*6) - channel.ShearY/channel.Wt),
			numericForce},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			mpa, ok := tt.section.Stress(tt.forces)
			require.True(t, ok)
			checks.CloseTo(t, tt.source, mpa, tt.want, tt.tol)
		})
	}
}

func TestNoStressWithoutAnOutline(t *testing.T) {
	steel, _ := LookupMaterial("steel")
	for name, s := range map[string]Section{
		"plain":    mustSection(t, Plain{A: 1, Iy: 1, Iz: 1, J: 1}, 0.3),
		"built-up": mustSection(t, BuiltUp{steel, []Piece{{10, 10, 0, 0, steel}, {10, 10, 10, 0, steel}}}, 0.3),
		"empty":    {},
	} {
		mpa, ok := s.Stress([6]float64{1, 1, 1, 1, 1, 1})
		require.False(t, ok, name)
		require.Zero(t, mpa, name)
		require.Zero(t, s.Wt, name)
	}
}

// anyForces draws internal forces that stress a section of some ten mm by some ten MPa.
func anyForces(t *rapid.T, name string) [6]float64 {
	f := drawVec[[6]float64](t, name)
	for i := range f {
		f[i] *= []float64{1e4, 1e4, 1e4, 1e5, 1e5, 1e5}[i]
	}
	return f
}

// sections of every kind of outline, the askew ones too.
func stressedSections(t *testing.T) []Section {
	var list []Section
	for _, shape := range []Shape{
		Rect{40, 20}, Round{16}, Pipe{40, 3}, Tube{60, 40, 3}, I{100, 60, 8, 5}, Channel{100, 50, 6, 6},
		Angle{100, 65, 8}, Tee{80, 80, 8, 8}, inscribed(5, 20, 12),
	} {
		list = append(list, mustSection(t, shape, 0.3))
	}
	return list
}

func TestStressIsANorm(t *testing.T) {
	// Twice the forces make twice the stress, turned round they make the same, and two loads together
	// make no more than both stresses added.
	list := stressedSections(t)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(list).Draw(t, "section")
		a, b := anyForces(t, "a"), anyForces(t, "b")
		k := rapid.Float64Range(-5, 5).Draw(t, "k")
		var scaled, sum [6]float64
		for i := range a {
			scaled[i], sum[i] = k*a[i], a[i]+b[i]
		}
		ofA, _ := s.Stress(a)
		ofB, _ := s.Stress(b)
		ofScaled, _ := s.Stress(scaled)
		ofSum, _ := s.Stress(sum)
		if !(math.Abs(ofScaled-math.Abs(k)*ofA) <= 1e-12*(1+ofScaled)) {
			t.Fatalf("%g times the forces: %g, alone %g", k, ofScaled, ofA)
		}
		if !(ofSum <= (ofA+ofB)*(1+1e-12)) {
			t.Fatalf("together %g, alone %g and %g", ofSum, ofA, ofB)
		}
		// Where no force twists, more torsion is never a relief.
		a[forceVy], a[forceVz] = 0, 0
		before, _ := s.Stress(a)
		a[forceT] *= 1 + math.Abs(k)
		if after, _ := s.Stress(a); !(after >= before) {
			t.Fatalf("more torsion: %g, before %g", after, before)
		}
	})
}

func TestNormalStressAboutPrincipalAxes(t *testing.T) {
	// The same about the principal axes (Gere & Timoshenko, unsymmetrical bending), holes looked at too.
	list := stressedSections(t)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(list).Draw(t, "section")
		f := anyForces(t, "f")
		f[forceVy], f[forceVz], f[forceT] = 0, 0, 0
		got, ok := s.Stress(f)
		require.True(t, ok)
		imax, imin, angle := s.Principal()
		sin, cos := math.Sincos(angle)
		mu, mv := f[forceMy]*cos+f[forceMz]*sin, f[forceMz]*cos-f[forceMy]*sin
		want := 0.0
		for _, loop := range s.Outline {
			for _, p := range loop {
				u, v := p[0]*cos+p[1]*sin, p[1]*cos-p[0]*sin
				want = math.Max(want, math.Abs(f[forceN]/s.A+mu*v/imax-mv*u/imin))
			}
		}
		if !(math.Abs(got-want) <= 1e-9*(1+want)) {
			t.Fatalf("%g, about the principal axes %g", got, want)
		}
	})
}

func TestStressOfATurnedSection(t *testing.T) {
	// A quarter turn takes y to z and z to −y, of the shape and of the forces.
	shapes := []Polygon{
		{Outer: [][2]float64{{0, 0}, {100, 0}, {100, 8}, {8, 8}, {8, 65}, {0, 65}}},
		{Outer: drawn(60, 40).Outer, Holes: [][][2]float64{{{5, 5}, {55, 5}, {55, 35}, {5, 35}}}},
		drawn(40, 25),
		inscribed(5, 20, 12),
	}
	type pair struct{ straight, turned Section }
	pairs := []pair{{mustSection(t, Rect{40, 20}, 0.3), mustSection(t, Rect{20, 40}, 0.3)}}
	for _, p := range shapes {
		pairs = append(pairs, pair{mustSection(t, p, 0.3), mustSection(t, turned(p, math.Pi/2, 5, -7), 0.3)})
	}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(pairs).Draw(t, "section")
		f := anyForces(t, "f")
		want, _ := p.straight.Stress(f)
		got, _ := p.turned.Stress([6]float64{f[forceN], -f[forceVz], f[forceVy], f[forceT], -f[forceMz], f[forceMy]})
		// The two meshes differ: what is found numerically agrees as far as it is right.
		if !(math.Abs(got-want) <= numericForce*want) {
			t.Fatalf("turned %g, straight %g", got, want)
		}
	})
}

func TestStressIsABound(t *testing.T) {
	// In a round bar a force across and a moment meet nowhere: σ is zero where τ is largest. The bound
	// is above the largest of both anywhere: elementary theory, τ = 4/3·V/A·(1 − z²/r²), σ = M·z/I.
	s := mustSection(t, Round{20}, 0.3)
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1e4).Draw(t, "V")
		m := rapid.Float64Range(0, 1e5).Draw(t, "M")
		bound, _ := s.Stress([6]float64{forceVz: v, forceMy: m})
		for z := 0.; z <= 10; z += 0.5 {
			tau, sigma := 4./3*v/s.A*(1-z*z/100), m*z/s.Iy
			if real := math.Hypot(sigma, math.Sqrt(3)*tau); !(real <= bound*(1+1e-12)) {
				t.Fatalf("%g at %g, bound %g", real, z, bound)
			}
		}
	})
}

func BenchmarkStress(b *testing.B) {
	s := mustSection(b, Round{20}, 0.3)
	b.ReportAllocs()
	for b.Loop() {
		s.Stress([6]float64{1, 2, 3, 4, 5, 6})
	}
}
