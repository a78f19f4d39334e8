package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func part(text string) string { return "machine: m\nparts:\n  p: " + text + "\n" }

func TestPartFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key", part("{plat: {}, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}"), `
m.yaml:3:7: key "plat" is not known in part "p"
	did you mean plate? one of: if, plate, gusset, bar, section, up, material; plate takes: mapping of from, to, outline`},
		{"unknown material", part("{plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: stel}"), `
m.yaml:3:58: material "stel" is not known
	did you mean steel?`},
		{"no material", part("{plate: {from: [0, 0, 0], to: [1, 1, 1]}}"), `
m.yaml:3:6: part "p" has no material
	material takes: name of a material`},
		{"no kind", part("{material: steel}"), `
m.yaml:3:6: part "p" needs one of: plate, gusset, bar`},
		{"two kinds", part("{bar: {}, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}"), `
m.yaml:3:16: part "p" has both bar and plate
	keep one of them`},
		{"section of a plate", part("{plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel, section: {round: 3}}"), `
m.yaml:3:65: section has no place beside plate`},
		{"zero thickness", part("{plate: {from: [0, 0, 0], to: [10, 10, 0]}, material: steel}"), `
m.yaml:3:45: plate has no thickness along z: from 0 to 0 mm`},
		{"negative thickness", part("{plate: {from: [0, 0, 0], to: [10, -10, 1 in]}, material: steel}"), `
m.yaml:3:41: plate runs backwards along y: from 0 to -10 mm
	swap the two`},
		{"two numbers", part("{plate: {from: [0, 0], to: [10, 10, 10]}, material: steel}"), `
m.yaml:3:21: from must be a list [x, y, z]`},
		{"no list", part("{plate: {from: 3, to: {x: 1}}, material: steel}"), `
m.yaml:3:21: from must be a list [x, y, z]
m.yaml:3:28: to must be a list [x, y, z]`},
		{"wrong dimension", part("{plate: {from: [0, 0, 0], to: [10, 10 N, 10]}, material: steel}"), `
m.yaml:3:41: a force (10 N) where a length belongs`},
		{"unit of half", part("{plate: {from: [0, 0, 0], to: [10, 10, 1/2 in]}, material: steel}"), `
m.yaml:3:45: a quantity in mm^-1 (1/2 in) where a length belongs
	a unit belongs to the number right before it: 0.5 in, not 1/2 in`},
		{"not a number", part("{plate: {from: [.nan, NaN, 0], to: [.inf, -.Inf, 1e400]}, material: steel}"), `
m.yaml:3:22: ".nan" is not a finite number
m.yaml:3:28: "NaN" is not a finite number
m.yaml:3:42: ".inf" is not a finite number
m.yaml:3:48: "-.Inf" is not a finite number
m.yaml:3:55: "1e400" is too large a number`},
		{"far away", part("{plate: {from: [0, 0, 0], to: [10, 10, 2e6]}, material: steel}"), `
m.yaml:3:45: a length of 2e+06 mm is beyond belief: at most 1e+06 mm
	a plain number is in mm here`},
		{"far away with a unit", part("{plate: {from: [0, 0, 0], to: [10, 10, 2 m*1e4]}, material: steel}"), `
m.yaml:3:45: a length of 2e+07 mm is beyond belief: at most 1e+06 mm
	did you mean mm?`},
		{"true", part("{plate: {from: [0, 0, 0], to: [10, 10, true]}, material: steel}"), `
m.yaml:3:45: true where a length belongs`},
		{"gusset with a slanted leg", part("{gusset: {corner: [0, 0, 0], legs: [[10, 10, 0], [0, 0, 10]], thickness: [5, 0, 0]}, material: steel}"), `
m.yaml:3:42: leg must run along one axis: two of its numbers must be zero`},
		{"gusset with two legs one way", part("{gusset: {corner: [0, 0, 0], legs: [[10, 0, 0], [-10, 0, 0]], thickness: [0, 0, 5]}, material: steel}"), `
m.yaml:3:54: leg runs along x like an edge before it
	the legs and the thickness take one axis each`},
		{"gusset thick along a leg", part("{gusset: {corner: [0, 0, 0], legs: [[10, 0, 0], [0, 10, 0]], thickness: [0, 5, 0]}, material: steel}"), `
m.yaml:3:78: thickness runs along y like an edge before it
	the legs and the thickness take one axis each`},
		{"gusset without a leg", part("{gusset: {corner: [0, 0, 0], legs: [[10, 0, 0], [0, 0, 0]], thickness: [0, 5, 0]}, material: steel}"), `
m.yaml:3:54: leg has no length`},
		{"gusset with one leg", part("{gusset: {corner: [0, 0, 0], legs: [[10, 0, 0]], thickness: [0, 5, 0]}, material: steel}"), `
m.yaml:3:41: legs must be a list of two, [[x, y, z], [x, y, z]]`},
		{"bar without length", part("{bar: {from: [0, 0, 5], to: [0, 0, 5]}, section: {round: 3}, material: steel}"), `
