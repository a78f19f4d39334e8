package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/testdata/models"
)

// What is drawn where the axes stand is taken to hold, by its share, at the places of a plane where the tip is worst. There
// the machine is built and drawn anew: the ends of the ranges are those, within overOff of the number between them.
func TestRangesOverAPlane(t *testing.T) {
	t.Parallel()
	const overOff = 0.02
	doc, err := modelfile.Parse("m.yaml", fmt.Appendf(nil, models.CrossTable, 0., 0., 0.))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	number := map[string]int{}
	for i, a := range m.Axes {
		number[a.Name] = i
	}
	m.Travel = []machine.Path{{Name: "plane", Axes: []int{number["y"], number["z"]}, Tolerance: 0.065, Loads: []int{0}}}
	drawn := func(m *machine.Machine) *answer.Result {
		model, err := buildBeams(m)
		require.NoError(t, err)
		r, err := model.Solve(FullTravel)
		require.NoError(t, err)
		r.Sure, err = model.Sure(context.Background(), new(chance.Columns), r)
		require.NoError(t, err)
		return r
	}
	r := drawn(m)
	require.Len(t, r.Sure.Over, 2)
	plane := r.Maps[0]
	built := func(at answer.MapPosition) *answer.Result {
		there, err := m.At(map[string]float64{"y": at.AtMM[0], "z": at.AtMM[1]})
		require.NoError(t, err)
		there.Travel = nil
		return drawn(there)
	}
	require.NotEqual(t, [2]float64{0, 0}, plane.Loads[0].Worst.AtMM, "it is elsewhere than where the axes stand")
	near := func(want, got, typical float64) { t.Helper(); require.InDelta(t, want, got, overOff*typical) }
	moved, worst := r.OverRange("plane", "cut"), plane.Loads[0].Worst
	there := built(worst)
	near(there.MovementRange("cut", "").Low, moved.Worst90[0], worst.Value)
	near(there.MovementRange("cut", "").High, moved.Worst90[1], worst.Value)
	soft, typical := r.OverRange("plane", ""), there.Tip.StiffnessNPerUm.Softest
	near(there.StiffnessRange("softest").Low, soft.Times90[0]*typical, typical)
	near(there.StiffnessRange("softest").High, soft.Times90[1]*typical, typical)
	require.Nil(t, soft.WithinPercent90)

	kept := moved.WithinPercent90
	require.LessOrEqual(t, kept[0], *plane.Loads[0].WithinPercent)
	require.GreaterOrEqual(t, kept[1], *plane.Loads[0].WithinPercent)
	require.Less(t, kept[0], kept[1])
	within, places := 0, 0
	for _, row := range plane.Loads[0].TipUm {
		for _, um := range row {
			if places++; math.Hypot(math.Hypot(um[0], um[1]), um[2])*moved.Times90[1] <= plane.ToleranceUm {
				within++
			}
		}
	}
	require.InDelta(t, 100*float64(within)/float64(places), kept[0], 1e-9)
}
