package paper

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A number and its unit stay on one line of a picture, too.
func TestFittedKeepsUnits(t *testing.T) {
	for _, line := range Fitted(Lettering(LabelSize, Ink), "moves 1140 µm under 100 N", 60) {
		require.NotRegexp(t, `^(µm|N)\b`, line)
	}
}
