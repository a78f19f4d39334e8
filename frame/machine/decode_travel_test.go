package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
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
m.yaml:7:8: travel "bed" has no to`},
	})
}

func TestTravel(t *testing.T) {
	m := readMachine(t, pushed+"travel:\n  a: {along: y, from: -10, to: 1 cm, tolerance: 20 um}\n  b: {along: z, from: 0, to: 1, loads: [down]}\n")
	require.Equal(t, []Path{
		{Name: "a", Place: Place{10, 3}, Along: Y, From: -10, To: 10, Tolerance: 0.02, Loads: []int{0, 2}},
		{Name: "b", Place: Place{11, 3}, Along: Z, From: 0, To: 1, Loads: []int{2}},
	}, m.Travel)
}
