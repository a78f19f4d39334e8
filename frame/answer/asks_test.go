package answer

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// An answer speaks of a command line's flags only where there is one.
func TestAsks(t *testing.T) {
	flags := Asks{Detail: "--detail", Mesh: "--mesh", At: "--at", JSON: "--json"}
	for _, c := range []struct{ plain, flag, wantPlain, wantFlag string }{
		{Asks{}.ForDetail("solid"), flags.ForDetail("solid"), "detail solid", "--detail solid"},
		{Asks{}.ForFinerMesh(), flags.ForFinerMesh(), "a finer mesh", "a finer --mesh"},
		{Asks{}.ForCoarserMesh(), flags.ForCoarserMesh(), "a coarser mesh", "a coarser --mesh"},
		{Asks{}.ForPositions(), flags.ForPositions(), "single positions", "single positions with --at"},
		{Asks{}.ForAll(), flags.ForAll(), "the JSON", "--json"},
	} {
		require.Equal(t, c.wantPlain, c.plain)
		require.Equal(t, c.wantFlag, c.flag)
	}
}
