package modelfile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/cutting"
)

// mill is eight lines: a plate on a plate with a cutter, to which a test adds its cuts.
const mill = two + `tool: {part: post, at: [5, 5, 50], stickout: 20, diameter: 6, flutes: 2, helix: 30, shank: {diameter: 6, length: 8}, material: carbide}
work: {part: base}
cuts:
`

func TestCutFaults(t *testing.T) {
	const brass = "  slot: {material: brass-cz120, mode: slot, axial: 1, feed: 200, speed: 12000, along: x}\n"
	changed := func(old, new string) string {
		require.Contains(t, brass, old)
		return mill + strings.Replace(brass, old, new, 1)
	}
	testFaults(t, []faultCase{
		{"none", mill + brass, ""},
		{"unknown material", changed("brass-cz120", "brass-cz12"), `
m.yaml:9:20: work material "brass-cz12" is not known
	did you mean brass-cz120?`},
		{"unknown mode", changed("mode: slot", "mode: climb"), `
m.yaml:9:39: mode "climb" is not known
	here it is down: write mode: down`},
		{"no feed", changed("feed: 200, ", ""), `
m.yaml:9:9: cut "slot" needs one of: feed, feed_per_tooth`},
		{"feed of zero", changed("feed: 200", "feed: 0"), `
m.yaml:9:61: feed must be positive, not 0 mm/min`},
		{"feed twice", changed("feed: 200", "feed: 200, feed_per_tooth: 0.02"), `
m.yaml:9:66: cut "slot" has both feed and feed_per_tooth
	keep one of them`},
		{"speed of zero", changed("12000", "0 rpm"), `
m.yaml:9:73: speed must be positive, not 0 rpm`},
		{"speed in the wrong unit", changed("12000", "12 kW"), `
m.yaml:9:73: a power (12 kW) where a speed of rotation belongs`},
		{"deeper than the flutes", changed("axial: 1", "axial: 12.5"), `
m.yaml:9:52: axial depth of 12.5 mm is more than the 12 mm of flutes that stick out
	cut in several passes, or let the tool stick out farther`},
		{"wider than the cutter", changed("mode: slot", "mode: up, radial: 6.5"), `
m.yaml:9:51: radial depth of 6.5 mm is more than the tool's 6 mm
	radial is the width of the strip that the tool takes; the whole tool is mode: slot`},
		{"width of a slot", changed("axial: 1", "radial: 6, axial: 1"), `
m.yaml:9:45: radial has no place beside slot`},
		{"no width", changed("mode: slot", "mode: down"), `
m.yaml:9:9: cut "slot" has no radial
	radial takes: length in mm`},
		{"fed along the tool", changed("along: x", "along: -z"), `
m.yaml:9:87: the tool cannot be fed that way and mill: it points along z
	feed it square to the tool, or write mode: drilling`},
		{"direction of drilling", changed("mode: slot, axial: 1", "mode: drilling"), `
m.yaml:9:74: along has no place beside drilling`},
		{"negative runout", changed("along: x", "along: x, runout: -1 um"), `
m.yaml:9:98: runout must not be negative: -0.001 mm
	it is what an indicator at the tool swings`},
		{"run-out without its unit", changed("along: x", "along: x, runout: 5"), `
m.yaml:9:98: runout of 5 mm is beyond belief: at most 0.5 mm
	look for a wrong unit`},
		{"tolerance without its unit", changed("along: x", "along: x, tolerance: 30"), `
m.yaml:9:101: a length of 30 mm is beyond belief: at most 5 mm
	a plain number is in mm here`},
		{"feed beyond the cutter", changed("feed: 200", "feed_per_tooth: 4"), `
m.yaml:9:9: cut "slot" cannot be worked out: feed per tooth of 4 mm must lie between 1e-06 and 3
	look for a wrong unit among its numbers and those of the tool`},
		{"pilot as wide as the drill", mill + "  hole: {material: brass-cz120, mode: drilling, feed_per_turn: 0.05, speed: 3000, pilot: 6}\n", `
m.yaml:9:9: cut "hole" cannot be worked out: pilot hole of 6 mm must lie between 0 and 5.94
	look for a wrong unit among its numbers and those of the tool`},
		{"no tool", two + "cuts:\n" + brass, `
m.yaml:7:3: cut "slot" has no tool
	tool: {part: …, at: […], stickout: …, diameter: …, flutes: …, material: …}`},
		{"a tool that is only a place", two + "tool: {part: post, at: [5, 5, 50]}\nwork: {part: base}\ncuts:\n" + brass, `
m.yaml:9:3: cut "slot" needs to know the tool
	give the tool its stickout, diameter, flutes and material`},
		{"name of a load", strings.Replace(mill+brass, "cuts:", "loads: {slot: {tip: [1, 0, 0]}}\ncuts:", 1), `
m.yaml:10:3: cut "slot" has the name of a load
	a cut is a load itself: give one of them another name`},
		{"own numbers of nothing", changed("brass-cz120", "{exponent: 0.2}"), `
m.yaml:9:20: work material needs one of: kc11, ktc`},
		{"exponent beyond", changed("brass-cz120", "{kc11: 700, exponent: 1}"), `
m.yaml:9:42: exponent must be from 0 to below 1, not 1
	it is m in kc = kc11·h^-m`},
		{"milled numbers for a hole", mill + "  hole: {material: {ktc: 700}, mode: drilling, feed_per_turn: 0.05, speed: 3000}\n", `
m.yaml:9:20: drilling goes by kc11 and exponent, and the work material has none
	ktc and its kin are measured by milling`},
		{"unknown key", changed("axial", "axiel"), `
m.yaml:9:45: key "axiel" is not known in cut "slot"
	did you mean axial? axial takes: length in mm`},
	})
}

