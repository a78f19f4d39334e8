package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

const pushed = two + `tool: {part: post, at: [5, 5, 50]}
work: {part: base}
loads: {side: {tip: [1, 0, 0]}, weight: {gravity: true}, down: {tip: [0, 0, 1]}}
`

func TestTravelFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown axis", pushed + "travel:\n  bed: {along: w, from: 0, to: 10}\n", `
m.yaml:10:16: axis "w" is not known
	one of: x, y, z`},
		{"unknown load", pushed + "travel:\n  bed: {along: y, from: 0, to: 10, loads: [sid, side, side]}\n", `
m.yaml:10:44: load "sid" is not known
	did you mean side? one of: side, weight, down
m.yaml:10:55: load "side" stands here a second time`},
		{"load not on the tip", pushed + "travel:\n  bed: {along: y, from: 0, to: 10, loads: [weight]}\n", `
m.yaml:10:44: load "weight" does not act on the tip`},
		{"names no load", pushed + "travel:\n  bed: {along: y, from: 0, to: 10, loads: []}\n", `
m.yaml:10:43: travel "bed" names no load
	leave loads out for all that act on the tip`},
		{"nowhere", pushed + "travel:\n  bed: {along: y, from: 10, to: 0}\n", `
m.yaml:10:33: travel "bed" goes nowhere: from 10 to 0 mm
	from must be less than to`},
		{"tolerance of zero", pushed + "travel:\n  bed: {along: y, from: 0, to: 10, tolerance: 0}\n", `
m.yaml:10:47: tolerance must be positive, not 0 mm`},
		{"without work", two + "travel:\n  bed: {along: y, from: 0}\n", `
m.yaml:7:3: travel "bed" has no work to move
	say where the tool and the work are: tool: …, work: …
m.yaml:7:3: travel "bed" has no load on the tip
	give one under loads: a name with tip: [x, y, z]
m.yaml:7:8: travel "bed" has no to
	to takes: length in mm`},
	})
}

func TestTravel(t *testing.T) {
	m := readMachine(t, pushed+"travel:\n  a: {along: y, from: -10, to: 1 cm, tolerance: 20 um}\n  b: {along: z, from: "+
		"0, to: 1, loads: [down]}\n")
	require.Equal(t, []machine.Path{
		{Name: "a", Pos: machine.FilePos{Line: 10, Col: 3}, Along: machine.Y, From: -10, To: 10, Tolerance: 0.02,
			Loads: []int{0, 2}},
		{Name: "b", Pos: machine.FilePos{Line: 11, Col: 3}, Along: machine.Z, From: 0, To: 1, Loads: []int{2}},
	}, m.Travel)
}

func TestTravelOfAxes(t *testing.T) {
	text := models.CrossTravel("  table: {axis: x, tolerance: 20 um}\n  short: {axis: y, from: -1 cm, loads: [cut, " +
		"weight]}\n  xy: {axes: [x, y], tolerance: 30 um, loads: [press]}\n  down: {axis: z, to: 0}\n  side: {axes: [x, " +
		"z]}\n")
	m := readMachine(t, text)
	at := func(line int) machine.FilePos { return machine.FilePos{Line: models.CrossTravelLine + line, Col: 3} }
	all := []int{0, 1, 2, 3}
	require.Equal(t, []machine.Path{
		{Name: "table", Pos: at(1), Axes: []int{1}, From: -30, To: 30, Tolerance: 0.02, Loads: all},
		{Name: "short", Pos: at(2), Axes: []int{0}, From: -10, To: 40, Loads: []int{0, 2}},
		{Name: "xy", Pos: at(3), Axes: []int{1, 0}, Tolerance: 0.03, Loads: []int{1}},
		{Name: "down", Pos: at(4), Axes: []int{2}, From: -50, To: 0, Loads: all},
		{Name: "side", Pos: at(5), Axes: []int{1, 2}, Loads: all},
	}, m.Travel)

	held, err := machineOf(text, "fixed quill")
	require.NoError(t, err)
	require.Len(t, held.Axes, 2)
	require.Equal(t, m.Travel[:3], held.Travel, "an axis that is left out takes its paths along")

	moved, err := m.At(map[string]float64{"y": 25, "x": -5})
	require.NoError(t, err)
	require.Equal(t, m.Travel, moved.Travel, "paths of axes stay where they are when the axes move")
}

func TestTravelOfAxesFaults(t *testing.T) {
	line := fmt.Sprintf("\nm.yaml:%d:", models.CrossTravelLine+1)
	noLoads := strings.NewReplacer("cut: {tip: [20, 30, 40]}", "", "press: {at: end of the fence, force: [0, 10, -50]}",
		"", "weight: {gravity: true}", "", "warm: {temperature: 5}", "")
	testFaults(t, []faultCase{
		{"unknown axis", models.CrossTravel("  a: {axis: u}\n"), line + `13: axis "u" is not known
	one of: y, x, z`},
		{"unknown axis of a plane", models.CrossTravel("  a: {axes: [x, yy]}\n"), line + `17: axis "yy" is not known
	did you mean y? one of: y, x, z`},
		{"no axes", pushed + "travel:\n  bed: {axis: x}\n", `
