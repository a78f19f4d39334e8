package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/testdata/models"
)

// sledgeWith is the models.Sledge with a named ground and more lines behind it.
func sledgeWith(t *testing.T, more string) (text string, lines int) {
	t.Helper()
	text = strings.TrimRight(models.Sledge, "\n") + "\n"
	return text + more, strings.Count(text, "\n")
}

// misfitFaults is what is wrong with one misfit or shim of the sledge, its own line called 2.
func misfitFaults(t *testing.T, section, body string) string {
	t.Helper()
	text, lines := sledgeWith(t, section+":\n  it: "+body+"\n")
	said := faultsOf(text)
	return strings.ReplaceAll(said, fmt.Sprintf("m.yaml:%d:", lines+2), "2:")
}

func TestMisfitFaults(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"no place", "{high: 0.1}", "2:7: misfit \"it\" needs one of: ground, joint, axis"},
		{"two places", "{axis: x, rail: 1, joint: [base, wall], high: 0.1}",
			"2:26: misfit \"it\" has both axis and joint\n\tkeep one of them"},
		{"misspelt key", "{axis: x, rail: 1, hihg: 0.1}", "2:26: key \"hihg\" is not known in misfit \"it\"\n\t" +
			"did you mean high? high takes: length in mm; or [at its from end, at its to end] in mm"},
		{"unknown axis", "{axis: u, rail: 1, high: 0.1}", "2:14: axis \"u\" is not known\n\tone of: x"},
		{"rail that is not there", "{axis: x, rail: 3, high: 0.1}", "2:23: rail must be a whole number from 1 to 2, not 3"},
		{"carriage that is not there", "{axis: x, rail: 1, carriage: 9, high: 0.1}",
			"2:36: carriage must be a whole number from 1 to 2, not 9"},
		{"no size", "{axis: x, rail: 1}", "2:7: misfit \"it\" says not how far it is out of place\n\t" +
			"one of: high, low, gap, aside, twist, lean, by"},
		{"beyond belief", "{axis: x, rail: 1, high: 100}", "2:32: high is too large for a misfit: 100 mm, at most 20 mm\n\t" +
			"look for a wrong unit"},
		{"beyond belief at one end", "{axis: x, rail: 1, aside: [0, -50]}",
			"2:33: aside is too large for a misfit: -50 mm, at most 20 mm\n\tlook for a wrong unit"},
		{"beyond belief beside", "{axis: x, nut: true, by: [0, 100, 0]}",
			"2:32: by is too large for a misfit: 100 mm, at most 20 mm\n\tlook for a wrong unit"},
		{"leans beyond belief", "{joint: [base, wall], lean: {about: x, by: 30, over: 100}}",
			"2:35: lean is too large for a misfit: 17.1887 deg, at most 5 deg\n\tlook for a wrong unit"},
		{"both ways", "{axis: x, rail: 1, high: 0.1, low: 0.1}", "2:42: misfit \"it\" has both high and low\n\t" +
			"keep one of them"},
		{"dimension", "{axis: x, rail: 1, high: 0.1 deg}", "2:32: an angle (0.1 deg) where a length belongs"},
		{"ends of a carriage", "{axis: x, rail: 1, carriage: 1, high: [0, 0.1]}",
			"2:45: high must be a single value: only a rail has one at each end"},
		{"three ends", "{axis: x, rail: 1, high: [0, 0.1, 0.2]}",
			"2:32: high must be a list [at its from end, at its to end]"},
		{"joint that is none", "{joint: [table, wall], gap: 0.1}",
			"2:15: parts \"table\" and \"wall\" are not joined\n\tname the two parts of a joint"},
		{"joint the other way round", "{joint: [wall, base], gap: 0.1}",
			"2:15: the joint is between base and wall, in that order\n\tthe second part is the one that stands off; write " +
				"them as under joints"},
		{"aside of a joint", "{joint: [base, wall], aside: 0.1}", "2:36: aside is for a rail or a carriage\n\t" +
			"write by: [x, y, z] or lean: {about, by, over}"},
		{"gap below nothing", "{joint: [base, wall], gap: -0.1}",
			"2:34: gap must be positive, not -0.1 mm\n\tsay high: … if it stands proud"},
		{"gap below nothing at one end", "{axis: x, rail: 1, gap: [0.1, -0.2]}",
			"2:31: gap must be positive, not -0.2 mm\n\tsay high: … if it stands proud"},
		{"one part", "{joint: [base], gap: 0.1}", "2:15: joint must be a list of two parts"},
		{"rail along its axis", "{axis: x, rail: 1, by: [0.1, 0, 0]}",
			"2:30: by is along the rail, which runs along x\n\tgive what is across it"},
		{"lean without a length", "{joint: [base, wall], lean: {about: x, by: 0.1}}", "2:35: lean has no over\n\tover takes: length in mm"},
		{"nut that leans", "{axis: x, nut: true, lean: {about: x, by: 0.1, over: 10}}",
			"2:34: a nut or a bearing that leans is not modelled\n\twrite by: [x, y, z], how far it is beside its line"},
		{"nut that is high", "{axis: x, nut: true, high: 0.1}",
			"2:34: nothing says which way high is here\n\twrite by: [x, y, z]"},
		{"nut along its screw", "{axis: x, nut: true, by: [1, 0, 0]}",
			"2:32: by is along the screw, which runs along x\n\tgive what is across it"},
		{"bearing", "{axis: x, bearing: near, by: [0, 1, 0]}", "2:26: bearing \"near\" is not known\n\t" +
			"one of: driven, far"},
		{"drive that is not there", "{axis: x, nut: true, drive: 2, by: [0, 1, 0]}",
			"2:35: drive must be a whole number from 1 to 1, not 2"},
		{"ground of no name", "{ground: bench, low: 0.1}", "2:16: ground \"bench\" is not known\n\tthe model names none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, misfitFaults(t, "misfits", c.body))
		})
	}
}

