package paper

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/font"
)

// Words that are read from right to left stand so in an image; others among them, and numbers, from left to right.
func TestOrderOfSight(t *testing.T) {
	for written, seen := range map[string]string{
		"short bed":         "short bed",
		"":                  "",
		"אבג":               "גבא",
		"bed אבג, thick":    "bed גבא, thick",
		"16 µm, אב גד":      "16 µm, דג בא",
		"אבג 20 mm":         "גבא 20 mm",
		"Axis x, “אבג”: −5": "Axis x, “גבא”: −5",
	} {
		require.Equal(t, seen, inOrderOfSight(written), written)
	}
}

// A letter that the font lacks is a box, not a gap; what only joins letters is nothing.
func TestDrawable(t *testing.T) {
	f := font.DefaultCache.Lookup(Lettering(SmallSize, Ink).Font, SmallSize)
	require.Equal(t, "bed µ −5 □ □□", drawable(f, "bed µ −5 \U0001f527\ufe0f سر"))
	var none string
	require.Equal(t, none, drawable(f, ""))
	require.Equal(t, string(noLetter), drawable(f, string(noLetter)), "the font has the box")
}
