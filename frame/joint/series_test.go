package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestSpringsInARow(t *testing.T) {
	c := checks.Find(t, "joint-springs-series")
	k := c.Ins(t, "k_N_per_mm")
	compare(t, c, map[string][]float64{
		"stiffness_N_per_mm":  {joint.Series(k...)},
		"share_of_deflection": joint.SeriesShares(k...),
	}, nil)
}

func TestSeriesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exponents := rapid.SliceOfN(rapid.Float64Range(-6, 9), 1, 8).Draw(t, "log10 k")
		k := make([]float64, len(exponents))
		for i, e := range exponents {
			k[i] = math.Pow(10, e)
		}
		total := joint.Series(k...)
		sum := 0.0
		for i, share := range joint.SeriesShares(k...) {
			sum += share
			require.LessOrEqual(t, total, k[i]*(1+roundOff), "no stiffer than its softest")
		}
		require.InDelta(t, 1, sum, roundOff)
		// Grouping does not matter.
		if e := checks.Rel(joint.Series(joint.Series(k...), 5), joint.Series(append(k, 5)...)); !(e <= roundOff) {
			t.Fatalf("off by %g", e)
		}
	})
}

func TestSeriesRefusesNonsense(t *testing.T) {
	for _, k := range [][]float64{{}, {0}, {-1}, {1, math.NaN()}, {math.Inf(1)}} {
		require.Panics(t, func() { joint.Series(k...) })
	}
}
