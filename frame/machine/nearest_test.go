package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNearestWord(t *testing.T) {
	known := []string{"base", "rib_left", "rib_right", "bed", "fixed", "E"}
	for word, want := range map[string]string{
		"rib_lft":   "rib_left",
		"rib_rihgt": "rib_right",
		"Base":      "base",
		"bde":       "bed",
		"fix":       "fixed",
		"e":         "E",
		"z":         "",
		"spindle":   "",
		"":          "",
	} {
		got, ok := nearestWord(word, known)
		require.Equal(t, want, got, word)
		require.Equal(t, want != "", ok, word)
	}
}

// TestSlips has distances from the definition: edits counted by hand.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"bed", "bed", 0}, {"bed", "bad", 1}, {"bed", "bde", 1}, {"bed", "beds", 1}, {"kitten", "sitting", 3},
	} {
		require.Equal(t, c.want, slips([]rune(c.a), []rune(c.b)), "%s to %s", c.a, c.b)
		require.Equal(t, c.want, slips([]rune(c.b), []rune(c.a)), "%s to %s", c.b, c.a)
	}
}

func TestSuggest(t *testing.T) {
	require.Equal(t, "did you mean bed? one of: base, bed", suggest("bde", []string{"base", "bed"}))
	require.Equal(t, "one of: base, bed", suggest("spindle", []string{"base", "bed"}))
	require.Equal(t, "did you mean mm?", suggest("mmm", unitNames))
	require.Equal(t, "", suggest("spindle", nil))
}
