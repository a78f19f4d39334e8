package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// hinged is a gantry that its two feet alone keep from folding: cut at its axis it is loose in itself.
const hinged = `machine: gantry on hinges
parts:
  base:  {plate: {from: [-200, -200, 0], to: [200, 200, 30]}, material: steel}
  left:  {plate: {from: [-150, -60, 58], to: [-90, 60, 88]}, material: steel}
  right: {plate: {from: [90, -60, 58], to: [150, 60, 88]}, material: steel}
  bl: {bar: {from: [-120, 0, 88], to: [-120, 0, 200]}, section: {round: 30}, material: steel}
  br: {bar: {from: [120, 0, 88], to: [120, 0, 200]}, section: {round: 30}, material: steel}
  beam: {bar: {from: [-120, 0, 200], to: [120, 0, 200]}, section: {round: 30}, material: steel}
joints:
  - {between: [left, bl], bonded: true}
  - {between: [right, br], bonded: true}
  - {between: [bl, beam], sprung: {loose: [ry]}}
  - {between: [br, beam], sprung: {loose: [ry]}}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  y:
    along: y
    carries: [left, right]
    travel: [-60, 60]
    guides:
      - {rail: profile-15, on: base, part: left, from: [-120, -190, 30], to: [-120, 190, 30], carriages: [-30, 30]}
      - {rail: profile-15, on: base, part: right, from: [120, -190, 30], to: [120, 190, 30], carriages: [-30, 30]}
    drive: {stiffness: 20 N/um, part: left, on: base, at: [-120, 0, 30]}
tool: {part: beam, at: [0, 0, 185]}
work: {part: base}
loads:
  tip: {tip: [1,2,3]}
  weight: {gravity: true}
`

// Every position of a running machine is the machine moved there, built and solved whole. Members are exact under
// division; a mesh whose lines the edges of carriages decide is not the one whose lines they do not.
func TestRunningIsTheMachineMoved(t *testing.T) {
	t.Parallel()
	example, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	for _, c := range []struct {
		name, text string
		planes     [][]string
		quick      int // how many of the planes are enough for every axis, and for axes in either order
		tolerance  float64
		solid      [][]string
		mesh       float64 // as coarse as its zones let it be
	}{
		{"fixed gantry", string(example),
			[][]string{{"y", "z"}, {"z", "x"}, {"x"}, {"y"}, {"z"}, {"x", "y"}, {"x", "z"}}, 2, 1e-9, [][]string{{"x", "z"}}, 2},
		{"cross table, rails under the work", fmt.Sprintf(models.CrossTable, 0., 0., 0.),
			[][]string{{"y", "x"}, {"z", "x"}, {"x"}, {"y"}, {"x", "y"}}, 2, 1e-9, [][]string{{"x", "y"}}, 2},
		{"free shafts", shafts + "tool: {part: block, at: [0, 0, 50]}\nwork: {part: left, at: [-200, 0, 80]}\n",
			[][]string{{"x"}}, 1, 1e-6, nil, 0}, // blocks of 1e8 MPa on shafts of steel
		{"slide", fmt.Sprintf(dovetail, "steel", 120.) +
			"tool: {part: table, at: [0, 0, 100]}\nwork: {part: bed, at: [190, 0, 60]}\n",
			[][]string{{"x"}}, 1, 3e-4, [][]string{{"x"}}, 1}, // positions share the nodes under their faces
		{"gantry on hinges", strings.Replace(hinged, "fixed: true",
			"feet: [[-190, -190], [190, -190], [-190, 190], [190, 190]], stiffness: 40 N/um", 1), [][]string{{"y"}}, 1, 1e-8, nil, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc, err := modelfile.Parse("m.yaml", []byte(c.text))
			require.NoError(t, err)
			m, err := doc.Machine("")
			require.NoError(t, err)
			places := 2
			switch {
			case testing.Short():
				c.planes, c.solid = c.planes[:1], nil
			case thorough():
				places, c.mesh = 4, 1
			default:
				c.planes = c.planes[:c.quick]
				if c.name != "cross table, rails under the work" {
					c.solid = nil // one of them is enough every day
				}
			}
			for _, names := range c.planes {
				requireRuns(t, m, beams(), places, c.tolerance, names)
			}
			for _, names := range c.solid {
				requireRuns(t, m, &Builder{Detail: Solid, Mesh: c.mesh}, 2, 0.02, names) // the work turns over its carriages
			}
		})
	}
}

// requireRuns holds positions of a running machine against whole solutions.
func requireRuns(t *testing.T, m *machine.Machine, by *Builder, places int, tolerance float64, names []string) {
	var axes []*runningAxis
	for _, name := range names {
		for i := range m.Axes {
			if a := &m.Axes[i]; a.Name == name {
				// A place where no row stands so near to a screw of its rail that both would share a node (stationMerge).
				at := []float64{a.Travel[0] + 13.1, a.Travel[1], a.Travel[0], a.At}
				axes = append(axes, &runningAxis{axis: a, at: at[:places]})
			}
		}
	}
	r, err := by.run(context.Background(), m, axes)
	require.NoError(t, err)
	var loads []*machine.Load
	for i := range m.Loads {
		loads = append(loads, &m.Loads[i])
	}
	c, err := r.chart(append(loads, &ownWeight))
	require.NoError(t, err)
	worst := 0.0
	c.read(func(positions []int, s *tipState) {
		at := map[string]float64{}
		for i, a := range axes {
			at[a.axis.Name] = a.at[positions[i]]
		}
		moved, err := m.At(at)
		require.NoError(t, err)
		own := ownWeight
		own.Name = "own weight, once more"
		moved.Loads = append(slices.Clone(moved.Loads), own)
		model, err := by.Build(context.Background(), moved)
		if err != nil {
			require.Nil(t, s, "%v", err)
			return
		}
		result, err := model.Solve(TipOnly)
		require.NoError(t, err)
		worst = math.Max(worst, math.Abs(s.softest()/result.Tip.StiffnessNPerUm.Softest-1))
		for n, l := range result.Loads {
			for k := range 3 {
				worst = math.Max(worst, math.Abs(constant.UmPerMM*s.moved[n][k]-l.TipUm[k]) / *l.TipSizeUm)
			}
		}
		if !(worst <= tolerance) {
			t.Fatalf("%v at %v: off by %g", names, at, worst)
		}
	})
	t.Logf("%v, detail %v: worst %.1e", names, by.Detail, worst)
}
