package modelfile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func poleLoaded(text string) string { return pole + "loads:\n  l: " + text + "\n" }

func TestLoadFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown key of a load", poleLoaded("{tipp: [0, 0, 1]}"), `
m.yaml:6:7: key "tipp" is not known in load "l"
	did you mean tip? tip takes: [x, y, z] in N`},
		{"tip without tool", poleLoaded("{tip: [0, 0, 1]}"), `
m.yaml:6:6: load "l" acts on the tip, but there is no tool`},
		{"empty load", poleLoaded("{}"), `
m.yaml:6:6: load "l" is empty`},
		{"load of nothing", poleLoaded(""), `
m.yaml:6:6: load "l" must be a mapping, not nothing
	its keys: tip, tip_moment, at, part, patch, force, moment, along, from, to, load, load_end, gravity, accelerate, settle, temperature, misfit`},
		{"empty list", poleLoaded("[]"), `
m.yaml:6:6: load "l" is empty`},
		{"unknown point", poleLoaded("{at: top, force: [0, 0, 1]}"), `
m.yaml:6:11: point "top" is not known
	the model names none`},
		{"point without force", poleLoaded("{at: [0, 0, 100], part: pole}"), `
m.yaml:6:6: load "l" needs one of: force, moment`},
		{"force without point", poleLoaded("{force: [0, 0, 1]}"), `
m.yaml:6:7: force needs at beside it`},
		{"place without part", poleLoaded("{at: [0, 0, 100], force: [0, 0, 1]}"), `
m.yaml:6:6: load "l" has no part
	part takes: name of a part`},
		{"part beside a point", pole + "points:\n  top: {part: pole, at: [0, 0, 100]}\nloads:\n  l: {at: top, part: pole, force: [0, 0, 1]}\n", `
m.yaml:8:22: part has no place beside the name of a point`},
		{"moment as a force", poleLoaded("{at: [0, 0, 100], part: pole, moment: [0, 0, 1 N]}"), `
m.yaml:6:51: a force (1 N) where a moment belongs`},
		{"along unknown", poleLoaded("{along: pol, load: [0, 0, 1]}"), `
m.yaml:6:14: part "pol" is not known
	did you mean pole? one of: pole`},
		{"along a plate", two + "loads:\n  l: {along: base, load: [0, 0, 1]}\n", `
m.yaml:7:14: load along part "base", which is not a bar
	a plate can be loaded at a point, over a patch`},
		{"along without load", poleLoaded("{along: pole, from: 3}"), `
m.yaml:6:6: load "l" has no load
	load takes: [x, y, z] in N/mm`},
		{"along past the end", poleLoaded("{along: pole, from: 3, to: 101, load: [0, 0, 1]}"), `
m.yaml:6:33: load from 3 to 101 mm does not lie on the bar, which is 100 mm long
	from and to are measured from the bar's from end`},
		{"along backwards", poleLoaded("{along: pole, from: 30, to: 20, load: [0, 0, 1]}"), `
m.yaml:6:34: load from 30 to 20 mm does not lie on the bar, which is 100 mm long
	from and to are measured from the bar's from end`},
		{"along by a force", poleLoaded("{along: pole, load: [0, 0, 1 N]}"), `
m.yaml:6:33: a force (1 N) where a load per length belongs`},
		{"gravity: false", poleLoaded("{gravity: false}"), `
m.yaml:6:16: gravity: false says nothing
	leave it out, or write true`},
		{"gravity in the wrong unit", poleLoaded("{gravity: [0, 0, -9.81]}"), `
m.yaml:6:16: gravity of 9.81 mm/s2 is next to none
	a plain number is in mm/s2; write 9.81 m/s2`},
		{"gravity as a length", poleLoaded("{gravity: [0, 0, -9.81 m]}"), `
m.yaml:6:23: a length (-9.81 m) where an acceleration belongs`},
		{"settle unknown", poleLoaded("{settle: {pier: [0, 0, 1]}}"), `
m.yaml:6:16: ground "pier" is not known
	the model names none`},
		{"settle nothing", poleLoaded("{settle: {}}"), `
m.yaml:6:15: settle names no ground`},
		{"settle as a force", pole + "grounds:\n  - {part: pole, name: pier, hold: [x], at: [0, 0, 0]}\nloads:\n  l: {settle: {pier: {x: 3 N, q: 1}}}\n", `
m.yaml:8:26: a force (3 N) where a length belongs
m.yaml:8:31: key "q" is not known in settlement
	one of: x, y, z, rx, ry, rz`},
		{"temperature as a length", poleLoaded("{temperature: 3 mm}"), `
m.yaml:6:20: a length (3 mm) where a temperature difference belongs`},
		{"temperature of nothing", poleLoaded("{temperature: {part: pole}}"), `
m.yaml:6:20: temperature needs one of: rise, across`},
		{"temperature of an unknown part", poleLoaded("{temperature: {part: polo, rise: 3}}"), `
m.yaml:6:27: part "polo" is not known
	did you mean pole? one of: pole`},
		{"temperature across by one number", poleLoaded("{temperature: {across: 3}}"), `
m.yaml:6:29: across must be a list [x, y, z]`},
		{"too hot", poleLoaded("{temperature: 1e5}"), `
m.yaml:6:20: a temperature difference of 100000 K is beyond belief: at most 10000 K
	a plain number is in K here`},
	})
}

