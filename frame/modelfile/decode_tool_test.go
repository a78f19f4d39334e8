package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestToolFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown part", two + "tool: {part: pole, at: [0, 0, 0]}\nwork: {part: base}\n", `
m.yaml:6:14: part "pole" is not known
	one of: base, post`},
		{"part left out", two + "  gone: {if: false, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}\ntool: {part: gone, at: [0, 0, 0]}\nwork: {part: gone}\n", `
m.yaml:7:14: tool is on part "gone", which is left out
	see its if
m.yaml:8:14: work is on part "gone", which is left out
	see its if`},
		{"no work", two + "tool: {part: post, at: [0, 0, 0]}\n", `
m.yaml:6:7: there is a tool, but no work
	say which part the work is clamped to, work: {part: …}`},
		{"no tool", two + "work: {part: base}\n", `
m.yaml:6:7: there is work, but no tool`},
		{"no place", two + "tool: {part: post}\nwork: {part: base, at: 3}\n", `
m.yaml:6:7: tool has no at
	at takes: [x, y, z] in mm
m.yaml:7:24: at must be a list [x, y, z]`},
		{"half a cutter", two + "tool: {part: post, at: [0, 0, 0], stickout: 35, diameter: 6}\nwork: {part: base}\n", `
m.yaml:6:7: tool needs stickout, diameter and material together
	or none of them: then its tip moves with the part`},
		{"no diameter", two + "tool: {part: post, at: [0, 0, 0], stickout: 35 N, diameter: 0, material: carbid}\nwork: {part: base}\n", `
m.yaml:6:45: a force (35 N) where a length belongs
m.yaml:6:61: diameter must be positive, not 0 mm
m.yaml:6:74: material "carbid" is not known
	did you mean carbide?`},
		{"unknown key of the tool", two + "tool: {part: post, at: [0, 0, 0], stick_out: 35}\nwork: {part: base, on: 3}\n", `
m.yaml:6:35: key "stick_out" is not known in tool
	did you mean stickout? one of: part, at, stickout, diameter, material, flutes, helix, entering, core, shank, holder; stickout takes: length in mm
m.yaml:7:20: key "on" is not known in work
	one of: part, at, height`},
		{"height of the work", two + "tool: {part: post, at: [0, 0, 0]}\nwork: {part: base, height: -3}\n", `
m.yaml:7:28: height must be positive, not -3 mm`},
		{"force for a height", two + "tool: {part: post, at: [0, 0, 0]}\nwork: {part: base, height: 3 N}\n", `
m.yaml:7:28: a force (3 N) where a length belongs`},
	})
}

func TestTool(t *testing.T) {
	m := readMachine(t, two+`tool: {part: post, at: [5, 5, 50], stickout: 35 mm, diameter: 0.25 in, material: carbide}
work: {part: base, at: [50, 25, 10], height: 2 in}
`)
	require.Equal(t, 1, m.Tool.Part)
	require.Equal(t, r3.Vec{X: 5, Y: 5, Z: 50}, m.Tool.At)
	require.Equal(t, 6.35, m.Tool.Diameter)
	require.Equal(t, 35.0, m.Tool.Stickout)
	require.Equal(t, "carbide", m.Tool.Material.Key)
	require.Equal(t, &r3.Vec{X: 50, Y: 25, Z: 10}, m.Work.At)
	require.Equal(t, 50.8, m.Work.Height)
}
