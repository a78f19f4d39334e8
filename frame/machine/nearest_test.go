package machine

import (
	"strings"
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
		require.Equal(t, want, strings.Join(Nearest(word, known), " "), word)
	}
}

// TestNearestOfSeveral has words that are equally near: the beginning decides, then the length, or nothing does.
func TestNearestOfSeveral(t *testing.T) {
	screws := []string{"M3", "M4", "M5", "M6", "M8", "M10", "M12"}
	for _, c := range []struct {
		word  string
		known []string
		want  string
	}{
		{"M7", screws, "M3 M4 M5 M6 M8"},
		{"m6", screws, "M6"},
		{"M1O", screws, "M10 M12"},
		{"rib", []string{"rib_left", "rib_right"}, "rib_left rib_right"},
		{"rib_l", []string{"rib_left", "rib_right"}, "rib_left"},
		{"bad", []string{"bed", "bay", "base"}, "bay"},
		{"bat", []string{"cat", "rat"}, "cat rat"},
		{"cat", []string{"bat", "cab"}, "cab"},
		{"mn", []string{"m", "mm", "min"}, "mm"},
		{"Bed", []string{"bed", "bed"}, "bed"},
		{"ribs", []string{"rib", "ribs_left"}, "rib"},
	} {
		require.Equal(t, c.want, strings.Join(Nearest(c.word, c.known), " "), c.word)
	}
}

// TestSlips has distances from the definition: edits counted by hand.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"bed", "bed", 0}, {"bed", "bad", 1}, {"bed", "bde", 1}, {"bed", "beds", 1},
		{"kitten", "sitting", 3},
	} {
		require.Equal(t, c.want, slips([]rune(c.a), []rune(c.b)), "%s to %s", c.a, c.b)
		require.Equal(t, c.want, slips([]rune(c.b), []rune(c.a)), "%s to %s", c.b, c.a)
	}
}

func TestSuggest(t *testing.T) {
	units := strings.Fields("mm um nm cm m in thou ft N kN kgf lbf MPa GPa kPa Pa psi ksi kg g tonne lb deg rad mrad K " +
		"mK s ms min rpm W kW")
	require.Equal(t, "did you mean bed? one of: base, bed", Suggest("bde", []string{"base", "bed"}))
	require.Equal(t, "one of: base, bed", Suggest("spindle", []string{"base", "bed"}))
	require.Equal(t, "did you mean mm?", Suggest("mmm", units))
	require.Equal(t, "", Suggest("spindle", nil))
	require.Equal(t, "one of: M3, M4, M5, M6, M8, M10, M12", Suggest("M7", []string{"M3", "M4", "M5", "M6", "M8", "M10",
		"M12"}), "a guess")
	require.Equal(t, "did you mean mm, mK or ms?", Suggest("mn", units), "no list of all")
	dozen := strings.Fields("aa bb cc dd ee ff gg hh ii jj kk ll")
	require.Equal(t, "one of: "+strings.Join(dozen, ", "), Suggest("spindle", dozen), "twelve are as many as are listed")
	require.Equal(t, "", Suggest("spindle", append(dozen, "mm")))
	hundred := []string{strings.Repeat("d", 50), strings.Repeat("e", 48)}
	require.Equal(t, "one of: "+strings.Join(hundred, ", "), Suggest("spindle", hundred), "a hundred letters are as many")
	require.Equal(t, "", Suggest("spindle", append(hundred, "")))
	require.Equal(t, "", Suggest("kN", []string{"kA", "kB", "kC", "kD",
		"dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd"}),
		"too many guesses")
}
