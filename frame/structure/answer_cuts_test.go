package structure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

// Springs of the rigid machine: a force of some hundred newtons moves the tip by micrometres, the blocks by picometres.
const (
	softRadial = 1e3 // N/mm
	softAxial  = 2e3
	softKeys   = "spindle: {bearings: {radial: 1 N/um, axial: 2 N/um}, efficiency: %g}\n"
)

// cutOn solves one cut on the rigid machine on springs, with a tool that does not bend.
func cutOn(t testing.TB, tool, cut string, efficiency float64) (answer.CutResult, *answer.Result) {
	t.Helper()
	text := fmt.Sprintf(rigidMachine, 98.0, 2.0, tool+", material: rigid",
		fmt.Sprintf(softKeys, efficiency)+"cuts:\n  it: {"+cut+"}\n")
	drawn, err := machineOf(text, "")
	require.NoError(t, err)
	m, err := buildBeams(drawn)
	require.NoError(t, err)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	require.Len(t, r.Cuts, 1)
	return r.Cuts[0], r
}

// Each tip moves by force over stiffness; forces, chips, torques and powers are those of the check values.
func TestCuttingChecks(t *testing.T) {
	// The bar of a tool of E = 1e8 that sticks out 2 mm still gives 1e-9 mm/N, and so do blocks of that E: the cut turns
	// the table at the end of an arm of 78 mm.
	const gives = 3e-5
	moved := func(t *testing.T, what string, um, newton, stiffness float64) {
		t.Helper()
		checks.CloseTo(t, what, um, newton/stiffness*constant.UmPerMM, gives)
	}
	checks.Run(t, map[string]func(*testing.T, checks.Case){
		"cutting-mean-forces-slot": func(t *testing.T, c checks.Case) {
			a, r := cutOn(t, fmt.Sprintf("diameter: 6, flutes: %g", c.In(t, "teeth")),
				fmt.Sprintf("mode: slot, material: {ktc: %g MPa, krc: %g MPa}, axial: %g, feed_per_tooth: %g, speed: 12000, "+
					"along: x",
					c.In(t, "Ktc_MPa"), c.In(t, "Krc_MPa"), c.In(t, "depth_mm"), c.In(t, "feed_per_tooth_mm")), 1)
			for k, key := range []string{"mean_force_feed_N", "mean_force_normal_N"} {
				checks.CloseTo(t, key, a.Typical.MeanN[k], c.Want(t, key), c.Tolerance)
				moved(t, key, a.Typical.MeanUm[k], c.Want(t, key), softRadial)
				require.Equal(t, a.Typical, a.Low, "own numbers have no scatter")
			}
			// The peak of a straight edge: |(Ft, Fr)| = b·h·|(Ktc, Krc)| with the thickest chip.
			peak := c.In(t, "depth_mm") * c.In(t, "feed_per_tooth_mm") * math.Hypot(c.In(t, "Ktc_MPa"), c.In(t, "Krc_MPa"))
			checks.CloseTo(t, "peak", a.Typical.PeakSizeN, peak, 1e-9)
			moved(t, "peak", a.Typical.MovementUm, peak, softRadial)
			moved(t, "load", *r.Loads[0].TipSizeUm, peak, softRadial)
			share := 0.0
			for _, s := range r.Shares {
				if s.Source == spindleSource {
					share = s.Percent
				}
			}
			require.InDelta(t, 100, share, 1000*gives, "the spindle is all that gives")
		},
		"cutting-milling-side": func(t *testing.T, c checks.Case) {
			a, _ := cutOn(t, fmt.Sprintf("diameter: %g, flutes: %g", c.In(t, "cutter_diameter_mm"), c.In(t, "teeth")),
				fmt.Sprintf("mode: up, radial: %g, material: {kc11: %g MPa, exponent: %g}, axial: 1, feed_per_tooth: %g, speed: "+
					"12000, along: x",
					c.In(t, "width_of_cut_mm"), c.In(t, "kc11_MPa"), c.In(t, "mc"), c.In(t, "feed_per_tooth_mm")), 1)
			checks.CloseTo(t, "mean chip", a.MeanChipMM, c.Want(t, "mean_chip_thickness_mm"), c.Tolerance)
			checks.CloseTo(t, "teeth in cut", a.TeethInCut, c.Want(t, "teeth_in_cut"), c.Tolerance)
			// The check is for a depth of 4 mm, twice what sticks out here.
			checks.CloseTo(t, "mean torque", a.Typical.TorqueNmm*c.In(t, "depth_mm"),
				c.Want(t, "mean_torque_N_mm")*meanOfForce(0, 60, 1-c.In(t, "mc")), c.Tolerance)
			checks.CloseTo(t, "power is torque times speed",
				a.Typical.PowerW, a.Typical.TorqueNmm/1000*12000*2*math.Pi/60, 1e-12)
			moved(t, "peak", a.Typical.MovementUm, a.Typical.PeakSizeN, softRadial)
		},
		"cutting-milling-face": func(t *testing.T, c checks.Case) {
			a, _ := cutOn(t, fmt.Sprintf("diameter: %g, flutes: %g, entering: %g", c.In(t, "cutter_diameter_mm"),
				c.In(t, "teeth"), c.In(t, "entering_angle_deg")),
				fmt.Sprintf("mode: centred, radial: %g, material: {kc11: %g MPa, exponent: %g}, axial: %g, feed_per_tooth: %g, "+
					"speed: 600, along: x",
					c.In(t, "width_of_cut_mm"), c.In(t, "kc11_MPa"), c.In(t, "mc"), c.In(t, "depth_mm"), c.In(t, "feed_per_tooth_mm")),
				1)
			checks.CloseTo(t, "mean chip", a.MeanChipMM, c.Want(t, "mean_chip_thickness_mm"), c.Tolerance)
			checks.CloseTo(t, "teeth in cut", a.TeethInCut, c.Want(t, "teeth_in_cut"), c.Tolerance)
			half := c.Want(t, "engagement_deg") / 2
			checks.CloseTo(t, "mean torque", a.Typical.TorqueNmm, c.Want(t, "mean_torque_N_mm")*meanOfForce(90-half, 90+half,
				1-c.In(t, "mc")), c.Tolerance)
		},
		"cutting-drilling": func(t *testing.T, c checks.Case) {
			a, r := cutOn(t, fmt.Sprintf("diameter: %g, flutes: 2", c.In(t, "diameter_mm")),
				fmt.Sprintf("mode: drilling, material: {kc11: %g MPa, exponent: %g}, feed_per_turn: %g, speed: 3000, point: %g deg",
					c.In(t, "kc11_MPa"), c.In(t, "mc"), c.In(t, "feed_mm_per_turn"), c.In(t, "point_angle_deg")), 1)
			checks.CloseTo(t, "chip", a.MostChipMM, c.Want(t, "chip_thickness_mm"), c.Tolerance)
			checks.CloseTo(t, "torque", a.Typical.TorqueNmm, c.Want(t, "torque_N_mm"), c.Tolerance)
			moved(t, "thrust", a.Typical.TipUm[2], a.Typical.PeakN[2], softAxial)
			moved(t, "thrust, as a load", r.Loads[0].TipUm[2], a.Typical.PeakN[2], softAxial)
			require.Equal(t, [3]float64{0, 0, -1}, a.FeedDirection)
			require.Less(t, a.Typical.FeedUm[0], 0.0, "the drill is held back")
			require.Greater(t, a.Typical.NormalUm, 0.0, "and leaves metal under it")
		},
		"cutting-kienzle-steel":     counterbored,
		"cutting-kienzle-aluminium": counterbored,
		"cutting-power-turning": func(t *testing.T, c checks.Case) {
			a := counterbore(t, c.In(t, "kc_MPa"), 0, c.In(t, "depth_mm"), c.In(t, "feed_mm"),
				c.In(t, "speed_m_per_min"), c.In(t, "efficiency"))
			checks.CloseTo(t, "power of two lips", a.Typical.MotorPowerW, 2*1000*c.Want(t, "power_kW"), c.Tolerance)
		},
	})
}

