package drive_test

import (
	"flag"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) { os.Exit(checks.Main(m.Run, "drive")) }

// roundOff is what a few hundred operations may lose of sixteen digits.
const roundOff = 1e-12

// sourcedRow is one row of a test table: a value from outside the package.
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

// logBetween draws a number evenly on the log scale.
func logBetween(t *rapid.T, name string, low, high float64) float64 {
	return math.Pow(10, rapid.Float64Range(math.Log10(low), math.Log10(high)).Draw(t, name))
}
