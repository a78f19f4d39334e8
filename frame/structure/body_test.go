package structure

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/machine"
)

// A bar along an axis is one whatever its length: in 1/L·L rounding leaves less than one for every twelfth whole
// number.
func TestBarAlongAnAxis(t *testing.T) {
	for length := 1.0; length <= 1000; length++ {
		for k := machine.X; k <= machine.Z; k++ {
			bar := &machine.Bar{From: r3.Vec{X: 1, Y: 2, Z: 3}, Section: beam.Section{YMin: -1, YMax: 1, ZMin: -1, ZMax: 1}}
			bar.To, bar.Up = r3.Add(bar.From, r3.Scale(-length, k.Direction())), ((k + 1) % 3).Direction()
			b, err := newBody(&machine.Part{Bar: bar})
			require.NoError(t, err)
			require.Equal(t, k, b.axis, "%g mm", length)
			require.True(t, b.hasBox)
		}
	}
}
