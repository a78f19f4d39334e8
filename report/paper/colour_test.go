package paper

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// luminance of a colour relative to white, by WCAG 2.2 (W3C, 2023), "relative luminance".
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// Each step of the scale is darker by a contrast of 1.2 at least (WCAG's ratio), so that grey print tells it.
func TestMovementDarkens(t *testing.T) {
	for i := range Movement[1:] {
		a, b := luminance(Movement[i]), luminance(Movement[i+1])
		require.Greater(t, (a+0.05)/(b+0.05), 1.2, "step %d", i)
	}
}
