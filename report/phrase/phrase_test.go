package phrase

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCapital(t *testing.T) {
	for words, want := range map[string]string{"": "", "more leg": "More leg", "Öl": "Öl", "éclat": "Éclat", "“one”": "“one”",
		"4 mm": "4 mm", "\xff": "\uFFFD"} {
		require.Equal(t, want, Capital(words))
	}
}

func TestShare(t *testing.T) {
	for percent, want := range map[float64]string{0: "0", 0.2: "1", 12.5: "13", 66.7: "67", 99.6: "99", 100: "100"} {
		require.Equal(t, want, Share(percent))
		require.Equal(t, want+" of 100", Chance(percent))
	}
}

func TestDirections(t *testing.T) {
	for _, tt := range []struct {
		d         [3]float64
		line, way string
	}{
		{[3]float64{0, 0, -2}, "up–down (z)", "down (−z)"},
		{[3]float64{-3, 0.1, 0}, "left–right (x)", "left (−x)"},
		{[3]float64{0, 1, 1}, "between towards/away from you (y) and up–down (z)",
			"between away from you (+y) and up (+z)"},
		{[3]float64{1, -2, 0}, "mostly towards/away from you (y), partly left–right (x)", "mostly towards you (−y), " +
			"partly right (+x)"},
		{[3]float64{1, 1, 1}, "mostly left–right (x), partly towards/away from you (y) and up–down (z)",
			"mostly right (+x), partly away from you (+y) and up (+z)"},
		{[3]float64{}, "nowhere", "nowhere"},
	} {
		require.Equal(t, tt.line, Line(tt.d), tt.d)
		require.Equal(t, tt.way, Way(tt.d), tt.d)
	}
}
