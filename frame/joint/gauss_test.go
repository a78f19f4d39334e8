package joint

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

// The table against gonum's nodes and weights, which differ from it in the last places only.
func TestGauss8(t *testing.T) {
	const lastPlaces = 4e-16
	var x, w [8]float64
	quad.Legendre{}.FixedLocations(x[:], w[:], -1, 1)
	for i, p := range gauss8 {
		require.InDelta(t, x[3-i], p[0], lastPlaces)
		require.InDelta(t, w[3-i], p[1], lastPlaces)
	}
}
