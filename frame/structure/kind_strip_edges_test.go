package structure

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// bent is the movement of point "p" along the first load's force, mm, of a model text at a detail.
func bent(t *testing.T, text string, by *Builder) float64 {
	t.Helper()
	model, err := by.Build(context.Background(), readMachine(t, text))
	require.NoError(t, err)
	l := &model.machine.Loads[0]
	s, err := model.solve(l, nil)
	require.NoError(t, err)
	f, u := l.Actions[0].Force, s.of(model.points[0].gauge)
	return (f.X*u[0] + f.Y*u[1] + f.Z*u[2]) / math.Sqrt(f.X*f.X+f.Y*f.Y+f.Z*f.Z)
}

// Plates that the beam model took for something stiffer, against the same plates meshed, a method of its own that is
// held against three-dimensional elasticity (testdata/accuracy.md). Before, the first was 14 times too stiff, the
// second 2.9 times.
func TestStripsHeldByTheirEdges(t *testing.T) {
	for name, c := range map[string]struct {
		text   string
		within float64
	}{
		"front and back edge fixed": {`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 250, 12]}, material: aluminium-5083}}
grounds: [{part: a, face: front, fixed: true}, {part: a, face: back, fixed: true}]
points: {p: {part: a, at: [150, 125, 12], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, 0.10},
		"one edge fixed": {`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 250, 12]}, material: aluminium-5083}}
grounds: [{part: a, face: left, fixed: true}]
points: {p: {part: a, at: [290, 20, 12], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, 0.03},
		"narrow bed on two ribs": {`machine: m
parts:
  bed: {plate: {from: [0, 0, 30], to: [120, 200, 54]}, material: aluminium-5083}
  a: {plate: {from: [0, 0, 0], to: [20, 200, 30]}, material: aluminium-5083}
  b: {plate: {from: [100, 0, 0], to: [120, 200, 30]}, material: aluminium-5083}
joints: [{between: [bed, a], bonded: true}, {between: [bed, b], bonded: true}]
grounds: [{part: a, face: bottom, fixed: true}, {part: b, face: bottom, fixed: true}]
points: {p: {part: bed, at: [60, 100, 54], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, 0.05},
		"edge held, pulled along": {`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 100, 12]}, material: aluminium-5083}}
grounds: [{part: a, face: back, fixed: true}]
points: {p: {part: a, at: [150, 10, 12], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, 0.10},
	} {
		beam, meshed := bent(t, c.text, &Builder{Detail: Section}), bent(t, c.text, &Builder{Detail: Solid})
		t.Logf("%s: beam model %.3g, meshed %.3g mm: %+.1f %%", name, beam, meshed, 100*(beam/meshed-1))
		if !(math.Abs(beam/meshed-1) <= c.within) {
			t.Errorf("%s: off by %+.1f %%", name, 100*(beam/meshed-1))
		}
	}
}

