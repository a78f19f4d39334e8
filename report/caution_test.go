package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCautions(t *testing.T) {
	all := cautions()
	require.Len(t, all, 6)
	require.Contains(t, all[0], "not a certified calculation")
	for _, c := range all {
		require.True(t, strings.HasSuffix(c, "."), c)
	}
}
