package frame

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

// The rules are those of gonum, which works them out from the roots of Legendre's polynomials.
func TestGaussRules(t *testing.T) {
	const ulps = 2.3e-16
	at, weight := make([]float64, 4), make([]float64, 4)
	quad.Legendre{}.FixedLocations(at, weight, 0, 1)
	for i, g := range gauss4 {
		require.InDelta(t, at[3-i], g[0], ulps)
		require.InDelta(t, weight[3-i], g[1], ulps)
	}
	quad.Legendre{}.FixedLocations(at[:2], weight[:2], -1, 1)
	for i, g := range gauss2 {
		require.InDelta(t, at[1-i], g, ulps)
	}
}