// meanOfForce is the mean of the forces between two tooth angles over the force of the mean chip, which the checks
// take: mean(sinᵖ φ)/(mean sin φ)ᵖ, by the midpoint rule.
func meanOfForce(fromDeg, toDeg, p float64) float64 {
	const n = 200_000
	chip, force := 0.0, 0.0
	for i := range n {
		h := math.Sin((fromDeg + (toDeg-fromDeg)*(float64(i)+0.5)/n) * math.Pi / 180)
		chip, force = chip+h/n, force+math.Pow(h, p)/n
	}
	return force / math.Pow(chip, p)
}

// counterbore turns an orthogonal cut into a hole bored wider by a flat drill: each of its two lips is such a cut, and
// its middle goes at the cutting speed.
func counterbore(t *testing.T, kc11, exponent, width, chip, speed, efficiency float64) answer.CutResult {
	t.Helper()
	const pilot = 10.0
	diameter := pilot + 2*width
	rpm := speed * 1000 / (math.Pi * (diameter + pilot) / 2)
	a, _ := cutOn(t, fmt.Sprintf("diameter: %g, flutes: 2", diameter),
		fmt.Sprintf("mode: drilling, material: {kc11: %g MPa, exponent: %g}, feed_per_turn: %g, pilot: %g, point: 180 deg, "+
			"speed: %.17g rpm", kc11, exponent, 2*chip, pilot, rpm), efficiency)
	return a
}

