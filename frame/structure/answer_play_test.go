package structure

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// bushTable is a rigid table on two round rails with play, at 120 mm from one another, under a tool that is held.
const bushTable = `machine: table on bushes
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: %g}}
parts:
  base:  {plate: {from: [-300, -150, 0], to: [300, 150, 20]}, material: rigid}
  table: {plate: {from: [-80, -100, 65], to: [80, 100, 85]}, material: rigid}
  post:  {plate: {from: [-20, -20, 150], to: [20, 20, 300]}, material: rigid}
grounds:
  - {part: base, face: bottom, fixed: true}
  - {part: post, face: top, fixed: true}
axes:
  x:
    along: x
    carries: [table]
    travel: [-50, 50]
    guides:
      - {rail: round-16, preload: clearance, on: base, part: table, from: [-200, -60, 20], to: [200, -60, 20],
         carriages: [-50, 50]}
      - {rail: round-16, preload: clearance, on: base, part: table, from: [-200, 60, 20], to: [200, 60, 20],
         carriages: [-50, 50]}
    drive: {screw: Tr12x3, from: [-290, 0, 20], to: [200, 0, 20], nut: {part: table, at: 0},
            bearing: {part: base, unit: plain-10}}
tool: {part: post, at: [0, 0, 150]}
work: {part: table}
loads:
  along:       {tip: [40, 0, 0]}
  across:      {tip: [0, 40, 0]}
  across back: {tip: [0, -40, 0]}
  press:       {tip: [0, 0, -60]}
  own weight:  {gravity: true}
travel: {table: {axis: x}}
`

func playOf(t *testing.T, r *answer.Result, source string) answer.PlayLine {
	t.Helper()
	for _, l := range r.Play {
		if l.Source == source {
			return l
		}
	}
	t.Fatalf("no play of %s", source)
	return answer.PlayLine{}
}

// By hand: a push along x goes through nut and bearing, 50 and 20 µm. One across goes through the bushes, of 10 µm
// each: all move across by that, and with bushes that resist no roll the table turns about x by 2·10 µm over the rails'
// distance of 120 mm, which the tip, 105 mm over the rails' axes, sees as 10·105/60. A light table's weight holds
// nothing; of a heavy one it holds the bushes down, until a push lifts one side.
func TestLostMotionByHand(t *testing.T) {
	const nut, bearing, bush, lever, half = 50., 20., 10., 150. - 20 - 25, 60.
	light := readMachine(t, fmt.Sprintf(bushTable, 0.001))
	weightless(light, func(*machine.Guide) bool { return true })
	built, err := buildBeams(light)
	require.NoError(t, err)
	r, err := built.Solve(FullTravel)
	require.NoError(t, err)
	near(t, nut, playOf(t, r, "drive x, nut").TipUm[0], 1e-9, "nut")
	near(t, bearing, playOf(t, r, "drive x, bearing").TipUm[0], 1e-9, "bearing")
	require.Zero(t, playOf(t, r, "drive x, nut").TipUm[1])
	require.Equal(t, [2]float64{20, 150}, playOf(t, r, "drive x, nut").PlayUm90)
	across := bush * (1 + lever/half)
	near(t, across, r.Tip.LostMotionUm.Y, 1e-4, "across")
	near(t, bush, r.Tip.LostMotionUm.Z, 1e-4, "up and down")
	require.Greater(t, r.Tip.LostMotionUm.X, nut+bearing, "and the table pitches")
	for i, want := range map[int]float64{1: across, 2: -across} {
		near(t, want, r.Loads[i].LostMotionUm[1], 1e-4, r.Loads[i].Name)
		near(t, across, *r.Loads[i].LostMotionSizeUm, 1e-2, "size")
	}
	near(t, -bush, r.Loads[3].LostMotionUm[2], 1e-4, "press")
	require.Nil(t, r.Loads[4].LostMotionUm, "weight pushes no tip")
	require.Less(t, r.Loads[1].LostMotionSizeUm90[0], across)
	require.Greater(t, r.Loads[1].LostMotionSizeUm90[1], across)
	require.NotEmpty(t, r.Travel)
	require.Equal(t, r.Loads[0].LostMotionUm, r.Travel[0].LostMotionUm)

	heavy := solveText(t, fmt.Sprintf(bushTable, 7850.))
	require.Greater(t, playOf(t, heavy, "guide x: rail 1").RestingN, 5.)
	near(t, bush, heavy.Tip.LostMotionUm.Y, 1e-3, "across, held down")
	require.InDelta(t, 0, heavy.Tip.LostMotionUm.Z, 2e-3)
	// 40 N at the tip put 40·105/240 = 17.5 N on each bush, which carries a quarter of 5 kg and its own 0.15 kg: two are
	// lifted. 60 N down on the tool lift the work, by 15 N each.
	weight := (160.*200*20*7850e-9/4 + 0.15) * 9.80665
	require.Less(t, weight, 15.)
	require.Greater(t, weight, 10.)
	near(t, bush*(1+lever/half/2), heavy.Loads[1].LostMotionUm[1], 1e-3, "the two bushes that are lifted")
	near(t, -bush, heavy.Loads[3].LostMotionUm[2], 1e-3, "press")
}

// Of the example with nuts that have play a push along an axis loses the nut's play, but for the vertical one: what
// hangs on it holds its nut, as long as no cut lifts it.
func TestLostMotionOfTheExample(t *testing.T) {
	text, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	doc, err := modelfile.Parse("m.yaml", text)
	require.NoError(t, err)
	m, err := doc.Machine("nuts with play")
	require.NoError(t, err)
	model, err := Build(m)
	require.NoError(t, err)
	r, err := model.Solve(TipOnly)
	require.NoError(t, err)
	const gap = 20. // µm, as the option says
	near(t, gap, r.Tip.LostMotionUm.X, 1e-6, "x")
	near(t, gap, r.Tip.LostMotionUm.Y, 1e-6, "y")
	require.InDelta(t, 0, r.Tip.LostMotionUm.Z, 1e-6, "held by weight")
	z := playOf(t, r, "drive z, nut")
	near(t, gap, z.TipUm[2], 1e-6, "z, where a push is larger than the weight")
	hangs := 0.0 // on the nut of z
	for i := range m.Axes {
		if m.Axes[i].Name != "z" {
			continue
		}
		for _, p := range m.Axes[i].Moves {
			tonne, _ := model.bodies[p].mass()
			hangs += tonne * machine.StandardGravity
		}
		for _, b := range model.fittings {
			if model.goes(&model.machine.Axes[i], b) {
				tonne, _ := b.mass()
				hangs += tonne * machine.StandardGravity
			}
		}
		for _, h := range model.hung {
			if model.goes(&model.machine.Axes[i], h.body) {
				hangs += h.tonne * machine.StandardGravity
			}
		}
	}
	near(t, hangs, z.RestingN, 1e-6, "weight on the nut")
	for i, l := range r.Loads {
		switch {
		case l.Name == "drilling":
			want := 0.0
			if m.Loads[i].Actions[0].Force.Z > hangs {
				want = gap
			}
			require.InDelta(t, want, l.LostMotionUm[2], 1e-6)
		case l.OnTip:
			near(t, gap, math.Hypot(l.LostMotionUm[0], l.LostMotionUm[1]), 1e-6, l.Name)
		}
	}
	as, err := doc.Machine("as bought")
	require.NoError(t, err)
	model, err = Build(as)
	require.NoError(t, err)
	r, err = model.Solve(TipOnly)
	require.NoError(t, err)
	require.Nil(t, r.Tip.LostMotionUm, "preloaded nuts have none")
}
