package phrase

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

func TestHole(t *testing.T) {
	for want, h := range map[string]answer.HoleLine{
		"M6 tapped, 12 deep":                   {Kind: "tapped", Screw: "M6", DepthMM: 17.1, ThreadMM: 12},
		"M6 tapped through":                    {Kind: "tapped", Screw: "M6", DepthMM: 8, ThreadMM: 8, OutOn: "top"},
		"M6 tapped, as deep as its wall":       {Kind: "tapped", Screw: "M6"},
		"M6: cannot be, no metal for a thread": {Kind: "tapped", Screw: "M6", DepthMM: 2},
		"bored to size":                        {Kind: "bored", DrillMM: 36, OutOn: "top"},
		"M6 through":                           {Kind: "through", Screw: "M6", OutOn: "top"},
		"M6 through, sunk Ø11 × 5.5 on left":   {Kind: "counterbored through", Screw: "M6", OutOn: "left", SinkMM: 11, SinkDepthMM: 5.46},
	} {
		require.Equal(t, want, Hole(h))
	}
	require.Equal(t, "through", HoleDepth(answer.HoleLine{DepthMM: 8, OutOn: "top"}))
	require.Equal(t, "17.1", HoleDepth(answer.HoleLine{DepthMM: 17.08}))
	require.Equal(t, "wall", HoleDepth(answer.HoleLine{}))
	require.Equal(t, "none", HoleDepth(answer.HoleLine{Kind: "tapped", DepthMM: 0.1}))
}

// Bores are told only where there are any.
func TestDrilled(t *testing.T) {
	require.Empty(t, Drilled(answer.Holes{}))
	require.Equal(t, "1 through hole and 2 tapped holes", Drilled(answer.Holes{Through: 1, Tapped: 2}))
	require.Equal(t, "no through holes, 4 tapped holes and 1 bore", Drilled(answer.Holes{Tapped: 4, Bored: 1}))
}

func TestDrills(t *testing.T) {
	drills, bores, taps := Drills([]answer.HoleLine{{DrillMM: 8.5, Kind: "tapped", Screw: "M10"},
		{DrillMM: 4.5, Kind: "through", Screw: "M4"}, {DrillMM: 6.8, Kind: "tapped", Screw: "M8"},
		{DrillMM: 8.5, Kind: "tapped", Screw: "M10"},
		{DrillMM: 36, Kind: "bored"}, {DrillMM: 29, Kind: "bored"}, {DrillMM: 36, Kind: "bored"}})
	require.Equal(t, []float64{29, 36}, bores)
	require.Equal(t, []float64{4.5, 6.8, 8.5}, drills)
	require.Equal(t, []string{"M8", "M10"}, taps)
}

// Lifted with help from 15 kg on, the reference mass of ISO 11228-1 for nearly all grown people (from memory).
func TestHeavy(t *testing.T) {
	inv := answer.Inventory{Parts: []answer.PartLine{{Name: "a", MassKg: 3}, {Name: "b", MassKg: 14.9}, {Name: "c", MassKg: 2}}}
	part, kg, help := Heavy(inv)
	require.Equal(t, [3]any{"b", 14.9, false}, [3]any{part, kg, help})
	inv.Parts[1].MassKg = 15
	_, _, help = Heavy(inv)
	require.True(t, help)
	part, _, help = Heavy(answer.Inventory{})
	require.Empty(t, part)
	require.False(t, help)
}