func TestLoads(t *testing.T) {
	m := readMachine(t, pole+`  tilt: {bar: {from: [0, 0, 0], to: [300, 400, 0]}, section: {round: 5}, material: steel}
grounds:
  - {part: pole, name: pier, hold: [x, y, z, rx, ry, rz], at: [0, 0, 0]}
tool: {part: pole, at: [0, 0, 100]}
work: {part: tilt}
points:
  top: {part: pole, at: [0, 0, 100]}
loads:
  cut: {tip: [1, 2, 3 kN], tip_moment: [0, 0, 30 N m]}
  top: {at: top, force: [0, 0, 1 kgf], moment: [0, 1, 0]}
  side: {at: [0, 0, 50], part: pole, patch: [3, 4], force: [5, 0, 0]}
  whole: {along: tilt, load: [0, 0, -0.5 N/mm]}
  piece: {along: tilt, from: 100, to: 300, load: [0, 0, 1], load_end: [0, 0, 2]}
  weight: {gravity: true}
  cart: {gravity: [0, 1 m/s2, -9.81 m/s2]}
  sink: {settle: {pier: {z: -1, rx: 0.1 deg, ry: 1 mrad}}}
  drop: {settle: {pier: [0, 0, -1 thou]}}
  warm: {temperature: 10 K}
  lamp: {temperature: {part: tilt, rise: 2, across: [0, 0, 10 K]}}
  all: [{gravity: true, temperature: 3}, {at: top, force: [1, 0, 0]}]
`)
	only := func(i int) machine.Action {
		require.Len(t, m.Loads[i].Actions, 1, m.Loads[i].Name)
		a := m.Loads[i].Actions[0]
		require.NotZero(t, a.Pos)
		a.Pos = machine.FilePos{}
		return a
	}
	require.Equal(t, machine.Action{Kind: machine.OnTip, Force: r3.Vec{X: 1, Y: 2, Z: 3000}, Moment: r3.Vec{Z: 30000}},
		only(0))
	require.Equal(t, machine.Action{Kind: machine.OnPoint, Force: r3.Vec{Z: 9.80665}, Moment: r3.Vec{Y: 1}, Point: 0},
		only(1))
	require.Equal(t, machine.Action{Kind: machine.OnPoint, Force: r3.Vec{X: 5}, Point: 1}, only(2))
	require.Equal(t, machine.Point{Pos: machine.FilePos{Line: 15, Col: 14}, Part: 0, At: r3.Vec{Z: 50},
		Patch: [2]float64{3, 4}}, m.Points[1])
	require.Equal(t, machine.Action{Kind: machine.AlongBar, Bar: 1, To: 500, Force: r3.Vec{Z: -0.5},
		End: &r3.Vec{Z: -0.5}}, only(3))
	require.Equal(t, machine.Action{Kind: machine.AlongBar, Bar: 1, From: 100, To: 300, Force: r3.Vec{Z: 1},
		End: &r3.Vec{Z: 2}}, only(4))
	require.Equal(t, machine.Action{Kind: machine.Weight, Force: r3.Vec{Z: -9806.65}}, only(5))
	require.Equal(t, machine.Action{Kind: machine.Weight, Force: r3.Vec{Y: 1000, Z: -9810}}, only(6))
	require.Equal(t, machine.Action{Kind: machine.Settling, By: [6]float64{machine.MoveZ: -1,
		machine.TurnX: 0.1 * math.Pi / 180, machine.TurnY: 0.001}}, only(7))
	require.Equal(t, machine.Action{Kind: machine.Settling, By: [6]float64{machine.MoveZ: -0.0254}}, only(8))
	require.Equal(t, machine.Action{Kind: machine.Warming, Rise: 10}, only(9))
	require.Equal(t, machine.Action{Kind: machine.Warming, Part: new(1), Rise: 2, Across: r3.Vec{Z: 10}}, only(10))
	require.Equal(t, []machine.ActionKind{machine.Weight, machine.Warming, machine.OnPoint},
		[]machine.ActionKind{m.Loads[11].Actions[0].Kind, m.Loads[11].Actions[1].Kind, m.Loads[11].Actions[2].Kind})
}
