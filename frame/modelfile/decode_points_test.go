package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func TestPointFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown part", two + "points:\n  top: {part: pos, at: [0, 0, 90]}\n", `
m.yaml:7:15: part "pos" is not known
	did you mean post? one of: base, post`},
		{"unknown key of a point", two + "points:\n  top: {part: post, at: [0, 0, 90], path: [1, 1]}\n", `
m.yaml:7:37: key "path" is not known in point "top"
	did you mean patch? one of: part, at, patch, against; patch takes: [a, b] in mm`},
		{"no place", two + "points:\n  top: {part: post, patch: [0, 3 N]}\n", `
m.yaml:7:8: point "top" has no at
	at takes: [x, y, z] in mm
m.yaml:7:29: a must be positive, not 0 mm
m.yaml:7:32: a force (3 N) where a length belongs`},
		{"against nothing known", two + "points:\n  top: {part: post, at: [0, 0, 90], against: bas}\n", `
m.yaml:7:46: what a point is read against, "bas" is not known
	did you mean base? one of: top, base, post`},
		{"against itself", two + "points:\n  top: {part: post, at: [0, 0, 90], against: top}\n", `
m.yaml:7:46: point "top" is read against itself
	name another point, a part or work`},
		{"a list of points", two + "points: [{part: post, at: [0, 0, 90]}]\n", `
m.yaml:6:9: points must be a mapping, not a list`},
	})
}

func TestPoints(t *testing.T) {
	m := readMachine(t, two+"points:\n  top: {part: post, at: [5, 5, 90], patch: [4, 2 cm]}\n")
	require.Equal(t, []machine.Point{{Name: "top", Pos: machine.FilePos{Line: 7, Col: 3}, Part: 1, At: r3.Vec{X: 5, Y: 5,
		Z: 90}, Patch: [2]float64{4, 20}}}, m.Points)
}

// A point may be read against one that is named after it, a part, or the work.
func TestPointsAgainst(t *testing.T) {
	m := readMachine(t, two+"points:\n  top: {part: post, at: [5, 5, 90], against: low}\n"+
		"  low: {part: base, at: [0, 0, 0], against: post}\n")
	require.Equal(t, machine.Stand{Kind: machine.OnOther, Index: 1}, m.Points[0].Stand)
	require.Equal(t, machine.Stand{Kind: machine.OnPart, Index: 1}, m.Points[1].Stand)
}
