package drive_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
)

func TestConstants(t *testing.T) {
	list := drive.Constants()
	require.NoError(t, constant.Check(list))
	for _, c := range list {
		require.Positive(t, c.Band.Low, c.Key)
	}
}
