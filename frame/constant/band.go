package constant

import (
	"fmt"
	"math"
)

// Band is a number that is not known exactly.
type Band struct {
	Low, Typical, High float64 // Low <= Typical <= High by value, whatever that means for stiffness
}

// Between returns the band of a number from low to high, most likely typical.
func Between(low, typical, high float64) Band { return Band{low, typical, high} }

// Exactly returns the band of a number that is known.
func Exactly(v float64) Band { return Band{v, v, v} }

// Times multiplies ends with ends: the factors are positive, and taken to be low together and high together.
func (b Band) Times(o Band) Band {
	return Band{b.Low * o.Low, b.Typical * o.Typical, b.High * o.High}
}

// Scaled multiplies by a number, which must not be negative.
func (b Band) Scaled(f float64) Band { return Band{b.Low * f, b.Typical * f, b.High * f} }

// Check returns an error unless 0 <= Low <= Typical <= High, all of them finite.
func (b Band) Check() error {
	if !(0 <= b.Low && b.Low <= b.Typical && b.Typical <= b.High) || math.IsInf(b.High, 1) {
		return fmt.Errorf("%g, %g, %g are not low, typical and high", b.Low, b.Typical, b.High)
	}
	return nil
}
