package answer

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestBesideBeam by hand: 12 µm against 10 is 20 % more, and so on; without a tool the point that moves most counts.
func TestBesideBeam(t *testing.T) {
	tip := func(x, y, z float64) *Tip {
		return &Tip{ComplianceUmPerN: [3][3]float64{{x, 0, 0}, {0, y, 0}, {0, 0, z}}}
	}
	size := func(um float64) LoadResult { return LoadResult{Name: "cut", TipSizeUm: &um} }
	b := BesideBeam(&Result{Tip: tip(10, 20, 30), Loads: []LoadResult{size(5)}},
		&Result{Tip: tip(12, 19, 30), Loads: []LoadResult{size(6)}})
	require.InDeltaSlice(t, []float64{20, -5, 0}, b.TipPercent[:], 1e-9)
	require.Equal(t, "cut", b.Loads[0].Load)
	require.InDelta(t, 20, b.Loads[0].Percent, 1e-9)
	percent, axis, load := b.Worst()
	require.InDelta(t, 20, percent, 1e-9)
	require.Equal(t, "x", axis)
	require.Empty(t, load)

	points := func(um float64) []LoadResult {
		return []LoadResult{{Name: "still"},
			{Name: "sag", PointsUm: map[string][3]float64{"a": {0, 1, 0}, "b": {0, 3 * um, 4 * um}}}}
	}
	other := points(1)
	slices.Reverse(other) // loads go together by their names
	b = BesideBeam(&Result{Loads: points(2)}, &Result{Loads: append(other, LoadResult{Name: "only here"})})
	require.Nil(t, b.TipPercent)
	require.Equal(t, []BeamOff{{"still", 0}, {"sag", -50}}, b.Loads)
	percent, axis, load = b.Worst()
	require.InDelta(t, -50, percent, 1e-9)
	require.Empty(t, axis)
	require.Equal(t, "sag", load)
}
