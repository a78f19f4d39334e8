package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

// The two sides of a preloaded nut are two Hertzian contacts, δ = c·F^(2/3), closed by the preload and moved by the
// same way: solved here by bisection on that way, apart from the formula.
func TestPreloadedNut(t *testing.T) {
	const preload = 500.0
	closed := math.Pow(preload, 2./3)
	for _, force := range []float64{1, 100, 700, 1400} {
		lo, hi := 0.0, closed
		for range 200 {
			way := (lo + hi) / 2
			if math.Pow(closed+way, 1.5)-math.Pow(closed-way, 1.5) > force {
				hi = way
			} else {
				lo = way
			}
		}
		loaded, _ := drive.PreloadedNut(force, preload)
		// ISO 3408-5 puts a straight line in place of Hertz's curve; it meets it at both ends.
		if e := math.Abs(loaded/math.Pow(closed+lo, 1.5) - 1); !(e <= 0.03) {
			t.Errorf("at %g N the loaded side has %g N, by bisection %g", force, loaded, math.Pow(closed+lo, 1.5))
		}
	}
	loaded, relieved := drive.PreloadedNut(0, preload)
	require.Equal(t, []float64{preload, preload}, []float64{loaded, relieved})
	loaded, relieved = drive.PreloadedNut(2*math.Sqrt2*preload, preload)
	require.InEpsilon(t, math.Pow(2, 1.5)*preload, loaded, 1e-12)
	require.Zero(t, relieved)
	loaded, relieved = drive.PreloadedNut(30, 0)
	require.Equal(t, []float64{30, 0}, []float64{loaded, relieved})
	require.Panics(t, func() { drive.PreloadedNut(-1, 0) })
}

// By hand, C_a = 10.5 kN: with the force at 2√2 preloads one side alone has it, (C_a/F)³·10⁶ turns; with the preload
// alone both sides have it and live 2^(−9/10) of one.
func TestPreloadedLife(t *testing.T) {
	const rating, preload = 10.5e3, 500.0
	for _, c := range []struct {
		force, preload, want float64
	}{
		{1000, 0, 1e6 * 10.5 * 10.5 * 10.5},
		{2 * math.Sqrt2 * preload, preload, 1e6 * math.Pow(10.5e3/1414.2136, 3)},
		// Half-way the sides have 1.5^(3/2) preloads and √2 less: 918.5587 and 211.4519 N.
		{math.Sqrt2 * preload, preload,
			1e6 * math.Pow(math.Pow(10.5e3/918.5586534, -10./3)+math.Pow(10.5e3/211.4518723, -10./3), -0.9)},
		{0, preload, 1e6 * 21 * 21 * 21 * math.Pow(2, -0.9)},
	} {
		got, err := drive.PreloadedLife(rating, c.force, c.preload)
		require.NoError(t, err)
		require.InEpsilon(t, c.want, got, 1e-7)
	}
	last := math.Inf(1)
	for force := 0.0; force < 3000; force += 50 {
		got, err := drive.PreloadedLife(rating, force, preload)
		require.NoError(t, err)
		require.Less(t, got, last, "more force, less life")
		last = got
	}
	for _, wrong := range [][3]float64{{0, 1, 1}, {1, -1, 1}, {1, 1, -1}, {1, 0, 0}, {1, math.NaN(), 1}} {
		_, err := drive.PreloadedLife(wrong[0], wrong[1], wrong[2])
		require.Error(t, err)
	}
}
