package structure

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// agreed is how near the adjoint must come to differences of whole solutions, relative to the slope. Of a number that
// hardly matters, 1 % more of which changes the compliance by less than 0.01 %, the differences of whole solutions are
// themselves no better than rounding lets them: there it is relative to such a slope. Differences to one side carry
// some ten times the rounding of central ones: these take a longer step, and a little more is allowed for another
// processor's rounding.
const (
	agreed      = 3e-6
	agreedToOne = 4e-6
	hardly      = 0.01
	toOneSide   = 5
)

// wholeSlope is the slope of a compliance found by solving the changed machine, by the same formula as the adjoint's.
func wholeSlope(t *testing.T, a *adjoint, draw func(by float64) (*Model, error), step float64,
	side answer.Side) []float64 {
	t.Helper()
	at := func(by float64) (c []float64) {
		m, err := draw(by)
		require.NoError(t, err)
		require.NoError(t, m.fillFrame())
		m.system, err = m.frame.Factor()
		require.NoError(t, err)
		for _, push := range a.push {
			b := []frame.Form{m.pushed(push)}
			s, err := m.system.Solve(frame.Load{Pushes: []frame.Push{{Form: b[0], Force: 1}}})
			require.NoError(t, err)
			c = append(c, s.Value(b[0]))
		}
		return c
	}
	var slope []float64
	switch side {
	case answer.BothSides:
		more, less, halfMore, halfLess := at(step), at(-step), at(step/2), at(-step/2)
		for i := range more {
			slope = append(slope, (4*(halfMore[i]-halfLess[i])/step-(more[i]-less[i])/(2*step))/3)
		}
	default:
		sign := 1.0
		if side == answer.LessOnly {
			sign = -1
		}
		step *= toOneSide
		still, whole, half, quarter := at(0), at(sign*step), at(sign*step/2), at(sign*step/4)
		for i := range still {
			f, g, h := (whole[i]-still[i])/step, 2*(half[i]-still[i])/step, 4*(quarter[i]-still[i])/step
			slope = append(slope, sign*(4*(2*h-g)-(2*g-f))/3)
		}
	}
	return slope
}

// tally is how far off the slopes of one kind of candidate were.
type tally struct {
	names []string
	worst float64
	of    string
}

// readForSlopes reads a model file and builds it as slopes want it.
func readForSlopes(t *testing.T, text string) (*modelfile.Document, *Model) {
	t.Helper()
	doc, err := modelfile.Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	drawn, err := doc.Machine("")
	require.NoError(t, err)
	m, err := forSlopes().Build(context.Background(), drawn)
	require.NoError(t, err)
	return doc, m
}

func variablesOf(t *testing.T, doc *modelfile.Document) []machine.Variable {
	t.Helper()
	list, err := doc.Variables("")
	require.NoError(t, err)
	return list
}

// candidatesOf lists what a machine could have more of, and what slopes are taken with.
func candidatesOf(t *testing.T, text string) (*adjoint, []candidate) {
	t.Helper()
	doc, m := readForSlopes(t, text)
	a, err := m.newAdjoint()
	require.NoError(t, err)
	return a, m.candidates(variablesOf(t, doc))
}

