package drive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// Least squares; the table's values were found by normal equations and by another solver.
func TestReadings(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){"reading-both-ways": func(t *testing.T, c checks.Case) {
		found, err := Readings{PushN: c.Ins(t, "push_N"), DialMM: c.Ins(t, "dial_mm")}.Fit()
		require.NoError(t, err)
		c.Near(t, "stiffness_N_per_um", found.NPerUm, c.Tolerance)
		c.Near(t, "play_um", found.PlayUm, c.Tolerance)
		c.Near(t, "zero_um", found.ZeroUm, 1e-5)
		c.Near(t, "largest_misfit_um", found.FarthestOffUm, c.Tolerance)
	}})
}

func TestReadingsThatSayNothing(t *testing.T) {
	for name, r := range map[string]Readings{
		"none": {}, "two": {PushN: []float64{1, 2}, DialMM: []float64{1, 2}},
		"not as many":   {PushN: []float64{1, -2, 3}, DialMM: []float64{1, 2}},
		"one way":       {PushN: []float64{1, 2, 3}, DialMM: []float64{1, 2, 3}},
		"one size":      {PushN: []float64{1, -1, 1}, DialMM: []float64{1, -2, 3}},
		"no push":       {PushN: []float64{0, -1, 1}, DialMM: []float64{1, -2, 3}},
		"no number":     {PushN: []float64{2, -1, 1}, DialMM: []float64{1, math.NaN(), 3}},
		"the wrong way": {PushN: []float64{-20, -10, 10, 20}, DialMM: []float64{2, 1, -1, -2}},
	} {
		_, err := r.Fit()
		require.Error(t, err, name)
	}
}
