package structure

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
)

// thicknessGain is what a part's thickness gains, and the answer of the machine as it is.
func thicknessGain(t *testing.T, text, part string) (answer.Gain, *answer.Result) {
	t.Helper()
	_, m := readForSlopes(t, text)
	next, err := m.Next(context.Background(), nil)
	require.NoError(t, err)
	i := slices.IndexFunc(next.Gains, func(g answer.Gain) bool { return g.Kind == answer.OfThickness && g.What == part })
	require.GreaterOrEqual(t, i, 0, "%v", next.Without)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	return next.Gains[i], r
}

// sawnArm is a cantilever sawn to an outline that is its box, through whose thickness an axis goes; held at its end.
const sawnArm = `machine: sawn arm
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  base: {plate: {from: [300, 300, -40], to: [360, 360, 0]}, material: rigid}
  arm:  {plate: {from: %s, to: %s, outline: "%s"}, material: steel}
grounds: [{part: base, face: bottom, fixed: true}, {part: arm, face: %s, fixed: true}]
tool: {part: arm, at: %s}
work: {part: base, at: [330, 330, -40]}
loads: {across: {tip: %s}, along: {tip: %s}}
`

// A millimetre of thickness takes 3/h off a slender plate's bending flatwise and 1/h off that edgewise, but for shear,
// whichever axis its thickness is along (D = E·h³/12 per width: Timoshenko & Goodier). What the joint ring of the load gives
// goes with other powers, a percent of it.
func TestThicknessOfASawnCantilever(t *testing.T) {
	const l, wide, h = 200.0, 24.0, 10.0
	steel, _ := beam.LookupMaterial("steel")
	for _, c := range []struct{ from, to, path, face, at, across, along string }{
		{"[0, 0, 0]", "[200, 24, 10]", "M 0 0 H 200 V 24 H 0 Z", "left", "[200, 12, 5]", "[0, 0, -10]", "[0, 10, 0]"},
		{"[0, 0, 0]", "[200, 10, 24]", "M 0 0 H 200 V 24 H 0 Z", "left", "[200, 5, 12]", "[0, 10, 0]", "[0, 0, -10]"},
		{"[0, 0, 0]", "[10, 200, 24]", "M 0 0 H 200 V 24 H 0 Z", "front", "[5, 200, 12]", "[10, 0, 0]", "[0, 0, -10]"},
	} {
		g, r := thicknessGain(t, fmt.Sprintf(sawnArm, c.from, c.to, c.path, c.face, c.at, c.across, c.along), "arm")
		near(t, h, g.At, 1e-12, "thickness")
		near(t, steel.Density*constant.KgPerTonne*l*wide, g.MassKg, 1e-9, "mass")
		near(t, 3**r.Loads[0].TipSizeUm/h, g.Loads[0].Um, 0.03, "flatwise")
		near(t, 1**r.Loads[1].TipSizeUm/h, g.Loads[1].Um, 0.03, "edgewise")
	}
}

// A C-frame whose two faces touch nothing, held at its lower edge: what its thickness gains is what the same machine with a
// plate a little thicker and a little thinner comes to. The nose's joint is stretched with the metal, which it is not there.
func TestThicknessOfASawnFrameHolds(t *testing.T) {
	text := func(half float64) string {
		return fmt.Sprintf(`machine: C-frame on edge
parts:
  frame:
    plate: {from: [%g, -60, 25], to: [%g, 140, 285], outline: "M 0 0 H 200 V 260 H 0 V 200 H 120 V 60 H 0 Z"}
    material: steel
  nose:  {plate: {from: [-10, -100, 240], to: [10, -60, 280]}, material: steel}
  table: {plate: {from: [-50, -140, 25], to: [50, -62, 45]}, material: aluminium-5083}
joints:
  - {between: [frame, nose], screws: {size: M5, grid: [1, 2]}}
grounds: [{part: frame, face: bottom, fixed: true}, {part: table, face: bottom, fixed: true}]
tool: {part: nose, at: [0, -100, 250]}
work: {part: table}
loads: {side: {tip: [50, 0, 0]}, down: {tip: [0, 0, -50]}}
`, -half, half)
	}
	g, _ := thicknessGain(t, text(15), "frame")
	um := func(half float64) []float64 { // along the loads
		loads := solveText(t, text(half)).Loads
		return []float64{loads[0].TipUm[0], -loads[1].TipUm[2]}
	}
	thin, thick := um(14.95), um(15.05)
	for i := range thin {
		require.InEpsilon(t, (thin[i]-thick[i])/0.2, g.Loads[i].Um, 0.04, g.Loads[i].Load)
	}
	require.Greater(t, math.Abs(g.Loads[0].Um), 0.1)
}
