package structure

import (
	"context"
	"os"
	"slices"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
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
