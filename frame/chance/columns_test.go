package chance_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/chance"
	"tiploop/frame/constant"
)

// The same key is the same draw for whoever asks, early or late.
func TestColumns(t *testing.T) {
	a, b := chance.Unknown{Key: "a", Band: constant.Between(1, 2, 4)}, chance.Unknown{Key: "b", Band: constant.Between(1, 3, 4)}
	var columns chance.Columns
	first, err := columns.Logs([]chance.Unknown{a}, 64)
	require.NoError(t, err)
	second, err := columns.Logs([]chance.Unknown{b, a}, 128)
	require.NoError(t, err)
	for i := range first {
		require.Equal(t, first[i][0], second[i][1])
	}
	require.NotEqual(t, second[1][0], second[1][1])
	var values []float64
	for i := range second {
		values = append(values, 3*math.Exp(second[i][0]))
	}
	r := chance.RangeOf(values)
	require.InEpsilon(t, 1, r.Low, 0.05, "the ends of a band are its 5 and 95 % points")
	require.InEpsilon(t, 3, r.Median, 0.05)
	require.InEpsilon(t, 4, r.High, 0.05)

	var many []chance.Unknown
	for k := range chance.MostUnknowns {
		many = append(many, chance.Unknown{Key: fmt.Sprint(k), Band: a.Band})
	}
	_, err = columns.Of(many)
	require.ErrorContains(t, err, "1000")
}

// Shares against what a sum and a square of normals are known to have: variances a², b² and 2c² of a·z₁ + b·z₂ + c·z₃².
func TestShares(t *testing.T) {
	band := constant.Between(1/math.E, 1, math.E)
	unknowns := []chance.Unknown{{Key: "1", Band: band}, {Key: "2", Band: band}, {Key: "3", Band: band}, {Key: "4", Band: band}}
	var columns chance.Columns
	logs, err := columns.Logs(unknowns, many)
	require.NoError(t, err)
	const sigma = 1 / 1.6448536269514722
	answer := make([]float64, many)
	for i, l := range logs {
		answer[i] = 2*l[0]/sigma + l[1]/sigma + math.Pow(l[2]/sigma, 2)
	}
	for k, want := range []float64{4. / 7, 1. / 7, 2. / 7, 0} {
		require.InDelta(t, want, chance.Shares(logs, answer)[k], 0.02, "unknown %d", k)
	}
	sum := 0.0
	for _, s := range chance.Shares(logs, answer) {
		sum += s
	}
	require.LessOrEqual(t, sum, 1.0)
	require.Equal(t, []float64{0, 0, 0, 0}, chance.Shares(logs, make([]float64, many)))
	require.Nil(t, chance.Shares(nil, nil))
}
