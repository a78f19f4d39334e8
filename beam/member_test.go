package beam

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// anyMember draws a member without symmetry: Iyz, shear centre offset and shear deflection.
func anyMember(t *rapid.T) Member {
	log := func(name string, low, high float64) float64 {
		return math.Pow(10, rapid.Float64Range(low, high).Draw(t, name))
	}
	b, h := log("b", 0, 2), log("h", 0, 2)
	s := Section{Name: "any", A: b * h, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12}
	s.Iyz = rapid.Float64Range(-0.9, 0.9).Draw(t, "skew") * math.Sqrt(s.Iy*s.Iz)
	small := math.Min(b, h)
	s.J = rapid.Float64Range(0.01, 0.3).Draw(t, "J") * math.Max(b, h) * small * small * small
	s.ShearY = rapid.Float64Range(-0.5, 0.5).Draw(t, "ys") * b
	s.ShearZ = rapid.Float64Range(-0.5, 0.5).Draw(t, "zs") * h
	if rapid.Bool().Draw(t, "shear") {
		s.Ay, s.Az = s.A*rapid.Float64Range(0.2, 0.9).Draw(t, "ky"), s.A*rapid.Float64Range(0.2, 0.9).Draw(t, "kz")
	}
	return Member{
		Section:  s,
		Material: Material{Key: "any", E: log("E", 3, 6), Nu: 0.3, Density: 2.7e-9, Expansion: 23e-6},
		Length:   log("L", 1, 3),
	}
}

// rigidMove returns the end movements of a rigid body that moves and turns about end 1.
func rigidMove(m Member, move [6]float64) (d [12]float64) {
	end2 := mulVec6(rigid(m.Length), move)
	copy(d[:6], move[:])
	copy(d[6:], end2[:])
	return d
}

func apply12(K [12][12]float64, d [12]float64) (f [12]float64) {
	for i := range 12 {
		for j := range 12 {
			f[i] += K[i][j] * d[j]
		}
	}
	return f
}

func drawVec[T [3]float64 | [6]float64 | [12]float64](t *rapid.T, name string) (v T) {
	for i := range len(v) {
		v[i] = rapid.Float64Range(-1, 1).Draw(t, fmt.Sprint(name, i))
	}
	return v
}

// termScale is the size of the terms that K·d is summed from, as a force; as a moment, times the
// length. A row that nearly cancels is right to the rounding of the larger ones it hangs on.
func termScale(K [12][12]float64, d [12]float64, length float64) (force float64) {
	for i := range 12 {
		sum := 0.0
		for j := range 12 {
			sum += math.Abs(K[i][j] * d[j])
		}
		if i%6 >= 3 {
			sum /= length
		}
		force = math.Max(force, sum)
	}
	return force
}

// inUnit turns a force scale into that of freedom i: a moment for a rotation.
func inUnit(force, length float64, i int) float64 {
	if i%6 >= 3 {
		return force * length
	}
	return force
}

// rounding is what the member matrices may lose: their 6×6 flexibility is inverted once.
const rounding = 1e-9

func TestStiffnessSymmetricAndRigidFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		K := m.Stiffness()
		for i := range 12 {
			for j := range 12 {
				require.Equal(t, K[i][j], K[j][i])
			}
		}
		d := rigidMove(m, drawVec[[6]float64](t, "move"))
		for i, f := range apply12(K, d) {
			if scale := inUnit(termScale(K, d, m.Length), m.Length, i); !(math.Abs(f) <= rounding*scale) {
				t.Fatalf("rigid motion needs force %g in freedom %d, terms %g", f, i, scale)
			}
		}
	})
}

func TestStiffnessAgainstClassicMatrix(t *testing.T) {
	// Przemieniecki, Theory of Matrix Structural Analysis, 1968, eq. 5.116 (from memory):
	// the symmetric Timoshenko member with Φ = 12EI/(G·As·L²).
	s := mustSection(t, Rect{40, 20}, 0.33)
	m := Member{Section: s, Material: Material{Key: "alu", E: 70000, Nu: 0.33}, Length: 60}
	E, G, L := m.Material.E, m.Material.G(), m.Length
	phiY, phiZ := 12*E*s.Iz/(G*s.Ay*L*L), 12*E*s.Iy/(G*s.Az*L*L)
	K := m.Stiffness()
	for _, tt := range []struct {
		i, j int
		want float64
	}{
		{ux, ux, E * s.A / L}, {ux, 6 + ux, -E * s.A / L},
		{rx, rx, G * s.J / L}, {rx, 6 + rx, -G * s.J / L},
		{uy, uy, 12 * E * s.Iz / (L * L * L * (1 + phiY))},
		{uy, rz, 6 * E * s.Iz / (L * L * (1 + phiY))},
		{rz, rz, (4 + phiY) * E * s.Iz / (L * (1 + phiY))},
		{rz, 6 + rz, (2 - phiY) * E * s.Iz / (L * (1 + phiY))},
		{uz, uz, 12 * E * s.Iy / (L * L * L * (1 + phiZ))},
		{uz, ry, -6 * E * s.Iy / (L * L * (1 + phiZ))},
		{ry, ry, (4 + phiZ) * E * s.Iy / (L * (1 + phiZ))},
		{ry, 6 + ry, (2 - phiZ) * E * s.Iy / (L * (1 + phiZ))},
		{6 + uz, 6 + ry, 6 * E * s.Iy / (L * L * (1 + phiZ))},
	} {
		checks.CloseTo(t, fmt.Sprintf("K[%d][%d]", tt.i, tt.j), K[tt.i][tt.j], tt.want, 1e-12)
	}
	for _, zero := range [][2]int{{ux, uy}, {ux, rx}, {uy, uz}, {uy, ry}, {uz, rz}, {rx, uy}, {rx, uz}, {ry, rz}} {
		require.Zero(t, K[zero[0]][zero[1]])
	}
}

