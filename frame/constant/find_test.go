package constant_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
)

func TestFind(t *testing.T) {
	levels := []constant.Level{constant.Low, constant.Typical, constant.High}
	for _, want := range levels {
		got, ok := constant.Find(levels, want.String(), constant.Level.String)
		require.True(t, ok)
		require.Equal(t, want, got)
	}
	got, ok := constant.Find(levels, "highest", constant.Level.String)
	require.False(t, ok)
	require.Zero(t, got)

	// Of two rows with one key the first is found; Check refuses such tables of entries.
	rows := [][2]string{{"a", "first"}, {"a", "second"}}
	row, _ := constant.Find(rows, "a", func(r [2]string) string { return r[0] })
	require.Equal(t, "first", row[1])
}
