package modelfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// faultCase is a model and what is said of it.
type faultCase struct{ name, model, want string }

func testFaults(t *testing.T, cases []faultCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, strings.TrimPrefix(c.want, "\n"), faultsOf(c.model))
		})
	}
}

// faultsOf is everything said of a model read as drawn; "" when it is right.
func faultsOf(text string) string {
	_, err := machineOf(text, "")
	if err == nil {
		return ""
	}
	if _, ok := err.(machine.Faults); !ok {
		return "not Faults: " + err.Error()
	}
	return err.Error()
}

func machineOf(text, option string) (*machine.Machine, error) {
	doc, err := Parse("m.yaml", []byte(text))
	if err != nil {
		return nil, err
	}
	return doc.Machine(option)
}

func readMachine(t *testing.T, text string) *machine.Machine {
	t.Helper()
	m, err := machineOf(text, "")
	require.NoError(t, err)
	return m
}

// Pieces of models. two is five lines, a plate on a plate; pole is four, a bar of 100 mm.
const (
	two = `machine: two plates
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  post: {plate: {from: [0, 0, 10], to: [10, 50, 90]}, material: steel}

`
	pole = `machine: pole
parts:
  pole: {bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: {round: 10}, material: steel}

`
)

// TestFaultsTogether has two faults in places that have nothing to do with each other, and one in the form of the file.
func TestFaultsTogether(t *testing.T) {
	testFaults(t, []faultCase{
		{"in the parts and the loads", two + "joints:\n  - {between: [base, pots], bonded: true}\nloads:\n  push: {tip: [0, 10 mm, 0]}\n", `
m.yaml:7:22: part "pots" is not known
	did you mean post? one of: base, post
m.yaml:9:9: load "push" acts on the tip, but there is no tool
m.yaml:9:19: a length (10 mm) where a force belongs`},
		{"of form and of sense", two + "joint: []\njoints:\n  - {between: [base, base], bonded: true}\n", `
m.yaml:6:1: key "joint" is not known in the model
	did you mean joints? joints takes: list of: mapping of between, if, bonded, screws, sprung, surface, shim, drilled
m.yaml:8:22: part "base" is joined to itself`},
		{"more than ten", two + "values: {a: z, b: z, c: z, d: z, e: z, f: z, h: z, i: z, j: z, k: z, l: z, n: z, o: z}\n", `
m.yaml:6:13: "z" is no value, and as a word nothing uses a
	use it where a word belongs, or take it out
m.yaml:6:19: "z" is no value, and as a word nothing uses b
	use it where a word belongs, or take it out
m.yaml:6:25: "z" is no value, and as a word nothing uses c
	use it where a word belongs, or take it out
m.yaml:6:31: "z" is no value, and as a word nothing uses d
	use it where a word belongs, or take it out
m.yaml:6:37: "z" is no value, and as a word nothing uses e
	use it where a word belongs, or take it out
m.yaml:6:43: "z" is no value, and as a word nothing uses f
	use it where a word belongs, or take it out
m.yaml:6:49: "z" is no value, and as a word nothing uses h
	use it where a word belongs, or take it out
m.yaml:6:55: "z" is no value, and as a word nothing uses i
	use it where a word belongs, or take it out
m.yaml:6:61: "z" is no value, and as a word nothing uses j
	use it where a word belongs, or take it out
m.yaml:6:67: "z" is no value, and as a word nothing uses k
	use it where a word belongs, or take it out
and 3 more`},
	})
}

func TestWordsThatAreNoBooleans(t *testing.T) {
	m := readMachine(t, `machine: off
parts:
  on:  {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  no:  {plate: {from: [0, 0, 10], to: [10, 50, 90]}, material: steel}
  y:   {plate: {from: [20, 0, 10], to: [30, 50, 90]}, material: steel, if: yes}
values: {yes: true, n: 3, no: not yes}
joints:
  - {between: [on, no], bonded: true}
  - {between: [on, y], screws: {size: M6, grid: [1, n]}}
grounds:
  - {part: y, at: [25, 0, 50], hold: [x, y, z]}
points:
  off: {part: no, at: [0, 0, 90]}
loads:
  yes: {at: off, force: [1, 0, 0]}
`)
	require.Equal(t, "off", m.Name)
	require.Equal(t, []string{"on", "no", "y"}, []string{m.Parts[0].Name, m.Parts[1].Name, m.Parts[2].Name})
	require.Equal(t, [2]int{1, 3}, m.Joints[1].Screws.Grid)
	require.Equal(t, [6]bool{true, true, true}, m.Grounds[0].Hold)
	require.Equal(t, "off", m.Points[0].Name)
	require.Equal(t, "yes", m.Loads[0].Name)
}

