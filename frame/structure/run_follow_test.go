package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// sagging is a head that runs along a beam on two supports. Nothing but the head weighs much.
const sagging = `machine: sag
materials:
  light: {E: 210 GPa, nu: 0.3, density: 1e-3}
  heavy: {E: 1e8 MPa, nu: 0.3, density: 50000}
parts:
  bed:  {plate: {from: [-300, -100, 0], to: [300, 100, 20]}, material: heavy}
  beam: {bar: {from: [-250, 0, 100], to: [250, 0, 100]}, section: {A: 400, Iy: 12000, Iz: 15000, J: 20000}, material: light}
  head: {plate: {from: [-20, -20, 100], to: [20, 20, 140]}, material: heavy}
grounds:
  - {part: bed, face: bottom, fixed: true}
  - {part: beam, at: [-250, 0, 100], hold: [x, y, z, rx]}
  - {part: beam, at: [250, 0, 100], hold: [y, z]}
axes:
  x:
    along: x
    carries: [head]
    travel: [-200, 200]
    guides:
      - {stiffness: {press: 1e9, side: 1e9, roll: 1e12, pitch: 1e12, yaw: 1e12}, on: beam, part: head, carriages: [0]}
    drive: {stiffness: 1e6, part: head, on: bed, at: [0, 0, 100]}
tool: {part: head, at: [0, 0, 100]}
work: {part: bed}
loads: {push: {tip: [0, 0, 10]}}
travel:
  all:  {axis: x, tolerance: 30 um}
  part: {axis: x, from: 0, to: 100}
`

// A weight W at a and b from the supports of a simple beam sinks by W·a²·b²/(3·E·I·L) where it stands (Roark's
// Formulas for Stress and Strain, beam on two supports with one load). The straightness is what is left of that over
// the line through the ends.
func TestStraightnessIsTheSagUnderTheHead(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", []byte(sagging))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	by := Builder{Detail: Section}
	model, err := by.Build(context.Background(), m)
	require.NoError(t, err)
	r, err := model.Solve(FullTravel)
	require.NoError(t, err)
	require.Len(t, r.Straight, 2, "once for an axis, in two directions")
	require.Len(t, r.Travel, 2)
	const weight, stiffness, length = 50000e-12 * 40 * 40 * 40 * machine.StandardGravity, 210e3 * 12000, 500
	sag := func(at, force float64) float64 {
		a, b := length/2+at, length/2-at
		return constant.UmPerMM * force * a * a * b * b / (3 * stiffness * length)
	}
	ends := sag(200, weight)
	worst := 0.0
	for _, s := range r.Straight {
		require.Equal(t, "x", s.Axis)
		for i, at := range s.AtMM {
			want := 0.0
			if s.Across == "z" {
				want = ends - sag(at, weight)
			}
			worst = math.Max(worst, math.Abs(s.OffUm[i]-want))
		}
	}
	z := r.Straight[1]
	require.Equal(t, "z", z.Across)
	require.InEpsilon(t, sag(0, weight)-ends, z.Um, 1e-4)
	require.LessOrEqual(t, worst, 1e-4*z.Um)
	for _, path := range r.Travel {
		for i, at := range path.AtMM {
			require.InEpsilon(t, sag(at, 10), path.TipUm[i][2], 1e-4)
		}
	}
	require.Equal(t, []float64{-200, 200}, []float64{r.Travel[0].AtMM[0], r.Travel[0].AtMM[len(r.Travel[0].AtMM)-1]})
	require.Equal(t, []float64{0, 100}, []float64{r.Travel[1].AtMM[0], r.Travel[1].AtMM[len(r.Travel[1].AtMM)-1]})
}

