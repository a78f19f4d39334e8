package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/modelfile"
)

// Half, double and a hundredth of the way between, rounded down to one, two or five of a power of ten, by hand.
func TestSliders(t *testing.T) {
	for _, tt := range []struct {
		name           string
		at             float64
		whole          bool
		from, to, step float64
	}{
		{"a thickness", 12, false, 6, 24, 0.1},
		{"below zero", -160, false, -320, -80, 2},
		{"zero", 0, false, -10, 10, 0.2},
		{"screws", 3, true, 1, 6, 1},
		{"double is no number", math.MaxFloat64, false, math.MaxFloat64 / 2, math.MaxFloat64, 5e305},
		{"next to nothing", math.SmallestNonzeroFloat64, false, 0, 2 * math.SmallestNonzeroFloat64, leastStep},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := sliderOf(modelfile.Written{Name: "a", At: tt.at, Whole: tt.whole})
			require.Equal(t, [4]float64{tt.at, tt.from, tt.to, tt.at}, [4]float64{v.At, v.From, v.To, v.File})
			require.InEpsilon(t, tt.step, v.Step, 1e-12) // rounding of powers of ten
		})
	}
}
