package modelfile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestUnits(t *testing.T) {
	const (
		exact   = 0
		rounded = 4e-16 // the factor is a product of two or three doubles
	)
	for _, c := range []struct {
		text   string
		want   float64 // in the consistent set: N, mm, MPa, tonne, s, K, rad
		tol    float64 // relative
		source string
	}{
		{"1 in", 25.4, exact, "international inch, 1959"},
		{"0.5in", 12.7, exact, "international inch, 1959"},
		{"1 ft", 304.8, rounded, "12 inches"},
		{"3 thou", 0.0762, exact, "a thousandth of an inch"},
		{"20 um", 0.02, exact, "SI prefix"},
		{"20 µm", 0.02, exact, "SI prefix"},
		{"20 μm", 0.02, exact, "SI prefix"},
		{"7 nm", 7e-6, exact, "SI prefix"},
		{"1.5 m", 1500, exact, "SI prefix"},
		{"71 GPa", 71e3, exact, "1 MPa = 1 N/mm²"},
		{"5 Pa", 5e-6, exact, "1 MPa = 1 N/mm²"},
		{"1 ksi", 6.894757293168361, rounded, "NIST SP 811, appendix B: 1 psi = 6.894757 kPa; more digits from lbf and inch"},
		{"1 lbf", 4.4482216152605, rounded, "NIST SP 811, appendix B"},
		{"1 kgf", 9.80665, exact, "NIST SP 811, appendix B"},
		{"6 kg", 0.006, exact, "1000 kg = 1 tonne"},
		{"1 lb", 0.45359237e-3, rounded, "international pound, 1959"},
		{"2700 kg/m3", 2.7e-9, exact, "1 kg/m³ = 1e-12 tonne/mm³"},
		{"2700 kg/m^3", 2.7e-9, exact, "1 kg/m³ = 1e-12 tonne/mm³"},
		{"12 N/um", 12000, exact, "SI prefix"},
		{"30 N m", 30000, exact, "SI prefix"},
		{"30 N*m", 30000, exact, "SI prefix"},
		{"30 N·m", 30000, exact, "SI prefix"},
		{"5e8 N*mm/rad", 5e8, exact, "consistent already"},
		{"1 N mm/deg", 180 / math.Pi, rounded, "180° = π rad"},
		{"8 N/mm2", 8, exact, "consistent already"},
		{"8 N/mm²", 8, exact, "consistent already"},
		{"24e-6/K", 24e-6, exact, "consistent already"},
		{"24 um / m / K", 24e-6, exact, "SI prefix"},
		{"9.81 m/s2", 9810, exact, "SI prefix"},
		{"3 cm4", 3e4, exact, "SI prefix"},
		{"90 deg", math.Pi / 2, exact, "180° = π rad"},
		{"10 mK", 0.01, exact, "SI prefix"},
		{"4 ms", 0.004, exact, "SI prefix"},
	} {
		t.Run(c.text, func(t *testing.T) {
			require.NotEmpty(t, c.source)
			v, bad := evaluateText(c.text, nil)
			require.Nil(t, bad)
			if e := math.Abs(v.x-c.want) / c.want; !(e <= c.tol) {
				t.Errorf("got %v, want %v (%s), off by %.2g", v.x, c.want, c.source, e)
			}
		})
	}
}

// TestForceIsMassTimesAcceleration checks the dimensions against each other.
func TestForceIsMassTimesAcceleration(t *testing.T) {
	for text, want := range map[string]measure{
		"2 kg * 3 m/s2":         aForce,
		"2 N * 3 mm":            aMoment,
		"2 MPa * 3 mm2":         aForce,
		"2 N / 3 mm":            aStiffness,
		"2 N mm / 3 rad":        aTurning,
		"2 N/mm2 / 3 mm":        aBedUnder,
		"2 mm * 3 mm2 * 4 mm":   aSecondMoment,
		"6 kg / 2 m3":           aDensity,
		"sqrt(2 mm2) / 3 mm":    aNumber,
		"3 mm/mm":               aNumber,
		"2 kg / 3 kg":           aNumber,
		"2 m / 3 s / 4 s":       anAccel,
		"(2 N/3 mm) * 4 mm2/mm": aForce,
	} {
		v, bad := evaluateText(text, nil)
		require.Nil(t, bad, text)
		require.Equal(t, want.name, measureOf(v.dim).name, text)
	}
}

func TestEveryUnitIsOffered(t *testing.T) {
	offered := map[string]bool{"µm": true, "μm": true} // um is
	for _, name := range unitNames {
		require.Contains(t, units, name)
		offered[name] = true
	}
	for name := range units {
		require.True(t, offered[name], name)
	}
}