// checkAdjoint holds what Next finds of every candidate against whole solutions.
func checkAdjoint(t *testing.T, text string) map[answer.GainKind]*tally {
	t.Helper()
	a, all := candidatesOf(t, text)
	checked := map[answer.GainKind]*tally{}
	for _, c := range all {
		s, why := a.find(c)
		if why != "" {
			if !c.gain.Whole {
				t.Errorf("%s: %s", c.gain.What, why)
			}
			continue
		}
		var want []float64
		most, size := agreed, 1.0
		if c.gain.Whole {
			want = wholeDifference(t, a, c, s.side)
		} else {
			want = wholeSlope(t, a, c.draw[0], s.step, s.side)
			if s.side != answer.BothSides {
				most = agreedToOne
			}
			if size = math.Abs(c.gain.At * c.per); size == 0 {
				size = 1
			}
		}
		k := checked[c.gain.Kind]
		if k == nil {
			k = &tally{}
			checked[c.gain.Kind] = k
		}
		k.names = append(k.names, c.gain.What)
		for i, got := range s.times(1 / c.per).moved {
			off := math.Abs(got-want[i]) / math.Max(math.Abs(want[i]), hardly*a.still[i]/size)
			t.Logf("%-9s %-10s push %d: %12.5g, whole %12.5g, off %.1e, %s",
				c.gain.Kind, c.gain.What, i, got, want[i], off, s.side)
			if !(off <= most) {
				t.Errorf("%s %s, push %d: slope %g by the adjoint, %g by whole solutions, off by %.1e",
					c.gain.Kind, c.gain.What, i, got, want[i], off)
			}
			if !(off <= k.worst) {
				k.worst, k.of = off, c.gain.What
			}
		}
	}
	return checked
}

// wholeDifference is what one more of what counts, or one less, does to the movement of the tip as a load finds it.
func wholeDifference(t *testing.T, a *adjoint, c candidate, side answer.Side) (by []float64) {
	t.Helper()
	way := 1.0
	if side == answer.LessOnly {
		way = -1
	}
	for _, draw := range c.draw {
		m, err := draw(way)
		if err != nil {
			continue
		}
		require.NoError(t, m.fillFrame())
		m.system, err = m.frame.Factor()
		require.NoError(t, err)
		for i, push := range a.push {
			b := m.pushed(push)
			s, err := m.system.Solve(frame.Load{Pushes: []frame.Push{{Form: b, Force: 1}}})
			require.NoError(t, err)
			by = append(by, way*(s.Value(b)-a.still[i]))
		}
		return by
	}
	t.Fatalf("%s: nothing fits", c.gain.What)
	return nil
}

// threeApart is a machine for what the others have no candidates of: rails of different carriages, three on a rail,
// bushes on a bar, own numbers, a carriage on a member and one on a strip.
const threeApart = `machine: three apart
values: {apart: 71.3 mm, count: 2}
parts:
  base:  {plate: {from: [-150.7, -61.3, 0], to: [149.1, 60.1, 15.3]}, material: aluminium-5083}
  table: {plate: {from: [-74.3, -52.1, 43.3], to: [76.9, 53.7, 58.7]}, material: aluminium-5083}
  left:  {plate: {from: [-181.1, -60.7, 0], to: [-150.7, 61.9, 250.3]}, material: aluminium-5083}
  right: {plate: {from: [149.1, -60.7, 0], to: [178.3, 61.9, 250.3]}, material: aluminium-5083}
  front: {bar: {from: [-181.1, -40.3, 200.7], to: [178.3, -40.3, 200.7]}, section: {round: 16}, material: steel}
  back:  {bar: {from: [-181.1, 41.9, 200.7], to: [178.3, 41.9, 200.7]}, section: {round: 16}, material: steel}
  head:  {plate: {from: [-50.3, -60.1, 212.9], to: [53.9, 61.1, 242.3]}, material: aluminium-5083}
  nose:  {bar: {from: [3.1, 11.3, 212.9], to: [3.1, 11.3, 130.7]}, section: {round: 40}, material: steel}
joints:
  - {between: [base, left], screws: {size: M6, grid: [count, 1]}}
  - {between: [base, right], screws: {size: M6, grid: [2, 1]}}
  - {between: [left, front], bonded: true}
  - {between: [left, back], bonded: true}
  - {between: [right, front], bonded: true}
  - {between: [right, back], bonded: true}
  - {between: [head, nose], bonded: true}
grounds: [{part: base, face: bottom, feet: [[-130, -50.3], [131, -49.7], [-129, 51.1], [130.7, 50.9]], stiffness: 40 N/um}]
axes:
  table:
    along: x
    carries: [table]
    travel: [-20, 30]
    guides:
      - {rail: profile-15, on: base, part: table, from: [-140, -33.1, 15.3], to: [141, -33.1, 15.3], carriages: [-apart/2, apart/2]}
      - {stiffness: {press: 90 N/um, pitch: 2 kN m/rad}, length: 20 mm, width: 30 mm, on: base, part: table, from: [-140, 35.3, 15.3], to: [141, 35.3, 15.3], carriages: [-41.3, 3.7, 44.1]}
    drive: {stiffness: 25 N/um, part: table, on: base, at: [0, 0, 29.3]}
  head:
    along: x
    carries: [head]
    travel: [-30, 40]
    guides:
      - {rail: round-16, stiffness: {press: 60 N/um, pitch: 1 kN m/rad, yaw: 1 kN m/rad}, on: front, part: head, carriages: [-27.3, 29.7]}
      - {rail: round-16, stiffness: {press: 60 N/um, pitch: 1 kN m/rad, yaw: 1 kN m/rad}, on: back, part: head, carriages: [-27.3, 29.7]}
    drive: {stiffness: 25 N/um, part: head, on: left, at: [-50.3, 0, 200.3]}
tool: {part: nose, at: [3.1, 11.3, 103.3], stickout: 27.4 mm, diameter: 6 mm, material: carbide}
work: {part: table}
loads:
  right: {tip: [40, 0, 0]}
  down:  {tip: [10, 20, -90]}
`

