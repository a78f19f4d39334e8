package cutting_test

import (
	"math"
	"os"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"

	"tiploop/frame/cutting"
)

// Cuts summed tooth by tooth and disc by disc by testdata/tooth_by_tooth.py, which shares nothing with the integrals
// here: means and peaks within a hundredth.
func TestToothByTooth(t *testing.T) {
	const within = 0.01
	data, err := os.ReadFile("../../testdata/tooth-by-tooth.yaml")
	require.NoError(t, err)
	var table struct {
		Cuts []struct {
			Name         string
			Mode         string
			Diameter     float64
			Flutes       int
			Helix        float64
			Radial       float64
			Axial        float64
			FeedPerTooth float64 `yaml:"feed_per_tooth"`
			Law          struct{ Kt, Kr, Ka, Kte, Kre, Kae float64 }
			Mean         [4]float64 // along feed, normal and axis, N; torque, N·mm
			Peak         float64
			PeakAcross   float64 `yaml:"peak_across"`
			PeakTorque   float64 `yaml:"peak_torque"`
		}
	}
	require.NoError(t, yaml.Unmarshal(data, &table))
	require.Len(t, table.Cuts, 10)
	modes := map[string]cutting.Mode{"slot": cutting.Slot, "up": cutting.Up, "down": cutting.Down,
		"centred": cutting.Centred}
	for _, c := range table.Cuts {
		t.Run(c.Name, func(t *testing.T) {
			mode, known := modes[c.Mode]
			require.True(t, known)
			f, err := cutting.Milling{
				Mill: cutting.Mill{DiameterMM: c.Diameter, Flutes: c.Flutes, HelixDeg: c.Helix},
				Mode: mode, RadialDepthMM: c.Radial, AxialDepthMM: c.Axial, FeedPerToothMM: c.FeedPerTooth, SpeedRPM: 9000,
			}.Forces(cutting.Law{Kt: c.Law.Kt, Kr: c.Law.Kr, Ka: c.Law.Ka, Kte: c.Law.Kte, Kre: c.Law.Kre, Kae: c.Law.Kae})
			require.NoError(t, err)
			size := math.Hypot(math.Hypot(c.Mean[0], c.Mean[1]), c.Mean[2])
			for k, got := range [3]float64{f.Mean.X, f.Mean.Y, f.Mean.Z} {
				require.InDelta(t, c.Mean[k], got, within*size, "mean, direction %d", k)
			}
			require.InEpsilon(t, c.Mean[3], f.Mean.Torque, within)
			require.InEpsilon(t, c.Peak, f.Peak.Load.Size(), within)
			require.InEpsilon(t, c.PeakAcross, f.PeakAcross.Load.Across(), within)
			require.InEpsilon(t, c.PeakTorque, f.Most.Torque, within)
		})
	}
}
