package constant_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
)

// bands draws bands in order, of numbers that are powers of two so that products are exact.
func bands(t *rapid.T, name string) constant.Band {
	exponents := rapid.SliceOfN(rapid.IntRange(-20, 20), 3, 3).Draw(t, name)
	low := min(exponents[0], exponents[1], exponents[2])
	high := max(exponents[0], exponents[1], exponents[2])
	typical := exponents[0] + exponents[1] + exponents[2] - low - high
	return constant.Between(math.Ldexp(1, low), math.Ldexp(1, typical), math.Ldexp(1, high))
}

func TestProducts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := bands(t, "a"), bands(t, "b")
		require.NoError(t, a.Check())
		product := a.Times(b)
		require.NoError(t, product.Check(), "products of positive bands keep their order")
		require.Equal(t, product, b.Times(a))
		require.Equal(t, a, a.Times(constant.Exactly(1)))
		require.Equal(t, a.Times(constant.Exactly(b.High)), a.Scaled(b.High))
		for _, l := range []constant.Level{constant.Low, constant.Typical, constant.High} {
			require.Equal(t, a.At(l)*b.At(l), product.At(l))
		}
	})
	require.Equal(t, constant.Band{Low: 2, Typical: 6, High: 12},
		constant.Between(1, 2, 3).Times(constant.Between(2, 3, 4)))
	require.Equal(t, constant.Band{}, constant.Between(1, 2, 3).Scaled(0))
}

func TestBandCheck(t *testing.T) {
	for _, b := range []constant.Band{{}, constant.Exactly(0.5), constant.Between(0, 3, 6)} {
		require.NoError(t, b.Check())
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, b := range []constant.Band{
		constant.Between(2, 1, 3), constant.Between(1, 3, 2), constant.Between(-1, 1, 2),
		constant.Between(nan, 1, 2), constant.Between(1, nan, 2), constant.Between(1, 2, nan),
		constant.Between(1, 2, inf),
	} {
		require.Error(t, b.Check(), "%v", b)
	}
}
