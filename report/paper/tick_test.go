package paper

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestNiceTicks(t *testing.T) {
	labels := func(lo, hi float64) string {
		var s []string
		for _, tick := range NiceTicks(lo, hi, 5) {
			s = append(s, tick.Label)
		}
		return strings.Join(s, " ")
	}
	require.Equal(t, "0 0.001 0.002 0.003 0.004", labels(0, 0.0045))
	require.Equal(t, "0 0.00001 0.00002 0.00003 0.00004", labels(0, 4.5e-5), "none beyond the end")
	require.Equal(t, "0 1000 2000 3000 4000 5000", labels(0, 5000))
	require.Equal(t, "−100 0 100", labels(-180, 180))
	require.Equal(t, "0 0.2 0.4 0.6 0.8 1.0", labels(0, 1))
}

// Where the step for two ticks is longer than the whole, the next finer one is taken.
func TestTicksWhereStepIsLonger(t *testing.T) {
	for _, power := range []float64{-1.328125, 4.625} {
		span := math.Pow(10, power)
		for _, lo := range []float64{0.015625, 0.03125, 0.1} {
			ticks := NiceTicks(lo*span*3, lo*span*3+span, 2)
			require.NotEmpty(t, ticks)
			require.LessOrEqual(t, len(ticks), 3)
		}
	}
}

// Whatever the ends, ticks lie within them, are written as what they are, and stand a step of 1, 2 or 5 times a power
// of ten apart, the least that gives no more of them than asked for and one.
func TestTicksOfAnyScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-1, 1).Draw(t, "lo")
		span := math.Pow(10, rapid.Float64Range(-3, 6).Draw(t, "power of the span"))
		lo *= span * 3
		hi, n := lo+span, rapid.IntRange(2, 10).Draw(t, "n")
		ticks := NiceTicks(lo, hi, n)
		require.LessOrEqual(t, len(ticks), n+1)
		require.NotEmpty(t, ticks)
		for i, tick := range ticks {
			require.True(t, tick.At >= lo-1e-4*span && tick.At <= hi+1e-4*span, "%g", tick.At)
			back, err := strconv.ParseFloat(strings.Replace(tick.Label, "−", "-", 1), 64)
			require.NoError(t, err)
			require.InDelta(t, tick.At, back, 1e-9*span)
			if i == 0 {
				continue
			}
			step := tick.At - ticks[i-1].At
			first := strconv.FormatFloat(step, 'e', 6, 64)[:8]
			require.Contains(t, []string{"1.000000", "2.000000", "5.000000"}, first)
			require.LessOrEqual(t, step, 2.5*span/float64(n)*(1+1e-9), "no coarser than need be")
		}
	})
}

// What is counted has whole numbers on its scale, however short that is.
func TestWholeTicks(t *testing.T) {
	labels := func(lo, hi float64) string {
		var s []string
		for _, tick := range WholeTicks(lo, hi, 8) {
			s = append(s, tick.Label)
		}
		return strings.Join(s, " ")
	}
	require.Equal(t, "0 1", labels(0, 1))
	require.Equal(t, "0 1 2 3", labels(0, 3))
	require.Equal(t, "2 3 4", labels(1.5, 4.2))
	require.Equal(t, "0 20 40 60 80", labels(0, 84))
}

// Series differ in colour, or else in dashes, marker and hatch: every two of 36.
func TestSeriesDiffer(t *testing.T) {
	for i := range SeriesCount * SeriesCount {
		for j := range i {
			sameColour := SeriesColour(i) == SeriesColour(j)
			require.False(t, sameColour && again(i) == again(j), "%d and %d", i, j)
		}
	}
}
