package structure

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// A force beside the end of a cantilever strip, on an arm: bending F·L³/(3·E·I) and torsion F·a²·L/(G·J) with
// Saint-Venant's J = b·t³/3·(1 − 0.63·t/b) (Timoshenko & Goodier, Theory of Elasticity, art. 109). The beam
// model's held end gives a tenth more. Before, polynomials were read far outside the plate: 3,000 times as soft.
func TestStripIsReadOnItsMetal(t *testing.T) {
	const L, b, h = 300.0, 60.0, 10.0
	model := buildText(t, `machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 60, 10]}, material: steel}}
grounds: [{part: a, strip: {from: [0, 0, 0], to: [0, 60, 8]}}]
points: {p: {part: a, at: [300, 30, 5]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`)
	steel, _ := beam.LookupMaterial("steel")
	plate := model.bodies[0]
	for _, beside := range []float64{60, 120, 300} {
		at := &spot{at: r3.Vec{X: L, Y: b/2 + beside, Z: h / 2}}
		up := plate.move(model.frame, at, r3.Vec{Z: 1})
		c := model.system.Compliance([]frame.Form{up}, []frame.Form{up})[0][0]
		want := L*L*L/(3*steel.E*b*h*h*h/12) + beside*beside*L/(steel.G()*b*h*h*h/3*(1-0.63*h/b))
		t.Logf("%g mm beside: %.2f times", beside, c/want)
		require.Greater(t, c, 0.95*want)
		require.Less(t, c, 1.6*want, "with the dent that the couple makes in the edge")
	}
}
