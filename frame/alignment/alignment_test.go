package alignment_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/alignment"
)

// By linearity: what takes a fifth of a limit at 10 µm may be out by 50 µm; the first limit counts.
func TestRanked(t *testing.T) {
	lines := alignment.Ranked([]alignment.Trial{
		{What: "a", How: "high", SizeUm: 10, Uses: []alignment.Use{{Limit: "the preload", Of: "x", Share: 0.1},
			{Limit: "a tenth of the rating", Of: "y", Share: 0.2}}},
		{What: "b", How: "high", SizeUm: 10, Uses: []alignment.Use{{Limit: "the preload", Of: "x", Share: 2}}},
		{What: "c", How: "high", SizeUm: 10}, // reaches nothing
		{What: "d", How: "high", SizeUm: 10, Uses: []alignment.Use{{Limit: "the preload", Of: "x", Share: 2 * (1 + 1e-9)}}},
	})
	require.Len(t, lines, 3)
	require.Equal(t, []string{"b", "d", "a"}, []string{lines[0].What, lines[1].What, lines[2].What})
	require.InDelta(t, 5, lines[0].AllowedUm, 1e-12)
	require.InDelta(t, 50, lines[2].AllowedUm, 1e-12)
	require.Equal(t, "a tenth of the rating", lines[2].Limit)
	require.Equal(t, "y", lines[2].Of)
}

// What others stand on comes first; of those that could come next the most sensitive last, and what reaches no limit
// not at all.
func TestSteps(t *testing.T) {
	lines := alignment.Ranked([]alignment.Trial{
		{What: "rail 1", SizeUm: 10, Uses: []alignment.Use{{Share: 1}}},
		{What: "rail 2", SizeUm: 10, IndicatorShare: -0.5, Uses: []alignment.Use{{Share: 1}}},
		{What: "nut", SizeUm: 10, IndicatorShare: 1, Uses: []alignment.Use{{Share: 0.5}}},
		{What: "bearing", SizeUm: 10, IndicatorShare: 1, Uses: []alignment.Use{{Share: 0.25}}},
	})
	steps := alignment.Steps([]alignment.Group{
		{What: "the nut", Lines: []string{"nut"}, Stage: 4}, {What: "the bearing", Lines: []string{"bearing"}, Stage: 4},
		{What: "rail 2", Lines: []string{"rail 2"}, Stage: 3},
		{What: "rail 1", Lines: []string{"rail 1"}, Stage: 2, First: true},
		{What: "a foot", Lines: []string{"foot"}, Stage: 0},
	}, lines)
	var order []string
	for _, s := range steps {
		order = append(order, s.What)
	}
	require.Equal(t, []string{"rail 1", "rail 2", "the bearing", "the nut"}, order)
	require.Nil(t, steps[0].ReadingUm)
	require.InDelta(t, 5, *steps[1].ReadingUm, 1e-12)
	require.InDelta(t, 20, *steps[3].ReadingUm, 1e-12)
}