func counterbored(t *testing.T, c checks.Case) {
	width := c.In(t, "chip_width_mm")
	a := counterbore(t, c.In(t, "kc11_MPa"), c.In(t, "mc"), width, c.In(t, "chip_thickness_mm"),
		c.In(t, "cutting_speed_m_per_min"), 1)
	checks.CloseTo(t, "force of a lip", a.Typical.TorqueNmm/(10+width), c.Want(t, "cutting_force_N"), c.Tolerance)
	checks.CloseTo(t, "power of two lips", a.Typical.PowerW, 2*c.Want(t, "power_W"), c.Tolerance)
}

// The deepest cut, cut: its surfaces are off by the tolerance, or it takes what the spindle has, or it uses all its
// flutes.
func TestDeepest(t *testing.T) {
	const tool = "diameter: 6, flutes: 3, helix: 30, material: carbide, shank: {diameter: 6, length: 10}"
	const keys = "material: brass-cz120, mode: %s, radial: 2, axial: %.15g, feed_per_tooth: 0.02, speed: 9000, along: " +
		"y, tolerance: %g"
	solve := func(spindle, mode string, axial, tolerance float64) answer.CutResult {
		r := solveText(t, fmt.Sprintf(rigidMachine, 72.0, 28.0, tool,
			"spindle: {bearings: {radial: 5 N/um, axial: 9 N/um}"+spindle+"}\n"+
				"cuts:\n  it: {"+fmt.Sprintf(keys, mode, axial, tolerance)+"}\n"))
		return r.Cuts[0]
	}
	for _, mode := range []string{"up", "down", "centred"} {
		first := solve("", mode, 1, 0.02)
		for _, level := range []struct {
			name string
			of   func(answer.CutResult) answer.CutLevel
		}{{"low", func(c answer.CutResult) answer.CutLevel { return c.Low }},
			{"typical", func(c answer.CutResult) answer.CutLevel { return c.Typical }},
			{"high", func(c answer.CutResult) answer.CutLevel { return c.High }}} {
			l := level.of(first)
			if l.DeepestBy == answer.ByFlutes {
				require.Equal(t, 18.0, *l.DeepestMM)
				continue
			}
			require.Equal(t, answer.ByTolerance, l.DeepestBy, mode)
			again := level.of(solve("", mode, *l.DeepestMM, 0.02))
			checks.CloseTo(t, mode+" "+level.name, math.Abs(again.NormalUm), 20, 1e-4)
			checks.CloseTo(t, mode+" "+level.name, *again.DeepestMM, *l.DeepestMM, 1e-9)
		}
	}
	weak := solve(", torque: 60", "up", 1, 0.5).Typical
	require.Equal(t, answer.ByTorque, weak.DeepestBy)
	checks.CloseTo(t, "torque", solve("", "up", *weak.DeepestMM, 0.5).Typical.TorqueNmm, 60, 1e-5)
	faint := solve(", power: 50, efficiency: 0.5", "up", 1, 0.5).Typical
	require.Equal(t, answer.ByPower, faint.DeepestBy)
	checks.CloseTo(t, "power", solve("", "up", *faint.DeepestMM, 0.5).Typical.PowerW, 25, 1e-5)
	loose := solve("", "up", 1, 5)
	require.Equal(t, answer.ByFlutes, loose.Typical.DeepestBy)
	require.Equal(t, 18.0, *loose.Typical.DeepestMM, "28 mm stick out, 10 of them shank")
}

