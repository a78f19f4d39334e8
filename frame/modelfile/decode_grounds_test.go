package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func twoGrounded(text string) string { return two + "grounds:\n  - {part: base, " + text + "}\n" }

func poleGrounded(text string) string { return pole + "grounds:\n  - {part: pole, " + text + "}\n" }

func TestGroundFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key of a ground", twoGrounded("fix: true"), `
m.yaml:7:18: key "fix" is not known in ground
	did you mean fixed? fixed takes: true`},
		{"unknown part", two + "grounds:\n  - {part: bas, face: bottom, fixed: true}\n", `
m.yaml:7:12: part "bas" is not known
	did you mean base? one of: base, post`},
		{"no part", two + "grounds:\n  - {face: bottom, fixed: true}\n", `
m.yaml:7:5: ground has no part
	part takes: name of a part`},
		{"no way", twoGrounded("face: bottom"), `
m.yaml:7:5: ground needs one of: fixed, strip, feet, hold, spring, bed`},
		{"two ways", twoGrounded("fixed: true, face: bottom, hold: [x], at: [0, 0, 0]"), `
m.yaml:7:45: ground has both fixed and hold
	keep one of them`},
		{"no face", twoGrounded("fixed: true"), `
m.yaml:7:5: ground has no face
	face takes: one of: left, right, front, back, bottom, top`},
		{"unknown face", twoGrounded("fixed: true, face: under"), `
m.yaml:7:37: face "under" is not known
	one of: left, right, front, back, bottom, top`},
		{"fixed: false", twoGrounded("fixed: false, face: bottom"), `
m.yaml:7:25: fixed: false says nothing
	leave it out, or write true`},
		{"side of a fixed face", twoGrounded("fixed: true, face: bottom, side: 3"), `
m.yaml:7:45: side has no place beside fixed`},
		{"face of a bar", poleGrounded("fixed: true, face: bottom"), `
m.yaml:6:37: face needs a plate; part "pole" is a bar
	hold a bar at a point, or along it by a bed`},
		{"strip of a bar", poleGrounded("strip: {from: [0, 0, 0], to: [1, 1, 0]}"), `
m.yaml:6:25: strip needs a plate; part "pole" is a bar
	hold a bar at a point, or along it by a bed`},
		{"strip that is thick", twoGrounded("strip: {from: [0, 0, 0], to: [10, 10, 10]}"), `
m.yaml:7:25: strip must lie in a face: from and to must have one number in common, and only one`},
		{"strip that is a line", twoGrounded("strip: {from: [0, 0, 0], to: [10, 0, 0]}"), `
m.yaml:7:25: strip must lie in a face: from and to must have one number in common, and only one`},
		{"strip backwards", twoGrounded("strip: {from: [0, 20, 0], to: [10, 10, 0]}"), `
m.yaml:7:53: strip runs backwards along y: from 20 to 10 mm
	swap the two`},
		{"strip without end", twoGrounded("strip: {from: [0, 20, 0]}"), `
m.yaml:7:25: strip has no to
	to takes: [x, y, z] in mm`},
		{"feet without stiffness", twoGrounded("feet: [[0, 0]], face: bottom"), `
m.yaml:7:5: ground has no stiffness
	stiffness takes: stiffness or its range, in N/mm`},
		{"feet of length", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 40 um"), `
m.yaml:7:59: a length (40 um) where a stiffness belongs`},
		{"feet with no stiffness", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 0"), `
m.yaml:7:59: stiffness must be positive, not 0 N/mm`},
		{"negative side", twoGrounded("feet: [[0, 0]], face: bottom, stiffness: 40 N/um, side: -1"), `
m.yaml:7:74: side must be positive, not -1 N/mm`},
		{"hold without place", twoGrounded("hold: [x]"), `
m.yaml:7:5: ground has no at
	at takes: [x, y, z] in mm`},
		{"hold nothing", twoGrounded("hold: [], at: [0, 0, 0]"), `
m.yaml:7:24: hold is empty
	some of: x, y, z, rx, ry, rz`},
		{"hold twice", twoGrounded("hold: [x, x], at: [0, 0, 0]"), `
m.yaml:7:28: freedom x stands here a second time`},
		{"hold unknown", twoGrounded("hold: [x, w], at: [0, 0, 0]"), `
m.yaml:7:28: freedom "w" is not known
	one of: x, y, z, rx, ry, rz`},
		{"spring unknown", twoGrounded("spring: {w: 3}, at: [0, 0, 0]"), `
