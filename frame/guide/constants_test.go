package guide_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/guide"
)

func TestConstants(t *testing.T) {
	list := guide.Constants()
	require.NoError(t, constant.Check(list))
	for _, c := range list {
		require.Positive(t, c.Band.Low, c.Key)
	}
}
