package beam

import (
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// The rule is that of gonum, which works it out from the roots of Legendre's polynomial.
func TestGaussRule(t *testing.T) {
	const ulps = 2.3e-16
	at, weight := make([]float64, 4), make([]float64, 4)
	quad.Legendre{}.FixedLocations(at, weight, 0, 1)
	for i, g := range gauss4 {
		within(t, "place", g.at, at[3-i], ulps)
		within(t, "weight", g.weight, weight[3-i], ulps)
	}
}
