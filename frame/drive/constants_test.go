package drive_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

func TestConstants(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range drive.Constants() {
		require.False(t, seen[c.Key], c.Key)
		seen[c.Key] = true
		require.NotEmpty(t, c.Meaning, c.Key)
		require.NotEmpty(t, c.Unit, c.Key)
		require.NotEmpty(t, c.Source, c.Key)
		require.Greater(t, c.Band.Low, 0.0, c.Key)
		require.LessOrEqual(t, c.Band.Low, c.Band.Typical, c.Key)
		require.LessOrEqual(t, c.Band.Typical, c.Band.High, c.Key)
		got, ok := drive.LookupConstant(c.Key)
		require.True(t, ok)
		require.Equal(t, c, got)
	}
	_, ok := drive.LookupConstant("no such")
	require.False(t, ok)
}