// Nothing jumps where a plate becomes wide enough for a strip, where its centre line turns, or where more of a face is
// held: walking a size in steps of 0.4 %, the movement's own steps change by 0.2 % of it at most. Of a bed on ribs it is
// 0.5 %: the cells of a bonded face are whole numbers. (So are the nodes along a strip: one more between the ribs, at 190
// and 216 mm of this bed, makes the middle of its edge 1.2 and 2.2 % softer.) Unless tests are thorough, the middle
// quarter of each walk, where the change is.
func TestNothingJumps(t *testing.T) {
	t.Parallel()
	plate := func(x, y, z, held float64) string {
		return fmt.Sprintf(`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [%[1]g, %[2]g, %[3]g]}, material: aluminium-5083}}
grounds: [{part: a, strip: {from: [0, 0, 0], to: [%[4]g, %[2]g, 0]}}]
points: {p: {part: a, at: [%[5]g, 8, %[3]g]}}
loads: {push: {at: p, force: [10, 20, -100]}}
`, x, y, z, held, x-10)
	}
	edge := func(held float64) string {
		return fmt.Sprintf(`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 250, 12]}, material: aluminium-5083}}
grounds: [{part: a, strip: {from: [0, 0, 0], to: [0, %g, 12]}}]
points: {p: {part: a, at: [150, 125, 12]}}
loads: {push: {at: p, force: [10, 20, -100]}}
`, held)
	}
	bed := func(near float64) func(v float64) string {
		return func(v float64) string {
			return fmt.Sprintf(`machine: m
parts:
  bed: {plate: {from: [0, 0, 30], to: [%[1]g, 200, 54]}, material: aluminium-5083}
  a: {plate: {from: [0, 0, 0], to: [20, 200, 30]}, material: aluminium-5083}
  b: {plate: {from: [%[2]g, 0, 0], to: [%[1]g, 200, 30]}, material: aluminium-5083}
joints: [{between: [bed, a], bonded: true}, {between: [bed, b], bonded: true}]
grounds: [{part: a, face: bottom, fixed: true}, {part: b, face: bottom, fixed: true}]
points: {p: {part: bed, at: [%[3]g, 10, 54]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, v, v-20, near*v)
		}
	}
	const long, thick = 200.0, 20.0
	for name, walk := range map[string]struct {
		from, to float64
		text     func(v float64) string
	}{
		"narrow":      {1.6 * thick, 1.9 * thick, func(v float64) string { return plate(long, v, thick, 40) }},
		"wide":        {2.3 * thick, 2.7 * thick, func(v float64) string { return plate(long, v, thick, 40) }},
		"five to one": {4.8 * thick, 5.2 * thick, func(v float64) string { return plate(long, v, thick, 40) }},
		"square":      {0.9 * long, 1.1 * long, func(v float64) string { return plate(long, v, thick, 40) }},
		"bed":         {0.96 * long, 1.05 * long, bed(0.5)},
		"bed, corner": {0.83 * long, 1.2 * long, bed(0.1)},
		"edge held":   {0.85 * 250, 0.95 * 250, edge},
	} {
		if !thorough() {
			walk.from, walk.to = (5*walk.from+3*walk.to)/8, (3*walk.from+5*walk.to)/8
		}
		var u []float64
		for v := walk.from; v <= walk.to; v *= 1.004 {
			u = append(u, math.Log(bent(t, walk.text(v), &Builder{Detail: Section})))
		}
		worst := 0.0
		for i := 2; i < len(u); i++ {
			worst = math.Max(worst, math.Abs(u[i]-2*u[i-1]+u[i-2]))
		}
		t.Logf("%s: %.2f %%", name, 100*worst)
		most := 0.002
		if strings.HasPrefix(name, "bed") {
			most = 0.005
		}
		if !(worst <= most) {
			t.Errorf("%s: a step of %.1f %%", name, 100*worst)
		}
	}
}

// A plate cut in two and bonded end to end again bends as the whole one. Before, it was 11.6 % softer.
func TestPlateBondedEndToEnd(t *testing.T) {
	const text = `machine: m
parts:
  a: {plate: {from: [0, 0, 0], to: [150, 120, 15]}, material: aluminium-5083}
  b: {plate: {from: [150, 0, 0], to: [300, 120, 15]}, material: aluminium-5083}
joints: [{between: [a, b], bonded: true}]
grounds: [{part: a, face: left, fixed: true}]
points: {p: {part: b, at: [290, 60, 15], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`
	const whole = `machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [300, 120, 15]}, material: aluminium-5083}}
grounds: [{part: a, face: left, fixed: true}]
points: {p: {part: a, at: [290, 60, 15], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`
	for _, by := range []*Builder{{Detail: Section}, {Detail: Solid}} {
		e := bent(t, text, by)/bent(t, whole, by) - 1
		t.Logf("%v: %+.2f %%", by.Detail, 100*e)
		if !(math.Abs(e) <= 0.03) {
			t.Errorf("%v: off by %+.1f %%", by.Detail, 100*e)
		}
	}
}

// The stress of a plate that is not wide is a member's, whatever shares of its metal are a member and strips: of a
// cantilever held all over its end 6·P·l/(b·t²), and of shear as a rectangle has it.
func TestStressOfAPlate(t *testing.T) {
	for _, width := range []float64{17, 20, 24, 40, 49} {
		text := fmt.Sprintf(`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [250, %g, 10]}, material: aluminium-5083}}
grounds: [{part: a, face: left, fixed: true}]
points: {p: {part: a, at: [250, %g, 5]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, width, width/2)
		r := solveText(t, text)
		near(t, 6*100*250/(width*100), r.Stress[0].MPa, 0.002, fmt.Sprintf("%g wide", width))
		require.InDelta(t, 0, r.Stress[0].AtMM[0], 1e-9)
	}
}

// A face held up to a place that moves by some micrometres: nothing may jump where the steps between that place and the
// plate's end, an eighth of 150 mm or a quarter of what is free, become one more; nor much where what is free is no
// longer than metal takes to spread a force, 7.2 mm. Before, it was 12 % at one step, 3.4 % at two.
func TestStripStepsDoNotJump(t *testing.T) {
	held := func(free float64) float64 {
		return bent(t, fmt.Sprintf(`machine: m
parts: {p: {plate: {from: [0, 0, 0], to: [200, 150, 12]}, material: aluminium-5083}}
grounds: [{part: p, strip: {from: [0, 0, 0], to: [%g, 150, 0]}}]
points: {p: {part: p, at: [195, 145, 12], patch: [10, 10]}}
loads: {push: {at: p, force: [10, 0, 0]}}
`, 200-free), &Builder{Detail: Section})
	}
	for free, most := range map[float64]float64{
		7.2: 0.03, 14.4: 0.011, 18.75: 0.011, 21.6: 0.011, 28.8: 0.011, 37.5: 0.011, 56.25: 0.011, 75: 0.011, 93.75: 0.011,
	} {
		near(t, held(free-0.002), held(free+0.002), most, fmt.Sprintf("%g mm free", free))
	}
}

// A size that is off by the rounding of inches asks for no other number of steps. Before, one of 10 steps made 11 and
// moved answers by 0.5 %.
func TestRoundedSizesKeepTheirSteps(t *testing.T) {
	for _, steps := range []float64{1, 4, 11, 24} {
		for _, off := range []float64{-1e-8, 1e-8} {
			require.Equal(t, int(steps), cells(steps*12*(1+off), 12))
		}
	}
}
