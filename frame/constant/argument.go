package constant

import (
	"fmt"
	"math"
)

// Positive returns an error that names the quantity unless it is positive and finite.
func Positive(what string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g, must be positive", what, v)
	}
	return nil
}

// MustBePositive panics unless v is positive and finite: a mistake of a caller who has checked his data. The name of
// the calling package goes before the quantity's, "joint: depth", as it does in every panic.
func MustBePositive(what string, v float64) {
	if err := Positive(what, v); err != nil {
		panic(err.Error())
	}
}

// NotNegative returns an error that names the quantity unless it is zero or more, and finite.
func NotNegative(what string, v float64) error {
	if !(v >= 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g, must not be negative", what, v)
	}
	return nil
}

// MustNotBeNegative panics unless v is zero or more, and finite; what is as for [MustBePositive].
func MustNotBeNegative(what string, v float64) {
	if err := NotNegative(what, v); err != nil {
		panic(err.Error())
	}
}

// Finite returns an error that names the quantity if it is NaN or infinite.
func Finite(what string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("%s is %g, must be finite", what, v)
	}
	return nil
}

// Number passes a result on, or returns an error if it has left the range of numbers.
func Number(what string, v float64) (float64, error) {
	if err := Finite(what, v); err != nil {
		return 0, err
	}
	return v, nil
}