m.yaml:3:12: bar has no length: it ends where it begins`},
		{"bar without section", part("{bar: {from: [0, 0, 5], to: [0, 0, 9]}, material: steel}"), `
m.yaml:3:6: part "p" has no section
	section takes: mapping of rect, round, pipe, tube, i, channel, angle, tee, polygon, outline, built_up, A, …`},
		{"up along the bar", part("{bar: {from: [0, 0, 5], to: [0, 0, 9]}, up: [0, 0, -2], section: {round: 3}, material: steel}"), `
m.yaml:3:50: up runs along the bar
	it says which way the height of the section points`},
		{"up nowhere", part("{bar: {from: [0, 0, 5], to: [0, 0, 9]}, up: [0, 0, 0], section: {round: 3}, material: steel}"), `
m.yaml:3:50: up is zero, and points nowhere`},
		{"if of a number", part("{if: 3 mm, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}"), `
m.yaml:3:11: a length (3 mm) where true or false belongs`},
		{"none", "machine: m\nparts: {}\n", `
m.yaml:2:8: there are no parts`},
		{"nothing", "machine: m\nparts:\n", `
m.yaml:2:8: there are no parts`},
		{"a list", "machine: m\nparts: [a]\n", `
m.yaml:2:8: parts must be a mapping, not a list`},
		{"empty", part(""), `
m.yaml:3:6: part "p" must be a mapping, not nothing
	its keys: if, plate, gusset, bar, section, up, material`},
		{"all left out", part("{if: false, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}"), `
m.yaml:3:3: every part is left out`},
		{"left out, but misspelt", two + "  brace: {if: false, gusset: {corner: [0, 0, 0], legs: [[0, 0, 0], [0, 1 N, 0]], thickness: [0, 0, 1/0]}, material: stele}\n", `
m.yaml:6:72: a force (1 N) where a length belongs
m.yaml:6:117: material "stele" is not known
	did you mean steel?`},
	})
}

func TestBarUp(t *testing.T) {
	for _, c := range []struct {
		name, bar string
		want      r3.Vec
	}{
		{"level", "bar: {from: [0, 0, 0], to: [0, 50, 0]}", r3.Vec{Z: 1}},
		{"upright", "bar: {from: [0, 0, 0], to: [0, 0, -50]}", r3.Vec{Y: 1}},
		{"given", "up: [3, 0, 0], bar: {from: [0, 0, 0], to: [0, 0, 50]}", r3.Vec{X: 1}},
		{"made square", "up: [0, 1, 5], bar: {from: [0, 0, 0], to: [0, 50, 0]}", r3.Vec{Z: 1}},
		{"sloping", "bar: {from: [0, 0, 0], to: [30, 0, 40]}", r3.Vec{X: -0.8, Z: 0.6}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := readMachine(t, part("{"+c.bar+", section: {rect: [10, 20]}, material: steel}")).Parts[0].Bar.Up
			const rounding = 1e-15 // a unit vector, after three roundings
			if d := r3.Norm(r3.Sub(got, c.want)); !(d <= rounding) {
				t.Errorf("up is %v, want %v", got, c.want)
			}
		})
	}
}

func TestLeftOut(t *testing.T) {
	m := readMachine(t, two+`  brace: {if: size > 0, gusset: {corner: [10, 0, 10], legs: [[size, 0, 0], [0, 0, size]], thickness: [0, 10 mm/n, 0]}, material: steel}
values: {size: 0 mm, n: 0}
joints:
  - {between: [base, post], bonded: true}
  - {between: [base, brace], screws: {size: M6, grid: [n, 2]}}
  - {between: [post, brace], bonded: true}
grounds:
  - {part: base, name: floor, face: bottom, fixed: true}
  - {part: brace, name: rest, hold: [x], at: [size/n, 0, 0]}
points:
  tip of brace: {part: brace, at: [size/n, 0, 0]}
  top: {part: post, at: [0, 0, 90]}
loads:
  gone: {at: tip of brace, force: [1/n, 0, 0]}
  push: [{at: top, force: [1, 0, 0]}, {at: tip of brace, force: [1, 0, 0]}, {part: brace, at: [0, 0, 0], force: [1, 0, 0]}]
  sink: {settle: {rest: [0, 0, 1], floor: [0, 0, 1]}}
  warm: {temperature: {part: brace, rise: 3}, gravity: true}
`)
	require.Len(t, m.Parts, 2)
	require.Len(t, m.Joints, 1)
	require.Len(t, m.Grounds, 1)
	require.Equal(t, []string{"top"}, []string{m.Points[0].Name})
	require.Len(t, m.Points, 1)
	require.Equal(t, "push", m.Loads[0].Name)
	require.Len(t, m.Loads, 3)
	require.Len(t, m.Loads[0].Actions, 1)
	require.Len(t, m.Loads[1].Actions, 1)
	require.Equal(t, machine.Weight, m.Loads[2].Actions[0].Kind)
	require.Len(t, m.Loads[2].Actions, 1)
}
