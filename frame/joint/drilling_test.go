package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/joint"
)

func TestHoleWork(t *testing.T) {
	for _, tt := range []struct {
		kind       joint.HoleKind
		name       string
		source     string
		operations int
		minutes    constant.Band
	}{
		{joint.Counterbored, "counterbored through", "the project's table of drilling labour, common practice", 6,
			constant.Band{Low: 3.5, Typical: 7, High: 16}},
		{joint.Clearance, "through", "the project's table of drilling labour, common practice", 5,
			constant.Band{Low: 2.5, Typical: 5, High: 12}},
		{joint.Tapped, "tapped", "the project's table of drilling labour, common practice", 5,
			constant.Band{Low: 4.25, Typical: 8.5, High: 19}},
		{joint.Bored, "bored", "the project's table of drilling labour, common practice", 6,
			constant.Band{Low: 8.5, Typical: 23, High: 57}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			require.Equal(t, tt.name, tt.kind.String())
			n, minutes := joint.HoleWork(tt.kind)
			require.Equal(t, tt.operations, n)
			require.Equal(t, tt.minutes, minutes)
			for _, d := range joint.Drillings(tt.kind) {
				require.NotEmpty(t, d.Source, d.Operation)
			}
		})
	}
	require.Panics(t, func() { joint.HoleWork(joint.HoleKind(9)) })
	require.Panics(t, func() { _ = joint.HoleKind(9).String() })
}