m.yaml:10:15: axis "x" is not known
	the model names none`},
		{"the same axis twice", models.CrossTravel("  a: {axes: [x, x]}\n"), line + `17: axis "x" stands here a second time
	two different axes span a plane`},
		{"one axis", models.CrossTravel("  a: {axes: [x]}\n"), line + `13: travel "a" names one axis, and two span a plane
	for a path along one axis write axis: x`},
		{"three axes", models.CrossTravel("  a: {axes: [x, y, z]}\n"), line + `13: travel "a" names 3 axes, and two span a plane
	write axes: [first, second]`},
		{"no list", models.CrossTravel("  a: {axes: x}\n"), line + `13: axes must be a list, not a single value`},
		{"a list of axes for one", models.CrossTravel("  a: {axis: [x, y]}\n"),
			line + `13: axis must be a single value, not a list`},
		{"from and to with a plane", models.CrossTravel("  a: {axes: [x, y], from: 0, to: 10}\n"),
			line + `21: from has no place beside axes, which run through all their travel` + line +
				`30: to has no place beside axes, which run through all their travel`},
		{"along and axis", models.CrossTravel("  a: {along: x, axis: x}\n"), line + `17: travel "a" has both along and axis
	keep one of them`},
		{"axis and axes", models.CrossTravel("  a: {axes: [x, y], axis: x}\n"), line + `21: travel "a" has both axes and axis
	keep one of them`},
		{"nothing that moves", models.CrossTravel("  a: {tolerance: 1 um}\n"),
			line + `6: travel "a" needs one of: along, axis, axes`},
		{"beyond travel", models.CrossTravel("  a: {axis: x, from: -31, to: 3 m}\n"), line + `22: axis x cannot stand at -31 mm: it travels from -30 mm to 30 mm
	choose a position within its travel, or give it more travel` + line + `31: axis x cannot stand at 3000 mm: it travels from -30 mm to 30 mm
	choose a position within its travel, or give it more travel`},
		{"nowhere", models.CrossTravel("  a: {axis: x, from: 30}\n"), line + `22: travel "a" goes nowhere: from 30 to 30 mm
	from must be less than to`},
		{"backwards", models.CrossTravel("  a: {axis: x, from: 10, to: -10}\n"), line + `30: travel "a" goes nowhere: from 10 to -10 mm
	from must be less than to`},
		{"unknown load", models.CrossTravel("  a: {axis: x, loads: [cuts]}\n"), line + `24: load "cuts" is not known
	did you mean cut? one of: cut, press, weight, warm`},
		{"names no load", models.CrossTravel("  a: {axis: x, loads: []}\n"), line + `23: travel "a" names no load
	leave loads out for all there are`},
		{"no loads", noLoads.Replace(models.CrossTravel("  a: {axis: x}\n")), line + `3: travel "a" has no load to be followed under
	give one under loads: a name with tip: [x, y, z]`},
		{"no tool", strings.NewReplacer("tool: {part: spindle, at: [0, 10, 170 + pz], stickout: 30 mm, diameter: 6 mm, material: carbide}", "", "work: {part: table}", "", "cut: {tip: [20, 30, 40]}", "").Replace(models.CrossTravel("  a: {axis: x}\n")), line + `3: travel "a" has no work to move
	say where the tool and the work are: tool: …, work: …`},
	})
}
