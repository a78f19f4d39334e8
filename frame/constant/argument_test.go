package constant

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestArguments(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		require.Error(t, Positive("length", bad))
		require.Error(t, NotNegative("length", bad))
		require.Error(t, Finite("length", bad))
		_, err := Number("length", bad)
		require.Error(t, err)
		require.Panics(t, func() { MustBePositive("joint: length", bad) })
		require.Panics(t, func() { MustNotBeNegative("joint: length", bad) })
	}
	require.PanicsWithValue(t, "joint: length is 0, must be positive", func() { MustBePositive("joint: length", 0) })
	require.PanicsWithValue(t, "joint: length is -1, must not be negative",
		func() { MustNotBeNegative("joint: length", -1) })
	require.NotPanics(t, func() { MustBePositive("joint: length", math.SmallestNonzeroFloat64) })
	require.NotPanics(t, func() { MustNotBeNegative("joint: length", 0) })
	require.EqualError(t, Positive("length", 0), "length is 0, must be positive")
	require.EqualError(t, NotNegative("length", -1), "length is -1, must not be negative")
	require.NoError(t, NotNegative("length", 0))
	v, err := Number("length", -2)
	require.NoError(t, err)
	require.Equal(t, -2.0, v)
}
