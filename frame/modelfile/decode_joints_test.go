package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

func twoJoined(text string) string {
	return two + "joints:\n  - {between: [base, post], " + text + "}\n"
}

func TestJointFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key of a joint", twoJoined("bond: true"), `
m.yaml:7:29: key "bond" is not known in joint
	did you mean bonded? one of: between, if, bonded, screws, sprung, surface, shim, drilled; bonded takes: true`},
		{"unknown part", two + "joints:\n  - {between: [base, post2], bonded: true}\n", `
m.yaml:7:22: part "post2" is not known
	did you mean post? one of: base, post`},
		{"three parts", two + "joints:\n  - {between: [base, post, base], bonded: true}\n", `
m.yaml:7:15: between must be a list of two parts`},
		{"no parts", two + "joints:\n  - {bonded: true}\n", `
m.yaml:7:5: joint has no between
	between takes: [first, second], each name of a part`},
		{"joined to itself", two + "joints:\n  - {between: [post, post], bonded: true}\n", `
m.yaml:7:22: part "post" is joined to itself`},
		{"joined twice", two + "joints:\n  - {between: [base, post], bonded: true}\n  - {between: [post, base], bonded: true}\n", `
m.yaml:8:15: parts "post" and "base" are joined a second time
	the first time is on line 7`},
		{"two ways", twoJoined("bonded: true, screws: {size: M6, grid: [1, 2]}"), `
m.yaml:7:43: joint has both bonded and screws
	keep one of them`},
		{"bonded: false", twoJoined("bonded: false"), `
m.yaml:7:37: bonded: false says nothing
	leave it out, or write true`},
		{"bonded with a shim", twoJoined("bonded: true, shim: {material: paper, thickness: 0.1}"), `
m.yaml:7:43: shim has no place beside bonded`},
		{"sprung with a surface", twoJoined("sprung: {loose: [ry]}, surface: milled"), `
m.yaml:7:52: surface has no place beside sprung`},
		{"unknown size", twoJoined("screws: {size: M7, grid: [1, 2]}"), `
m.yaml:7:44: screw size "M7" is not known
	one of: M3, M4, M5, M6, M8, M10, M12`},
		{"neither grid nor at", twoJoined("screws: {size: M6}"), `
m.yaml:7:37: screws needs one of: grid, at`},
		{"both grid and at", twoJoined("screws: {size: M6, grid: [1, 2], at: [[3, 4]]}"), `
m.yaml:7:62: screws has both grid and at
	keep one of them`},
		{"half a screw", twoJoined("screws: {size: M6, grid: [1, 1.5]}"), `
m.yaml:7:58: a number of screws must be a whole number from 1 to 100, not 1.5`},
		{"no screw", twoJoined("screws: {size: M6, grid: [0, 2 mm]}"), `
m.yaml:7:55: a number of screws must be a whole number from 1 to 100, not 0
m.yaml:7:58: a length (2 mm) where a plain number belongs`},
		{"grid of three", twoJoined("screws: {size: M6, grid: [1, 2, 3]}"), `
m.yaml:7:54: grid must be a list of two, [along the first axis, along the second]`},
		{"a place with three numbers", twoJoined("screws: {size: M6, at: [[1, 2, 3]]}"), `
m.yaml:7:53: a place on a face must be a list [a, b]`},
		{"no place", twoJoined("screws: {size: M6, at: []}"), `
m.yaml:7:52: at must be from 1 to 1000 places, not 0`},
		{"a place twice", twoJoined("screws: {size: M6, at: [[5, 25], [5, 25]]}"), `
m.yaml:7:62: place [5, 25] stands here a second time`},
		{"torque in the wrong unit", twoJoined("screws: {size: M6, grid: [1, 2], torque: 9}"), `
m.yaml:7:70: torque of 9 N mm would not tighten a screw
	a plain number is in N mm; did you mean 9 N m?`},
		{"torque as a force", twoJoined("screws: {size: M6, grid: [1, 2], torque: 9 N}"), `
m.yaml:7:70: a force (9 N) where a moment belongs`},
		{"unknown surface", twoJoined("screws: {size: M6, grid: [1, 2]}, surface: miled"), `
