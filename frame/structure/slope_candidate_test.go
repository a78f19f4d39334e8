package structure

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/answer"
)

// thickArm is a cantilever with the tip at its end.
const thickArm = `machine: thick arm
parts:
  base: {plate: {from: [100, 200, -40], to: [160, 260, 0]}, material: steel}
  arm:  {plate: {from: [0, -15, 0], to: [200, 15, 10]}, material: steel}
grounds:
  - {part: base, face: bottom, fixed: true}
  - {part: arm, HELD}
tool: {part: arm, at: [200, 0, 5]}
work: {part: base, at: [130, 230, -40]}
loads: {down: {tip: [0, 0, -100]}, aside: {tip: [0, 50, 0]}, out: {tip: [1000, 0, 0]}}
`

// A millimetre of thickness more takes off a cantilever's movement what the closed forms say when derived by h: of bending
// F·l³/(3·E·b·h³/12) flatwise 3/h and edgewise 1/h, of shear F·l/(κ·G·b·h) and of F·l/(E·b·h) 1/h. Cowper's
// κ = 10·(1 + ν)/(12 + 11·ν), J. Appl. Mech. 33 (1966) 335.
func TestThicknessOfACantilever(t *testing.T) {
	doc, m := readForSlopes(t, strings.Replace(thickArm, "HELD", "at: [0, 0, 5], hold: [x, y, z, rx, ry, rz]", 1))
	next, err := m.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	const l, b, h = 200.0, 30.0, 10.0
	steel, _ := beam.LookupMaterial("steel")
	kappa := 10 * (1 + steel.Nu) / (12 + 11*steel.Nu)
	shear := func(force float64) float64 { return force * l / (kappa * steel.G() * b * h) }
	bent := func(force, wide, high float64) float64 {
		return force * l * l * l / (steel.E * wide * high * high * high / 4)
	}
	for _, g := range next.Gains {
		if g.Kind != answer.OfThickness || g.What != "arm" {
			continue
		}
		near(t, (3*bent(100, b, h)+shear(100))/h*micro, g.Loads[0].Um, 1e-4, "flatwise")
		near(t, (bent(50, h, b)+shear(50))/h*micro, g.Loads[1].Um, 1e-4, "edgewise")
		near(t, 1000*l/(steel.E*b*h*h)*micro, g.Loads[2].Um, 1e-4, "along")
		near(t, steel.Density*kilo*b*l, g.MassKg, 1e-9, "mass")
		near(t, h, g.At, 1e-12, "thickness")
		return
	}
	t.Fatal("no thickness of the arm")
}
