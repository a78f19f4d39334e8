package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
)

func TestConstants(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range joint.Constants() {
		require.False(t, seen[c.Key], c.Key)
		seen[c.Key] = true
		require.NotEmpty(t, c.Meaning, c.Key)
		require.NotEmpty(t, c.Unit, c.Key)
		require.NotEmpty(t, c.Source, c.Key)
		require.Greater(t, c.Band.Low, 0.0, c.Key)
		require.LessOrEqual(t, c.Band.Low, c.Band.Typical, c.Key)
		require.LessOrEqual(t, c.Band.Typical, c.Band.High, c.Key)
	}
	for _, s := range joint.Surfaces() {
		require.True(t, seen["contact_c_"+s.Key])
		require.True(t, seen["contact_m_"+s.Key])
	}
}
