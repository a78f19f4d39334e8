package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/testdata/models"
)

// solvedWith solves a model as it is drawn but for one value.
func solvedWith(t *testing.T, doc *modelfile.Document, name string, at float64) *answer.Result {
	t.Helper()
	values, err := doc.Values("")
	require.NoError(t, err)
	i := slices.IndexFunc(values, func(v modelfile.Value) bool { return v.Name == name })
	m, err := doc.Machine("", values[i].Setting(at))
	require.NoError(t, err)
	model, err := buildBeams(m)
	require.NoError(t, err)
	r, err := model.Solve(TipOnly)
	require.NoError(t, err)
	return r
}

// alongForce is how far the tip moves along the force of a load of the model models.Changeable, µm.
func alongForce(r *answer.Result, load int, force [3]float64) float64 {
	um := *r.Loads[load].TipUm
	return (um[0]*force[0] + um[1]*force[1] + um[2]*force[2]) / norm(force)
}

// TestNext: gains and costs in the builder's units are those that a step of each value makes when it is solved.
func TestNext(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := buildBeams(m)
	require.NoError(t, err)
	next, err := model.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	require.Empty(t, next.Without)
	require.True(t, slices.IsSortedFunc(next.Gains, func(a, b answer.Gain) int {
		if (buy{Gain: b}).before(buy{Gain: a}) {
			return 1
		}
		return 0
	}))
	found := map[string]answer.Gain{}
	for _, g := range next.Gains {
		found[string(g.Kind)+" "+g.What] = g
	}
	require.NotContains(t, found, "value half", "it goes with width")
	require.NotContains(t, found, "screws column/arm", "their places are given")
	for _, part := range []string{"base", "column", "arm", "brace"} {
		require.Contains(t, found, "thickness "+part)
	}
	force := [3]float64{0, 30, -100} // of the second load
	const coarse = 2e-3              // a step of a hundredth of the value is not the slope
	for name, unit := range map[string]string{"thick": "mm", "reach": "mm", "paper": "mm", "leg": "mm", "young": "N/mm2",
		"spring": "N/mm", "hang": "mm"} {
		g := found["value "+name]
		require.Equal(t, unit, g.Unit, name)
		require.Equal(t, answer.BothSides, g.Side, name)
		h := 0.01 * g.At
		more, less := solvedWith(t, doc, name, g.At+h/2), solvedWith(t, doc, name, g.At-h/2)
		near(t, more.Tip.StiffnessNPerUm.Softest-less.Tip.StiffnessNPerUm.Softest, g.StiffnessNPerUm*h, coarse, name)
		near(t, alongForce(less, 1, force)-alongForce(more, 1, force), g.Loads[1].Um*h, coarse, name)
		require.InDelta(t, more.MassKg-less.MassKg, g.MassKg*h, 1e-6, name)
		if g.PerKg != nil {
			near(t, *g.PerKg, g.StiffnessNPerUm/g.MassKg, 1e-12, name)
		}
	}
	rows := found["value rows"]
	two, three := solvedWith(t, doc, "rows", 2), solvedWith(t, doc, "rows", 3)
	require.Equal(t, three.Holes.Operations-two.Holes.Operations, rows.Operations)
	near(t, alongForce(two, 1, force)-alongForce(three, 1, force), rows.Loads[1].Um, 1e-6, "one more row")
	// The same row asked for by the joint itself.
	row := found["screws base/column"]
	require.Equal(t, answer.OfScrews, row.Kind)
	require.Positive(t, row.Operations)
}

const twoPlates = `machine: two plates
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  post: {plate: {from: [0, 0, 10], to: [10, 50, 90]}, material: steel}
`

// TestNextOnlyWithTool: a frame without a tool, and meshed bodies, tell none.
func TestNextOnlyWithTool(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml",
		[]byte(twoPlates+"joints: [{between: [base, post], bonded: true}]\ngrounds: [{part: base, face: bottom, fixed: "+
			"true}]\n"))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := buildBeams(m)
	require.NoError(t, err)
	next, err := model.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	require.Nil(t, next)
}

// TestPointed: a direction turned round is the same line, whichever of its components is the largest.
func TestPointed(t *testing.T) {
	for _, v := range [][3]float64{{0.1, 0.9, -0.3}, {0.9, -0.1, 0.3}, {-0.2, 0.3, 0.8}, {0, 1, 0}} {
		require.Equal(t, v, pointed(v))
		require.Equal(t, v, pointed([3]float64{-v[0], -v[1], -v[2]}))
	}
}

// TestSoftestDirection: the compliance along the softest direction is that of the softest stiffness.
func TestSoftestDirection(t *testing.T) {
	for _, text := range []string{models.Changeable, models.ClockPlateMill} {
		tip, err := buildText(t, text).tipStiffness()
		require.NoError(t, err)
		d, along := tip.StiffnessNPerUm.SoftestDirection, 0.0
		for i := range d {
			for k := range d {
				along += d[i] * tip.ComplianceUmPerN[i][k] * d[k]
			}
		}
		near(t, 1/tip.StiffnessNPerUm.Softest, along, 1e-9, "along the softest direction")
	}
}

// Of a variable that nothing is drawn with no machine is drawn, and it gains nothing.
func TestNextOfUnused(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := buildBeams(m)
	require.NoError(t, err)
	next, err := model.Next(context.Background(), []machine.Variable{{Name: "spare", Unit: "mm", At: 3, PerUnit: 1, Unused: true,
		More: func(float64) (*machine.Machine, error) {
			t.Error("a machine was drawn")
			return m, nil
		}}})
	require.NoError(t, err)
	i := slices.IndexFunc(next.Gains, func(g answer.Gain) bool { return g.What == "spare" })
	require.GreaterOrEqual(t, i, 0)
	require.Zero(t, next.Gains[i].StiffnessNPerUm)
	require.Zero(t, next.Gains[i].MassKg)
}

// BenchmarkNext: what to stiffen next, beside building the machine once.
func BenchmarkNext(b *testing.B) {
	text, err := os.ReadFile("../../examples/gussets.yaml")
	require.NoError(b, err)
	doc, err := modelfile.Parse("gussets", text)
	require.NoError(b, err)
	drawn, err := doc.Machine("")
	require.NoError(b, err)
	variables, err := doc.Variables("")
	require.NoError(b, err)
	m, err := buildBeams(drawn)
	require.NoError(b, err)
	b.Run("build", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := buildBeams(drawn); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("next", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := m.Next(context.Background(), variables); err != nil {
				b.Fatal(err)
			}
		}
	})
}

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
