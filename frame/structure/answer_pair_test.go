package structure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/machine"
)

// Tool and work push on each other with forces that are opposite and in one line, so nothing of them reaches the ground
// (Newton's third law): the grounds of random machines hold neither a force nor a moment, at any position of the axes.
func TestPairLeavesNothingInTheGround(t *testing.T) {
	t.Parallel()
	sketches := rapid.Custom(newSketch)
	pairs := []machine.Load{
		{Name: "force", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{X: 30, Y: -40, Z: 20}}}},
		{Name: "both", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{Y: 50},
			Moment: r3.Vec{X: 300, Y: -200, Z: 900}}}},
	}
	const force, reach = 50., 500. // N, mm: size of the push and of the machine
	const randomPairs = 5
	solved := 0
	for seed := range randomPairs {
		m, err := machineOf(sketches.Example(seed), "")
		if err != nil {
			continue
		}
		m.Loads, m.Travel = pairs, nil
		at := map[string]float64{}
		for i, a := range m.Axes {
			at[a.Name] = a.Travel[i%2]
		}
		if m, err = m.At(at); err != nil {
			continue
		}
		model, err := (&Builder{Mesh: CoarsestMesh}).Build(t.Context(), m) // balance asks for no fine mesh
		if err != nil {
			continue // does not hold together
		}
		solved++
		for i := range pairs {
			s, err := model.solve(&model.machine.Loads[i], model.tool.gauge)
			require.NoError(t, err)
			var sum, about r3.Vec
			for _, g := range model.grounds {
				f, moment := model.reaction(g, s.Solution)
				sum, about = r3.Add(sum, f), r3.Add(about, r3.Add(moment, r3.Cross(g.place(), f)))
			}
			require.Less(t, r3.Norm(sum), 1e-9*force, "force of %s", pairs[i].Name)
			require.Less(t, r3.Norm(about), 1e-9*force*reach, "moment of %s", pairs[i].Name)
		}
	}
	require.Greater(t, solved, randomPairs/2)
}

// pairStand is a small stand that springs to ground at one place hold, which is as many as statics asks for: so nothing
// in the machine knows how stiff they are.
const pairStand = `machine: stand
parts:
  base:    {plate: {from: [-100, -120, 0], to: [100, 140, 30]}, material: aluminium-5083}
  pillar:  {plate: {from: [-40, 60, 30], to: [40, 90, 270]}, material: aluminium-5083}
  arm:     {plate: {from: [-30, -130, 215], to: [30, 60, 240]}, material: aluminium-5083}
  vise:    {plate: {from: [-40, -110, 30], to: [40, -60, 70]}, material: steel}
  spindle: {bar: {from: [0, -100, 285], to: [0, -100, 130]}, section: {round: 43}, material: steel}
joints:
  - {between: [base, pillar], screws: {size: M6, grid: [2, 1]}}
  - {between: [base, vise],   screws: {size: M6, grid: [2, 1]}}
  - {between: [pillar, arm],  screws: {size: M5, grid: [2, 1]}}
  - {between: [arm, spindle], bonded: true}
grounds:
  - {part: base, at: [10, 20, 0], spring: {x: %[1]g N/mm, y: %[1]g N/mm, z: %[1]g N/mm, rx: %[2]g, ry: %[2]g, rz: %[2]g}}
tool: {part: spindle, at: [0, -100, 104], stickout: 26 mm, diameter: 6 mm, flutes: 2, material: carbide, holder: collet}
spindle: {class: router-motor}
work: %[3]s
loads: {push: {tip: [40, 0, 0]}}
`

// What the machine stands on is no part of the way from the tool to the work.
func TestPairDoesNotFeelTheFeet(t *testing.T) {
	for _, detail := range []Detail{Section, Solid} {
		for _, work := range []string{"{part: base}", "{part: vise}"} {
			compliance := func(k float64) [3][3]float64 {
				m, err := (&Builder{Detail: detail}).Build(t.Context(), readMachine(t, fmt.Sprintf(pairStand, k, k*1e4, work)))
				require.NoError(t, err)
				tip, err := m.tipStiffness()
				require.NoError(t, err)
				return tip.ComplianceUmPerN
			}
			stiff, soft := compliance(40e3), compliance(400)
			for i := range 3 {
				for k := range 3 {
					require.InDelta(t, stiff[i][k], soft[i][k], 1e-9*stiff[1][1], "%v, work %s, %d %d", detail, work, i, k)
				}
			}
		}
	}
}