func TestSkewCantileverBendsAboutPrincipalAxes(t *testing.T) {
	// Unsymmetrical bending: resolve the force along the principal axes, bend about each, and add
	// (Gere & Timoshenko, Mechanics of Materials, unsymmetric bending; from memory).
	s := mustSection(t, Angle{100, 65, 8}, 0.33)
	s.Ay, s.Az = 0, 0
	m := Member{Section: s, Material: Material{Key: "alu", E: 70000, Nu: 0.33}, Length: 500}
	imax, imin, angle := s.Principal()
	l := newLine(m).clamp(0)
	force := 100.0
	l.F[6+uz] = force
	l.F[6+rx] = force * s.ShearY // through the shear centre
	d, _ := l.solve(t)
	sin, cos := math.Sincos(angle) // axis 1 = (cos, sin); bending about it moves along (−sin, cos)
	w := m.Length * m.Length * m.Length / (3 * m.Material.E)
	along1, along2 := force*sin*w/imin, force*cos*w/imax
	checks.CloseTo(t, "uy", d[6+uy], along1*cos-along2*sin, 1e-9)
	checks.CloseTo(t, "uz", d[6+uz], along1*sin+along2*cos, 1e-9)
	within(t, "twist", d[6+rx], 0, 1e-12)
}

func TestForceOffTheShearCentreTwists(t *testing.T) {
	// Torque = force × distance to the shear centre; twist T·L/GJ; the centroid moves with it.
	s := mustSection(t, Channel{100, 50, 6, 6}, 0.33)
	m := Member{Section: s, Material: Material{Key: "alu", E: 70000, Nu: 0.33}, Length: 300}
	l := newLine(m).clamp(0)
	l.F[6+uz] = 100 // at the centroid, which lies at +|ys| from the shear centre
	d, _ := l.solve(t)
	twist := 100 * -s.ShearY * m.Length / (m.Material.G() * s.J)
	checks.CloseTo(t, "twist", d[6+rx], twist, 1e-9)
	bending, _ := stubbyCantilever(100, m.Length, m.Material.E*s.Iy, m.Material.G()*s.Az)
	checks.CloseTo(t, "uz", d[6+uz], bending+twist*-s.ShearY, 1e-6) // ShearZ is 0 within the mesh's error
}

// condensed eliminates all but the freedoms of the first and the last node.
func condensed(t require.TestingT, full *mat.SymDense) (K [12][12]float64) {
	n := full.SymmetricDim()
	inner := n - 12
	at := func(i int) int { // ends first
		switch {
		case i < 6:
			return i
		case i < 12:
			return n - 12 + i
		}
		return i - 6
	}
	kii, kie := mat.NewSymDense(inner, nil), mat.NewDense(inner, 12, nil)
	for i := range inner {
		for j := i; j < inner; j++ {
			kii.SetSym(i, j, full.At(at(12+i), at(12+j)))
		}
		for j := range 12 {
			kie.Set(i, j, full.At(at(12+i), at(j)))
		}
	}
	var chol mat.Cholesky
	require.True(t, chol.Factorize(kii))
	var x mat.Dense
	require.NoError(t, ignorePoor(chol.SolveTo(&x, kie)))
	for i := range 12 {
		for j := range 12 {
			K[i][j] = full.At(at(i), at(j))
			for k := range inner {
				K[i][j] -= kie.At(k, i) * x.At(k, j)
			}
		}
	}
	return K
}

func TestCuttingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		a := rapid.Float64Range(0.2, 0.5).Draw(t, "a") * m.Length
		b := rapid.Float64Range(0.6, 0.9).Draw(t, "b") * m.Length
		want, got := m.Stiffness(), condensed(t, newLine(m, a, b).K)
		for i := range 12 {
			for j := range 12 {
				scale := math.Sqrt(want[i][i] * want[j][j])
				if e := math.Abs(got[i][j] - want[i][j]); !(e <= 1e-8*scale) {
					t.Fatalf("K[%d][%d] is %g whole, %g cut", i, j, want[i][j], got[i][j])
				}
			}
		}
	})
}

func TestShapesFollowTheMemberCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		x := rapid.Float64Range(0.1, 0.9).Draw(t, "x") * m.Length
		ends := drawVec[[12]float64](t, "d")
		for i := 3; i < 6; i++ { // turns of the size of the movements over the length
			ends[i] /= m.Length
			ends[6+i] /= m.Length
		}
		l := newLine(m, x)
		for i := range 6 {
			l.held[i], l.held[12+i] = ends[i], ends[6+i]
		}
		d, _ := l.solve(t)
		N := m.ShapeAt(x)
		inner, moved := m.Inside(x, ends, SpanLoads{})
		K := l.members[0].Stiffness()
		var part [12]float64
		copy(part[:], d[:12])
		f := apply12(K, part)
		for i := range 6 {
			shape := 0.0
			for j := range 12 {
				shape += N[i][j] * ends[j]
			}
			size := 1.0
			if i >= 3 {
				size /= x * (1 - x/m.Length)
			}
			for what, got := range map[string]float64{"shape": shape, "inside": moved[i]} {
				if !(math.Abs(got-d[6+i]) <= 1e-7*size) {
					t.Fatalf("%s freedom %d: %g, cut member %g", what, i, got, d[6+i])
				}
			}
			if scale := inUnit(termScale(K, part, x), m.Length, i); !(math.Abs(inner[i]-f[6+i]) <= 1e-8*scale) {
				t.Fatalf("internal force %d: %g, cut member %g", i, inner[i], f[6+i])
			}
		}
	})
}

func TestShapesAtTheEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		for end, x := range []float64{0, m.Length} {
			N := m.ShapeAt(x)
			for i := range 6 {
				for j := range 12 {
					want := 0.0
					if j == 6*end+i {
						want = 1
					}
					unit := 1.0
					if i < 3 && j%6 >= 3 {
						unit = m.Length
					} else if i >= 3 && j%6 < 3 {
						unit = 1 / m.Length
					}
					if e := math.Abs(N[i][j] - want); !(e <= rounding*unit*(1+m.slenderness())) {
						t.Fatalf("N[%d][%d] at end %d is %g", i, j, end+1, N[i][j])
					}
				}
			}
		}
	})
}

// slenderness is how much softer than the rest the softest of a member's ways to give is.
func (m Member) slenderness() float64 {
	return m.Length * m.Length * m.Section.A / math.Min(m.Section.Iy, m.Section.Iz) * 1e-3
}

func TestMemberRefusesNonsense(t *testing.T) {
	good := Member{
		Section:  mustSection(t, Rect{40, 20}, 0.3),
		Material: Material{Key: "m", E: 70000, Nu: 0.3},
		Length:   100,
	}
	require.NoError(t, good.Check())
	for name, spoil := range map[string]func(m *Member){
		"length":   func(m *Member) { m.Length = 0 },
		"E":        func(m *Member) { m.Material.E = math.NaN() },
		"Poisson":  func(m *Member) { m.Material.Nu = -1 },
		"area":     func(m *Member) { m.Section.A = -1 },
		"J":        func(m *Member) { m.Section.J = 0 },
		"Iyz":      func(m *Member) { m.Section.Iyz = m.Section.Iz },
		"Ay":       func(m *Member) { m.Section.Ay = -1 },
		"bed":      func(m *Member) { m.BedZ = math.Inf(1) },
		"density":  func(m *Member) { m.Material.Density = -1 },
		"expansio": func(m *Member) { m.Material.Expansion = math.NaN() },
		"shear ce": func(m *Member) { m.Section.ShearY = math.NaN() },
	} {
		bad := good
		spoil(&bad)
		require.ErrorContains(t, bad.Check(), name)
		require.Panics(t, func() { bad.Stiffness() }, name)
	}
	require.PanicsWithValue(t, "beam: place 101 is not on a member of length 100", func() { good.ShapeAt(101) })
	require.PanicsWithValue(
		t,
		"beam: line load ends before it starts",
		func() { good.LineLoad(50, 40, [3]float64{}, [3]float64{}) },
	)
}

func TestBedCarriesARigidMember(t *testing.T) {
	// A member that sinks evenly presses on k·L of bed, half at each end.
	m := Member{
		Section:  mustSection(t, Rect{40, 20}, 0.3),
		Material: Material{Key: "m", E: 70000, Nu: 0.3},
		Length:   100,
		BedY:     3,
		BedZ:     8,
	}
	f := apply12(m.Stiffness(), rigidMove(m, [6]float64{uy: 1, uz: 2}))
	checks.CloseTo(t, "along y", f[uy]+f[6+uy], 3*100, 1e-9)
	checks.CloseTo(t, "along z", f[uz]+f[6+uz], 8*100*2, 1e-9)
	checks.CloseTo(t, "end 1", f[uz], 800, 1e-9)
	within(t, "moments about the middle", f[ry]+f[6+ry]+50*(f[uz]-f[6+uz]), 0, 1e-6)
}

func BenchmarkStiffness(b *testing.B) {
	m := Member{Section: mustSection(b, Rect{40, 20}, 0.3), Material: Material{Key: "m", E: 70000, Nu: 0.3}, Length: 100}
	b.ReportAllocs()
	for b.Loop() {
		m.Stiffness()
	}
}
