package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestToolFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown part", two + "tool: {part: pole, at: [0, 0, 0]}\nwork: {part: base}\n", ""},
		{"part left out", two + "  gone: {if: false, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}\ntool: {part: gone, at: [0, 0, 0]}\nwork: {part: gone}\n", ""},
		{"no work", two + "tool: {part: post, at: [0, 0, 0]}\n", ""},
		{"no tool", two + "work: {part: base}\n", ""},
		{"no place", two + "tool: {part: post}\nwork: {part: base, at: 3}\n", ""},
		{"half a cutter", two + "tool: {part: post, at: [0, 0, 0], stickout: 35, diameter: 6}\nwork: {part: base}\n", ""},
		{"no diameter", two + "tool: {part: post, at: [0, 0, 0], stickout: 35 N, diameter: 0, material: carbid}\nwork: {part: base}\n", ""},
		{"unknown key of the tool", two + "tool: {part: post, at: [0, 0, 0], stick_out: 35}\nwork: {part: base, on: 3}\n", ""},
	})
}

func TestTool(t *testing.T) {
	m := readMachine(t, two+`tool: {part: post, at: [5, 5, 50], stickout: 35 mm, diameter: 0.25 in, material: carbide}
work: {part: base, at: [50, 25, 10]}
`)
	require.Equal(t, 1, m.Tool.Part)
	require.Equal(t, r3.Vec{X: 5, Y: 5, Z: 50}, m.Tool.At)
	require.Equal(t, 6.35, m.Tool.Diameter)
	require.Equal(t, 35.0, m.Tool.Stickout)
	require.Equal(t, "carbide", m.Tool.Material.Key)
	require.Equal(t, &r3.Vec{X: 50, Y: 25, Z: 10}, m.Work.At)
}
