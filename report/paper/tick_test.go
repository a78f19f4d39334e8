package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNiceTicks(t *testing.T) {
	labels := func(lo, hi float64) string {
		var s []string
		for _, tick := range NiceTicks(lo, hi, 5) {
			s = append(s, tick.Label)
		}
		return strings.Join(s, " ")
	}
	require.Equal(t, "0 0.001 0.002 0.003 0.004", labels(0, 0.0045))
	require.Equal(t, "0 0.00001 0.00002 0.00003 0.00004", labels(0, 4.5e-5), "none beyond the end")
	require.Equal(t, "0 1000 2000 3000 4000 5000", labels(0, 5000))
	require.Equal(t, "−100 0 100", labels(-180, 180))
	require.Equal(t, "0 0.2 0.4 0.6 0.8 1.0", labels(0, 1))
}
