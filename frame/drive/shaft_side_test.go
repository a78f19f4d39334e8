package drive

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// Beam tables: Gere & Timoshenko, Mechanics of Materials (from memory), recomputed with beam elements.
func TestShaftHoldsNutSideways(t *testing.T) {
	c := checks.Find(t, "misfit-nut-beside-screw")
	for _, q := range []struct {
		ends Ends
		key  string
	}{
		{SupportedSupported, "side_force_both_ends_supported_N"}, {FixedFixed, "side_force_both_ends_fixed_N"},
		{FixedSupported, "side_force_fixed_then_supported_N"},
	} {
		s := Shaft{Root: c.In(t, "root_diameter_mm"), E: c.In(t, "E_MPa"), Nu: 0.3, Length: c.In(t, "between_bearings_mm"),
			Ends: q.ends}
		for i, at := range c.Ins(t, "nut_at_mm") {
			want := c.WantList(t, q.key)[i]
			require.InEpsilon(t, want, s.Side(at).Stiffness*c.In(t, "nut_beside_by_mm"), 1e-8, "%v at %g", q.ends, at)
		}
	}
	for i, at := range c.Ins(t, "nut_at_mm") {
		s := Shaft{Root: 12.9, E: 206e3, Nu: 0.3, Length: c.In(t, "between_bearings_mm"), Ends: SupportedSupported}
		require.InDelta(t, c.WantList(t, "shaft_slope_at_nut_both_supported_rad")[i],
			s.Side(at).Slope*c.In(t, "nut_beside_by_mm"), 1e-10)
	}
	// a cantilever, 3·E·I/a³
	s := Shaft{Root: 10, E: 200e3, Nu: 0.3, Length: 300, Ends: FixedFree}
	require.InEpsilon(t, 3*200e3*490.8738521234052/1e6, s.Side(100).Stiffness, 1e-9)
}

// As the force goes along the shaft its work changes by the force times twice the slope it makes there: the give at the
// nut, c, has a slope of 2·c·Slope (Maxwell and Betti).
func TestShaftSlopeIsThatOfItsGive(t *testing.T) {
	for _, ends := range AllEnds() {
		s := Shaft{Root: 10, E: 200e3, Nu: 0.3, Length: 300, Ends: ends}
		for _, at := range []float64{20, 110, 150, 280} {
			const h = 1e-3
			more, less := 1/s.Side(at+h).Stiffness, 1/s.Side(at-h).Stiffness
			h0 := s.Side(at)
			require.InDelta(t, (more-less)/(2*h), 2*h0.Slope/h0.Stiffness, 1e-7/h0.Stiffness, "%v at %g", ends, at)
		}
	}
}

// Moved and turned as a whole with its ends, a shaft presses nothing on its nut, however it is held.
func TestShaftGoesWithItsEnds(t *testing.T) {
	for _, ends := range AllEnds() {
		s := Shaft{Root: 10, E: 200e3, Nu: 0.3, Length: 300, Ends: ends}
		for _, at := range []float64{20, 150, 280} {
			h := s.Side(at)
			const move, turn = 0.7, 0.003
			line := h.Near.Factor*(move+turn*h.Near.Arm) + h.Far.Factor*(move+turn*(s.Length+h.Far.Arm))
			require.InDelta(t, move+turn*at, line, 1e-12, "%v at %g", ends, at)
		}
	}
}
