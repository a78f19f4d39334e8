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
		{Asks{}.ForMesh("0.4"), flags.ForMesh("0.4"), "a mesh of factor 0.4", "--mesh 0.4"},
		{Asks{}.ForPositions(), flags.ForPositions(), "single positions", "single positions with --at"},
		{Asks{}.ForAll(), flags.ForAll(), "the JSON", "--json"},
	} {
		require.Equal(t, c.wantPlain, c.plain)
		require.Equal(t, c.wantFlag, c.flag)
	}
}
