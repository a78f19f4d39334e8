package structure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/spindle"
	"tiploop/testdata/checks"
)

// rigidMachine is a tool in a block that does not move over a plate that does not: all that gives is what a test puts
// between them. %s are the tool's keys and what follows.
const rigidMachine = `machine: rigid
materials:
  rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}
  hard:  {E: 600000 MPa, nu: 0.22, density: 14500}
parts:
  table: {plate: {from: [-50, -50, 0], to: [50, 50, 20]}, material: rigid}
  block: {plate: {from: [-50, -50, 100], to: [50, 50, 150]}, material: rigid}
grounds:
  - {part: table, face: bottom, fixed: true}
  - {part: block, face: top, fixed: true}
work: {part: table}
tool: {part: block, at: [0, 0, %g], stickout: %g, %s}
%s`

// blocksGive is what blocks of E = 1e8 MPa, the most a model may say, still give: some 1e-9 mm/N beside springs of
// 1e-4.
const blocksGive = 1e-4

// Springs in a row: spindle, holder and a stepped tool add up, and so do their shares of the energy. The bending is
// that of the check, to which shear adds F·L/(G·A·κ) with Cowper's κ = 6(1+ν)/(7+6ν).
func TestSpindleHolderAndSteppedTool(t *testing.T) {
	c := checks.Find(t, "beam-stepped-tool")
	shank, neck := c.In(t, "shank_length_mm"), c.In(t, "neck_length_mm")
	stickout, force := shank+neck, c.In(t, "load_N")
	r := solveText(t, fmt.Sprintf(rigidMachine, 100-stickout, stickout,
		fmt.Sprintf("diameter: %g, shank: {diameter: %g, length: %g}, holder: {radial: 20 N/um, tilt: 5e6}, material: hard",
			c.In(t, "neck_diameter_mm"), c.In(t, "shank_diameter_mm"), shank),
		fmt.Sprintf("spindle: {bearings: {radial: 10 N/um, axial: 8 N/um, tilt: 2e7}}\nloads:\n  across: {tip: [%g, 0, "+
			"0]}\n  down: {tip: [0, 0, %[1]g]}\n  skew: {tip: [30, 40, 0]}\n", force)))
	const e, nu = 600000.0, 0.22
	area := func(d float64) float64 { return math.Pi * d * d / 4 }
	kappa := 6 * (1 + nu) / (7 + 6*nu)
	shear := force * (neck/area(3) + shank/area(6)) / (e / 2 / (1 + nu) * kappa)
	bearings := force * (1/10e3 + stickout*stickout/2e7)
	holder := force * (1/20e3 + stickout*stickout/5e6)
	tool := c.Want(t, "tip_deflection_mm") + shear
	total := bearings + holder + tool
	checks.CloseTo(t, "across", r.Loads[0].TipUm[0], total*constant.UmPerMM, blocksGive)
	for source, part := range map[string]float64{spindleSource: bearings, holderSource: holder, toolSource: tool} {
		for _, s := range r.Shares {
			if s.Load == "across" && s.Source == source {
				checks.CloseTo(t, source, s.Percent, 100*part/total, 3*blocksGive)
			}
		}
	}
	axial := force * (1/8e3 + (neck/area(3)+shank/area(6))/e)
	checks.CloseTo(t, "along", r.Loads[1].TipUm[2], axial*constant.UmPerMM, blocksGive)
	checks.CloseTo(t, "any way across", norm(*r.Loads[2].TipUm), total*constant.UmPerMM/2, blocksGive)
	hand := r.Hand[0]
	checks.CloseTo(t, "by hand", hand.HandUm, tool*constant.UmPerMM, 1e-8)
	checks.CloseTo(t, "by hand and solved", hand.SolvedUm, hand.HandUm, 1e-6)
	names := map[string]bool{}
	for _, s := range r.Shares {
		names[s.Source] = true
	}
	require.True(t, names[spindleSource] && names[holderSource] && names[toolSource])
}