// cutHere solves one cut on the rigid machine: spindle bearings of 5 and 9 N/um, a 6 mm cutter.
func cutHere(t *testing.T, tool, spindle, cut string) answer.CutResult {
	t.Helper()
	r := solveText(t, fmt.Sprintf(rigidMachine, 72.0, 28.0, "diameter: 6, material: carbide, "+tool,
		"spindle: {bearings: {radial: 5 N/um, axial: 9 N/um}"+spindle+"}\ncuts:\n  it: {"+cut+"}\n"))
	return r.Cuts[0]
}

// The depth within a tolerance against whole answers of cuts less deep and deeper, to a part in five thousand on both
// sides: walls and floor within it whether the machine follows every tooth or their mean, the spindle not overtaxed, the
// tip not swinging.
func TestDeepestIsWhereItEnds(t *testing.T) {
	for name, tt := range map[string]struct{ tool, spindle, cut, by string }{
		"walls of a slot": {"flutes: 2, helix: 30", "", "material: brass-cz120, mode: slot, feed_per_tooth: 0.02, " +
			"tolerance: 0.02", answer.ByTolerance},
		"shoulder": {"flutes: 3, helix: 40", "", "material: steel, mode: down, radial: 1, feed_per_tooth: 0.02, " +
			"tolerance: 0.015", answer.ByTolerance},
		"power": {"flutes: 2, helix: 30", ", power: 60 W", "material: stainless-1.4301, mode: up, radial: 2, " +
			"feed_per_tooth: 0.02, tolerance: 0.5", answer.ByPower},
		"swing": {"flutes: 2", "", "material: steel-c45, mode: up, radial: 3, feed_per_tooth: 0.1, tolerance: 5", answer.BySwing},
	} {
		t.Run(name, func(t *testing.T) {
			at := func(depth float64) answer.CutResult {
				return cutHere(t, tt.tool, tt.spindle, fmt.Sprintf("%s, axial: %.17g, speed: 9000, along: x", tt.cut, depth))
			}
			const within = 2e-4
			first := at(0.5)
			require.Equal(t, tt.by, first.Typical.DeepestBy)
			fits := func(depth float64) bool {
				c := at(depth)
				l := c.Typical
				for _, s := range l.Surfaces {
					if !(max(-s.LeastUm, s.MostUm, math.Abs(s.MeanUm)) <= c.ToleranceUm) {
						return false
					}
				}
				return !(tt.by == answer.ByPower && l.MotorPowerW > 60) && l.MovementUm <= 600
			}
			deepest := *first.Typical.DeepestMM
			for _, share := range []float64{0.3, 0.6, 0.9, 1 - within} {
				require.True(t, fits(share*deepest), "%g of %g mm", share, deepest)
			}
			for _, times := range []float64{1 + within, 1.1, 1.5} {
				require.False(t, fits(times*deepest), "%g times %g mm", times, deepest)
			}
		})
	}
}