// TestWrongKinds puts a single value, a list or a mapping where another of them belongs.
func TestWrongKinds(t *testing.T) {
	testFaults(t, []faultCase{
		{"joint", two + "joints: [3]\n", `
m.yaml:6:10: joint must be a mapping, not a single value
	its keys: between, if, bonded, screws, sprung, surface, shim, drilled`},
		{"joints", two + "joints: {a: 3}\n", `
m.yaml:6:9: joints must be a list, not a mapping`},
		{"screws", twoJoined("screws: M6"), `
m.yaml:7:37: screws must be a mapping, not a single value
	its keys: size, class, hole, head, grid, at, torque`},
		{"shim", twoJoined("screws: {size: M6, grid: [1, 1]}, shim: paper"), `
m.yaml:7:69: shim must be a mapping, not a single value
	its keys: if, material, thickness`},
		{"sprung", twoJoined("sprung: [x]"), `
m.yaml:7:37: sprung must be a mapping, not a list
	its keys: loose, x, y, z, rx, ry, rz`},
		{"loose", twoJoined("sprung: {loose: x}"), `
m.yaml:7:45: loose must be a list, not a single value`},
		{"size", twoJoined("screws: {size: [M6], grid: [1, 1]}"), `
m.yaml:7:44: screw size must be a single value, not a list`},
		{"ground", two + "grounds: [floor]\n", `
m.yaml:6:11: ground must be a mapping, not a single value
	its keys: part, name, if, fixed, strip, feet, hold, spring, bed, face, stiffness, side, at`},
		{"feet", twoGrounded("feet: 4, face: bottom, stiffness: 3"), `
m.yaml:7:24: feet must be a list, not a single value
m.yaml:7:52: stiffness of 3 N/mm is 0.003 N/um, softer than any support or bearing
	a plain number is in N/mm; write 3 N/um, or 3 N/mm if that is meant`},
		{"spring", twoGrounded("spring: 4, at: [0, 0, 0]"), `
m.yaml:7:26: spring must be a mapping, not a single value
	its keys: x, y, z, rx, ry, rz`},
		{"bed", poleGrounded("bed: [1, 2]"), `
m.yaml:6:5: ground has no face
	face takes: one of: left, right, front, back, bottom, top
m.yaml:6:23: a number must be a single value, not a list`},
		{"bonded", twoJoined("bonded: 3"), `
m.yaml:7:37: a plain number (3) where true or false belongs`},
		{"material", part("{plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: [steel]}"), `
m.yaml:3:58: material must be a single value, not a list`},
		{"plate", part("{plate: [0, 0, 0], material: steel}"), `
m.yaml:3:14: plate must be a mapping, not a list
	its keys: from, to, outline`},
		{"gusset", part("{gusset: 3, material: steel}"), `
m.yaml:3:15: gusset must be a mapping, not a single value
	its keys: corner, legs, thickness`},
		{"bar", part("{bar: 3, section: {round: 3}, material: steel}"), `
m.yaml:3:12: bar must be a mapping, not a single value
	its keys: from, to`},
		{"own material", two + "materials: {foam: 3}\n", `
m.yaml:6:19: material "foam" must be a mapping, not a single value
	its keys: E, nu, density, expansion, yield`},
		{"tool", two + "tool: post\nwork: post\n", `
m.yaml:6:7: tool must be a mapping, not a single value
	its keys: part, at, stickout, diameter, material, flutes, helix, entering, core, shank, holder
m.yaml:7:7: work must be a mapping, not a single value
	its keys: part, at, height`},
		{"point", two + "points: {top: 3}\n", `
m.yaml:6:15: point "top" must be a mapping, not a single value
	its keys: part, at, patch, against`},
		{"load", two + "loads: {push: 3}\n", `
m.yaml:6:15: load "push" must be a mapping, not a single value
	its keys: tip, tip_moment, at, part, patch, force, moment, along, from, to, load, load_end, gravity, accelerate, settle, temperature, misfit`},
		{"settle", two + "loads: {push: {settle: 3}}\n", `
m.yaml:6:24: settle must be a mapping, not a single value`},
		{"temperature", two + "loads: {push: {temperature: [3]}}\n", `
m.yaml:6:29: a number must be a single value, not a list`},
		{"travel", two + "travel: {bed: 3}\n", `
m.yaml:6:15: travel "bed" must be a mapping, not a single value
	its keys: along, axis, axes, from, to, tolerance, loads`},
		{"about", two + "about: {a: 1}\n", `
m.yaml:6:8: about must be a single value, not a mapping`},
		{"if", part("{if: [1], plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}"), `
m.yaml:3:11: a number must be a single value, not a list`},
	})
}
