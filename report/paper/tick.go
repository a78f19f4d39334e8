package paper

import (
	"math"
	"strconv"
	"strings"

	"tiploop/report/number"
)

// Tick is a mark on an axis.
type Tick struct {
	At    float64 // in the axis's unit
	Label string  // with a minus sign of full width
}

// NiceTicks gives at most n+1 round values from lo to hi, and one at least, both of the ends included where they are
// round, in steps of 1, 2 or 5 times a power of ten. lo must be less than hi and n at least 2.
func NiceTicks(lo, hi float64, n int) []Tick {
	raw := (hi - lo) / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	finer := power
	for _, factor := range []float64{1, 2, 5, 10} {
		step := factor * power
		if step >= raw*(1-number.NoiseInVector) {
			if ticks := ticksAt(lo, hi, step); ticks != nil {
				return ticks
			}
			break // half as many as asked for may be none: a step of up to 2.5 times raw finds no room in 2 times raw
		}
		finer = step
	}
	return ticksAt(lo, hi, finer)
}

// WholeTicks is NiceTicks of what is counted: whole numbers alone, the ends where there is none between them.
func WholeTicks(lo, hi float64, n int) []Tick {
	if hi-lo >= float64(n) {
		return NiceTicks(lo, hi, n)
	}
	return ticksAt(lo, hi, 1)
}

// ticksAt are the multiples of a step from lo to hi.
func ticksAt(lo, hi, step float64) (ticks []Tick) {
	decimals := int(max(0, -math.Floor(math.Log10(step)+number.NoiseInVector)))
	for i := math.Ceil(lo/step - number.NoiseInVector); i*step <= hi+step*number.NoiseInVector; i++ {
		label := strconv.FormatFloat(i*step, 'f', decimals, 64)
		if i == 0 {
			label = "0"
		}
		ticks = append(ticks, Tick{i * step, WithMinus(label)})
	}
	return ticks
}

// WithMinus gives a number a minus sign of full width, for letters on a picture.
func WithMinus(number string) string { return strings.Replace(number, "-", "−", 1) }
