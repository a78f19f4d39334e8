package structure

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
)

// Half the way to the nearest neighbour, the edge, or the whole of the zone, whichever is least (by hand).
func TestZoneReach(t *testing.T) {
	face := joint.Rect2{Max: [2]float64{100, 30}}
	row := [][2]float64{{10, 15}, {50, 15}, {70, 15}}
	for i, want := range [][2]float64{{10, 15}, {10, 15}, {10, 15}} {
		require.Equal(t, want, zoneReach(face, row, i, 25), "screw %d", i)
	}
	require.Equal(t, [2]float64{8, 8}, zoneReach(face, row, 1, 8))
	require.Equal(t, [2]float64{20, 15}, zoneReach(face, row[:2], 1, 25), "40 mm apart")
	require.Equal(t, [2]float64{25, 15}, zoneReach(face, row[1:2], 0, 25), "alone")
}
