package spindle_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/spindle"
	"tiploop/testdata/checks"
)

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

func TestConstants(t *testing.T) {
	list := spindle.Constants()
	require.NoError(t, constant.Check(list))
	for _, c := range list {
		require.Positive(t, c.Band.Low, c.Key)
	}
}