// TestAdjoint: what Next tells of every kind of candidate is what whole solutions tell: central differences of the same
// steps, or the very difference of one more. The machines are the sample and the mill of the examples, whose round
// numbers are those at which the model bends and jumps, and two at odd numbers with what those lack.
func TestAdjoint(t *testing.T) {
	t.Parallel()
	mill, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	for _, tt := range []struct {
		name, text string
		kinds      map[answer.GainKind]string // candidates that must be among those checked
	}{
		{"all values", models.Changeable, map[answer.GainKind]string{
			answer.OfValue: "thick; tall; reach; out; width; spring; stub; wall; paper; leg; plate; young; poisson; hang; " +
				"cutter; tight; rows; tilt",
			answer.OfThickness: "base; column; arm; brace", answer.OfScrews: "base/column; column/brace",
		}},
		{"sample", models.ClockPlateMill, map[answer.GainKind]string{
			answer.OfValue: "bed_length; held_length; gusset_leg", answer.OfThickness: "base; bed; upright; head; clamp",
			answer.OfScrews: "base/upright; upright/head",
		}},
		{"mill", string(mill), map[answer.GainKind]string{
			answer.OfValue: "mount_thickness; table_spacing", answer.OfThickness: "base; mount_y; table; beam; saddle; slide",
			answer.OfScrews:  "slide/clamp; base/mount_y",
			answer.OfSpacing: "x: rail 1, rail 2; y: rail 1, rail 2; z: rail 1, rail 2",
		}},
		{"three apart", threeApart, map[answer.GainKind]string{
			answer.OfValue: "apart; count", answer.OfThickness: "table; head", answer.OfScrews: "base/left",
			answer.OfSpacing: "table: rail 1; table: rail 2; head: rail 1, rail 2",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !thorough() && (tt.name == "mill" || tt.name == "sample") {
				t.Skip("hundreds of whole machines")
			}
			checked := checkAdjoint(t, tt.text)
			for _, kind := range slices.Sorted(maps.Keys(tt.kinds)) {
				names := tt.kinds[kind]
				require.NotNil(t, checked[kind], kind)
				require.Subset(t, checked[kind].names, strings.Split(names, "; "), kind)
				t.Logf("%s: worst of %d off by %.1e, %s", kind, len(checked[kind].names), checked[kind].worst, checked[kind].of)
			}
		})
	}
}

