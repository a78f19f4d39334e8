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
	fixed, _ := drive.LookupSupportUnit("fixed-12")
	plain, _ := drive.LookupSupportUnit("plain-10")
	const ends = "catalogue's 88 N/µm and 3250 N for a bore of 12; ends common practice"
	checkRows(t, []sourcedRow{
		{"soft", ends, fixed.Axial.Low, 0.6 * 88e3, roundOff},
		{"stiff", ends, fixed.Axial.High, 1.15 * 88e3, roundOff},
		{"load, low", ends, fixed.Load.Low, 0.8 * 3250, roundOff},
		{"load", ends, fixed.Load.Typical, 3250, roundOff},
		{"load, high", ends, fixed.Load.High, 1.1 * 3250, roundOff},
		{"plain bearing", "common practice: 10, 20, 40 N/µm", plain.Axial.Typical, 20e3, roundOff},
		{"plain bearing, soft", "common practice: 10, 20, 40 N/µm", plain.Axial.Low, 10e3, roundOff},
		{"plain bearing, stiff", "common practice: 10, 20, 40 N/µm", plain.Axial.High, 40e3, roundOff},
		{"plain, least play", "common practice: 5 to 50 µm", plain.Play.Low, 0.005, roundOff},
		{"plain, most play", "common practice: 5 to 50 µm", plain.Play.High, 0.05, roundOff},
		{"plain, play", "common practice: 5 to 50 µm", plain.Play.Typical, 0.02, roundOff},
		{"plain, load", "half of 700 N to half as much again, common practice", plain.Load.High / plain.Load.Low, 3,
			roundOff},
	})
	require.Panics(t, func() { drive.FixedUnitFor(0) })
}
