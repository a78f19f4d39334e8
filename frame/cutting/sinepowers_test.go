package cutting

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"tiploop/testdata/checks"
)

// ∫ sin^p from 0 to φ is half the incomplete beta function of sin² φ with (p+1)/2 and 1/2 (substitution u = sin² φ;
// gonum's implementation).
func TestSinePowers(t *testing.T) {
	const series = 1e-13 // what the beta function itself is good for
	for _, p := range []float64{0.3, 0.73, 0.75, 0.86, 1} {
		s := newSinePowers(p)
		integral := func(p, phi float64) float64 {
			half := func(phi float64) float64 {
				a := (p + 1) / 2
				return mathext.RegIncBeta(a, 0.5, math.Sin(phi)*math.Sin(phi)) * mathext.Beta(a, 0.5) / 2
			}
			if phi > math.Pi/2 {
				return 2*half(math.Pi/2) - half(math.Pi-phi)
			}
			return half(phi)
		}
		for _, phi := range []float64{1e-6, 0.1, 0.7, 1.3, math.Pi / 2, 1.9, 2.8, math.Pi} {
			lower, upper, own := s.at(phi)
			checks.CloseTo(t, "lower", lower, integral(p, phi), series)
			checks.CloseTo(t, "upper", upper, integral(p+1, phi), series)
			if phi < 3 {
				checks.CloseTo(t, "own", own, math.Pow(math.Sin(phi), p+1), series)
			}
		}
	}
}
