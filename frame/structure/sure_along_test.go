package structure

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
)

// runningWithin is how far the ends of ranges along running axes may be off, as a share: a little farther than the draws
// leave them open anyway.
const runningWithin = 0.05

// Along an axis that runs the tip's range is taken to be as wide as where the axis stands. Machines drawn at the ends of
// the travel, with draws of their own under the same luck, say how little that matters: what is not known of joints and
// spindle is as much of the movement there as here, and what carriages and drives add at another place is little of it.
func TestRangesAlongRunningAxes(t *testing.T) {
	t.Parallel()
	details := []Detail{Section}
	if thorough() {
		details = append(details, Solid)
	}
	texts, worst := written(t), 0.0
	texts["moving-gantry-router"] += "\ntravel: {gantry: {axis: y, loads: [cut to the right, cut away from you]}, " +
		"head: {axis: x, loads: [cut to the right, cut away from you]}}\n"
	names := []string{"fixed-gantry-mill"}
	if thorough() {
		names = append(names, "moving-gantry-router", "belt-engraver")
	}
	for _, name := range names {
		for _, detail := range details {
			b := &Builder{Detail: detail}
			m := complete(t, texts[name])
			m.Travel = slices.DeleteFunc(m.Travel, func(p machine.Path) bool { return len(p.Axes) > 1 })
			drawn := func(model *Model, extent Extent, columns *chance.Columns) (*answer.Result, *answer.Sure) {
				r, err := model.SolveContext(context.Background(), extent)
				require.NoError(t, err)
				sure, err := model.Sure(context.Background(), columns, r)
				require.NoError(t, err)
				return r, sure
			}
			model, err := b.Build(context.Background(), m)
			require.NoError(t, err)
			columns := new(chance.Columns)
			r, sure := drawn(model, FullTravel, columns)
			paths := 0
			for _, axis := range m.Axes {
				for end := range 2 {
					var there *answer.Sure
					for _, travel := range r.Travel {
						if travel.Axis != axis.Name {
							continue
						}
						place := end * (len(travel.AtMM) - 1)
						if there == nil {
							moved, err := m.At(map[string]float64{axis.Name: travel.AtMM[place]})
							require.NoError(t, err)
							at, err := b.Build(context.Background(), moved)
							require.NoError(t, err)
							_, there = drawn(at, TipOnly, columns)
						}
						k := slices.IndexFunc(sure.Along, func(a answer.AlongRange) bool {
							return a.Path == travel.Path && a.Load == travel.Load
						})
						said, is := sure.Along[k], movementRange(there, travel.Load)
						low, high := said.LowUm[place]/is.Low-1, said.HighUm[place]/is.High-1
						worst = max(worst, math.Abs(low), math.Abs(high))
						require.InDelta(t, 0, low, runningWithin, "%s, %v, %s at %g", name, detail, travel.Path, travel.AtMM[place])
						require.InDelta(t, 0, high, runningWithin, "%s, %v, %s at %g", name, detail, travel.Path, travel.AtMM[place])
						paths++
					}
				}
			}
			require.Positive(t, paths)
			t.Logf("%s, %v: %d ends, worst so far %.2g %%", name, detail, paths, 100*worst)
		}
	}
}