m.yaml:7:27: key "w" is not known in spring
	one of: x, y, z, rx, ry, rz`},
		{"spring negative", twoGrounded("spring: {x: -3, ry: 0}, at: [0, 0, 0]"), `
m.yaml:7:30: stiffness x must be positive, not -3 N/mm
m.yaml:7:38: stiffness ry must be positive, not 0 N mm/rad`},
		{"spring empty", twoGrounded("spring: {}, at: [0, 0, 0]"), `
m.yaml:7:26: spring is empty
	one of: x, y, z, rx, ry, rz`},
		{"spring nowhere", twoGrounded("spring: {along: [0, 0, 0], stiffness: 3}, at: [0, 0, 0]"), `
m.yaml:7:34: along is zero, and points nowhere
m.yaml:7:56: stiffness of 3 N/mm is 0.003 N/um, softer than any support or bearing
	a plain number is in N/mm; write 3 N/um, or 3 N/mm if that is meant`},
		{"spring along without stiffness", twoGrounded("spring: {along: [0, 0, 1]}, at: [0, 0, 0]"), `
m.yaml:7:26: spring has no stiffness
	stiffness takes: stiffness or its range, in N/mm`},
		{"bed by axis of a plate", twoGrounded("bed: {z: 8}"), `
m.yaml:7:23: a bed by axis is for a bar
	under a plate, write face: … and bed: … N/mm3`},
		{"bed of a plate without face", twoGrounded("bed: 8"), `
m.yaml:7:5: ground has no face
	face takes: one of: left, right, front, back, bottom, top`},
		{"bed of a plate in the wrong unit", twoGrounded("bed: 8 N/mm2, face: bottom"), `
m.yaml:7:23: a pressure (8 N/mm2) where a stiffness per area belongs`},
		{"bed of a bar as of a plate", poleGrounded("bed: 8, face: bottom"), `
m.yaml:6:32: face needs a plate; part "pole" is a bar
	hold a bar at a point, or along it by a bed`},
		{"bed of a bar with a face", poleGrounded("bed: {x: 8}, face: bottom"), `
m.yaml:6:31: face has no place beside bed along a bar`},
		{"bed about an axis", poleGrounded("bed: {rx: 8}"), `
m.yaml:6:24: key "rx" is not known in bed
	did you mean x? one of: x, y, z; x takes: stiffness per length in N/mm2`},
		{"bed empty", poleGrounded("bed: {}"), `
m.yaml:6:23: bed is empty
	one of: x, y, z`},
		{"two of one name", two + "grounds:\n  - {part: base, name: a, hold: [x], at: [0, 0, 0]}\n  - {part: base, name: a, hold: [x], at: [0, 0, 0]}\n", `
m.yaml:8:24: ground "a" stands here a second time`},
		{"empty name", twoGrounded("name: '', hold: [x], at: [0, 0, 0]"), `
m.yaml:7:24: name "" is empty`},
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
	require.Equal(t, machine.Ground{Number: 1, Pos: machine.FilePos{Line: 8, Col: 5}, Part: 0, Face: machine.Bottom,
		Feet: [][2]float64{{0, 0}, {100, 50}}, Normal: 40000, Side: 20000}, g[0])
	require.Equal(t, 30000.0, g[1].Side)
	require.Equal(t, machine.Left, g[1].Face)
	require.True(t, g[2].Fixed)
	require.Equal(t, machine.Top, g[2].Face)
	require.Equal(t, &machine.Region{From: r3.Vec{Z: 10}, To: r3.Vec{Y: 50, Z: 20}}, g[3].Strip)
	require.Equal(t, [6]bool{machine.MoveX: true, machine.TurnY: true}, g[4].Hold)
	require.Equal(t, &r3.Vec{Z: 25.4}, g[4].At)
	require.Equal(t, "pin", g[4].Name)
	require.Equal(t, [6]float64{machine.MoveX: 40000, machine.TurnY: 1e6}, g[5].Spring)
	require.Equal(t, 2000.0, g[6].Skew.Stiffness)
	require.InDelta(t, 0.6, g[6].Skew.Direction.X, 1e-15)
	require.InDelta(t, 0.8, g[6].Skew.Direction.Y, 1e-15)
	require.Equal(t, [3]float64{0, 2, 8}, g[7].Bed)
	require.Equal(t, 0.05, g[8].BedNPerMM3)
	require.Equal(t, machine.Bottom, g[8].Face)
}
