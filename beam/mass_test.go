package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

func TestMassOfARigidMember(t *testing.T) {
	// Kinetic energy of a rigid prism: ½mv² + ½ω·I·ω about its end, with the section's own inertia.
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		move := drawVec[[6]float64](t, "v")
		for i := 3; i < 6; i++ {
			move[i] /= m.Length
		}
		d := rigidMove(m, move)
		energy := 0.0
		for i, f := range apply12(m.Mass(), d) {
			energy += d[i] * f / 2
		}
		s, rho, L := m.Section, m.Material.Density, m.Length
		want := 0.0
		// Simpson's rule along the length is exact: velocities are linear, energy quadratic.
		for i, weight := range []float64{1, 4, 1} {
			x := L * float64(i) / 2
			v := mulVec6(rigid(x), move)
			line := s.A * (v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
			turn := (s.Iy+s.Iz)*v[3]*v[3] + s.Iy*v[4]*v[4] + s.Iz*v[5]*v[5] - 2*s.Iyz*v[4]*v[5]
			want += weight / 6 * L * rho * (line + turn) / 2
		}
		if e := math.Abs(energy - want); !(e <= 1e-8*want) {
			t.Fatalf("energy %g, want %g", energy, want)
		}
		M := m.Mass()
		for i := range 12 {
			require.Greater(t, M[i][i], 0.0)
			for j := range 12 {
				require.Equal(t, M[i][j], M[j][i])
			}
		}
	})
}

func TestMassWithoutDensityIsNothing(t *testing.T) {
	m := Member{Section: mustSection(t, Rect{40, 20}, 0.3), Material: Material{Key: "m", E: 70000, Nu: 0.3}, Length: 100}
	require.Equal(t, [12][12]float64{}, m.Mass())
}

// withoutRotaryInertia keeps a member's stiffness and mass per length while its section's own
// inertia all but vanishes, as slender theory has it.
func withoutRotaryInertia(m Member) Member {
	const shrink = 1e6
	m.Material.E *= shrink
	m.Section.Iy /= shrink
	m.Section.Iz /= shrink
	return m
}

func bendingFrequencies(t *testing.T, c checks.Case, hold func(l *line), extra map[int]float64) {
	m := withoutRotaryInertia(slender(t, c))
	l := newLine(m, evenCuts(m.Length, 24)...)
	for node := range l.at { // in the x-z plane only
		l.hold(node, ux, uy, rx, rz)
	}
	hold(l)
	want := c.WantList(t, "frequencies_Hz")
	for i, got := range l.frequencies(t, len(want), extra) {
		checks.CloseTo(t, "frequency", got, want[i], c.Tolerance)
	}
}

func TestModalChecks(t *testing.T) {
	for id, run := range map[string]func(t *testing.T, c checks.Case){
		"modal-cantilever": func(t *testing.T, c checks.Case) {
			bendingFrequencies(t, c, func(l *line) { l.clamp(0) }, nil)
		},
		"modal-simply-supported": func(t *testing.T, c checks.Case) {
			bendingFrequencies(t, c, func(l *line) { l.hold(0, uz).hold(l.last(), uz) }, nil)
		},
		"modal-fixed-fixed": func(t *testing.T, c checks.Case) {
			bendingFrequencies(t, c, func(l *line) { l.clamp(0).clamp(l.last()) }, nil)
		},
		"modal-cantilever-tip-mass": func(t *testing.T, c checks.Case) {
			bendingFrequencies(t, c, func(l *line) { l.clamp(0) }, map[int]float64{6*24 + uz: c.In(t, "tip_mass_tonne")})
		},
		"modal-timoshenko-cantilever": func(t *testing.T, c checks.Case) {
			m := checkMember(t, c, c.In(t, "shear_coefficient")*c.In(t, "width_mm")*c.In(t, "height_mm"), c.In(t, "height_mm"))
			l := newLine(m, evenCuts(m.Length, 16)...).clamp(0)
			for node := range l.at {
				l.hold(node, ux, uy, rx, rz)
			}
			want := c.WantList(t, "frequencies_Hz")
			for i, got := range l.frequencies(t, len(want), nil) {
				checks.CloseTo(t, "frequency", got, want[i], c.Tolerance)
			}
		},
		"modal-bar-axial-torsion": func(t *testing.T, c checks.Case) {
			e := c.In(t, "E_MPa")
			s := mustSection(t, Round{c.In(t, "diameter_mm")}, 0.33)
			m := Member{Section: s, Length: c.In(t, "length_mm"), Material: Material{
				Key: c.ID, E: e, Nu: e/(2*c.In(t, "G_MPa")) - 1, Density: c.In(t, "density_tonne_per_mm3"),
			}}
			for key, keep := range map[string]int{"axial_Hz": ux, "torsion_Hz": rx} {
				l := newLine(m, evenCuts(m.Length, 32)...).clamp(0)
				for node := range l.at {
					for f := range 6 {
						if f != keep {
							l.hold(node, f)
						}
					}
				}
				c.Near(t, key, l.frequencies(t, 1, nil)[0], 2e-4) // linear shapes: error (π/2)²/24n² = 1e-4
			}
		},
	} {
		t.Run(id, func(t *testing.T) { run(t, checks.Find(t, id)) })
	}
}