// Depths nobody would believe are not given, and harder work never goes deeper.
func TestDeepestIsBelievable(t *testing.T) {
	// Straight flutes stand on the walls of a slot when their chip is nothing: without a force at the edge and with a
	// machine that follows every tooth, the walls would be true at any depth.
	const slot = "material: steel, mode: slot, axial: 0.5, feed_per_tooth: 0.02, speed: 9000, along: x, tolerance: 0.5"
	c := cutHere(t, "flutes: 2", "", slot)
	require.LessOrEqual(t, *c.Typical.DeepestMM, 6.0, "a slot is no deeper than wide")
	require.Equal(t, answer.ByDiameter, c.Low.DeepestBy)
	require.Greater(t, math.Abs(c.Typical.NormalUm), 1.0, "the edge pushes at the walls")
	rapid.Check(t, func(rt *rapid.T) {
		mode := rapid.SampledFrom([]string{"slot", "up, radial: 2", "down, radial: 0.4", "centred, radial: 4"}).Draw(rt, "m")
		material := rapid.SampledFrom(cutting.Materials()).Draw(rt, "material").Key
		feed := rapid.Float64Range(0.005, 0.1).Draw(rt, "feed")
		helix := rapid.SampledFrom([]float64{0, 20, 45}).Draw(rt, "helix")
		c := cutHere(t, fmt.Sprintf("flutes: %d, helix: %g", rapid.IntRange(1, 4).Draw(rt, "flutes"), helix), "",
			fmt.Sprintf("material: %s, mode: %s, axial: 1, feed_per_tooth: %.17g, speed: 9000, along: y, tolerance: 0.03",
				material, mode, feed))
		if !(*c.High.DeepestMM <= *c.Typical.DeepestMM && *c.Typical.DeepestMM <= *c.Low.DeepestMM) {
			rt.Fatalf("depths %g, %g, %g", *c.Low.DeepestMM, *c.Typical.DeepestMM, *c.High.DeepestMM)
		}
		for i, s := range c.Typical.Surfaces {
			low, high := math.Abs(c.Low.Surfaces[i].Worst()), math.Abs(c.High.Surfaces[i].Worst())
			if w := math.Abs(s.Worst()); !(low <= w && w <= high) {
				rt.Fatalf("%s: %g, %g, %g µm", s.Surface, low, w, high)
			}
		}
	})
}

// On a real machine the compliance gives at every moment what a load case gives: no rotation moves the tip farther than
// the movement reported, and the feed's extremes are met.
func TestCutAgainstLoads(t *testing.T) {
	const tool = "tool: {part: spindle, at: [0, -10, 95], stickout: 35 mm, diameter: 6 mm, material: carbide}"
	base := readMachine(t, replaced(t, models.ClockPlateMill, tool,
		tool[:len(tool)-1]+", flutes: 2, helix: 35}\nspindle: {class: round-spindle}\ncuts: {it: {material: "+
			"aluminium-6082, mode: down, radial: 1.5, axial: 6, feed: 500, speed: 15000, direction: [1, 2, 0]}}"))
	m, err := buildBeams(base)
	require.NoError(t, err)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	cut := &base.Cuts[0]
	a := r.Cuts[0]
	made, err := cut.Milling.Cut(cut.Material, 0)
	require.NoError(t, err)
	most, feed := 0.0, [2]float64{math.Inf(1), math.Inf(-1)}
	for deg := 0.0; deg < 180; deg += 0.25 {
		l := cut.Case(made.At(deg))
		s, err := m.solve(&l, m.tool.gauge)
		require.NoError(t, err)
		tip := m.tipAgainst(&l, s, m.tool.gauge)
		most = math.Max(most, norm(tip)*constant.UmPerMM)
		along := r3.Dot(vector(tip), cut.Feed) * constant.UmPerMM
		feed = [2]float64{math.Min(feed[0], along), math.Max(feed[1], along)}
	}
	checks.CloseTo(t, "most", a.Typical.MovementUm, most, 1e-4)
	checks.CloseTo(t, "feed, least", a.Typical.FeedUm[0], feed[0], 1e-4)
	checks.CloseTo(t, "feed, most", a.Typical.FeedUm[1], feed[1], 1e-4)
	require.GreaterOrEqual(t, a.Typical.MovementUm, most*(1-1e-9))
}

