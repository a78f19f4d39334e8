package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const cutting = two + `tool: {part: post, at: [5, 5, 50]}
work: {part: base}
loads: {side: {tip: [1, 0, 0]}, weight: {gravity: true}, down: {tip: [0, 0, 1]}}
`

func TestTravelFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown axis", cutting + "travel:\n  bed: {along: w, from: 0, to: 10}\n", ""},
		{"unknown load", cutting + "travel:\n  bed: {along: y, from: 0, to: 10, loads: [sid, side, side]}\n", ""},
		{"load not on the tip", cutting + "travel:\n  bed: {along: y, from: 0, to: 10, loads: [weight]}\n", ""},
		{"names no load", cutting + "travel:\n  bed: {along: y, from: 0, to: 10, loads: []}\n", ""},
		{"nowhere", cutting + "travel:\n  bed: {along: y, from: 10, to: 0}\n", ""},
		{"tolerance of zero", cutting + "travel:\n  bed: {along: y, from: 0, to: 10, tolerance: 0}\n", ""},
		{"without work", two + "travel:\n  bed: {along: y, from: 0}\n", ""},
	})
}

func TestTravel(t *testing.T) {
	m := readMachine(t, cutting+"travel:\n  a: {along: y, from: -10, to: 1 cm, tolerance: 20 um}\n  b: {along: z, from: 0, to: 1, loads: [down]}\n")
	require.Equal(t, []Path{
		{Name: "a", Place: Place{10, 3}, Along: Y, From: -10, To: 10, Tolerance: 0.02, Loads: []int{0, 2}},
		{Name: "b", Place: Place{11, 3}, Along: Z, From: 0, To: 1, Loads: []int{2}},
	}, m.Travel)
}
