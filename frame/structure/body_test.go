package structure

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
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

// Places nearer to one another than 2e-4 of a member's length, here 0.04 mm, share a node, and what stands beside it is
// counted; others have their own (by hand).
func TestPlacesShareANode(t *testing.T) {
	steel, _ := beam.LookupMaterial("steel")
	b, err := newBody(&machine.Part{Material: steel, Plate: &machine.Plate{To: r3.Vec{X: 200, Y: 15, Z: 10}}})
	require.NoError(t, err)
	for _, x := range []float64{50, 50.03, 90, 90.05, 199.99} {
		b.want(&spot{at: r3.Vec{X: x, Y: 10, Z: 5}})
	}
	b.addTo(&frame.Frame{}, [3]float64{})
	require.InDeltaSlice(t, []float64{0, 50, 90, 90.05, 200}, b.kind.(*plateKind).stations, 1e-12)
	require.InDelta(t, 0.03+0.01, b.shared, 1e-9)
}
