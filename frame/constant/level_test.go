package constant_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
)

func TestLevels(t *testing.T) {
	b := constant.Between(1, 2, 3)
	for _, tt := range []struct {
		level constant.Level
		name  string
		want  float64
	}{{constant.Low, "low", 1}, {constant.Typical, "typical", 2}, {constant.High, "high", 3}} {
		require.Equal(t, tt.name, tt.level.String())
		require.Equal(t, tt.want, b.At(tt.level))
	}
	require.Panics(t, func() { _ = constant.Level(7).String() })
	require.Panics(t, func() { b.At(constant.Level(7)) })
}
