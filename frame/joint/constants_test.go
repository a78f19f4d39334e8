package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/joint"
)

func TestConstants(t *testing.T) {
	list := joint.Constants()
	require.NoError(t, constant.Check(list))
	for _, c := range list {
		require.Positive(t, c.Band.Low, c.Key)
	}
	for _, s := range joint.Surfaces() {
		for _, key := range []string{"contact_c_" + s.Key, "contact_m_" + s.Key} {
			_, ok := constant.Lookup(list, key)
			require.True(t, ok, key)
		}
	}
}