// The worst spot, the softest and the share within the tolerance are those of the grid, looked at again place by place;
// a plane is the same plane with its axes the other way round.
func TestPlaneNamesItsWorstSpot(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", fmt.Appendf(nil, models.CrossTable, 0., 0., 0.))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	all := make([]int, len(m.Loads))
	for i := range all {
		all[i] = i
	}
	number := map[string]int{}
	for i, a := range m.Axes {
		number[a.Name] = i
	}
	m.Travel = []machine.Path{
		{Name: "plane", Axes: []int{number["x"], number["y"]}, Tolerance: 0.01, Loads: all},
		{Name: "turned", Axes: []int{number["y"], number["x"]}, Tolerance: 0.01, Loads: all},
	}
	var r answer.Result
	require.NoError(t, beams().follow(context.Background(), m, &r))
	require.Len(t, r.Maps, 2)
	plane, turned := r.Maps[0], r.Maps[1]
	require.Equal(t, [2]string{"x", "y"}, plane.Axes)
	softest := math.Inf(1)
	for i := range plane.AtMM[0] {
		for k := range plane.AtMM[1] {
			v, w := plane.SoftestNPerUm[i][k], turned.SoftestNPerUm[k][i]
			require.Equal(t, v == nil, w == nil)
			if v == nil {
				continue
			}
			require.InEpsilon(t, *v, *w, 1e-9)
			softest = math.Min(softest, *v)
		}
	}
	require.Equal(t, softest, plane.Softest.Value)
	for n, l := range plane.Loads {
		most, kept, places := 0.0, 0, 0
		for i := range plane.AtMM[0] {
			for k := range plane.AtMM[1] {
				um := l.TipUm[i][k]
				if um == nil {
					continue
				}
				places++
				most = math.Max(most, norm(*um))
				if norm(*um) <= 10 {
					kept++
				}
				for d := range um {
					require.InDelta(t, um[d], turned.Loads[n].TipUm[k][i][d], 1e-9*norm(*um))
				}
				if norm(*um) == l.Worst.Value {
					require.Equal(t, l.Worst.AtMM, [2]float64{plane.AtMM[0][i], plane.AtMM[1][k]})
				}
			}
		}
		require.Equal(t, most, l.Worst.Value)
		require.InDelta(t, 100*float64(kept)/float64(places), *l.WithinPercent, 1e-9)
	}
}

// An axis with several paths is told to be straight, or not, over the longest.
func TestStraightnessIsOfTheLongestPath(t *testing.T) {
	const short, long = "  short: {axis: y, from: -10, to: 10, loads: [cut]}\n", "  long: {axis: y, loads: [cut]}\n"
	for _, paths := range []string{short + long, long + short} {
		m := readMachine(t, models.CrossTravel(paths+"  across: {axis: x, loads: [cut]}\n"))
		model, err := buildBeams(m)
		require.NoError(t, err)
		result, err := model.Solve(FullTravel)
		require.NoError(t, err)
		var told []string
		for _, s := range result.Straight {
			told = append(told, fmt.Sprintf("%s across %s from %g to %g", s.Axis, s.Across, s.AtMM[0], s.AtMM[len(s.AtMM)-1]))
		}
		require.Equal(t, []string{"y across x from -40 to 40", "y across z from -40 to 40", "x across y from -30 to 30",
			"x across z from -30 to 30"}, told)
	}
}

// What is followed is held against the machine built at one position: a little off is told, far off is an error.
func TestFollowedIsHeldAgainstTheWhole(t *testing.T) {
	m := readMachine(t, sagging)
	at := map[string]float64{"x": 40}
	moved, err := m.At(at)
	require.NoError(t, err)
	model, err := buildBeams(moved)
	require.NoError(t, err)
	tip, err := model.tipStiffness()
	require.NoError(t, err)
	softest := tip.StiffnessNPerUm.Softest
	by := Builder{Detail: Section}
	for _, c := range []struct{ times, notes float64 }{{1, 0}, {1.0005, 0}, {1.004, 1}, {0.98, 1}} {
		var r answer.Result
		require.NoError(t, by.holdAgainst(context.Background(), m, &r, at, c.times*softest))
		require.Len(t, r.Notes, int(c.notes), "%v", c)
	}
	var r answer.Result
	require.NoError(t, by.holdAgainst(context.Background(), m, &r, at, 1.004*softest))
	told := "travel: with x at 40 mm the stiffness is 0.4 % off from that of the machine built there"
	require.Equal(t, []string{told}, r.Notes)
	require.ErrorContains(t, by.holdAgainst(context.Background(), m, &r, at, 1.1*softest),
		"with x at 40 mm the tip came out 10 % off from the machine built there")
	require.Error(t, by.holdAgainst(context.Background(), m, &r, at, math.NaN()))
}