func TestShimFaults(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"no material", "{axis: x, rail: 1, thickness: 0.1}", "2:7: shim \"it\" has no material\n\tmaterial takes: name of a material"},
		{"no thickness", "{axis: x, rail: 1, material: paper, thickness: -1}",
			"2:54: thickness must be at least 0.001 mm, or zero for no shim, not -1 mm"},
		{"empty stack", "{axis: x, rail: 1, stack: []}",
			"2:33: the stack is empty\n\twrite [{material: shim-brass, thickness: 0.1 mm}, …]"},
		{"stack and sheet", "{axis: x, rail: 1, stack: [{material: paper, thickness: 0.1}], thickness: 0.1}",
			"2:81: thickness has no place beside stack"},
		{"nut without area", "{axis: x, nut: true, material: paper, thickness: 0.1}",
			"2:7: shim \"it\" needs area and lifts: nothing else says how wide it is and which way it moves the nut\n\t" +
				"write area: 600 mm2, lifts: [0, 0, 1]"},
		{"lifts along the screw", "{axis: x, nut: true, material: paper, thickness: 0.1, area: 600, lifts: [1, 0, 0]}",
			"2:79: lifts is not across the screw"},
		{"area in the wrong unit", "{axis: x, nut: true, material: paper, thickness: 0.1, area: 6e-4, lifts: [0, 1, 0]}",
			"2:67: area is too small: 0.0006 mm2, at least 1 mm2\n\tlook for a wrong unit"},
		{"rail that lifts", "{axis: x, rail: 1, material: paper, thickness: 0.1, lifts: [0, 0, 1]}",
			"2:66: lifts is for a nut or a bearing\n\telsewhere a shim lifts square to its seat"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, misfitFaults(t, "shims", c.body))
		})
	}
}

// A size stands where the machine keeps it: a rail's at both its ends, low as below high, a lean as an angle.
func TestMisfitsRead(t *testing.T) {
	text, _ := sledgeWith(t, `misfits:
  taper: {axis: x, rail: 2, aside: [0, 0.05 mm], twist: 1 mrad}
  low: {axis: x, rail: 1, carriage: 2, low: 20 um}
  leans: {joint: [base, wall], lean: {about: y, by: 0.05, over: 100}}
  none: {axis: x, rail: 1, high: [0, 0], by: [0, 0, 0]}
  gone: {if: false, joint: [base, wall], gap: 0.1}
  far: {axis: x, bearing: far, by: [0, 0.1, 0]}
shims:
  under: {axis: x, rail: 1, carriage: 2, stack: [{material: paper, thickness: 0.1},
          {material: shim-brass, thickness: 50 um}]}
`)
	m, err := machineOf(text, "")
	require.NoError(t, err)
	require.Len(t, m.Misfits, 4)
	require.Equal(t, machine.Offset{Twist: 0.001}, m.Misfits[0].From)
	require.Equal(t, machine.Offset{Aside: 0.05, Twist: 0.001}, *m.Misfits[0].To)
	require.Equal(t, machine.Mounting{Kind: machine.AtCarriage, Carriage: 1}, m.Misfits[1].At)
	require.InDelta(t, -0.02, m.Misfits[1].From.High, 1e-15)
	require.InDelta(t, 5e-4, m.Misfits[2].From.Turn.Y, 1e-15)
	require.Equal(t, machine.AtFarBearing, m.Misfits[3].At.Kind)
	require.InDelta(t, 0.15, m.Shims[0].Thickness(), 1e-15)
	require.True(t, m.Shims[0].Stack[0].Paper)
	require.Equal(t, "paper 0.1 mm, shim-brass 0.05 mm", m.Shims[0].Layers())
}

// A ground whose part is not known is no place for a misfit: the part is told, and that is all.
func TestMisfitOfGroundOnUnknownPart(t *testing.T) {
	text := strings.Replace(two, "\n\n", "\n", 1) + "grounds: [{part: bse, name: bench, face: bottom, feet: [[5, 5]], stiffness: " +
		"40 N/um}]\nmisfits: {low: {ground: bench, foot: 1, low: 0.1}}\n"
	require.Equal(t, "m.yaml:5:18: part \"bse\" is not known\n\tdid you mean base? one of: base, post", faultsOf(text))
}
