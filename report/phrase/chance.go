package phrase

import (
	"fmt"
	"math"
)

// Chance writes a percentage of draws, "97 of 100"; what is not certain is never called so, nor what happens impossible.
func Chance(percent float64) string {
	whole := math.Round(percent)
	switch {
	case whole == 100 && percent < 100:
		whole = 99
	case whole == 0 && percent > 0:
		whole = 1
	}
	return fmt.Sprintf("%.0f of 100", whole)
}
