package spindle_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/spindle"
	"tiploop/testdata/checks"
)

// What is unsaid adds up to the whole chain, less the plain bar that is always there (springs in a row; the bar by
// L³/(3·E·I)).
func TestUnsaidIsTheChainLessABar(t *testing.T) {
	nose := spindle.UsualClass(43).Springs().Typical
	cutter := spindle.Cutter{Diameter: 6, Flutes: spindle.UsualFlutes, Stickout: 24, FluteLength: 24, E: 580e3}
	chain, err := spindle.Tip(nose, cutter)
	require.NoError(t, err)
	whole := 0.0
	for _, s := range chain {
		whole += s.Compliance
	}
	const second = 3.14159265358979 / 64 * 6 * 6 * 6 * 6
	bar := 24. * 24 * 24 / (3 * 580e3 * second)
	across, along, err := spindle.Unsaid{Flutes: true, Holder: true, Bearings: true}.Give(nose, cutter)
	require.NoError(t, err)
	checks.CloseTo(t, "across", across, whole-bar, 1e-9)
	checks.CloseTo(t, "along", along, 1/nose.Axial, 1e-12)
	across, along, err = spindle.Unsaid{}.Give(nose, cutter)
	require.NoError(t, err)
	require.Zero(t, across)
	require.Zero(t, along)
	require.Equal(t, "round-spindle", spindle.UsualClass(65).Key)
	_, _, err = spindle.Unsaid{Flutes: true}.Give(nose, spindle.Cutter{})
	require.Error(t, err)
	_, _, err = spindle.Unsaid{}.Give(spindle.Springs{}, cutter)
	require.Error(t, err)
}
