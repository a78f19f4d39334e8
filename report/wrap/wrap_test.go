package wrap

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestWrapWords(t *testing.T) {
	require.Equal(t, []string{"one two", "three"}, Lines("one  two\nthree", 8))
	require.Equal(t, []string{""}, Lines("", 8))
	require.Equal(t, 4, Letters("木a\u0301b"))
}

func TestNumbersKeepTheirUnits(t *testing.T) {
	for _, tt := range []struct {
		s     string
		width int
		want  []string
	}{
		{"so a push of 100 N that way", 16, []string{"so a push of", "100 N that way"}},
		{"Nearest to slip, 5.0 %.", 20, []string{"Nearest to slip,", "5.0 %."}},
		{"it moves 1140 µm.", 14, []string{"it moves", "1140 µm."}},
		{"least at -50 mm: 51.5 µm.", 12, []string{"least at", "-50 mm:", "51.5 µm."}},
		{"most (<0.1 %)", 8, []string{"most", "(<0.1 %)"}},
		{"bed (190 x 350 x 12 mm), arm", 12, []string{"bed", "(190 x 350 x 12 mm),", "arm"}},
		{"held 4 × M6 fast", 8, []string{"held", "4 × M6", "fast"}},
		{"the x of 3 parts", 9, []string{"the x of", "3 parts"}},
		{"x 3", 2, []string{"x", "3"}},
		{"a N b", 3, []string{"a N", "b"}},
	} {
		require.Equal(t, tt.want, Lines(tt.s, tt.width), tt.s)
		require.Equal(t, tt.s, strings.Join(tt.want, " "))
	}
}

// Whatever the words, nothing is lost and no line begins with the unit of the number before it.
func TestWrappingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.SampledFrom([]string{"moves", "-1.5", "100", "(12", "µm,", "N", "%.", "mm", "×",
			"x", "far"})).Draw(t, "words")
		lines := Lines(strings.Join(words, " "), rapid.IntRange(1, 40).Draw(t, "width"))
		require.Equal(t, strings.Join(words, " "), strings.Join(lines, " "))
		for i := 1; i < len(lines); i++ {
			before := strings.Fields(lines[i-1])
			if number.MatchString(before[len(before)-1]) {
				require.False(t, isUnit(strings.Fields(lines[i])[0]), "%q", lines)
			}
		}
	})
}
