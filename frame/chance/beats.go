package chance

import "math"

// Verdict is a comparison of two answers over the same draws: the shares of those in which the first is the greater, in
// which it is the less, and in which they are alike. Together they are 1.
type Verdict struct {
	Greater, Less, Alike float64
	Ratio                *Range // of the first over the second; nil where either is nothing in some draw
}

// alike is the largest difference, as a share, that is rounding.
const alike = 1e-9

// Beats holds a against b draw by draw: neither must be negative, and both of one length, at least one draw.
func Beats(a, b []float64) Verdict {
	if len(a) != len(b) || len(a) == 0 {
		panic("chance: draws of two lengths are not the same draws")
	}
	greater, less := 0, 0
	positive := true
	ratios := make([]float64, len(a))
	for i := range a {
		ratios[i] = a[i] / b[i]
		positive = positive && a[i] > 0 && b[i] > 0
		switch {
		case math.Abs(a[i]-b[i]) <= alike*max(math.Abs(a[i]), math.Abs(b[i])):
		case a[i] > b[i]:
			greater++
		default:
			less++
		}
	}
	n := float64(len(a))
	v := Verdict{float64(greater) / n, float64(less) / n, float64(len(a)-greater-less) / n, nil}
	if positive {
		v.Ratio = new(RangeOf(ratios))
	}
	return v
}

// Ahead is how often the first is the greater where every tie counts half for either: 0.5 of two that are alike.
func (v Verdict) Ahead() float64 { return v.Greater + v.Alike/2 }

// Sureness is how a share of draws is spoken of. Ties are nobody's.
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
	switch most := max(v.Greater, v.Less); {
	case v.Alike == 1:
		return TheSame
	case most >= surely:
		return Surely
	case most >= probably:
		return Probably
	}
	return NoDifference
}
