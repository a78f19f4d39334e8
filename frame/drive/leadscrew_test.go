package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

func TestLeadScrewsComplete(t *testing.T) {
	for _, s := range drive.LeadScrews() {
		complete(t, s.Key, s, nil)
		require.Less(t, s.Root.High, s.Diameter)
		got, ok := drive.LookupLeadScrew(s.Key)
		require.True(t, ok)
		require.Equal(t, s, got)
		bronze, plastic := s.Nut(drive.BronzeNut), s.Nut(drive.PlasticNut)
		require.Less(t, plastic.Typical, bronze.Typical)
		for _, n := range drive.LeadNuts() {
			mu := n.Friction()
			require.Less(t, s.Efficiency(mu.High), s.Efficiency(mu.Typical), "friction costs work")
			require.Less(t, s.Efficiency(mu.Typical), s.Efficiency(mu.Low))
			if s.Locking(n) == drive.SelfLocking {
				require.Less(t, s.Efficiency(mu.Low), 0.5, "what locks wastes more than half")
			}
		}
	}
	_, ok := drive.LookupLeadScrew("Tr8x3")
	require.False(t, ok)
}

func TestLeadScrewAgainstHandbook(t *testing.T) {
	square := func(key string) drive.LeadScrew {
		s, ok := drive.LookupLeadScrew(key)
		require.True(t, ok)
		return s
	}
	slow, fast := square("Tr8x2"), square("Tr8x8")
	const standard = "ISO 261 and 2904, core of trapezoidal threads (from memory)"
	mu := 0.12 / math.Cos(15*math.Pi/180)
	checkRows(t, []sourcedRow{
		{"core of Tr8x2", standard, slow.Root.Typical, 5.5, roundOff},
		{"core of Tr16x4", standard, square("Tr16x4").Root.Typical, 11.5, roundOff},
		{"core of Tr20x4", standard, square("Tr20x4").Root.Typical, 15.5, roundOff},
		{
			"efficiency of Tr8x2", "Shigley, power screws: tan φ/tan(φ + ρ') (from memory); differs by the small " +
				"product",
			slow.Efficiency(0.12), 2 / (7 * math.Pi) / math.Tan(math.Atan(2/(7*math.Pi))+math.Atan(mu)), roundOff,
		},
		{"torque without loss", "virtual work", drive.Torque(1000, 2*math.Pi, 1), 1000, roundOff},
	})
	const order = "6 N/µm per mm of diameter, a plastic nut 0.12 of it, common practice"
	checkRows(t, []sourcedRow{
		{"bronze nut of 8 mm", order, slow.Nut(drive.BronzeNut).Typical, 48e3, roundOff},
		{"plastic nut of 8 mm", order, slow.Nut(drive.PlasticNut).Typical, 5760, roundOff},
		{"oiled bronze", "Shigley, table 8-5 (from memory): 0.08 to 0.18", drive.BronzeNut.Friction().Typical, 0.12,
			roundOff},
		{"plastic", "makers of plastic nuts (from memory)", drive.PlasticNut.Friction().Typical, 0.14, roundOff},
		{"torque at half the efficiency", "virtual work", drive.Torque(1000, 2*math.Pi, 0.5), 2000, roundOff},
		{
			"efficiency of Tr8x8", "Shigley, power screws (from memory)",
			fast.Efficiency(0.12), 8 / (7 * math.Pi) / math.Tan(math.Atan(8/(7*math.Pi))+math.Atan(mu)), roundOff,
		},
		{"core of Tr8x8", standard, fast.Root.Typical, 5.5, roundOff},
		{"core of Tr8x8, thin", "0.3 mm less in rolled screws, common practice", fast.Root.Low, 5.2, roundOff},
		{"core of Tr8x8, stout", "0.3 mm more, common practice", fast.Root.High, 5.8, roundOff},
	})
	require.Equal(t, drive.MayRunBack, slow.Locking(drive.BronzeNut))
	require.Equal(t, drive.RunsBack, fast.Locking(drive.BronzeNut))
	require.Equal(t, drive.SelfLocking, square("Tr24x5").Locking(drive.BronzeNut))
	for l := drive.RunsBack; l <= drive.SelfLocking; l++ {
		require.NotEmpty(t, l.String())
	}
	require.Panics(t, func() { _ = drive.Locking(7).String() })
	require.Panics(t, func() { _ = drive.LeadNut(7).String() })
	require.Panics(t, func() { drive.LeadNut(7).Friction() })
	require.Panics(t, func() { slow.Nut(7) })
	require.Panics(t, func() { slow.Efficiency(0) })
	require.Panics(t, func() { drive.Torque(1, 1, 1.1) })
	require.Panics(t, func() { drive.LeadScrew{}.Locking(drive.BronzeNut) })
	require.Zero(t, fast.Efficiency(5), "what cannot be turned does no work")
}