// A rigid shaft on two bearings, pushed at the tool's tip (statics: moments about either bearing). With the tip at the
// nose that is frame/spindle's radial stiffness.
func TestTwoBearings(t *testing.T) {
	const front, rear, span, overhang, force = 60.0, 30.0, 80.0, 20.0, 100.0
	for _, stickout := range []float64{0.1, 25} {
		r := solveText(t, fmt.Sprintf(rigidMachine, 100-stickout, stickout, "diameter: 20, material: rigid",
			fmt.Sprintf("spindle: {bearings: {front: %g N/mm, rear: %g N/mm, span: %g, overhang: %g}}\nloads: {across: {tip: [%g, 0, "+
				"0]}, skew: {tip: [0, -%[5]g, 0]}}\n", front, rear, span, overhang, force)))
		reach := overhang + stickout
		onFront, onRear := (span+reach)/span, reach/span
		want := force * (onFront*onFront/front + onRear*onRear/rear)
		checks.CloseTo(t, "across", r.Loads[0].TipUm[0], want*constant.UmPerMM, 1e-6)
		checks.CloseTo(t, "and the other way", r.Loads[1].TipUm[1], -want*constant.UmPerMM, 1e-6)
		if stickout < 1 {
			radial, _ := spindle.TwoBearings(front, rear, span, overhang)
			checks.CloseTo(t, "at the nose", want, force/radial, 0.005)
		}
	}
}

// A tool without a spindle and holder that give is the round bar it always was, and one with flutes is thinner.
func TestPlainTool(t *testing.T) {
	const plainKeys = "diameter: 6, material: hard"
	tip := func(keys, more string) float64 {
		r := solveText(t, fmt.Sprintf(rigidMachine, 70.0, 30.0, keys, more+"loads: {across: {tip: [100, 0, 0]}}\n"))
		return r.Loads[0].TipUm[0]
	}
	plain := tip(plainKeys, "")
	require.Equal(t, plain, tip(plainKeys, "spindle: {power: 500 W, speed: [3000, 18000]}\n"), "limits alone give nothing")
	require.Equal(t, plain, tip(plainKeys+", flutes: 2, core: 6", ""))
	// shear goes with the square
	checks.CloseTo(t, "0.78 of the diameter, to the fourth",
		tip(plainKeys+", flutes: 2", ""), plain/math.Pow(0.78, 4), 0.02)
	require.Greater(t, tip(plainKeys+", shank: {diameter: 5, length: 10}", ""), plain)
}

// A machine of one material, warmed all over and free to grow, grows like a photograph with springs in its spindle as
// without: see TestWarmMachineGrowsFreely.
func TestWarmSpindleGrowsFreely(t *testing.T) {
	const cold = "own weight:   {gravity: true}"
	text := strings.NewReplacer("material: steel", "material: aluminium-5083", "material: carbide",
		"material: aluminium-5083, flutes: 2, shank: {diameter: 8, length: 10}, holder: collet",
		"work: {part: bed}", "work: {part: bed}\nspindle: {bearings: {front: 30 N/um, rear: 20 N/um, span: 60, axial: 10 "+
			"N/um}}", cold, "own weight:   {temperature: 10 K}", "at: [0, -10, 95]", "at: [3, -10, 95]",
		"from: [0, -10, 360], to: [0, -10, 130]", "from: [3, -10, 360], to: [3, -10, 130]",
		"face: bottom, feet: [[-240, -200], [240, -200], [-240, 300], [240, 300]], stiffness: 40 N/um",
		"hold: [x, y, z, rx, ry, rz], at: [0, 0, 20]").Replace(models.ClockPlateMill)
	m := readMachine(t, text)
	r := solveText(t, text)
	growth := m.Parts[0].Material.Expansion * 10 * 1000
	for _, l := range r.Loads {
		if l.Name == "own weight" {
			for k, d := range [3]float64{0, 0, 95 - 90} {
				require.InDelta(t, growth*d, l.TipUm[k], 1e-6*growth*100, machine.Axis(k))
			}
		}
	}
}
