package cutting_test

import (
	"flag"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) { os.Exit(checks.Main(m.Run, "cutting")) }

// kienzleOf is the law of a check's inputs.
func kienzleOf(t *testing.T, c checks.Case) cutting.Law {
	return cutting.Law{Kt: c.In(t, "kc11_MPa"), M: c.In(t, "mc")}
}

// orthogonalCut holds a straight edge against its check.
func orthogonalCut(t *testing.T, c checks.Case) {
	law, h := kienzleOf(t, c), c.In(t, "chip_thickness_mm")
	force, _, _ := law.Orthogonal(h, c.In(t, "chip_width_mm"))
	c.Near(t, "kc_MPa", law.SpecificForce(h), c.Tolerance)
	c.Near(t, "cutting_force_N", force, c.Tolerance)
	c.Near(t, "power_W", cutting.DrivePowerW(force, c.In(t, "cutting_speed_m_per_min"), 1), c.Tolerance)
}

// milledCut holds the handbook's estimate of a milling cut against its check, and the mean of the teeth against the
// estimate.
func milledCut(t *testing.T, c checks.Case) {
	mode := cutting.Up
	if c.ID == "cutting-milling-face" {
		mode = cutting.Centred
	}
	m := cutting.Milling{
		Mill: cutting.Mill{DiameterMM: c.In(t, "cutter_diameter_mm"), Flutes: int(c.In(t, "teeth")),
			EnteringDeg: c.In(t, "entering_angle_deg")},
		Mode: mode, RadialDepthMM: c.In(t, "width_of_cut_mm"), AxialDepthMM: c.In(t, "depth_mm"),
		FeedPerToothMM: c.In(t, "feed_per_tooth_mm"), SpeedRPM: 1000,
	}
	force, torque, err := m.HandEstimate(kienzleOf(t, c))
	require.NoError(t, err)
	c.Near(t, "engagement_deg", m.ExitDeg()-m.EntryDeg(), c.Tolerance)
	c.Near(t, "mean_chip_thickness_mm", m.MeanChipMM(), c.Tolerance)
	c.Near(t, "teeth_in_cut", m.TeethInCut(), c.Tolerance)
	c.Near(t, "mean_force_per_tooth_N", force, c.Tolerance)
	c.Near(t, "mean_torque_N_mm", torque, c.Tolerance)

	// The mean of the power of a chip lies below the power of its mean (Jensen's inequality), by a few per cent here.
	f, err := m.Forces(kienzleOf(t, c))
	require.NoError(t, err)
	require.Less(t, f.Mean.Torque, torque)
	require.Greater(t, f.Mean.Torque, 0.95*torque)
}

func TestChecks(t *testing.T) {
	checks.RunKind(t, "cutting", map[string]func(t *testing.T, c checks.Case){
		"cutting-kienzle-steel":     orthogonalCut,
		"cutting-kienzle-aluminium": orthogonalCut,
		"cutting-power-turning": func(t *testing.T, c checks.Case) {
			force, _, _ := cutting.Law{Kt: c.In(t, "kc_MPa")}.Orthogonal(c.In(t, "feed_mm"), c.In(t, "depth_mm"))
			c.Near(t, "power_kW", cutting.DrivePowerW(force, c.In(t, "speed_m_per_min"), c.In(t, "efficiency"))/1000,
				c.Tolerance)
		},
		"cutting-milling-side": milledCut,
		"cutting-milling-face": milledCut,
		"cutting-mean-forces-slot": func(t *testing.T, c checks.Case) {
			m := cutting.Milling{
				Mill: cutting.Mill{DiameterMM: 6, Flutes: int(c.In(t, "teeth"))}, Mode: cutting.Slot,
				AxialDepthMM: c.In(t, "depth_mm"), FeedPerToothMM: c.In(t, "feed_per_tooth_mm"), SpeedRPM: 1000,
			}
			f, err := m.Forces(cutting.Law{Kt: c.In(t, "Ktc_MPa"), Kr: c.In(t, "Krc_MPa")})
			require.NoError(t, err)
			checks.CloseTo(t, "entry", m.EntryDeg(), c.In(t, "entry_deg"), c.Tolerance)
			checks.CloseTo(t, "exit", m.ExitDeg(), c.In(t, "exit_deg"), c.Tolerance)
			c.Near(t, "mean_force_feed_N", f.Mean.X, c.Tolerance)
			c.Near(t, "mean_force_normal_N", f.Mean.Y, c.Tolerance)
		},
		"cutting-drilling": func(t *testing.T, c checks.Case) {
			d := cutting.Drilling{DiameterMM: c.In(t, "diameter_mm"), FeedMMRev: c.In(t, "feed_mm_per_turn"),
				PointDeg: c.In(t, "point_angle_deg"), SpeedRPM: 1000}
			h, err := d.Hole(kienzleOf(t, c), 1)
			require.NoError(t, err)
			c.Near(t, "chip_thickness_mm", h.ChipMM, c.Tolerance)
			c.Near(t, "chip_width_mm", h.ChipWidthMM, c.Tolerance)
			c.Near(t, "kc_MPa", kienzleOf(t, c).SpecificForce(h.ChipMM), c.Tolerance)
			c.Near(t, "force_per_edge_N", h.LipN, c.Tolerance)
			c.Near(t, "torque_N_mm", h.Load.Torque, c.Tolerance)
		},
	})
}

