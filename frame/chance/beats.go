package chance

import "math"

// Verdict is a comparison of two answers over the same draws.
type Verdict struct {
	Better float64 // share of the draws in which the first is the greater; a tie counts half
	Same   bool    // alike in every draw
	Ratio  Range   // of the first over the second; zero where either is nothing in some draw
}

// alike is the largest difference, as a share, that is rounding.
const alike = 1e-9

// Beats holds a against b draw by draw: neither must be negative, and both of one length, at least one draw.
func Beats(a, b []float64) Verdict {
	if len(a) != len(b) || len(a) == 0 {
		panic("chance: draws of two lengths are not the same draws")
	}
	v := Verdict{Same: true}
	positive := true
	ratios := make([]float64, len(a))
	for i := range a {
		ratios[i] = a[i] / b[i]
		positive = positive && a[i] > 0 && b[i] > 0
		switch {
		case math.Abs(a[i]-b[i]) <= alike*max(math.Abs(a[i]), math.Abs(b[i])):
			v.Better += 0.5
		case a[i] > b[i]:
			v.Better++
			v.Same = false
		default:
			v.Same = false
		}
	}
	v.Better /= float64(len(a))
	if positive {
		v.Ratio = RangeOf(ratios)
	}
	return v
}

// Sureness is how a share of draws is spoken of.
type Sureness int

const (
	NoDifference Sureness = iota // below 80 of 100 either way
	Probably                     // 80 to 95 of 100
	Surely                       // 95 of 100 and more
	TheSame                      // alike in every draw
)

// Sureness returns how to speak of the one that is better.
func (v Verdict) Sureness() Sureness {
	const probably, surely = 0.80, 0.95
	switch most := max(v.Better, 1-v.Better); {
	case v.Same:
		return TheSame
	case most >= surely:
		return Surely
	case most >= probably:
		return Probably
	}
	return NoDifference
}
