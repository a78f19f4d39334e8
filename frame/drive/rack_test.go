package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

func TestRack(t *testing.T) {
	held := drive.Rack{PitchRadius: 10, FaceWidth: 12}
	teeth, err := held.Stiffness()
	require.NoError(t, err)
	turned := held
	turned.Turning = 95e3
	k, err := turned.Stiffness()
	require.NoError(t, err)
	checkRows(t, []sourcedRow{
		{"teeth of full contact", "ISO 6336-1: 14 N/(mm µm) (from memory), 12 mm wide", teeth.High, 168e3, roundOff},
		{"behind a stepper", "K/r² = 950 N/mm in a row with the teeth, by hand", k.Typical,
			1 / (1/950.0 + 1/teeth.Typical), roundOff},
	})
	require.Less(t, k.Low, k.High)
	for _, r := range []drive.Rack{{}, {PitchRadius: 1}, {PitchRadius: 1, FaceWidth: math.NaN()},
		{PitchRadius: 1, FaceWidth: 1, Turning: -1}} {
		_, err := r.Stiffness()
		require.Error(t, err)
	}
}
