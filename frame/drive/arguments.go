package drive

import (
	"fmt"
	"math"
)

// mustBePositive panics unless v is positive and finite.
func mustBePositive(what string, v float64) {
	if err := positive(what, v); err != nil {
		panic("drive: " + err.Error())
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
