package spindle_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/spindle"
	"tiploop/testdata/checks"
)

func TestSteppedTool(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"beam-stepped-tool": func(t *testing.T, c checks.Case) {
			neck, load := c.In(t, "neck_length_mm"), c.In(t, "load_N")
			slices, err := spindle.Cutter{
				Diameter: c.In(t, "neck_diameter_mm"), Flutes: 2, Stickout: neck + c.In(t, "shank_length_mm"),
				FluteLength: neck,
				Shank:       c.In(t, "shank_diameter_mm"), E: c.In(t, "E_MPa"),
			}.Slices(1) // a plain neck
			require.NoError(t, err)
			tip := beam.SteppedCantilever(load, slices)
			c.Near(t, "tip_deflection_mm", tip, checks.Printed)
			c.Near(t, "tip_stiffness_N_per_mm", load/tip, checks.Printed)
		},
	})
}

// fluted is a carbide cutter that sticks out its flutes alone.
func fluted(diameter, stickout float64, flutes int) spindle.Cutter {
	return spindle.Cutter{Diameter: diameter, Flutes: flutes, Stickout: stickout, FluteLength: stickout, E: 580e3}
}

// The trade's table of carbide cutters, 0.8 D all along: three flutes here.
func TestCutterAgainstTrade(t *testing.T) {
	const source = "3 E I/L³ at 0.8 D, carbide of 580 GPa, two digits (share: Kops & Vo 1990, from memory)"
	stiffness := func(diameter, stickout float64) float64 {
		k, err := fluted(diameter, stickout, 3).TipStiffness()
		require.NoError(t, err)
		return k.Typical / 1000
	}
	const twoDigits = 0.05 // of figures that begin with 1
	checkRows(t, []sourcedRow{
		{"6 mm at 18", source, stiffness(6, 18), 7.8, twoDigits},
		{"6 mm at 24", source, stiffness(6, 24), 3.3, twoDigits},
		{"6 mm at 30", source, stiffness(6, 30), 1.7, twoDigits},
		{"4 mm at 12", source, stiffness(4, 12), 5.2, twoDigits},
		{"4 mm at 20", source, stiffness(4, 20), 1.1, twoDigits},
		{"3 mm at 9", source, stiffness(3, 9), 3.9, twoDigits},
		{"3 mm at 15", source, stiffness(3, 15), 0.8, twoDigits},
		{"8 mm at 32", source, stiffness(8, 32), 4.4, twoDigits},
		{"8 mm at 40", source, stiffness(8, 40), 2.2, twoDigits},
	})
	k, err := fluted(6, 18, 3).ColletTilt()
	require.NoError(t, err)
	own, err := fluted(6, 18, 3).TipStiffness()
	require.NoError(t, err)
	const collet = "collet rotation adds 0.3 to 1 times the tool's own bending at L/D 3, common practice"
	checkRows(t, []sourcedRow{
		{"collet, soft", collet, 18 * 18 / k.Low * own.Typical, 1, roundOff},
		{"collet, stiff", collet, 18 * 18 / k.High * own.Typical, 0.3, roundOff},
	})
}

// What spindle, grip and cutter add at the tip, each by the closed form of its own.
func TestTipAgainstClosedForms(t *testing.T) {
	c := fluted(6, 18, 3)
	shares, err := spindle.Tip(spindle.Springs{Radial: 35e3, Axial: 25e3, Tilt: 3e8}, c)
	require.NoError(t, err)
	inertia := math.Pi * math.Pow(0.8*6, 4) / 64
	bending := 18 * 18 * 18 / (3 * 580e3 * inertia)
	want := []struct {
		name, source string
		compliance   float64
	}{
		{"spindle, sideways", "a spring at the nose: 1/k", 1 / 35e3},
		{"spindle, tilting", "a spring that turns, seen at an arm of 18 mm: L²/K", 18 * 18 / 3e8},
		{"collet, turning", "0.6 of the fluted cutter's bending at three diameters, common practice", 0.6 * bending},
		{"cutter", "cantilever L³/(3 E I) at 0.8 D (Kops & Vo 1990, from memory)", bending},
	}
	require.Len(t, shares, len(want))
	var rows []sourcedRow
	for i, w := range want {
		require.Equal(t, w.name, shares[i].Name)
		rows = append(rows, sourcedRow{w.name, w.source, shares[i].Compliance, w.compliance, roundOff})
	}
	checkRows(t, rows)

	// At six diameters the same collet, which knows nothing of the stickout, turns the tip by four times as much.
	long, err := spindle.Tip(spindle.Springs{Radial: 35e3, Axial: 25e3, Tilt: 3e8}, fluted(6, 36, 3))
	require.NoError(t, err)
	checkRows(t, []sourcedRow{
		{"collet at 36 mm", "the arm squared", long[2].Compliance, 4 * shares[2].Compliance, roundOff},
		{"cutter at 36 mm", "the length cubed", long[3].Compliance, 8 * shares[3].Compliance, roundOff},
	})
}

