package drive_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

func TestSupportUnits(t *testing.T) {
	for _, u := range drive.SupportUnits() {
		complete(t, u.Key, u, map[string]bool{"Play": true})
		require.Less(t, u.Bore, u.Screw)
		got, ok := drive.LookupSupportUnit(u.Key)
		require.True(t, ok)
		require.Equal(t, u, got)
	}
	_, ok := drive.LookupSupportUnit("fixed-11")
	require.False(t, ok)
	axial := func(screw float64) float64 { return drive.FixedUnitFor(screw).Axial.Typical }
	const source = "support-unit catalogue table, bores 10, 12, 15, 20; which screw takes which is common practice"
	checkRows(t, []sourcedRow{
		{"8 mm screw", source, axial(8), 65e3, roundOff},
		{"12 mm screw", source, axial(12), 65e3, roundOff},
		{"16 mm screw", source, axial(16), 88e3, roundOff},
		{"20 mm screw", source, axial(20), 100e3, roundOff},
		{"40 mm screw", source, axial(40), 155e3, roundOff},
	})
	require.Panics(t, func() { drive.FixedUnitFor(0) })
}
