package structure

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
)

// thickArm is a cantilever with the tip at its end, so narrow that it is a member.
const thickArm = `machine: thick arm
parts:
  base: {plate: {from: [100, 200, -40], to: [160, 260, 0]}, material: steel}
  arm:  {plate: {from: [0, -8, 0], to: [200, 8, 10]}, material: steel}
grounds:
  - {part: base, face: bottom, fixed: true}
  - {part: arm, HELD}
tool: {part: arm, at: [200, 0, 5]}
work: {part: base, at: [130, 230, -40]}
loads: {down: {tip: [0, 0, -100]}, aside: {tip: [0, 50, 0]}, out: {tip: [1000, 0, 0]}}
`

// A millimetre of thickness more takes off a cantilever's movement what the closed forms say when derived by h: of
// bending F·l³/(3·E·b·h³/12) flatwise 3/h and edgewise 1/h, of shear F·l/(κ·G·b·h) and of F·l/(E·b·h)
// 1/h. Cowper's κ = 10·(1 + ν)/(12 + 11·ν), J. Appl. Mech. 33 (1966) 335.
func TestThicknessOfACantilever(t *testing.T) {
	doc, m := readForSlopes(t, strings.Replace(thickArm, "HELD", "at: [0, 0, 5], hold: [x, y, z, rx, ry, rz]", 1))
	next, err := m.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	const l, b, h = 200.0, 16.0, 10.0
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
		near(t, (3*bent(100, b, h)+shear(100))/h*constant.UmPerMM, g.Loads[0].Um, 1e-4, "flatwise")
		near(t, (bent(50, h, b)+shear(50))/h*constant.UmPerMM, g.Loads[1].Um, 1e-4, "edgewise")
		near(t, 1000*l/(steel.E*b*h*h)*constant.UmPerMM, g.Loads[2].Um, 1e-4, "along")
		near(t, steel.Density*constant.KgPerTonne*b*l, g.MassKg, 1e-9, "mass")
		near(t, h, g.At, 1e-12, "thickness")
		return
	}
	t.Fatal("no thickness of the arm")
}

// What a plate so wide that it is a strip, and a gusset in its plane, gain from a millimetre: bending of a plate goes
// with 1/h³, whatever its width (Timoshenko & Woinowsky-Krieger, art. 1: D = E·h³/(12·(1 − ν²))), plane stress
// with 1/h. The ground holds both on an edge, as stiffly as before. Shear takes next to nothing off the 3.
func TestThicknessOfStripAndGusset(t *testing.T) {
	for _, tt := range []struct {
		name, part, held, tip string
		thick, power, within  float64
	}{
		{"strip", "plate: {from: [0, -60, 0], to: [400, 60, 10]}",
			", {part: arm, strip: {from: [0, -60, 0], to: [40, 60, 0]}}]", "[400, 0, 5]", 10, 3, 0.03},
		{"gusset", "gusset: {corner: [0, -4, 0], legs: [[0, 0, 150], [150, 0, 0]], thickness: [0, 8, 0]}",
			"]\njoints: [{between: [wall, arm], bonded: true}]", "[140, 0, 0]", 8, 1, 0.02},
	} {
		t.Run(tt.name, func(t *testing.T) {
			doc, m := readForSlopes(t, fmt.Sprintf(`machine: thicker
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  base: {plate: {from: [100, 200, -40], to: [160, 260, 0]}, material: rigid}
  arm:  {%s, material: steel}
  wall: {plate: {from: [-40, -30, 0], to: [0, 30, 150]}, material: rigid}
grounds: [{part: base, face: bottom, fixed: true}, {part: wall, face: left, fixed: true}%s
tool: {part: arm, at: %s}
work: {part: base, at: [130, 230, -40]}
loads: {down: {tip: [0, 0, -100]}}
`, tt.part, tt.held, tt.tip))
			next, err := m.Next(context.Background(), variablesOf(t, doc))
			require.NoError(t, err)
			r, err := m.Solve(TipOnly)
			require.NoError(t, err)
			i := slices.IndexFunc(next.Gains, func(g answer.Gain) bool {
				return g.Kind == answer.OfThickness && g.What == "arm"
			})
			near(t, tt.thick, next.Gains[i].At, 1e-12, "thickness")
			near(t, -tt.power*r.Loads[0].TipUm[2]/tt.thick, next.Gains[i].Loads[0].Um, tt.within, "gain")
		})
	}
}