// drawSmall draws a small machine whose numbers are all values: a base on feet or held all over, a column, an arm that
// is a plate or a bar, joined in some way.
func drawSmall(t *rapid.T) string {
	number := func(name string, lo, hi float64) string {
		// no round numbers, at which models bend
		return fmt.Sprintf("%s: %.3f", name, rapid.Float64Range(lo, hi).Draw(t, name))
	}
	oneOf := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	values := []string{
		number("thick", 12, 30), number("wide", 60, 140), number("deep", 90, 170), number("tall", 60, 220),
		number("back", 25, 45),
		number("reach", 40, 120), number("high", 15, 35), number("hang", 5, 30), number("aside", -8, 8),
		number("foot", 5e3, 5e4), number("young", 5e4, 2e5),
	}
	arm := oneOf("arm",
		"{plate: {from: [-20.3, -reach, thick + tall - high - 2.7], to: [19.1, 0, thick + tall - 2.7]}, material: "+
			"aluminium-5083}",
		"{bar: {from: [0.7, 0, thick + tall - high], to: [0.7, -reach, thick + tall - high]}, section: {rect: [high, "+
			"17.3]}, material: steel}")
	joint := "bonded: true"
	if strings.Contains(arm, "plate") {
		joint = oneOf("joint", joint, "screws: {size: M4, grid: [2, 1]}",
			"screws: {size: M5, grid: [1, 1]}, shim: {material: paper, thickness: 0.13 mm}")
	}
	ground := oneOf("ground", "fixed: true", "feet: [[-wide/2 + 9.1, 11.3], [wide/2 - 8.7, 10.1], [1.3, deep - 9.7]], "+
		"stiffness: foot", "bed: foot/4000")
	return fmt.Sprintf(`machine: small
values: {%s}
materials: {metal: {E: young, nu: 0.31, density: 2700}}
parts:
  base: {plate: {from: [-wide/2, -20.3, 0], to: [wide/2, deep, thick]}, material: metal}
  column: {plate: {from: [-24.3, 0, thick], to: [25.7, back, thick + tall]}, material: metal}
  arm: %s
joints:
  - {between: [base, column], %s}
  - {between: [column, arm], %s}
grounds: [{part: base, face: bottom, %s}]
tool: {part: arm, at: [aside, -reach + 5.7, thick + tall - high - 2.7 - hang], stickout: hang, diameter: 5.3, material: carbide}
work: {part: base, at: [3.1, 7.3, thick]}
loads: {push: {tip: [31, -17, 43]}}
`, strings.Join(values, ", "), arm, oneOf("foot joint", "bonded: true", "screws: {size: M5, grid: [2, 2]}", "screws: {size: M4, grid: [2, 1]}"), joint, ground)
}

// TestAdjointOfRandomMachines holds the adjoint against whole solutions on machines that nobody chose.
func TestAdjointOfRandomMachines(t *testing.T) {
	t.Parallel()
	draws := 2
	if thorough() {
		draws = 12
	}
	fitting := 0
	for i := range draws {
		text := rapid.Custom(drawSmall).Example(i)
		m, err := machineOf(text, "")
		require.NoError(t, err, text)
		if _, err := buildBeams(m); err != nil {
			require.IsType(t, machine.Faults{}, err, text)
			continue
		}
		fitting++
		checkAdjoint(t, text)
		if t.Failed() {
			t.Fatal(text)
		}
	}
	require.GreaterOrEqual(t, fitting, draws/3, "machines that fit")
}

// TestSlopeOfWhatCannotChange: a value of which neither more nor less makes a model has no slope, and that is the
// reason.
func TestSlopeOfWhatCannotChange(t *testing.T) {
	a, _ := candidatesOf(t, models.ClockPlateMill)
	_, why := a.slopeAt(func(float64) (*Model, error) { return nil, errors.New("out of room") }, 0.1)
	require.Equal(t, "any change makes the model wrong: out of room", why)
	// More alone is wrong, and less is another machine altogether.
	_, why = a.slopeAt(func(by float64) (*Model, error) {
		if by > 0 {
			return nil, errors.New("out of room")
		}
		return forSlopes().draw(readMachine(t, strings.Replace(models.ClockPlateMill, "steel", "aluminium-5083", 1)))
	}, 0.1)
	require.Equal(t, "more makes the model wrong (out of room), and at less it jumps", why)
}