// A rigid table on springs: a push across the tip, h over the spot that is held, turns it, and the tip sees
// 1/k + h²/k_θ. A moment on the tip turns it by M/k_θ.
func TestPushTurnsTheWork(t *testing.T) {
	const k, turning, height = 5e3, 2e7, 98. // N/mm, N·mm/rad, mm
	text := strings.Replace(fmt.Sprintf(rigidMachine, height, 2., "diameter: 6, material: rigid",
		"loads: {push: {tip: [10, 0, 0]}, twist: {tip_moment: [0, 1000, 0]}}\n"), "{part: table, face: bottom, fixed: true}",
		fmt.Sprintf("{part: table, at: [0, 0, 0], spring: {x: %g N/mm, y: %g N/mm, z: %g N/mm, rx: %g, ry: %g, rz: %g}}", k, k, k, turning,
			turning, turning), 1)
	r := solveText(t, text)
	near(t, 10e3*(1/k+height*height/turning), r.Loads[0].TipUm[0], blocksGive, "push")
	near(t, 1e6*height/turning, r.Loads[1].TipUm[0], blocksGive, "twist")
	require.Greater(t, r.Loads[0].TipUm[0], 2*10e3/k, "most of it by turning")
}

// What is taken as rigid under the tip is said, and so is work that does not reach it.
func TestWorkNotes(t *testing.T) {
	for work, want := range map[string]string{
		"{part: base}":                 "work: one rigid block from base to the tip, 74 mm long",
		"{part: vise}":                 "work: one rigid block from vise to the tip, 34 mm long",
		"{part: vise, height: 30 mm}":  "work: the tip is 34 mm over vise, 4 mm above the top of the work",
		"{part: vise, height: 1.4 in}": "",

		"{part: base, at: [0, -100, 0]}": "work: its place on base is 30 mm under the face towards the tip",
	} {
		r := solveText(t, fmt.Sprintf(pairStand, 40e3, 4e8, work))
		said := strings.Join(r.Notes, "\n")
		require.Contains(t, said, want)
		require.Equal(t, want != "", strings.Contains(said, "work: "), said)
	}
	m := readMachine(t, fmt.Sprintf(pairStand, 40e3, 4e8, "{part: vise}"))
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		m.Work.Height = bad
		_, err := m.Complete()
		require.ErrorContains(t, err, "eight")
	}
}

// What a tool of which little is said is taken as is said, and what it costs is what the machine with it answers.
func TestToolTakenAsRigid(t *testing.T) {
	full := fmt.Sprintf(pairStand, 40e3, 4e8, "{part: vise}")
	require.NotContains(t, strings.Join(solveText(t, full).Notes, "\n"), "taken as rigid")
	want := solveText(t, full).Tip.StiffnessNPerUm.Softest
	bare := strings.Replace(strings.Replace(full, ", holder: collet", "", 1), "spindle: {class: router-motor}\n", "", 1)
	for _, c := range []struct{ text, says string }{
		{strings.Replace(bare, ", flutes: 2", "", 1), "flutes, grip, spindle bearings. With flutes: 2, holder: collet, " +
			"spindle: {class: router-motor} the tip would have "},
		{bare, "tool: taken as rigid, for nothing is said of it: grip, spindle bearings. With holder: collet"},
		{strings.Replace(full, ", holder: collet", "", 1), "for nothing is said of it: grip. With holder: collet the tip"},
	} {
		r := solveText(t, c.text)
		notes := strings.Join(r.Notes, "\n")
		require.Contains(t, notes, c.says)
		require.Contains(t, notes, fmt.Sprintf("%.2g instead of %.2g N/µm where it is softest", want,
			r.Tip.StiffnessNPerUm.Softest))
		require.Less(t, want, 0.999*r.Tip.StiffnessNPerUm.Softest)
	}
	short := strings.Replace(bare, ", stickout: 26 mm, diameter: 6 mm, flutes: 2, material: carbide", "", 1)
	short = strings.Replace(short, "at: [0, -100, 104]", "at: [0, -100, 130]", 1)
	require.Contains(t, strings.Join(solveText(t, short).Notes, "\n"), "the cutter, its grip and the spindle's bearings")
}
