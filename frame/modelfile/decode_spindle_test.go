package modelfile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

const cutter = two + `tool: {part: post, at: [5, 5, 50], stickout: 20, diameter: 6, flutes: 2, material: carbide}
work: {part: base}
`

func TestSpindleFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown class", cutter + "spindle: {class: router}\n", `
m.yaml:8:18: class of spindle "router" is not known
	did you mean router-motor? one of: router-motor, round-spindle, mill-quill, lathe-head, taper-30, taper-40`},
		{"both", cutter + "spindle: {class: mill-quill, bearings: {radial: 30 N/um}}\n", `
m.yaml:8:30: spindle has both class and bearings
	keep one of them`},
		{"empty", cutter + "spindle: {}\n", `
m.yaml:8:10: spindle is empty
	some of: class, bearings, power, torque, efficiency, speed`},
		{"no tool", two + "spindle: {class: mill-quill}\n", `
m.yaml:6:10: there is a spindle, but no tool in it
	tool: {part: …, at: […], stickout: …, diameter: …, material: …}`},
		{"a tool that is only a place", two + "tool: {part: post, at: [5, 5, 50]}\nwork: {part: base}\nspindle: {class: mill-quill}\n", `
m.yaml:8:10: the spindle's bearings need a tool that sticks out of them
	give the tool its stickout, diameter and material`},
		{"bearings of nothing", cutter + "spindle: {bearings: {radial: 0, tilt: 3 N/um}}\n", `
m.yaml:8:30: radial must be positive, not 0 N/mm
m.yaml:8:39: a stiffness (3 N/um) where a stiffness against turning belongs`},
		{"front alone", cutter + "spindle: {bearings: {front: 30 N/um, overhang: -1}}\n", `
m.yaml:8:21: bearings has no rear
	rear takes: stiffness in N/mm
m.yaml:8:21: bearings has no span
	span takes: length in mm
m.yaml:8:48: overhang must not be negative: -1 mm
	it is how far the nose stands in front of the front bearing`},
		{"efficiency in percent", cutter + "spindle: {efficiency: 80}\n", `
m.yaml:8:23: efficiency must be from 0.01 to 1, not 80`},
		{"speeds turned round", cutter + "spindle: {speed: [9000, 3000 rpm]}\n", `
m.yaml:8:18: speed from 9000 rpm to 3000 rpm is no range
	[slowest, fastest]`},
		{"unknown holder", strings.Replace(cutter, "flutes: 2", "flutes: 2, holder: colet", 1), `
m.yaml:6:82: holder "colet" is not known
	did you mean collet? one of: collet, 7/24-30, 7/24-40`},
		{"collet of a plain bar", strings.Replace(cutter, "flutes: 2", "holder: collet", 1), `
m.yaml:6:71: a collet's give is told by the cutter's flutes, and the tool says none
	flutes: 2, or holder: {tilt: …} with your own number`},
		{"shank all the way", strings.Replace(cutter, "flutes: 2", "shank: {diameter: 6, length: 20}", 1), `
m.yaml:6:92: a shank of 20 mm leaves nothing of the 20 mm that stick out
	length is what sticks out of the shank; the rest of the stickout is fluted`},
		{"core beyond the cutter", strings.Replace(cutter, "flutes: 2", "core: 7", 1), `
m.yaml:6:69: core of 7 mm in a tool of 6 mm
	core is the diameter of the round bar that bends like the flutes, about 0.8 of the diameter`},
		{"helix of a plain bar", strings.Replace(cutter, "flutes: 2", "helix: 30", 1), `
m.yaml:6:70: helix needs flutes beside it`},
		{"steep helix", strings.Replace(cutter, "flutes: 2", "flutes: 2, helix: 70", 1), `
m.yaml:6:81: helix must be from 0 deg to 60 deg, not 70 deg`},
		{"half a flute", strings.Replace(cutter, "flutes: 2", "flutes: 2.5", 1), `
m.yaml:6:71: flutes must be a whole number from 1 to 32, not 2.5`},
		{"holder of no cutter", two + "tool: {part: post, at: [5, 5, 50], holder: collet}\nwork: {part: base}\n", `
m.yaml:6:44: holder needs stickout, diameter and material beside it`},
	})
}

func TestSpindle(t *testing.T) {
	m := readMachine(t, strings.Replace(cutter, "flutes: 2",
		"flutes: 4, core: 5, shank: {diameter: 8, length: 12}, holder: 7/24-30", 1)+
		"spindle: {bearings: {front: 60 N/um, rear: 30 N/um, span: 80, overhang: 20, axial: 25 N/um}, power: 500, torque: "+
		"300, speed: [3000, 18000 rpm]}\n")
	require.Equal(t, machine.Stiffness{Axial: 25e3, Bearings: &machine.BearingPair{Front: 60e3, Rear: 30e3, Span: 80,
		Overhang: 20}}, m.Spindle.Stiffness)
	require.Equal(t, 500.0, m.Spindle.PowerW)
	require.Equal(t, 300.0, m.Spindle.TorqueNmm)
	require.Equal(t, 18000.0, m.Spindle.FastestRPM)
	// N·mm/rad, the order of Rivin, Stiffness and Damping in Mechanical Design, for size 30 (from memory).
	const taperTilt = 0.3e9
	require.Equal(t, machine.Stiffness{Tilt: taperTilt}, m.Tool.Holder.Stiffness)
	require.Equal(t, 5.0, m.Tool.Core)
	require.Equal(t, 8.0, m.Tool.FluteLength())

	m = readMachine(t, strings.Replace(cutter, "flutes: 2", "flutes: 2, holder: collet",
		1)+"spindle: {class: round-spindle}\n")
	require.Equal(t, 0.78*6, m.Tool.Core, "Kops & Vo, CIRP Annals 39, 1990, as frame/spindle has it")
	// A nose of 35 N/µm across and 25 along, as practice has round spindles (no publication). The shaft turns about
	// its front bearings against the rear ones, half as stiff as the nose and 130 mm behind: by the statics of a rigid
	// bar on a pin and a spring, a turn of one radian stretches the spring by 130 mm, and its force acts on that arm.
	const turned = 35e3 / 2 * 130 * 130
	require.Equal(t, machine.Stiffness{Radial: 35e3, Axial: 25e3, Tilt: turned}, m.Spindle.Stiffness)
	// A collet adds at the tip of a cutter three diameters long 0.6 of what bending does, as practice has it (no
	// publication). By the statics of a cantilever of length L, bending adds F·L³/(3·E·I), turning in the grip F·L²/K.
	// Carbide has 580 GPa, as pages on tool deflection say.
	const reach, core = 3 * 6.0, 0.78 * 6
	bent := reach * reach * reach / (3 * 580e3 * math.Pi * math.Pow(core, 4) / 64)
	require.InEpsilon(t, reach*reach/(0.6*bent), m.Tool.Holder.Stiffness.Tilt, 1e-12)
}
