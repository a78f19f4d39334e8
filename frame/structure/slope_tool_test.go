package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
)

// aloneText is a cutter in a block of steel that is held all over, the work opposite: what gives is the cutter, but for
// a hundredth.
const aloneText = `machine: cutter alone
values: {out: 30 mm, thick: 6 mm}
parts:
  block: {plate: {from: [-100, -100, 0], to: [100, 100, 60]}, material: steel}
  table: {plate: {from: [-100, -100, -200], to: [100, 100, -140]}, material: steel}
grounds:
  - {part: block, face: top, fixed: true}
  - {part: table, face: bottom, fixed: true}
tool: {part: block, at: [0, 0, -%[1]s], stickout: %[1]s, diameter: %[2]s, material: carbide}
work: {part: table}
loads:
  side: {tip: [100, 0, 0]}
`

func toolGains(t *testing.T, out, thick string) (gains map[string]answer.Gain, um float64) {
	t.Helper()
	doc, err := modelfile.Parse("m.yaml", fmt.Appendf(nil, aloneText, out, thick))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := buildBeams(m)
	require.NoError(t, err)
	next, err := model.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	r, err := model.Solve(TipOnly)
	require.NoError(t, err)
	gains = map[string]answer.Gain{}
	for _, g := range next.Gains {
		if g.Kind == answer.OfTool {
			gains[g.What] = g
		}
	}
	return gains, *r.Loads[0].TipSizeUm
}

// TestNextOfTheCutter: what a shorter and a thicker cutter gain is what the machine with such a one does, and what a
// cantilever does: F·L³/(3·E·I) changes by F·L²/(E·I) for a mm of length (Gere & Timoshenko; shear is a hundredth).
func TestNextOfTheCutter(t *testing.T) {
	gains, um := toolGains(t, "30", "6")
	stickout, diameter := gains["stick-out"], gains["diameter"]
	require.Equal(t, 30.0, stickout.At)
	require.Equal(t, 6.0, diameter.At)
	_, longer := toolGains(t, "30.01", "6")
	_, shorter := toolGains(t, "29.99", "6")
	near(t, (shorter-longer)/0.02, stickout.Loads[0].Um, 1e-4, "a longer cutter")
	_, thicker := toolGains(t, "30", "7")
	near(t, um-thicker, diameter.Loads[0].Um, 1e-6, "a thicker cutter")
	require.True(t, diameter.Whole)
	require.Zero(t, stickout.MassKg)

	const young = 580e3 // MPa, of carbide as the table of materials has it
	inertia := math.Pi * math.Pow(6, 4) / 64
	near(t, -1000*100*30*30/(young*inertia), stickout.Loads[0].Um, 0.1, "a cantilever that grows")
	near(t, 1-math.Pow(6./7, 4), diameter.Loads[0].Um/um, 0.1, "a cantilever that gets thicker")
}

// A value that says how far the cutter stands out, or how thick it is, is a candidate by itself: the cutter is no second
// one.
func TestCutterByValues(t *testing.T) {
	gains, _ := toolGains(t, "out", "6")
	require.NotContains(t, gains, "stick-out")
	require.Contains(t, gains, "diameter")
	gains, _ = toolGains(t, "30", "thick")
	require.NotContains(t, gains, "diameter")
}