// replaced is the text with one piece of it changed.
func replaced(t *testing.T, text, old, new string) string {
	t.Helper()
	require.Contains(t, text, old)
	return strings.Replace(text, old, new, 1)
}

// On a machine alike in all directions across the tool the way of the feed turns everything with it, and up milling one
// way is down milling's mirror only in its forces: the surface's error does not hang on the way.
func TestFeedTurnsTheCut(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(rt, "angle")
		mode := rapid.SampledFrom([]string{"slot", "up, radial: 2", "down, radial: 1", "centred, radial: 4"}).Draw(rt, "mode")
		cut := func(direction string) answer.CutResult {
			a, _ := cutOn(t, "diameter: 6, flutes: 2, helix: 25",
				"mode: "+mode+", material: brass-cz120, axial: 1.5, feed_per_tooth: 0.03, speed: 9000, "+direction, 1)
			return a
		}
		x, turned := cut("along: x"), cut(fmt.Sprintf("direction: [%.17g, %.17g, 0]", math.Cos(angle), math.Sin(angle)))
		for _, v := range []struct {
			what      string
			got, want float64
		}{
			{"movement", turned.Typical.MovementUm, x.Typical.MovementUm}, {"normal", turned.High.NormalUm, x.High.NormalUm},
			{"feed", turned.Low.FeedUm[0], x.Low.FeedUm[0]}, {"torque", turned.Typical.TorqueNmm, x.Typical.TorqueNmm},
		} {
			if e := checks.Rel(v.got, v.want); !(e <= 1e-5) { // the blocks are not quite alike in all directions
				rt.Fatalf("%s: %g and %g", v.what, v.got, v.want)
			}
		}
		sin, cos := math.Sincos(angle)
		p := x.Typical.MeanN
		for k, want := range [3]float64{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos, p[2]} {
			if math.Abs(turned.Typical.MeanN[k]-want) > 1e-9*norm(p) {
				rt.Fatalf("mean force %d: %g, want %g", k, turned.Typical.MeanN[k], want)
			}
		}
	})
}

// What is unusual about a cut is noted with its name.
func TestCutNotes(t *testing.T) {
	const text = "spindle: {bearings: {radial: 5 N/um}, power: 20 W, torque: 30, speed: [3000, 8000]}\ncuts:\n  thin: " +
		"{material: brass-cz120, mode: up, radial: 0.2, axial: 2, feed_per_tooth: 0.004, speed: 9000, along: x}\n  thick: " +
		"{material: brass-cz120, mode: slot, axial: 2, feed_per_tooth: 0.02, speed: 7000, along: x}\n"
	r := solveText(t, fmt.Sprintf(rigidMachine, 78.0, 22.0, "diameter: 6, flutes: 2, material: carbide", text))
	has := func(want string) {
		t.Helper()
		for _, n := range r.Notes {
			if n == want {
				return
			}
		}
		t.Errorf("no note %q in %q", want, r.Notes)
	}
	has("Cut thin: chips are thinner than the force law was measured for: 0.00144 against 0.01 mm.")
	has("Cut thin: the spindle turns at 3000 to 8000 rpm, not at 9000.")
	has("Cut thick: cut takes more torque than the spindle has: 117 against 30 N·mm.")
	has("Cut thick: cut takes more power than the spindle has: 86 against 20 W.")
	require.Empty(t, r.Cuts[0].Typical.DeepestBy, "no tolerance, no depth")
}
