package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func twoGrounded(text string) string { return two + "grounds:\n  - {part: base, " + text + "}\n" }

func poleGrounded(text string) string { return pole + "grounds:\n  - {part: pole, " + text + "}\n" }

func TestGroundFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key of a ground", twoGrounded("fix: true"), ""},
		{"unknown part", two + "grounds:\n  - {part: bas, face: bottom, fixed: true}\n", ""},
		{"no part", two + "grounds:\n  - {face: bottom, fixed: true}\n", ""},
		{"no way", twoGrounded("face: bottom"), ""},
		{"two ways", twoGrounded("fixed: true, face: bottom, hold: [x], at: [0, 0, 0]"), ""},
		{"no face", twoGrounded("fixed: true"), ""},
		{"unknown face", twoGrounded("fixed: true, face: under"), ""},
		{"fixed: false", twoGrounded("fixed: false, face: bottom"), ""},
		{"side of a fixed face", twoGrounded("fixed: true, face: bottom, side: 3"), ""},
		{"face of a bar", poleGrounded("fixed: true, face: bottom"), ""},
		{"strip of a bar", poleGrounded("strip: {from: [0, 0, 0], to: [1, 1, 0]}"), ""},
		{"strip that is thick", twoGrounded("strip: {from: [0, 0, 0], to: [10, 10, 10]}"), ""},
		{"strip that is a line", twoGrounded("strip: {from: [0, 0, 0], to: [10, 0, 0]}"), ""},
		{"strip backwards", twoGrounded("strip: {from: [0, 20, 0], to: [10, 10, 0]}"), ""},
		{"strip without end", twoGrounded("strip: {from: [0, 20, 0]}"), ""},
		{"feet without stiffness", twoGrounded("feet: [[0, 0]], face: bottom"), ""},
		{"feet of length", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 40 um"), ""},
		{"feet with no stiffness", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 0"), ""},
		{"negative side", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 40 N/um, side: -1"), ""},
		{"hold without place", twoGrounded("hold: [x]"), ""},
		{"hold nothing", twoGrounded("hold: [], at: [0, 0, 0]"), ""},
		{"hold twice", twoGrounded("hold: [x, x], at: [0, 0, 0]"), ""},
		{"hold unknown", twoGrounded("hold: [x, w], at: [0, 0, 0]"), ""},
		{"spring unknown", twoGrounded("spring: {w: 3}, at: [0, 0, 0]"), ""},
		{"spring negative", twoGrounded("spring: {x: -3, ry: 0}, at: [0, 0, 0]"), ""},
		{"spring empty", twoGrounded("spring: {}, at: [0, 0, 0]"), ""},
		{"spring nowhere", twoGrounded("spring: {along: [0, 0, 0], stiffness: 3}, at: [0, 0, 0]"), ""},
		{"spring along without stiffness", twoGrounded("spring: {along: [0, 0, 1]}, at: [0, 0, 0]"), ""},
		{"bed by axis of a plate", twoGrounded("bed: {z: 8}"), ""},
		{"bed of a plate without face", twoGrounded("bed: 8"), ""},
		{"bed of a plate in the wrong unit", twoGrounded("bed: 8 N/mm2, face: bottom"), ""},
		{"bed of a bar as of a plate", poleGrounded("bed: 8, face: bottom"), ""},
		{"bed of a bar with a face", poleGrounded("bed: {x: 8}, face: bottom"), ""},
		{"bed about an axis", poleGrounded("bed: {rx: 8}"), ""},
		{"bed empty", poleGrounded("bed: {}"), ""},
		{"two of one name", two + "grounds:\n  - {part: base, name: a, hold: [x], at: [0, 0, 0]}\n  - {part: base, name: a, hold: [x], at: [0, 0, 0]}\n", ""},
		{"empty name", twoGrounded("name: '', hold: [x], at: [0, 0, 0]"), ""},
	})
}

func TestGrounds(t *testing.T) {
	m := readMachine(t, two+`  beam: {bar: {from: [0, 0, 90], to: [100, 0, 90]}, section: {round: 5}, material: steel}
grounds:
  - {part: base, face: bottom, feet: [[0, 0], [100, 50]], stiffness: 40 N/um}
  - {part: base, face: left, feet: [[0, 0]], stiffness: 40 N/um, side: 30 N/um}
  - {part: base, face: top, fixed: true}
  - {part: post, strip: {from: [0, 0, 10], to: [0, 50, 20]}}
  - {part: post, name: pin, hold: [x, ry], at: [0, 0, 1 in]}
  - {part: post, spring: {x: 40 N/um, ry: 1e6 N*mm/rad}, at: [0, 0, 0]}
  - {part: post, spring: {along: [3, 4, 0], stiffness: 2 kN/mm}, at: [0, 0, 0]}
  - {part: beam, bed: {z: 8 N/mm2, y: 2}}
  - {part: base, face: bottom, bed: 0.05 N/mm3}
`)
	g := m.Grounds
	require.Equal(t, Ground{Place: Place{8, 5}, Part: 0, Face: Bottom, Feet: [][2]float64{{0, 0}, {100, 50}}, Normal: 40000, Side: 20000}, g[0])
	require.Equal(t, 30000.0, g[1].Side)
	require.Equal(t, Left, g[1].Face)
	require.True(t, g[2].Fixed)
	require.Equal(t, Top, g[2].Face)
	require.Equal(t, &Region{From: r3.Vec{Z: 10}, To: r3.Vec{Y: 50, Z: 20}}, g[3].Strip)
	require.Equal(t, [6]bool{MoveX: true, TurnY: true}, g[4].Hold)
	require.Equal(t, &r3.Vec{Z: 25.4}, g[4].At)
	require.Equal(t, "pin", g[4].Name)
	require.Equal(t, [6]float64{MoveX: 40000, TurnY: 1e6}, g[5].Spring)
	require.Equal(t, 2000.0, g[6].Skew.Stiffness)
	require.InDelta(t, 0.6, g[6].Skew.Direction.X, 1e-15)
	require.InDelta(t, 0.8, g[6].Skew.Direction.Y, 1e-15)
	require.Equal(t, [3]float64{0, 2, 8}, g[7].Bed)
	require.Equal(t, 0.05, g[8].BedMPa)
	require.Equal(t, Bottom, g[8].Face)
}
