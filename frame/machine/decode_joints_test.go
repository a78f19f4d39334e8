package machine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
)

func twoJoined(text string) string {
	return two + "joints:\n  - {between: [base, post], " + text + "}\n"
}

func TestJointFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key of a joint", twoJoined("bond: true"), ""},
		{"unknown part", two + "joints:\n  - {between: [base, post2], bonded: true}\n", ""},
		{"three parts", two + "joints:\n  - {between: [base, post, base], bonded: true}\n", ""},
		{"no parts", two + "joints:\n  - {bonded: true}\n", ""},
		{"joined to itself", two + "joints:\n  - {between: [post, post], bonded: true}\n", ""},
		{"joined twice", two + "joints:\n  - {between: [base, post], bonded: true}\n  - {between: [post, base], bonded: true}\n", ""},
		{"two ways", twoJoined("bonded: true, screws: {size: M6, grid: [1, 2]}"), ""},
		{"bonded: false", twoJoined("bonded: false"), ""},
		{"bonded with a shim", twoJoined("bonded: true, shim: {material: paper, thickness: 0.1}"), ""},
		{"sprung with a surface", twoJoined("sprung: {loose: [ry]}, surface: milled"), ""},
		{"unknown size", twoJoined("screws: {size: M7, grid: [1, 2]}"), ""},
		{"neither grid nor at", twoJoined("screws: {size: M6}"), ""},
		{"both grid and at", twoJoined("screws: {size: M6, grid: [1, 2], at: [[3, 4]]}"), ""},
		{"half a screw", twoJoined("screws: {size: M6, grid: [1, 1.5]}"), ""},
		{"no screw", twoJoined("screws: {size: M6, grid: [0, 2 mm]}"), ""},
		{"grid of three", twoJoined("screws: {size: M6, grid: [1, 2, 3]}"), ""},
		{"a place with three numbers", twoJoined("screws: {size: M6, at: [[1, 2, 3]]}"), ""},
		{"no place", twoJoined("screws: {size: M6, at: []}"), ""},
		{"a place twice", twoJoined("screws: {size: M6, at: [[5, 25], [5, 25]]}"), ""},
		{"torque in the wrong unit", twoJoined("screws: {size: M6, grid: [1, 2], torque: 9}"), ""},
		{"torque as a force", twoJoined("screws: {size: M6, grid: [1, 2], torque: 9 N}"), ""},
		{"unknown surface", twoJoined("screws: {size: M6, grid: [1, 2]}, surface: miled"), ""},
		{"unknown shim", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: papier, thickness: 0.1}"), ""},
		{"shim without thickness", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: paper, thick: 1}"), ""},
		{"shim of nothing", twoJoined("screws: {size: M6, grid: [1, 2]}, shim: {material: paper, thickness: 0}"), ""},
		{"a third part drilled", twoJoined("screws: {size: M6, grid: [1, 2]}, drilled: bed"), ""},
		{"unknown freedom", twoJoined("sprung: {loose: [rz, rw]}"), ""},
		{"loose and sprung", twoJoined("sprung: {loose: [rz], rz: 5 N m/rad}"), ""},
		{"turning stiffness as a moment", twoJoined("sprung: {ry: 5 N m}"), ""},
		{"stiffness zero", twoJoined("sprung: {x: 0, ry: -5}"), ""},
		{"all loose", twoJoined("sprung: {loose: [x, y, z, rx, ry, rz]}"), ""},
		{"nothing sprung", twoJoined("sprung: {}"), ""},
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
	require.Equal(t, Place{9, 5}, j.Place)
	require.Equal(t, 1, j.Drilled)
	require.Equal(t, milled, j.Surface)
	require.Equal(t, &Screws{Size: screw, At: [][2]float64{{5, 10}, {5, 40}}, TorqueNm: 9, Place: Place{11, 13}}, j.Screws)
	require.Equal(t, "paper", j.Shim.Key)
	require.Equal(t, 0.1, j.Shim.Thickness)
	require.Equal(t, &Sprung{Loose: [6]bool{TurnY: true}, Stiffness: [6]float64{MoveX: 40000, TurnZ: 5e8}}, m.Joints[1].Sprung)
	require.Equal(t, leftOut, m.Joints[1].Drilled)
}

func TestDefaultSurface(t *testing.T) {
	surface, ok := joint.LookupSurface(joint.DefaultSurface)
	require.True(t, ok)
	require.Equal(t, surface, readMachine(t, twoJoined("screws: {size: M6, grid: [1, 2]}")).Joints[0].Surface)
}
