package structure

import (
	"context"
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// sweepText sweeps a model as it is drawn.
func sweepText(t *testing.T, by *Builder, text string, steps int, texts ...string) (*answer.Sweep, error) {
	t.Helper()
	doc, err := modelfile.Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	var ranges []*modelfile.Range
	for _, r := range texts {
		found, err := doc.Range("", r)
		require.NoError(t, err)
		ranges = append(ranges, found)
	}
	done := 0
	s, err := sweepRanges(context.Background(), by, doc, steps, func() { done++ }, ranges...)
	if err == nil {
		require.Equal(t, len(s.Places)+len(s.LeftOut), done)
	}
	return s, err
}

func sweepRanges(ctx context.Context, by *Builder, doc *modelfile.Document, steps int, each func(),
	ranges ...*modelfile.Range) (*answer.Sweep, error) {
	var values []answer.SweptValue
	for _, r := range ranges {
		values = append(values, answer.SweptValue{
			Name: r.Name, Unit: r.Unit, Whole: r.Whole, Drawn: r.At, At: r.Places(steps),
		})
	}
	draw := func(at []float64) (*machine.Machine, error) { return doc.MachineAt("", ranges, at) }
	return by.Sweep(ctx, values, draw, each)
}

// standingPole is a cantilever with a tool at its end that is rigid beside it: c = L³/(3·E·I) + L/(G·A_s) across
// (Timoshenko), L/(E·A) along.
const standingPole = `machine: pole
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
values: {height: 200, thick: 30 mm, tilt: 2}
parts:
  base: {plate: {from: [-60, -60, -80], to: [60, 60, 0]}, material: steel}
  rock: {plate: {from: [100, -60, -80], to: [200, 60, 0]}, material: rigid}
  pole: {bar: {from: [0, 0, 0], to: [0, 0, height]}, section: {round: thick}, material: steel}
joints: [{between: [base, pole], bonded: true}]
grounds: [{part: base, face: bottom, fixed: true}, {part: pole, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]},
  {part: rock, face: bottom, fixed: true}]
tool: {part: pole, at: [0, 0, height]}
work: {part: rock, at: [100, 0, 0]}
loads: {push: {tip: [100, 0, 0]}}
`

// TestSweepOfPole: over the height of a pole the tip moves as the handbook's cantilever does.
func TestSweepOfPole(t *testing.T) {
	s, err := sweepText(t, beams(), standingPole, 6, "height=100..300")
	require.NoError(t, err)
	require.Len(t, s.Places, 6)
	require.Equal(t, "mm", s.Values[0].Unit)
	require.Equal(t, 200.0, s.Values[0].Drawn)
	for i, p := range s.Places {
		require.Equal(t, 100+40*float64(i), p.At[0])
		doc, err := modelfile.Parse("m.yaml", []byte(strings.Replace(standingPole, "height: 200", "height: "+[]string{"100",
			"140", "180", "220", "260", "300"}[i], 1)))
		require.NoError(t, err)
		m, err := doc.Machine("")
		require.NoError(t, err)
		model, err := buildBeams(m)
		require.NoError(t, err)
		r, err := model.Solve(TipOnly)
		require.NoError(t, err)
		require.Equal(t, r.Tip, p.Tip, "as if written into the file")
		require.Equal(t, r.MassKg, p.MassKg)
	}
	// c = L³/(3·E·I)·(1 + s/L²), s = 3·E·I/(κ·G·A), with Cowper's κ = 6·(1 + ν)/(7 + 6·ν) (J. Appl. Mech.
	// 33 (1966) 335).
	const d, nu = 30.0, 0.3
	shear := 3 * 2 * (1 + nu) * d * d / 16 * (7 + 6*nu) / (6 * (1 + nu))
	want := 27 * (1 + shear/(300*300)) / (1 + shear/(100*100))
	require.InEpsilon(t, want, s.Places[5].Load("push").TipUm[0]/s.Places[0].Load("push").TipUm[0], 0.005)
	require.Equal(t, "less", s.Knees[0].Toward)
}

// TestSweepSharesLuck: what bends of the pole is its steel alone, so that in every draw its places stand to each other as
// at typical numbers, and the range is that of steel's modulus. Two values, or no tool, draw nothing.
func TestSweepSharesLuck(t *testing.T) {
	s, err := sweepText(t, beams(), standingPole, 5, "height=100..300")
	require.NoError(t, err)
	require.True(t, s.Sure.Settled)
	first := s.Places[0].Load("push")
	for _, p := range s.Places {
		l := p.Load("push")
		require.Len(t, l.DrawnUm, s.Sure.Draws)
		for d := range s.Sure.Draws {
			require.InEpsilon(t, *l.TipSizeUm / *first.TipSizeUm, l.DrawnUm[d]/first.DrawnUm[d], 2*s.Sure.ErrorPercent/100)
		}
		require.Less(t, l.TipSizeUm90[0], *l.TipSizeUm)
		require.Greater(t, l.TipSizeUm90[1], *l.TipSizeUm)
		require.InEpsilon(t, first.TipSizeUm90[1]/first.TipSizeUm90[0], l.TipSizeUm90[1]/l.TipSizeUm90[0], 0.01)
	}
	require.Equal(t, 100.0, *s.Knees[0].SamePercent)

	two, err := sweepText(t, beams(), standingPole, 2, "height=100..300", "thick=20..40")
	require.NoError(t, err)
	before, _, _ := strings.Cut(standingPole, "tool:")
	bare, err := sweepText(t, beams(), before, 2, "height=100..300")
	require.NoError(t, err)
	for _, s := range []*answer.Sweep{two, bare} {
		require.Nil(t, s.Sure)
		for _, p := range s.Places {
			require.Nil(t, p.SoftestNPerUm90)
		}
	}
}

// TestSweepDrawsAsSureDoes: at a place the range is that of the machine there.
func TestSweepDrawsAsSureDoes(t *testing.T) {
	s, err := sweepText(t, new(Builder), smallMill(70e3)+"values: {e: 1}\n", 2, "e=1..2")
	require.NoError(t, err)
	alone := drawnText(t, smallMill(70e3)+"values: {e: 1}\n", "", new(chance.Columns)).Sure
	for _, p := range s.Places {
		require.InEpsilonSlice(t, []float64{alone.Stiffness.Softest.Low, alone.Stiffness.Softest.High},
			p.SoftestNPerUm90[:], 0.03)
		for i, m := range alone.Movements {
			require.InEpsilonSlice(t, []float64{m.SizeUm.Low, m.SizeUm.High}, p.Loads[i].TipSizeUm90[:], 0.03)
		}
	}
}

// TestSweepLeavesOut: where the value makes no machine, the place is named and the rest stands.
func TestSweepLeavesOut(t *testing.T) {
	s, err := sweepText(t, beams(), models.ClockPlateMill, 3, "gusset_leg=110..130", "bed_length=360..400")
	require.NoError(t, err)
	require.Len(t, s.Places, 6)
	require.Equal(t, []float64{110, 360}, s.Places[0].At)
	require.Equal(t, []float64{110, 380}, s.Places[1].At, "the second value runs faster")
	require.Equal(t, answer.LeftOut{At: []float64{120, 400},
		Why: "bed and brace_left run into each other: they share 20 x 40 x 20 mm (x, y, z)"}, s.LeftOut[0])
	require.Equal(t, 20.0, *s.Within)

	_, err = sweepText(t, beams(), models.ClockPlateMill, 3, "gusset_leg=700..800")
	require.IsType(t, machine.Faults{}, err)
	require.Contains(t, err.Error(), "m.yaml:")
}

// TestSweepOfCounts: whole numbers only, and each costs its drilling.
func TestSweepOfCounts(t *testing.T) {
	s, err := sweepText(t, beams(), models.Changeable, 11, "rows=1..3")
	require.NoError(t, err)
	require.Equal(t, []float64{1, 2}, []float64{s.Places[0].At[0], s.Places[1].At[0]})
	require.Greater(t, s.Places[1].Holes.Operations, s.Places[0].Holes.Operations)
	require.True(t, s.Values[0].Whole)
}

// TestSweepReusesBodies: at detail "solid" a body that the value leaves alone is reduced once, and those it does not
// are forgotten as the sweep goes on.
func TestSweepReusesBodies(t *testing.T) {
	const text = `machine: two posts
values: {high: 40 mm, wide: 20 mm}
parts:
  base: {plate: {from: [-40, -40, -20], to: [60, 40, 0]}, material: steel}
  post: {plate: {from: [-10, -10, 0], to: [10, wide - 10, high]}, material: steel}
joints: [{between: [base, post], screws: {size: M4, grid: [1, 1]}}]
grounds: [{part: base, face: bottom, fixed: true}]
tool: {part: post, at: [0, 0, high]}
work: {part: base, at: [50, 0, 0]}
`
	by := &Builder{Detail: Solid, Mesh: 3}
	s, err := sweepText(t, by, text, 4, "high=30..60")
	require.NoError(t, err)
	require.Len(t, s.Places, 4)
	require.LessOrEqual(t, len(by.kept.reduced), 3, "the base, the last post and the one before")
	for _, p := range s.Places {
		doc, err := modelfile.Parse("m.yaml", []byte(text))
		require.NoError(t, err)
		r, err := doc.Range("", "high=30..60")
		require.NoError(t, err)
		m, err := doc.Machine("", r.Setting(p.At[0]))
		require.NoError(t, err)
		model, err := (&Builder{Detail: Solid, Mesh: 3}).Build(context.Background(), m)
		require.NoError(t, err)
		alone, err := model.Solve(TipOnly)
		require.NoError(t, err)
		require.Equal(t, alone.Tip, p.Tip)
	}
}

func TestSweepCancelled(t *testing.T) {
	doc, err := modelfile.Parse("m.yaml", []byte(standingPole))
	require.NoError(t, err)
	r, err := doc.Range("", "height=100..300")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	_, err = sweepRanges(ctx, beams(), doc, 5, cancel, r)
	require.ErrorIs(t, err, context.Canceled)
}

// A sweep leaves as soon as it is cancelled, in the solution of a place, too.
func TestSweepCancelledAtItsLastPlace(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	m := readMachine(t, standingPole)
	values := []answer.SweptValue{{Name: "height", At: []float64{1}}}
	_, err := beams().Sweep(ctx, values, func([]float64) (*machine.Machine, error) { cancel(); return m, nil }, nil)
	require.ErrorIs(t, err, context.Canceled)
	model, err := buildBeams(m)
	require.NoError(t, err)
	_, err = model.SolveContext(ctx, TipOnly)
	require.ErrorIs(t, err, context.Canceled)
}

// What there is not is refused; what a program forgot to give panics with the package's name and says what it was.
func TestMisuse(t *testing.T) {
	m := readMachine(t, standingPole)
	_, err := (&Builder{Detail: 7}).Build(context.Background(), m)
	require.EqualError(t, err, "Detail(7): a builder's detail is solid or section")
	model, err := buildBeams(m)
	require.NoError(t, err)
	for _, extent := range []Extent{-1, 2} {
		_, err = model.Solve(extent)
		require.ErrorContains(t, err, "a model is solved to the extent TipOnly or FullTravel")
	}
	ctx, one := context.Background(), []answer.SweptValue{{Name: "height", At: []float64{1}}}
	none := func([]float64) (*machine.Machine, error) { return nil, nil }
	next := func(more func(float64) (*machine.Machine, error)) func() {
		return func() { _, _ = model.Next(ctx, []machine.Variable{{Name: "height", At: 1, PerUnit: 1, More: more}}) }
	}
	for says, do := range map[string]func(){
		"structure: no machine to build":             func() { _, _ = buildBeams(nil) },
		"structure: a sweep that draws no machines":  func() { _, _ = beams().Sweep(ctx, one, nil, nil) },
		"structure: a sweep was drawn no machine":    func() { _, _ = beams().Sweep(ctx, one, none, nil) },
		"structure: variable height without More":    next(nil),
		"structure: variable height drew no machine": next(func(float64) (*machine.Machine, error) { return nil, nil }),
	} {
		require.PanicsWithValue(t, says, do)
	}
}

// A mesh beyond what can be solved is refused before anything is allocated, and a cancelled build stops at any detail.
func TestBuildRefuses(t *testing.T) {
	m := readMachine(t, models.ClockPlateMill)
	for _, mesh := range []float64{1e-9, -1, 100, math.NaN()} {
		_, err := (&Builder{Detail: Solid, Mesh: mesh}).Build(context.Background(), m)
		require.ErrorContains(t, err, "is not between 0.25 and 4")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := beams().Build(ctx, m)
	require.ErrorIs(t, err, context.Canceled)
}