func TestCut(t *testing.T) {
	m := readMachine(t, strings.Replace(mill, "cuts:", "spindle: {power: 0.5 kW, torque: 0.6 N m, efficiency: 0.8}\ncuts:",
		1)+
		`  slot: {material: brass-cz120, mode: slot, axial: 1, feed: 0.2 m/min, speed: 10000, along: -y, tolerance: 20 um, runout: 10 um}
  wall: {material: {kc11: 700 MPa, exponent: 0.25}, mode: down, radial: 1.5, axial: 1, feed_per_tooth: 20 um, speed: 200/(1 s), direction: [3, 4, 0]}
  hole: {material: {kc11: 700, exponent: 0.25}, mode: drilling, feed: 30, speed: 600, point: 90 deg, pilot: 2}
travel: {bed: {along: x, from: 20, to: 40, loads: [slot]}}
`)
	require.Len(t, m.Cuts, 3)
	slot, wall, hole := m.Cuts[0], m.Cuts[1], m.Cuts[2]
	require.Equal(t, 0.005, slot.Milling.Mill.OffsetMM, "an indicator swings twice the offset")
	require.InDelta(t, 30, slot.Milling.Mill.HelixDeg, 1e-12)
	require.InDelta(t, 0.01, slot.Milling.FeedPerToothMM, 1e-15)
	require.Equal(t, 10000.0, slot.Milling.SpeedRPM)
	require.Equal(t, cutting.Spindle{PowerW: 500, TorqueNmm: 600, Efficiency: 0.8}, slot.Milling.Spindle)
	require.Equal(t, r3.Vec{Y: -1}, slot.Feed)
	require.Equal(t, r3.Vec{X: 1}, slot.Normal, "left of someone who comes towards you")
	require.Equal(t, 0.02, slot.Tolerance)
	require.Equal(t, cutting.Down, wall.Milling.Mode)
	require.Equal(t, 12000.0, wall.Milling.SpeedRPM)
	require.InDelta(t, 0.6, wall.Feed.X, 1e-15)
	require.Equal(t, cutting.Drilling{DiameterMM: 6, PilotMM: 2, FeedMMRev: 0.05, SpeedRPM: 600, PointDeg: 90,
		Spindle: slot.Milling.Spindle}, *hole.Drilling)
	require.Equal(t, "slot, peak", m.Loads[*slot.Load].Name)
	require.Equal(t, []int{*slot.Load}, m.Travel[0].Loads)
	a := m.Loads[*hole.Load].Actions[0]
	require.Greater(t, a.Force.Z, 0.0, "the work pushes a drill back")
	require.InDelta(t, 0, math.Hypot(a.Force.X, a.Force.Y), 0)
	require.Greater(t, a.Moment.Z, 0.0)
}

// min is a unit behind a number and a function before a bracket.
func TestMinutes(t *testing.T) {
	m := readMachine(t, strings.Replace(mill, "cuts:",
		"values: {a: \"4 mm * min(2, 3)\", b: \"6 mm/min * min (50, 60)\", c: \"1 / min(4, 5)\"}\ncuts:", 1)+
		"  slot: {material: brass-cz120, mode: slot, axial: a/8, feed: b, speed: 40000*c, along: x}\n")
	c := m.Cuts[0].Milling
	require.InDelta(t, 1, c.AxialDepthMM, 1e-12)
	require.InDelta(t, 300, c.FeedMMMin(), 1e-9)
	require.InDelta(t, 10000, c.SpeedRPM, 1e-9)
}
