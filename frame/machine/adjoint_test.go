package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame"
)

// changeable is a machine with a value of every kind, at numbers at which no two faces, nodes or limits coincide.
const changeable = `machine: all values
values:
  thick: 21.3 mm            # of a plate
  tall: 187.7 mm            # a length that moves what stands on it
  reach: 73.1 mm            # of the arm
  out: 14.6 mm              # where a screw sits
  width: 52.2               # a plain number that is a length
  spring: 31 N/um           # under the feet
  stub: 24.9 mm             # of a bar's section
  wall: 4.3 mm
  paper: 0.12 mm            # a shim
  leg: 43.7 mm              # of a gusset
  plate: 11.9 mm            # its thickness
  young: 68.3 GPa           # of a material
  poisson: 0.31             # a plain number
  hang: 27.7 mm             # of the tool
  cutter: 6.1 mm
  tight: 8.3 N m            # of the screws
  rows: 2                   # of screws
  tilt: 3.1 deg
  half: width/2
  braced: true
materials:
  metal: {E: young, nu: poisson, density: 2700}
parts:
  base:   {plate: {from: [-130.3, -151.7, 0], to: [131.9, 80.9, thick]}, material: metal}
  column: {plate: {from: [-half, 20.7, thick], to: [half, 61.3, thick + tall]}, material: metal}
  arm:    {plate: {from: [-23.7, 20.7 - reach, 150.3], to: [24.1, 20.7, 181.9]}, material: aluminium-5083}
  brace:  {gusset: {corner: [-11.3, 20.7, thick], legs: [[0, -leg, 0], [0, 0, leg]], thickness: [plate, 0, 0]}, material: metal}
  nose:   {bar: {from: [1.3, 20.7 - reach + 19.1, 150.3], to: [1.3, 20.7 - reach + 19.1, 98.3]}, section: {tube: [stub, stub, wall]}, material: steel}
joints:
  - {between: [base, column], screws: {size: M6, grid: [2, rows], torque: tight}, surface: milled}
  - {between: [column, arm], screws: {size: M5, at: [[-out, 158.7], [out + 1.3, 159.3], [0.7, 173.3]]}, shim: {material: paper, thickness: paper}}
  - {between: [base, brace], bonded: true}
  - {between: [column, brace], screws: {size: M4, grid: [1, 2]}}
  - {between: [arm, nose], bonded: true}
grounds:
  - {part: base, face: bottom, feet: [[-110.7, -131.3], [112.3, -130.1], [-109.1, 61.7], [108.7, 60.3]], stiffness: spring}
tool: {part: nose, at: [1.3, 20.7 - reach + 19.1, 98.3 - hang], stickout: hang, diameter: cutter, material: carbide}
work: {part: base}
loads:
  side: {tip: [80*cos(tilt), 80*sin(tilt), 0]}
  down: {tip: [0, 30, -100]}
  weight: {gravity: true}
`

// agreed is how near the adjoint must come to differences of whole solutions, relative to the slope. Of a number that hardly
// matters, 1 % more of which changes the compliance by less than 0.01 %, the differences of whole solutions are themselves
// no better than rounding lets them: there it is relative to such a slope. Differences to one side carry some ten times the
// rounding of central ones.
const (
	agreed      = 1e-6
	agreedToOne = 1e-5
	hardly      = 0.01
)

// wholeSlope is the slope of a compliance found by solving the changed machine, by the same formula as the adjoint's.
func wholeSlope(t *testing.T, a *adjoint, draw func(by float64) (*Model, error), step float64, side Side) []float64 {
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
	case BothSides:
		more, less, halfMore, halfLess := at(step), at(-step), at(step/2), at(-step/2)
		for i := range more {
			slope = append(slope, (4*(halfMore[i]-halfLess[i])/step-(more[i]-less[i])/(2*step))/3)
		}
	default:
		sign := 1.0
		if side == LessOnly {
			sign = -1
		}
		still, whole, half, quarter := at(0), at(sign*step), at(sign*step/2), at(sign*step/4)
		for i := range still {
			f, g, h := (whole[i]-still[i])/step, 2*(half[i]-still[i])/step, 4*(quarter[i]-still[i])/step
			slope = append(slope, sign*(4*(2*h-g)-(2*g-f))/3)
		}
	}
	return slope
}

