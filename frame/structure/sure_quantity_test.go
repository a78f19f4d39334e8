package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/modelfile"
)

// alongModel has its work spot in the middle of its path, so that the tip there is the tip of the answer.
const alongModel = `machine: Stand
parts:
  base:   {plate: {from: [-80, -120, 0], to: [80, 60, 30]}, material: aluminium-5083}
  bed:    {plate: {from: [-60, -110, 30], to: [60, 30, 45]}, material: aluminium-5083}
  column: {plate: {from: [-30, 30, 30], to: [30, 60, 200]}, material: aluminium-5083}
  arm:    {plate: {from: [-20, -60, 150], to: [20, 30, 180]}, material: aluminium-5083}
joints:
  - {between: [base, bed],    screws: {size: M6, grid: [2, 2]}}
  - {between: [base, column], screws: {size: M6, grid: [2, 1]}, surface: milled}
  - {between: [column, arm],  screws: {size: M6, grid: [2, 1]}}
grounds:
  - {part: base, face: bottom, feet: [[-70, -110], [70, -110], [-70, 50], [70, 50]], stiffness: 40 N/um}
tool: {part: arm, at: [0, -40, 130], stickout: 20 mm, diameter: 6 mm, material: carbide}
work: {part: bed, at: [0, -40, 45]}
loads:
  side: {tip: [20, 0, 0]}
  up: {tip: [0, 0, 30]}
travel:
  bed: {along: y, from: -100, to: 20}
`

// The range of the movement at each place of a path holds what is read there in the draws: where the work spot is, it is
// the range of the answer's own movement, which is read in another way from the same draws.
func TestRangesAlongPaths(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", []byte(alongModel))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := (&Builder{Detail: Section}).Build(context.Background(), m)
	require.NoError(t, err)
	r, err := model.SolveContext(context.Background(), FullTravel)
	require.NoError(t, err)
	sure, err := model.Sure(context.Background(), &chance.Columns{}, r)
	require.NoError(t, err)
	require.Len(t, sure.Along, len(r.Travel))
	for i, a := range sure.Along {
		travel := r.Travel[i]
		require.Equal(t, []string{travel.Path, travel.Load}, []string{a.Path, a.Load})
		require.Len(t, a.LowUm, len(travel.AtMM))
		require.Len(t, a.HighUm, len(travel.AtMM))
		for k, um := range travel.TipUm {
			require.Less(t, 0.0, a.LowUm[k])
			require.Less(t, a.LowUm[k], norm(um))
			require.Less(t, norm(um), a.HighUm[k])
		}
		middle := len(travel.AtMM) / 2
		require.InDelta(t, -40, travel.AtMM[middle], 1e-9)
		of := movementRange(sure, a.Load)
		require.InEpsilon(t, of.Low, a.LowUm[middle], 1e-3)
		require.InEpsilon(t, of.High, a.HighUm[middle], 1e-3)
		require.False(t, math.IsNaN(of.Median))
	}
}

// movementRange is that of the tip under a load.
func movementRange(sure *answer.Sure, load string) answer.Range {
	for _, m := range sure.Movements {
		if m.Load == load && m.Point == "" {
			return m.SizeUm
		}
	}
	return answer.Range{Median: math.NaN()}
}

// key names what is read at a place of a course.
func (c course) key(place int) string {
	return fmt.Sprintf("along %s %s %d", c.travel.Path, c.travel.Load, place)
}

// Draws at the places of a path against whole solutions of the same machine with the same numbers: a bed whose ends hang
// over, meshed, which the movements of a bed under its middle do not tell.
func TestAlongAgainstWholeSolutions(t *testing.T) {
	t.Parallel()
	doc, err := modelfile.Read("../../examples/bed-layouts.yaml")
	require.NoError(t, err)
	drawn, err := doc.Machine("long bed held in the middle")
	require.NoError(t, err)
	m, err := (&Builder{Detail: Solid, Mesh: QuickMesh}).Build(context.Background(), drawn)
	require.NoError(t, err)
	r, err := m.SolveContext(context.Background(), FullTravel)
	require.NoError(t, err)
	s, sure, logs, err := m.sample(context.Background(), new(chance.Columns), r)
	require.NoError(t, err)
	require.NotEmpty(t, s.courses)
	worst := 0.0
	for draw := 5; draw < sure.Draws; draw += sure.Draws / 12 {
		whole := drawnWhole(t, s, logs[draw])
		for _, c := range s.courses {
			for n := range c.share {
				worst = math.Max(worst, math.Abs(c.values[n][draw]/whole[c.key(n)]-1))
			}
		}
	}
	t.Logf("worst %.2g %%, bound %.2g %%", 100*worst, sure.ErrorPercent)
	require.LessOrEqual(t, worst, placeSlack*sure.ErrorPercent/100)
}
