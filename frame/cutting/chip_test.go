package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever the radii, the teeth together take the feed of a revolution at every angle, and no more.
func TestChipsOfARevolutionSumToItsFeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "teeth")
		feed := 0.03
		radii := make([]float64, n)
		for i := range radii {
			radii[i] = rapid.Float64Range(-0.1, 0.1).Draw(t, "radius")
		}
		phi := rapid.Float64Range(0.2, 2.9).Draw(t, "angle")
		sum := 0.0
		for j := range n {
			before := make([]float64, n)
			for k := range before {
				before[k] = radii[(j+k)%n]
			}
			for _, a := range chipArcs(0.1, 3, feed, before) {
				require.Less(t, a.from, a.to)
				if a.from <= phi && phi < a.to {
					h := a.p + a.q*math.Sin(phi)
					require.GreaterOrEqual(t, h, -1e-15)
					sum += h
				}
			}
		}
		require.InDelta(t, float64(n)*feed*math.Sin(phi), sum, 1e-12)
	})
}

// The three ways to integrate agree where two of them apply.
func TestChipPowerWaysAgree(t *testing.T) {
	near := func(a, b moments, tol float64) {
		t.Helper()
		for _, v := range [][2]float64{{a.chip, b.chip}, {a.chipCos, b.chipCos}, {a.chipSin, b.chipSin},
			{a.edge, b.edge}, {a.edgeCos, b.edgeCos}, {a.edgeSin, b.edgeSin}} {
			require.InDelta(t, v[0], v[1], tol*math.Abs(b.chip))
		}
	}
	for _, r := range [][2]float64{{0, math.Pi}, {0, 0.2}, {0.4, 2}, {2.5, math.Pi}} {
		whole := arc{0, math.Pi, 0, 0.03}
		tiny := arc{0, math.Pi, 1e-15, 0.03} // an offset too small to matter sends the chip to quadrature
		for _, m := range []float64{0.14, 0.25, 0.4} {
			near(newChipPower(m).between(tiny, r[0], r[1]), newChipPower(m).between(whole, r[0], r[1]), 1e-7)
		}
		linear, series := newChipPower(0), newChipPower(0)
		series.series = newSinePowers(1)
		near(series.between(whole, r[0], r[1]), linear.between(whole, r[0], r[1]), 1e-13)
	}
}
