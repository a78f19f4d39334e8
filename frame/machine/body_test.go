package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// A bar along an axis is one whatever its length: in 1/L·L rounding leaves less than one for every twelfth whole number.
func TestBarAlongAnAxis(t *testing.T) {
	for length := 1.0; length <= 1000; length++ {
		for k := X; k <= Z; k++ {
			bar := &Bar{From: r3.Vec{X: 1, Y: 2, Z: 3}, Section: beam.Section{YMin: -1, YMax: 1, ZMin: -1, ZMax: 1}}
			bar.To, bar.Up = r3.Add(bar.From, r3.Scale(-length, k.unit())), ((k + 1) % 3).unit()
			b, err := newBody(&Part{Bar: bar})
			require.NoError(t, err)
			require.Equal(t, k, b.axis, "%g mm", length)
			require.True(t, b.hasBox)
		}
	}
}
