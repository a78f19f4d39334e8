package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/drive"
	"tiploop/testdata/checks"
)

func TestThroughTheLead(t *testing.T) {
	checkRows(t, []sourcedRow{
		{"stepper of 1.9 N·m, lead 5", "50 tooth pairs, (2π/p)² K, by hand and rounded: 150 N/µm",
			drive.AxialOfRotary(drive.HoldingStiffness(1900), 5) / 1000, 150, 0.01},
		{"belt of 200 N·m/rad, lead 5", "by hand and rounded: 320 N/µm", drive.AxialOfRotary(200e3, 5) / 1000, 320,
			0.02},
		{"virtual work", "half K θ² = half k x² with x = lead θ/2π",
			drive.AxialOfRotary(7, 3) * math.Pow(3/(2*math.Pi), 2), 7, roundOff},
	})
	require.Panics(t, func() { drive.AxialOfRotary(0, 5) })
	require.Panics(t, func() { drive.AxialOfRotary(1, math.NaN()) })
	require.Panics(t, func() { drive.Series() })
	require.Panics(t, func() { drive.Series(1, 0) })
}

func drawDrive(t *rapid.T) drive.ScrewDrive {
	stiff := func(name string) float64 { return logBetween(t, name, 1e3, 1e6) }
	maybe := func(name string) float64 {
		return stiff(name) * float64(rapid.IntRange(0, 1).Draw(t, name+" there"))
	}
	d := drive.ScrewDrive{
		Shaft: core(logBetween(t, "root", 5, 50), logBetween(t, "length", 100, 2000),
			rapid.SampledFrom(drive.AllEnds()).Draw(t, "ends")),
		Lead: logBetween(t, "lead", 1, 25), Nut: stiff("nut"), NearBearing: stiff("near"),
		NearBracket: maybe("near seat"), NutBracket: maybe("nut bracket"), Turning: maybe("turning"),
		Twisting: rapid.SampledFrom([]drive.Twisting{drive.TwistCounts, drive.TwistLeftOut}).Draw(t, "twist"),
	}
	if d.Shaft.Ends == drive.FixedFixed {
		d.FarBearing, d.FarBracket = stiff("far"), maybe("far seat")
	}
	return d
}

// The chain is what its springs make by hand, its parts add up, and no link is stiffer than the whole.
func TestChainProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrive(t)
		s := d.Shaft
		at := s.Length * rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		k, err := d.Stiffness(at)
		require.NoError(t, err)

		withSeat := func(bearing, seat, shaft float64) float64 {
			if seat > 0 {
				return drive.Series(bearing, seat, shaft)
			}
			return drive.Series(bearing, shaft)
		}
		ea := s.E * math.Pi / 4 * s.Root * s.Root
		hold := withSeat(d.NearBearing, d.NearBracket, ea/at)
		if s.Ends == drive.FixedFixed {
			hold += withSeat(d.FarBearing, d.FarBracket, ea/(s.Length-at))
		}
		row := []float64{hold, d.Nut}
		if d.NutBracket > 0 {
			row = append(row, d.NutBracket)
		}
		if d.Twisting == drive.TwistCounts {
			row = append(row, drive.AxialOfRotary(s.Twist(at), d.Lead))
		}
		if d.Turning > 0 {
			row = append(row, drive.AxialOfRotary(d.Turning, d.Lead))
		}
		if e := checks.Rel(k, drive.Series(row...)); !(e <= 1e-10) {
			t.Fatalf("chain off by %g", e)
		}
		parts, err := d.Parts(at)
		require.NoError(t, err)
		sum, seen := 0.0, map[string]bool{}
		for _, p := range parts {
			require.Positive(t, p.Compliance, p.Name)
			require.False(t, seen[p.Name], p.Name)
			seen[p.Name] = true
			sum += p.Compliance
		}
		require.InEpsilon(t, 1/k, sum, 1e-10)

		stiffer := d
		stiffer.Nut *= 2
		more, err := stiffer.Stiffness(at)
		require.NoError(t, err)
		require.Greater(t, more, k)
	})
}

// A twist hardly matters in a stout screw of small lead, and decides with a long one.
func TestTwistGrowsWithTheLead(t *testing.T) {
	share := func(lead float64) float64 {
		d := drive.ScrewDrive{Shaft: core(13.2, 400, drive.FixedFree), Lead: lead, Nut: 186e3, NearBearing: 88e3}
		with, err := d.Stiffness(300)
		require.NoError(t, err)
		d.Twisting = drive.TwistLeftOut
		without, err := d.Stiffness(300)
		require.NoError(t, err)
		return 1 - with/without
	}
	// G J (2π/p)²/L against E A/L: their ratio is (2π/p)² d²/(16 (1+ν)), 13.2 for 13.2 mm, lead 5, by hand.
	require.Less(t, share(5), 0.05)
	require.Greater(t, share(25), 0.3)
}

func TestChainRefusesNonsense(t *testing.T) {
	good := drive.ScrewDrive{Shaft: core(13, 500, drive.FixedFixed), Lead: 5, Nut: 1e5, NearBearing: 1e5,
		FarBearing: 1e5}
	require.NoError(t, good.Check())
	for name, spoil := range map[string]func(*drive.ScrewDrive){
		"shaft":       func(d *drive.ScrewDrive) { d.Shaft.Root = 0 },
		"lead":        func(d *drive.ScrewDrive) { d.Lead = 0 },
		"nut":         func(d *drive.ScrewDrive) { d.Nut = math.NaN() },
		"near":        func(d *drive.ScrewDrive) { d.NearBearing = -1 },
		"far missing": func(d *drive.ScrewDrive) { d.FarBearing = 0 },
		"far too many": func(d *drive.ScrewDrive) {
			d.Shaft.Ends = drive.FixedSupported
		},
		"seat":    func(d *drive.ScrewDrive) { d.NearBracket = -1 },
		"turning": func(d *drive.ScrewDrive) { d.Turning = math.Inf(1) },
	} {
		d := good
		spoil(&d)
		require.Error(t, d.Check(), name)
		_, err := d.Stiffness(100)
		require.Error(t, err, name)
	}
	_, err := good.Stiffness(500)
	require.Error(t, err)
	good.Twisting = 7
	require.Panics(t, func() { _ = good.Check() })
}
