package joint_test

import (
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) { os.Exit(checks.Main(m.Run, "joint")) }

// rounded lists expected values that are printed, rounded figures, with the tolerance that takes.
type rounded map[string]float64

// compare holds every expected value against what was computed; none may be left over on
// either side.
func compare(t *testing.T, c checks.Case, got map[string][]float64, loose rounded) {
	t.Helper()
	for key := range c.Expected {
		want := c.WantList(t, key)
		require.Contains(t, got, key)
		require.Len(t, got[key], len(want), key)
		for i := range want {
			if wide, ok := loose[key]; ok {
				checks.CloseTo(t, key, got[key][i], want[i], wide)
				continue
			}
			c.NearTo(t, key, got[key][i], want[i], c.Tolerance)
		}
	}
	for key := range got {
		require.Contains(t, c.Expected, key)
	}
}

// sourcedRow is one row of a test table: a value from outside the project.
type sourcedRow struct {
	name, source string
	got, want    float64
	tol          float64 // relative
}

// checkRows compares rows; a row without a source fails.
func checkRows(t *testing.T, rows []sourcedRow) {
	t.Helper()
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			require.NotEmpty(t, r.source)
			checks.CloseTo(t, r.source, r.got, r.want, r.tol)
		})
	}
}
