package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

func TestBuiltUpOfOneMaterialIsThePlainShape(t *testing.T) {
	steel, _ := LookupMaterial("steel")
	for _, tt := range []struct {
		name  string
		built []Piece
		plain Shape
	}{
		{"rectangle of two", []Piece{{30, 10, 15, 5, steel}, {30, 10, 15, 15, steel}}, Rect{30, 20}},
		{"rectangle of four that meet at a corner", []Piece{{10, 10, 5, 5, steel}, {10, 10, 15, 5, steel},
			{10, 10, 5, 15, steel}, {10, 10, 15, 15, steel}}, Rect{20, 20}},
		{"tee", []Piece{{8, 72, 40, 36, steel}, {80, 8, 40, 76, steel}}, Tee{80, 80, 8, 8}},
		{"tube of four plates", []Piece{{50, 5, 25, 2.5, steel}, {50, 5, 25, 47.5, steel}, {5, 40, 2.5, 25, steel},
			{5, 40, 47.5, 25, steel}}, Tube{50, 50, 5}},
		{"angle", []Piece{{100, 8, 50, 4, steel}, {8, 57, 4, 36.5, steel}}, Angle{100, 65, 8}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := mustSection(t, BuiltUp{steel, tt.built}, steel.Nu)
			want := mustSection(t, tt.plain, steel.Nu)
			checks.CloseTo(t, "A", got.A, want.A, 1e-12)
			checks.CloseTo(t, "Iy", got.Iy, want.Iy, 1e-12)
			checks.CloseTo(t, "Iz", got.Iz, want.Iz, 1e-12)
			within(t, "Iyz", got.Iyz, want.Iyz, 1e-12*want.Iy)
			checks.CloseTo(t, "J", got.J, want.J, 5e-4)
			checks.CloseTo(t, "Ay", got.Ay, want.Ay, 3e-3)
			checks.CloseTo(t, "Az", got.Az, want.Az, 3e-3)
			within(t, "shear centre y", got.ShearY, want.ShearY, 0.02)
			within(t, "shear centre z", got.ShearZ, want.ShearZ, 0.02)
			for _, pair := range [][2]float64{
				{got.YMin, want.YMin}, {got.YMax, want.YMax}, {got.ZMin, want.ZMin}, {got.ZMax, want.ZMax},
			} {
				checks.CloseTo(t, "extent", pair[0], pair[1], 1e-12)
			}
			checks.CloseTo(t, "centroid y", got.CentroidY, want.CentroidY, 1e-12)
			checks.CloseTo(t, "centroid z", got.CentroidZ, want.CentroidZ, 1e-12)
			require.Len(t, got.Outline, len(want.Outline))
			for l := range want.Outline {
				checks.CloseTo(t, "outline", loopArea(got.Outline[l]), loopArea(want.Outline[l]), 1e-9)
				require.Len(t, got.Outline[l], len(want.Outline[l]))
			}
			m := Member{Section: got, Material: steel, Length: 100}
			plain := Member{Section: want, Material: steel, Length: 100}
			checks.CloseTo(t, "mass per length", m.MassPerLength(), plain.MassPerLength(), 1e-12)
			heated, plainHeated := m.ThermalLoad(3, 0.1, 0.2), plain.ThermalLoad(3, 0.1, 0.2)
			for i := range heated {
				within(t, "thermal force", heated[i], plainHeated[i], 1e-9*(1+math.Abs(plainHeated[6])+math.Abs(plainHeated[6+ry])))
			}
		})
	}
}

func TestBuiltUpOfASoftAndAStiffHalf(t *testing.T) {
	alu, _ := LookupMaterial("aluminium-5083")
	stiff := alu
	stiff.E *= 3
	both := func(base Material) Section {
		return mustSection(t, BuiltUp{base, []Piece{{30, 10, 0, 0, alu}, {30, 10, 0, 10, stiff}}}, base.Nu)
	}
	s := both(alu)
	// The base only sets the scale: E·A and so on are the section's own.
	other := both(stiff)
	for name, pair := range map[string][2]float64{
		"EA": {s.A, other.A * 3}, "EIy": {s.Iy, other.Iy * 3}, "EIz": {s.Iz, other.Iz * 3},
		"GJ": {s.J, other.J * 3}, "GAy": {s.Ay, other.Ay * 3}, "GAz": {s.Az, other.Az * 3},
	} {
		checks.CloseTo(t, name, pair[0], pair[1], 2e-3) // meshes differ: each is solved at unit transformed area
	}
	// Torsion: more than the two halves sliding on each other, less than a solid stiff bar.
	alone, whole := rectangleTorsion(30, 10), rectangleTorsion(30, 20)
	require.Greater(t, s.J, 4*alone)
	require.Less(t, s.J, 3*whole)
	// A force along the height passes the middle; one along the width passes nearer the stiff half,
	// beyond the geometric middle at z = 5.
	within(t, "shear centre y", s.ShearY, 0, 0.01)
	require.Greater(t, s.CentroidZ+s.ShearZ, 5.0)
	require.Less(t, s.CentroidZ+s.ShearZ, 15.0)
}

// A thin tube whose walls are of two materials twists by Bredt's formula with each wall's own shear modulus, J =
// 4·A²/∮ds/(g·t), and a trifle more for the walls themselves, Σ g·s·t³/3 (Timoshenko & Goodier, Theory of Elasticity,
// thin tubes; from memory). The middle line is a straight tube's but for the corners, one wall wide.
func TestTubeOfTwoMaterials(t *testing.T) {
	base, _ := LookupMaterial("aluminium-5083")
	const outer, wall, middle = 60.0, 1.5, 60 - 1.5
	for _, ratio := range []float64{0.25, 1, 4} {
		other := base
		other.E *= ratio // with it G
		s := mustSection(t, BuiltUp{base, []Piece{
			{outer, wall, 0, middle / 2, other}, {outer, wall, 0, -middle / 2, other},
			{wall, outer - 2*wall, middle / 2, 0, base}, {wall, outer - 2*wall, -middle / 2, 0, base},
		}}, base.Nu)
		around := 2*middle/(ratio*wall) + 2*middle/wall
		bredt := 4*math.Pow(middle, 4)/around + 2*(ratio+1)*middle*wall*wall*wall/3
		checks.CloseTo(t, "J", s.J, bredt, 0.025)
	}
}
