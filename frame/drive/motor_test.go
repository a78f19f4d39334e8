package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

func TestSteppers(t *testing.T) {
	for _, s := range drive.Steppers() {
		complete(t, s.Key, s, nil)
		got, ok := drive.LookupStepper(s.Key)
		require.True(t, ok)
		require.Equal(t, s, got)
	}
	_, ok := drive.LookupStepper("frame-11")
	require.False(t, ok)
	const small = 1e-6 // rad
	checkRows(t, []sourcedRow{
		{"frame 23, 1.9 N·m", "practitioner's page quoting the torque curve: 50 tooth pairs; 95 N·m/rad by hand",
			drive.HoldingStiffness(1900), 95e3, roundOff},
		{"slope of the sine", "T sin(50 θ) over θ for a small lag", drive.HoldingStiffness(1900),
			1900 * math.Sin(50*small) / small, 1e-8},
	})
	require.Panics(t, func() { drive.HoldingStiffness(0) })
	require.Less(t, drive.InMotion().High, 1.0)
}
