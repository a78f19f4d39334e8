package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func TestMasses(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(two+
		"  gone: {if: false, plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}\n"+
		"masses:\n  vise: {mass: 4 kg, part: base, at: [1, 2 in, 3]}\n  weight: {mass: 900 g, part: post, at: [0, 0, 0]}\n"+
		"  motor: {mass: -1, part: gone, at: [0, 0, 0]}\n"))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	require.Equal(t, []machine.Mass{
		{Name: "vise", Pos: machine.FilePos{Line: 8, Col: 3}, Part: 0, At: r3.Vec{X: 1, Y: 50.8, Z: 3}, Tonne: 4e-3},
		{Name: "weight", Pos: machine.FilePos{Line: 9, Col: 3}, Part: 1, Tonne: 0.9e-3},
	}, m.Masses)
}

func TestMassFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"no mass", two + "masses:\n  vise: {mass: 0, part: base, at: [0, 0, 0]}\n", `
m.yaml:7:16: mass must be positive, not 0 kg`},
		{"less than none", two + "masses:\n  vise: {mass: -4 kg, part: base, at: [0, 0, 0]}\n", `
m.yaml:7:16: mass must be positive, not -4 kg`},
		{"a weight", two + "masses:\n  vise: {mass: 40 N, part: base, at: [0, 0, 0]}\n", `
m.yaml:7:16: a force (40 N) where a mass belongs`},
		{"without end", two + "masses:\n  vise: {mass: 1e300, part: base, at: [0, 0, 0]}\n", `
m.yaml:7:16: a mass of 1e+300 kg is beyond belief: at most 1e+09 kg
	a plain number is in kg here`},
		{"unknown part, no place, unknown key", two + "masses:\n  vise: {mass: 4, part: bas, weight: 3}\n", `
m.yaml:7:9: mass "vise" has no at
	at takes: [x, y, z] in mm
m.yaml:7:25: part "bas" is not known
	did you mean base? one of: base, post
m.yaml:7:30: key "weight" is not known in mass "vise"
	one of: mass, part, at`},
	})
}
