package answer

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two quantities of other names have other keys, whatever words, blanks and strokes the names are made of.
func TestKeysAreApart(t *testing.T) {
	name := rapid.StringMatching(`[ab/]( ?[ab/]){0,3}`)
	rapid.Check(t, func(t *rapid.T) {
		a := [2]string{name.Draw(t, "load"), rapid.OneOf(rapid.Just(""), name).Draw(t, "point")}
		b := [2]string{name.Draw(t, "other load"), rapid.OneOf(rapid.Just(""), name).Draw(t, "other point")}
		require.Equal(t, a == b, MovementKey(a[0], a[1]) == MovementKey(b[0], b[1]))
		if a[1] != "" && b[1] != "" {
			require.Equal(t, a == b, StretchKey(a[1], a[0]) == StretchKey(b[1], b[0]))
		}
	})
}
