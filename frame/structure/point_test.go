package structure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// pressed is a plate on supports across both ends, of a material that does not widen when it is pressed, so that it
// bends as a beam does, with a patch all over its top.
const pressed = `
machine: pressed
materials: {straight: {E: 70 GPa, nu: 0, density: 2.7 g/cm3}}
parts: {plate: {plate: {from: [-300, -%[1]g, 0], to: [300, %[1]g, 20]}, material: straight}}
grounds:
%[2]spoints: {top: {part: plate, at: [0, 0, 20], patch: [600, %[3]g]}}
loads:
  force: {at: top, force: [0, 0, -1000]}
  moment: {at: top, moment: [0, 1000, 0]}
`

// A load on a patch all over a plate on two supports is an even pressure, and its reading the mean: W·L³/(120·E·I)
// + W·L/(12·G·A_s) under a force, M·L/(210·E·I) + M/(5·L·G·A_s) under a moment as a pressure that grows from
// the middle (integrals of E·I·w⁗ = p between simple supports; Gere & Timoshenko, Mechanics of Materials, ch. 9),
// and the metal above the middle, half a thickness pressed or sheared evenly. On a member and on a strip.
func TestPatchIsSpread(t *testing.T) {
	const length, thick, e = 600., 20., 70e3
	for half, tol := range map[float64]float64{20: 1e-3, 100: 2e-3} {
		grounds := ""
		for _, y := range []float64{-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1} {
			for _, x := range []float64{-300, 300} {
				hold := "[z]"
				if x < 0 && y == 0 {
					hold = "[x, y, z, rz]"
				}
				grounds += fmt.Sprintf("  - {part: plate, at: [%g, %g, 10], hold: %s}\n", x, y*half, hold)
			}
		}
		r := solveText(t, fmt.Sprintf(pressed, half, grounds, 2*half))
		area := 2 * half * thick
		ei, shear := e*area*thick*thick/12, 5./6*e/2*area
		bends := length*length*length/(120*ei) + length/(12*shear) + thick/2/(e*2*half*length)
		checks.CloseTo(t, fmt.Sprintf("pressed, %g wide", 2*half), r.Loads[0].PointsUm["top"][2], -1e6*bends, tol)
		turns := length/(210*ei) + 1/(5*length*shear)
		checks.CloseTo(t, fmt.Sprintf("turned, %g wide", 2*half), r.Loads[1].PointsRad["top"][1], 1e3*turns, tol)
	}
}

// A plate of 300 x 250 x 12 mm on feet at its corners against its mesh: under pressure all over, over a part, and on
// the rim. As a strip it is some 6 to 8 % stiffer than that.
func TestPatchOnAPlateOnItsCorners(t *testing.T) {
	const text = `
machine: plate on its corners
parts: {plate: {plate: {from: [0, 0, 0], to: [300, 250, 12]}, material: aluminium-5083}}
grounds: [{part: plate, face: bottom, feet: [[10, 10], [290, 10], [10, 240], [290, 240]], stiffness: 1000 N/um}]
points:
  all: {part: plate, at: [150, 125, 12], patch: [300, 250]}
  part: {part: plate, at: [150, 185, 12], patch: [200, 100]}
  rim: {part: plate, at: [150, 245, 12], patch: [100, 10]}
loads:
  all: {at: all, force: [0, 0, -1000]}
  part: {at: part, force: [0, 0, -1000]}
  rim: {at: rim, force: [0, 0, -1000]}
`
	section := solveMachine(t, Builder{Detail: Section}, readMachine(t, text))
	meshed := solveMachine(t, Builder{Detail: Solid, Mesh: 2}, readMachine(t, text))
	for i, l := range meshed.Loads {
		for name, um := range l.PointsUm {
			checks.CloseTo(t, name+" under "+l.Name, section.Loads[i].PointsUm[name][2], um[2], 0.1)
		}
	}
}

// A moment on a patch all over a block squeezes the metal above its middle as a short column, which turns by
// M·h/(E·I); by a sixteenth more about the long side, along which the block's own sections warp.
func TestPatchTiltsTheMetalUnderIt(t *testing.T) {
	r := solveText(t, `
machine: short column
materials: {straight: {E: 70 GPa, nu: 0, density: 2.7 g/cm3}}
parts: {block: {plate: {from: [-30, -20, 0], to: [30, 20, 20]}, material: straight}}
grounds: [{part: block, face: bottom, fixed: true}]
points: {top: {part: block, at: [0, 0, 20], patch: [60, 40]}, middle: {part: block, at: [0, 0, 10]}}
loads: {x: {at: top, moment: [1e5, 0, 0]}, y: {at: top, moment: [0, 1e5, 0]}}
`)
	turned := func(i int) float64 { return r.Loads[i].PointsRad["top"][i] - r.Loads[i].PointsRad["middle"][i] }
	near(t, 1e5*10/(70e3*60*40*40*40/12), turned(0), 0.07, "about x")
	near(t, 1e5*10/(70e3*40*60*60*60/12), turned(1), 0.03, "about y")
}

// A patch far smaller than its plate is thick is told where it is written. Before, one of a micrometre took 20 s and
// 1.5 GB to be found without metal, one of 50 x 0.1 mm half a gigabyte.
func TestPatchTooSmall(t *testing.T) {
	for _, patch := range []string{"[0.001, 0.001]", "[50, 0.1]"} {
		_, err := (&Builder{Detail: Solid}).Build(t.Context(), readMachine(t, `machine: m
parts: {p: {plate: {from: [0, 0, 0], to: [200, 100, 10]}, material: aluminium-5083}}
grounds: [{part: p, face: left, fixed: true}]
points:
  a: {part: p, at: [150, 50, 10], patch: `+patch+`}
loads: {push: {at: a, force: [0, 0, -1]}}
`))
		require.ErrorContains(t, err, ":5:3: point a: a patch of ")
		require.ErrorContains(t, err, "make it 0.5 mm wide at least, or leave it out for a point")
	}
}
