package phrase

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// RangedDigits are those of a number that is known with its range.
const RangedDigits = 2

// Ranged writes a number with its unit, and the range of nine in ten behind it where there is one.
func Ranged(v float64, r *answer.Range, unit string) string {
	if r == nil {
		return WithUnit(number.Significant(v), unit)
	}
	return WithUnit(number.Digits(v, RangedDigits), unit) + " (" + Span(*r) + ")"
}

// Span writes a range.
func Span(r answer.Range) string {
	return number.Digits(r.Low, RangedDigits) + " to " + number.Digits(r.High, RangedDigits)
}

// Chance writes a percentage of draws, "97 of 100"; what is not certain is never called so, nor what happens impossible.
func Chance(percent float64) string { return Share(percent) + " of 100" }

// Share writes a share in whole percent: 0 only where it is nothing, 100 only where it is all.
func Share(percent float64) string {
	if percent > 0 && percent < 100 {
		percent = min(max(percent, 1), 99)
	}
	return fmt.Sprintf("%.0f", math.Round(percent))
}

// WithEnds writes a number of a table and what nine of ten machines lie between.
func WithEnds(v, low, high float64) string {
	return fmt.Sprintf("%s (%s-%s)", number.Digits(v, RangedDigits), number.Digits(low, RangedDigits),
		number.Digits(high, RangedDigits))
}