// The 6 mm two-flute cutter with 30° of helix in three aluminium alloys, as the project's table of trade data has it:
// computed there from the same coefficients, printed in whole newtons.
func TestWorkedExample(t *testing.T) {
	const (
		source = "the project's table of trade data, derived from coefficients in Chinese J. Mech. Eng. 2021, doi " +
			"10.1186/s10033-021-00536-9"
		printed = 0.6 // N: whole newtons, one of them rounded the other way
		// The 0.3 mm row was summed over slices: where the lag exceeds the engagement its peak stands 3 % above the
		// plateau that the integral of an edge gives exactly; see TestPlateau.
		sliced = 0.04
	)
	laws := []cutting.Law{
		{Kt: 244, Kte: 7.5, Kr: 114, Kre: 7.8},
		{Kt: 631, Kte: 13, Kr: 99, Kre: 10, Ka: 273, Kae: 2.8},
		{Kt: 767, Kte: 27.7, Kr: 169, Kre: 26.6, Ka: 222, Kae: 0.7},
	}
	for _, tt := range []struct {
		name, source   string
		mode           cutting.Mode
		ae, ap, fz     float64
		peak, mean, fa [3]float64
		loose          float64
	}{
		{"slot 0.5", source, cutting.Slot, 0, 0.5, 0.03, [3]float64{9, 17, 30}, [3]float64{5, 10, 18},
			[3]float64{0, 4, 2}, 0},
		{"slot 1", source, cutting.Slot, 0, 1, 0.03, [3]float64{19, 34, 60}, [3]float64{11, 19, 35},
			[3]float64{0, 8, 5}, 0},
		{"side 0.3", source, cutting.Down, 0.3, 6, 0.05, [3]float64{33, 55, 111}, [3]float64{12, 20, 40},
			[3]float64{0, 5, 3}, sliced},
		{"side 1", source, cutting.Down, 1, 4, 0.05, [3]float64{65, 116, 212}, [3]float64{17, 30, 55},
			[3]float64{0, 9, 6}, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			for i, law := range laws {
				f, err := cutting.Milling{
					Mill: cutting.Mill{DiameterMM: 6, Flutes: 2, HelixDeg: 30}, Mode: tt.mode,
					RadialDepthMM: tt.ae, AxialDepthMM: tt.ap, FeedPerToothMM: tt.fz, SpeedRPM: 10000,
				}.Forces(law)
				require.NoError(t, err)
				require.InDelta(t, tt.peak[i], f.PeakAcross.Load.Across(), printed+tt.loose*tt.peak[i])
				require.InDelta(t, tt.mean[i], f.Mean.Across(), printed)
				require.InDelta(t, tt.fa[i], math.Abs(f.Mean.Z), printed)
				require.LessOrEqual(t, f.Mean.Z, 0.0, "a right-hand helix pulls the tool down")
			}
		})
	}
}
