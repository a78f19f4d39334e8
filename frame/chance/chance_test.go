package chance_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/chance"
	"tiploop/frame/constant"
)

func TestUnknownCheck(t *testing.T) {
	for name, band := range map[string]constant.Band{
		"zero": constant.Between(0, 1, 2), "negative": constant.Between(-1, 1, 2), "reversed": constant.Between(3, 2, 1),
		"infinite": constant.Between(1, 2, math.Inf(1)), "no number": constant.Between(math.NaN(), 1, 2),
	} {
		require.Error(t, chance.Unknown{Key: name, Band: band}.Check(), name)
	}
	known := chance.Unknown{Key: "known", Band: constant.Exactly(3)}
	require.NoError(t, known.Check())
	require.Equal(t, 3.0, known.At(-5))
}

// A sequence begins as a shorter one does, is the same on every run, and each column spreads evenly: 1024 points leave
// no 64th of the range with fewer than 12 or more than 20 of its 16.
func TestDraws(t *testing.T) {
	short, long := chance.Draw(40, 256), chance.Draw(40, 1024)
	again := chance.Draw(40, 1024)
	for k := range 40 {
		var bins [64]int
		for i := range long.Len() {
			u := long.Unit(i, k)
			require.True(t, 0 <= u && u <= 1)
			require.Equal(t, u, again.Unit(i, k))
			if i < short.Len() {
				require.Equal(t, short.Unit(i, k), u)
			}
			bins[min(int(u*64), 63)]++
			require.False(t, math.IsInf(long.Normal(i, k), 0))
		}
		if k < 10 {
			for _, n := range bins {
				require.True(t, 12 <= n && n <= 20, "column %d: %v", k, bins)
			}
		}
	}
	require.Zero(t, chance.Draw(0, 5).Len())
	require.Panics(t, func() { chance.Draw(chance.MostUnknowns+1, 2) })
}

// The halves of an even sequence agree early, those of a drift never.
func TestSettled(t *testing.T) {
	even := drawn([]chance.Unknown{between(1, 2)}, 512, func(v []float64) float64 { return v[0] })
	require.Less(t, chance.Settled(even), 0.01)
	drift := make([]float64, 512)
	for i := range drift {
		drift[i] = 1 + float64(i)
	}
	require.Greater(t, chance.Settled(drift), 0.1)
	require.True(t, math.IsInf(chance.Settled(even[:10]), 1))
	require.Zero(t, chance.Settled(make([]float64, 64)), "nothing varies")
	// One value in twenty is nought: in the first half fewer are, in the second more.
	seldom := slices.Repeat([]float64{100}, 200)
	clear(seldom[:4])
	clear(seldom[100:110])
	seldom[4] = 1
	require.False(t, math.IsInf(chance.Settled(seldom), 0))
	require.False(t, math.IsNaN(chance.Settled(seldom)))
}

func TestBeats(t *testing.T) {
	a, b := []float64{2, 2, 2, 2}, []float64{1, 1, 1, 4}
	require.Equal(t, 0.75, chance.Beats(a, b).Greater)
	require.Equal(t, 0.25, chance.Beats(a, b).Less)
	require.Equal(t, 0.25, chance.Beats(b, a).Greater)
	require.Equal(t, chance.NoDifference, chance.Beats(a, b).Sureness())
	require.Equal(t, chance.Surely, chance.Beats(a, []float64{1, 1, 1, 1}).Sureness())
	require.Equal(t, chance.Surely, chance.Beats([]float64{1, 1, 1, 1}, a).Sureness(), "surely worse")
	same := chance.Beats(a, a)
	require.Equal(t, chance.Verdict{Alike: 1, Ratio: &chance.Range{Low: 1, Median: 1, High: 1}}, same)
	require.Equal(t, chance.TheSame, same.Sureness())
	require.Equal(t, 0.5, same.Ahead())
	require.Panics(t, func() { chance.Beats(a, b[:2]) })
	nothing := chance.Beats([]float64{0, 0, 1, 1}, []float64{0, 1, 0, 1})
	require.Equal(t, chance.Verdict{Greater: 0.25, Less: 0.25, Alike: 0.5}, nothing)
}

// Ties are no wins: what is greater in 7 of 10, less in none and the same in 3 is not greater in 85 of 100.
func TestTies(t *testing.T) {
	a := []float64{2, 2, 2, 2, 2, 2, 2, 1, 1, 1}
	v := chance.Beats(a, slices.Repeat([]float64{1}, len(a)))
	require.Equal(t, []float64{0.7, 0, 0.3}, []float64{v.Greater, v.Less, v.Alike})
	require.Equal(t, 0.85, v.Ahead())
	require.Equal(t, chance.NoDifference, v.Sureness())
}

func TestCulpritsOfNothing(t *testing.T) {
	require.Equal(t, []chance.Culprit{{}, {}}, chance.Culprits(2, 64, func([]float64) float64 { return 3 }))
	require.Empty(t, chance.Culprits(0, 64, nil))
}

// The points of values that nothing lies between are among them: of 1 to 100 the fifth and the 95th, the least with as
// many at or below it.
func TestEndsOf(t *testing.T) {
	var values []float64
	for i := range 100 {
		values = append(values, float64(100-i))
	}
	low, high := chance.EndsOf(values)
	require.Equal(t, []float64{5, 95}, []float64{low, high})
	low, high = chance.EndsOf([]float64{40, 60})
	require.Equal(t, []float64{40, 60}, []float64{low, high})
}