m.yaml:7:72: surface "miled" is not known
	did you mean milled? one of: ground, fine-milled, milled, as-rolled, sawn`},
		{"unknown shim", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: papier, thickness: 0.1}"), `
m.yaml:7:80: material "papier" is not known
	did you mean paper?`},
		{"shim without thickness", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: paper, thick: 1}"), `
m.yaml:7:87: key "thick" is not known in shim
	did you mean thickness? one of: if, material, thickness; thickness takes: length in mm`},
		{"shim of nothing", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: paper, thickness: 0}"), `
`},
		{"a third part drilled", twoJoined("screws: {size: M6, grid: [1, 2]}, drilled: bed"), `
m.yaml:7:72: drilled part "bed" is not known
	one of: base, post`},
		{"unknown freedom", twoJoined("sprung: {loose: [rz, rw]}"), `
m.yaml:7:50: freedom "rw" is not known
	one of: x, y, z, rx, ry, rz`},
		{"loose and sprung", twoJoined("sprung: {loose: [rz], rz: 5 N m/rad}"), `
m.yaml:7:55: freedom rz is both loose and sprung
	keep one of them`},
		{"turning stiffness as a moment", twoJoined("sprung: {ry: 5 N m}"), `
m.yaml:7:42: a moment (5 N m) where a stiffness against turning belongs`},
		{"stiffness zero", twoJoined("sprung: {x: 0, ry: -5}"), `
m.yaml:7:41: stiffness x must be positive, not 0 N/mm
m.yaml:7:48: stiffness ry must be positive, not -5 N mm/rad`},
		{"all loose", twoJoined("sprung: {loose: [x, y, z, rx, ry, rz]}"), `
m.yaml:7:37: a joint loose in every freedom joins nothing
	leave it out`},
		{"nothing sprung", twoJoined("sprung: {}"), `
m.yaml:7:37: sprung joint without a loose or sprung freedom
	write bonded: true`},
	})
}

func TestJoints(t *testing.T) {
	m := readMachine(t, `machine: m
values: {glued: false}
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  post: {plate: {from: [0, 0, 10], to: [10, 50, 90]}, material: steel}
  bar: {bar: {from: [0, 0, 90], to: [0, 0, 200]}, section: {round: 5}, material: steel}
joints:
  - {between: [base, post], if: glued, bonded: true}
  - between: [base, post]
    if: not glued
    screws: {size: M6, at: [[5, 10], [5, 40]], torque: 9 N m}
    surface: milled
    shim: {material: paper, thickness: 0.1 mm}
    drilled: post
  - {between: [post, bar], sprung: {loose: [ry], x: 40 N/um, rz: 5e8 N*mm/rad}}
`)
	milled, _ := joint.LookupSurface("milled")
	screw, _ := joint.LookupScrew("M6")
	require.Len(t, m.Joints, 2)
	j := m.Joints[0]
	require.Equal(t, [2]int{0, 1}, j.Parts)
	require.Equal(t, machine.FilePos{Line: 9, Col: 5}, j.Pos)
	require.Equal(t, machine.DrilledSecond, j.Drilled)
	require.Equal(t, milled, j.Surface)
	require.Equal(t, &machine.Screws{Size: screw, At: [][2]float64{{5, 10}, {5, 40}}, TorqueNmm: 9000,
		Pos: machine.FilePos{Line: 11, Col: 13}, TorquePos: machine.FilePos{Line: 11, Col: 56}}, j.Screws)
	require.Equal(t, "paper", j.Shim.Key)
	require.Equal(t, 0.1, j.Shim.Thickness)
	require.True(t, j.Shim.Paper)
	require.Equal(t, &machine.Sprung{Loose: [6]bool{machine.TurnY: true}, Stiffness: [6]float64{machine.MoveX: 40000,
		machine.TurnZ: 5e8}}, m.Joints[1].Sprung)
	require.Equal(t, machine.DrilledThinner, m.Joints[1].Drilled)
}

func TestDefaultSurface(t *testing.T) {
	surface, ok := joint.LookupSurface(joint.DefaultSurface)
	require.True(t, ok)
	require.Equal(t, surface, readMachine(t, twoJoined("screws: {size: M6, grid: [1, 2]}")).Joints[0].Surface)
}
