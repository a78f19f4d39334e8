package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Source: Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4 (Gaussian integration on −1..1).
func TestPointsAreThoseOfTheHandbook(t *testing.T) {
	require.Equal(t, 0.0, sumOf(fourPoints, func(x float64) float64 { return x }))
	require.InDelta(t, 2./7, sumOf(fourPoints, func(x float64) float64 { return math.Pow(x, 6) }), 1e-15)
	for _, row := range []struct{ x, w []float64 }{
		{[]float64{0.577350269189625765}, []float64{1}},
		{[]float64{0, 0.774596669241483377}, []float64{0.888888888888888889, 0.555555555555555556}},
		{[]float64{0.339981043584856265, 0.861136311594052575}, []float64{0.652145154862546143, 0.347854845137453857}},
	} {
		var want [][2]float64
		for i, x := range row.x {
			if x > 0 {
				want = append([][2]float64{{-x, row.w[i]}}, want...)
			}
			want = append(want, [2]float64{x, row.w[i]})
		}
		got := legendre(len(want))
		unit := onUnit(got)
		require.Len(t, got, len(want))
		for i, p := range want {
			require.InDelta(t, p[0], got[i][0], 2e-16)
			require.InDelta(t, p[1], got[i][1], 2e-16)
		}
		last := 0.0
		for _, p := range unit {
			off := math.Abs(p[0] - 0.5)
			require.GreaterOrEqual(t, off, last-1e-16, "from the middle outwards")
			last = off
		}
	}
}

func sumOf(rule [][2]float64, f func(x float64) float64) (sum float64) {
	for _, p := range rule {
		sum += p[1] * f(p[0])
	}
	return sum
}

// Both elements' points integrate every product of powers up to the degree their comments promise, over the local
// volume: ∫₋₁¹ tᵖ dt = 2/(p+1) for even p; over the triangle ∫∫ rᵐ·sⁿ = m!·n!/(m+n+2)!, by the beta
// function.
func TestStationsAreExact(t *testing.T) {
	along := func(p int) float64 { return float64(1-p%2) * 2 / float64(p+1) }
	const degree = 5
	for a := range degree + 1 {
		for b := range degree + 1 {
			for c := range degree + 1 {
				sum := func(list []station) (s float64) {
					for _, p := range list {
						s += p.Weight * math.Pow(p.Xi[0], float64(a)) * math.Pow(p.Xi[1], float64(b)) * math.Pow(p.Xi[2], float64(c))
					}
					return s
				}
				require.InDelta(t, along(a)*along(b)*along(c), sum(brickStations), 1e-14)
				if a+b <= degree {
					triangle := math.Gamma(float64(a+1)) * math.Gamma(float64(b+1)) / math.Gamma(float64(a+b+3))
					require.InDelta(t, triangle*along(c), sum(wedgeStations), 1e-15)
				}
			}
		}
	}
}