// checkAdjoint holds the adjoint's slopes of every value and thickness against whole solutions, and returns
// what it found slopes of.
func checkAdjoint(t *testing.T, text string) (checked []string) {
	t.Helper()
	doc, err := Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	machine, err := doc.Machine("")
	require.NoError(t, err)
	m, err := Build(machine)
	require.NoError(t, err)
	a, err := m.newAdjoint()
	require.NoError(t, err)
	compare := func(name string, size float64, draw func(by float64) (*Model, error), step float64) {
		s, why := a.slope(draw, step)
		if why != "" {
			t.Errorf("%s: %s", name, why)
			return
		}
		want := wholeSlope(t, a, draw, s.step, s.side)
		for i, got := range s.moved {
			scale := math.Max(math.Abs(want[i]), hardly*a.still[i]/size)
			off := math.Abs(got-want[i]) / scale
			t.Logf("%-10s push %d: %12.5g, whole %12.5g, off %.1e, %s", name, i, got, want[i], off, s.side)
			most := agreed
			if s.side != BothSides {
				most = agreedToOne
			}
			if !(off <= most) {
				t.Errorf("%s, push %d: slope %g by the adjoint, %g by whole solutions, off by %.1e", name, i, got, want[i], off)
			}
		}
		checked = append(checked, name)
	}
	values, err := doc.Values("")
	require.NoError(t, err)
	for _, v := range values {
		if v.Made || v.Whole {
			continue
		}
		size := math.Abs(v.x)
		if size == 0 {
			size = 1
		}
		compare(v.Name, size, func(by float64) (*Model, error) {
			machine, err := doc.Machine("", Setting{v.Name, quantity{v.x + by, v.dim}})
			if err != nil {
				return nil, err
			}
			return new(Builder).draw(machine)
		}, stepOf(v.quantity))
	}
	for i, b := range m.bodies {
		if b.part.Bar == nil {
			compare("of "+b.part.Name, b.metal(), func(by float64) (*Model, error) {
				other, err := new(Builder).draw(machine)
				if err == nil {
					other.bodies[i].thicker = by
				}
				return other, err
			}, slopeStep*b.metal())
		}
	}
	return checked
}

// TestAdjoint: for every kind of value the slope by the adjoint is that of whole solutions.
func TestAdjoint(t *testing.T) {
	checked := checkAdjoint(t, changeable)
	require.Equal(t, strings.Fields("thick tall reach out width spring stub wall paper leg plate young poisson hang cutter tight tilt"),
		slices.DeleteFunc(checked, func(s string) bool { return strings.HasPrefix(s, "of ") }))
}

// TestAdjointOfSample: round numbers, at which the model bends and jumps.
func TestAdjointOfSample(t *testing.T) {
	checked := checkAdjoint(t, sampleText(t))
	require.Subset(t, checked, []string{"bed_length", "held_length", "gusset_leg"})
}

// drawSmall draws a small machine whose numbers are all values: a base on feet or held all over, a column, an arm that is
// a plate or a bar, joined in some way.
func drawSmall(t *rapid.T) string {
	number := func(name string, lo, hi float64) string {
		return fmt.Sprintf("%s: %.3f", name, rapid.Float64Range(lo, hi).Draw(t, name)) // no round numbers, at which models bend
	}
	oneOf := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	values := []string{
		number("thick", 12, 30), number("wide", 60, 140), number("deep", 90, 170), number("tall", 60, 220), number("back", 25, 45),
		number("reach", 40, 120), number("high", 15, 35), number("hang", 5, 30), number("aside", -8, 8), number("foot", 5e3, 5e4), number("young", 5e4, 2e5),
	}
	arm := oneOf("arm",
		"{plate: {from: [-20.3, -reach, thick + tall - high - 2.7], to: [19.1, 0, thick + tall - 2.7]}, material: aluminium-5083}",
		"{bar: {from: [0.7, 0, thick + tall - high], to: [0.7, -reach, thick + tall - high]}, section: {rect: [high, 17.3]}, material: steel}")
	joint := "bonded: true"
	if strings.Contains(arm, "plate") {
		joint = oneOf("joint", joint, "screws: {size: M4, grid: [2, 1]}", "screws: {size: M5, grid: [1, 1]}, shim: {material: paper, thickness: 0.13 mm}")
	}
	ground := oneOf("ground", "fixed: true", "feet: [[-wide/2 + 9.1, 11.3], [wide/2 - 8.7, 10.1], [1.3, deep - 9.7]], stiffness: foot", "bed: foot/4000")
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
	draws := 12
	if testing.Short() {
		draws = 3
	}
	fitting := 0
	for i := range draws {
		text := rapid.Custom(drawSmall).Example(i)
		m, err := machineOf(text, "")
		require.NoError(t, err, text)
		if _, err := Build(m); err != nil {
			require.IsType(t, Faults{}, err, text)
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