// The ends of the band go with the fourth power of the effective diameter.
func TestCutterBand(t *testing.T) {
	const source = "I of a round bar, D⁴, at 0.75 and 0.85 of D (Kops & Vo 1990, from memory: 0.75 to 0.85)"
	k, err := fluted(8, 30, 4).TipStiffness()
	require.NoError(t, err)
	share := spindle.EffectiveShare(4)
	checkRows(t, []sourcedRow{
		{"share of four flutes", "Kops & Vo 1990 (from memory): 0.8", share.Typical, 0.8, roundOff},
		{"low", source, k.Low / k.Typical, math.Pow(0.75/0.8, 4), roundOff},
		{"high", source, k.High / k.Typical, math.Pow(0.85/0.8, 4), roundOff},
	})
	flutesAlone, err := fluted(8, 30, 4).Slices(0.8)
	require.NoError(t, err)
	require.Len(t, flutesAlone, 1)
	shankAlone := fluted(8, 30, 4)
	shankAlone.FluteLength = 0
	slices, err := shankAlone.Slices(0.8)
	require.NoError(t, err)
	require.Len(t, slices, 1)
}

func TestCutterProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := spindle.Cutter{
			Diameter: rapid.Float64Range(1, 20).Draw(t, "diameter"), Flutes: rapid.IntRange(1, 8).Draw(t, "flutes"),
			E: rapid.Float64Range(200e3, 640e3).Draw(t, "E"),
		}
		c.Stickout = c.Diameter * rapid.Float64Range(1, 10).Draw(t, "reach")
		c.FluteLength = c.Stickout * rapid.Float64Range(0, 1.5).Draw(t, "cut")
		k, err := c.TipStiffness()
		require.NoError(t, err)
		require.Positive(t, k.Low)
		require.LessOrEqual(t, k.Low, k.Typical)
		require.LessOrEqual(t, k.Typical, k.High)
		longer := c
		longer.Stickout *= 1.1
		less, err := longer.TipStiffness()
		require.NoError(t, err)
		require.Less(t, less.Typical, k.Typical, "further out is softer")
		thick := c
		thick.Shank = 1.5 * c.Diameter
		more, err := thick.TipStiffness()
		require.NoError(t, err)
		require.GreaterOrEqual(t, more.Typical, k.Typical*(1-roundOff), "a thicker shank helps")
		full := 3 * c.E * math.Pi * math.Pow(c.Diameter, 4) / 64 / math.Pow(c.Stickout, 3)
		require.LessOrEqual(t, k.High, full*(1+roundOff), "never stiffer than a plain bar")

		nose := spindle.Springs{Radial: 35e3, Axial: 25e3, Tilt: 3e8}
		parts, err := spindle.Tip(nose, c)
		require.NoError(t, err)
		sum := 0.0
		for _, p := range parts {
			require.NotEmpty(t, p.Name)
			require.Positive(t, p.Compliance)
			sum += p.Compliance
		}
		require.Greater(t, sum, 1/k.Typical)
	})
}

func TestEffectiveShare(t *testing.T) {
	before := 0.0
	for n := 1; n < 10; n++ {
		s := spindle.EffectiveShare(n)
		require.LessOrEqual(t, before, s.Typical, "more flutes leave more core")
		require.Less(t, s.High, 1.0)
		before = s.Typical
	}
	require.Equal(t, spindle.EffectiveShare(4), spindle.EffectiveShare(5))
	require.Panics(t, func() { spindle.EffectiveShare(0) })
}

func TestCutterRefusesNonsense(t *testing.T) {
	nose := spindle.Springs{Radial: 1, Axial: 1, Tilt: 1}
	for _, spoil := range []func(*spindle.Cutter){
		func(c *spindle.Cutter) { c.Diameter = 0 },
		func(c *spindle.Cutter) { c.Flutes = 0 },
		func(c *spindle.Cutter) { c.Stickout = math.NaN() },
		func(c *spindle.Cutter) { c.FluteLength = -1 },
		func(c *spindle.Cutter) { c.Shank = math.Inf(1) },
		func(c *spindle.Cutter) { c.E = 0 },
	} {
		c := fluted(6, 20, 2)
		spoil(&c)
		_, err := c.TipStiffness()
		require.Error(t, err)
		_, err = c.ColletTilt()
		require.Error(t, err)
		_, err = spindle.Tip(nose, c)
		require.Error(t, err)
		_, err = c.Slices(1)
		require.Error(t, err)
	}
	_, err := fluted(6, 20, 2).Slices(0)
	require.Error(t, err)
	_, err = spindle.Tip(spindle.Springs{}, fluted(6, 20, 2))
	require.Error(t, err)
}
