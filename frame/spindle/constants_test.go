package spindle_test

import (
	"testing"

	"github.com/stretchr/testify/require"

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
	seen := map[string]bool{}
	for _, c := range spindle.Constants() {
		require.False(t, seen[c.Key], c.Key)
		seen[c.Key] = true
		require.NotEmpty(t, c.Meaning, c.Key)
		require.NotEmpty(t, c.Unit, c.Key)
		require.NotEmpty(t, c.Source, c.Key)
		require.Greater(t, c.Band.Low, 0.0, c.Key)
		require.LessOrEqual(t, c.Band.Low, c.Band.Typical, c.Key)
		require.LessOrEqual(t, c.Band.Typical, c.Band.High, c.Key)
		got, ok := spindle.LookupConstant(c.Key)
		require.True(t, ok)
		require.Equal(t, c, got)
	}
	_, ok := spindle.LookupConstant("no such")
	require.False(t, ok)
}
