package guide

import (
	"fmt"
	"math"
)

// Band is a number that is not known exactly.
type Band struct {
	Low, Typical, High float64 // Low <= Typical <= High by value
}

// times multiplies ends with ends: the factors are taken to be low together and high together.
func (b Band) times(o Band) Band {
	return Band{b.Low * o.Low, b.Typical * o.Typical, b.High * o.High}
}

// scaled multiplies by a number, which must not be negative.
func (b Band) scaled(f float64) Band { return Band{b.Low * f, b.Typical * f, b.High * f} }

// exactly is the band of a number that is known.
func exactly(v float64) Band { return Band{v, v, v} }

// mustBePositive panics unless v is positive and finite.
func mustBePositive(what string, v float64) {
	if err := positive(what, v); err != nil {
		panic("guide: " + err.Error())
	}
}

// positive returns an error that names the quantity unless it is positive and finite.
func positive(what string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g, must be positive", what, v)
	}
	return nil
}

// notNegative returns an error that names the quantity unless it is zero or more, and finite.
func notNegative(what string, v float64) error {
	if !(v >= 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g, must not be negative", what, v)
	}
	return nil
}

// finite returns an error that names the quantity if it is NaN or infinite.
func finite(what string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("%s is %g, must be finite", what, v)
	}
	return nil
}

// number passes a result on, or returns an error if it has left the range of numbers.
func number(what string, v float64) (float64, error) {
	if err := finite(what, v); err != nil {
		return 0, err
	}
	return v, nil
}
