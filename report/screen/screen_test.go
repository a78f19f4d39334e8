package screen

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/report/internal/sample"
	"tiploop/report/number"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// The numbers of these tests are invented: they guard words and layout.

// asks are the words of a command line.
var asks = answer.Asks{Detail: "--detail", Mesh: "--mesh", All: "--all", Show: "--show", Option: "--option"}

// of is a pointer to a number.
func of(v float64) *float64 { return &v }

// load is one that moves the tip.
func load(name string, um [3]float64) answer.LoadResult {
	size := number.Norm(um)
	return answer.LoadResult{Name: name, OnTip: true, TipUm: &um, TipSizeUm: &size}
}

// mill is a machine with three loads, and something of everything that a screen tells.
func mill() answer.Result {
	r := answer.Result{
		Name: "short bed", Detail: answer.SolidDetail,
		Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 1.4, Y: 1.6, Z: 2.52, Softest: 1.4,
			SoftestDirection: [3]float64{1, 0, 0}}},
		Loads: []answer.LoadResult{load("side push", [3]float64{36.4, 0.2, 0}), load("drilling", [3]float64{0, 3, 12.31}),
			{Name: "end press", TipUm: &[3]float64{0, 0, 1}, TipSizeUm: of(1), PointsUm: map[string][3]float64{
				"bed end": {0, 0, -20}, "a corner": {0, 0, -5}}}},
		Screws: []answer.ScrewLoad{{Load: "side push", Joint: "column/arm", SlipPercent: 62.3, OpenPercent: 12},
			{Load: "drilling", Joint: "column/arm", SlipPercent: 112, OpenPercent: 8}},
		Stress: []answer.Stress{{Load: "side push", Part: "arm", TimesYield: of(31)}},
		Next: &answer.Next{Gains: []answer.Gain{
			{What: "column", Kind: answer.OfThickness, Unit: "mm", At: 30, StiffnessNPerUm: 0.01, MassKg: 0.12,
				Loads: []answer.LoadGain{{Load: "side push", Um: 0.8}, {Load: "drilling", Um: 0.1}}},
			{What: "stick-out", Kind: answer.OfTool, Unit: "mm", At: 25, StiffnessNPerUm: -0.05,
				Loads: []answer.LoadGain{{Load: "side push", Um: -2}, {Load: "drilling", Um: 0}}},
			{What: "column/arm", Kind: answer.OfScrews, Unit: "row", At: 4, Whole: true, StiffnessNPerUm: 0.01, Operations: 9,
				Loads: []answer.LoadGain{{Load: "side push", Um: 1}, {Load: "drilling", Um: 0.5}}},
			{What: "next to nothing", Kind: answer.OfValue, Unit: "mm", At: 10, StiffnessNPerUm: 1e-9},
		}},
		Beam: &answer.BeamModel{TipPercent: &[3]float64{0.3, 4.2, -1}},
	}
	for _, l := range r.Loads {
		for _, percent := range []struct {
			name string
			v    float64
		}{{"part base", 10}, {"part column", 27}, {"joint column/arm", 3.2}, {"guide x: rail 1", 8}, {"guide x: rail 2", 7},
			{"guide z: rail 1", 1}, {"drive x, nut", 2}, {"ground 1", 0.8}, {"tool", 22}, {"holder", 10}, {"spindle", 9}} {
			r.Shares = append(r.Shares, answer.Share{Load: l.Name, Source: percent.name, Percent: percent.v})
		}
	}
	return r
}

// drawn is the same with what is said of a machine whose numbers were drawn.
func drawn() answer.Result {
	r := mill()
	r.Sure = &answer.Sure{Draws: 1000, Settled: true,
		Stiffness: &answer.StiffnessRanges{X: answer.Range{Low: 1.02, High: 1.83}, Y: answer.Range{Low: 1.1, High: 2.2},
			Z: answer.Range{Low: 2, High: 3.1}, Softest: answer.Range{Low: 1.02, High: 1.83}},
		Movements: []answer.MovementRange{{Load: "side push", SizeUm: answer.Range{Low: 28.3, High: 48.9}},
			{Load: "end press", Point: "bed end", SizeUm: answer.Range{Low: 14, High: 31}}},
		Culprits: []answer.UnknownShare{
			{Quantity: "stiffness softest", What: "the holder", Percent: 60},
			{Quantity: "movement side push", What: "carriages of z", Percent: 22},
			{Quantity: "movement side push", What: "faces of column/arm", Percent: 41, Settle: "push the joint and read it"},
			{Quantity: "movement side push", What: "preload of column/arm", Percent: 9.6},
			{Quantity: "movement side push", What: "modulus of the arm", Percent: 1},
		},
		Risks: []answer.Risk{{Load: "drilling", What: "joint column/arm", How: "slips", Percent: 8.2},
			{Load: "drilling", What: "joint base/column", How: "opens", Percent: 0.2}},
	}
	return r
}

func tip(t *testing.T, options ...answer.Result) string {
	t.Helper()
	var b bytes.Buffer
	none := func(answer.Result) []string { return []string{"loads", "shares"} }
	require.NoError(t, Tip(&b, answer.Answer{Machine: "Mill", Asks: asks, Options: options}, []string{"long bed"}, none))
	return b.String()
}

// running is text as one line.
func running(text string) string { return strings.Join(strings.Fields(text), " ") }

// Without draws numbers stand alone, with three digits; what is small beside the rest is left out.
func TestTipWithoutRanges(t *testing.T) {
	text := tip(t, mill())
	for _, want := range []string{
		"side push 36.4 µm right drilling 12.7 µm up end press 1.00 µm up; point bed end 20.0 µm",
		"Stiffness x 1.40, y 1.60, z 2.52 N/µm.", "Softest left–right (x), 1.40 N/µm: a push of 100 N moves it 71 µm.",
		"side push cutter and spindle 41: cutter 22, holder 10, bearings 9; parts 37: column 27, base 10; guides 16: x 15, z 1",
		"one more row of screws in column/arm: side push 1.0 µm less (3 %), 9 hole operations more",
		"cutter's stick-out 25 to 22.5 mm: side push 5.0 µm less (14 %)",
		"column 30 to 33 mm thick: side push 2.2 µm less (6 %), 0.36 kg more",
		"Slip of column/arm under “drilling”: 110 % of what it bears.", "A second, simpler model (beams) comes out 4 % softer in y.",
		"a joint's stiffness is hardly known within a factor of two",
		"--all prints everything; --show one or more of: loads, shares.", "Other options, by --option: “long bed”.",
	} {
		require.Contains(t, running(text), want)
	}
	require.NotContains(t, text, "next to nothing")
	require.NotContains(t, text, " to 48")
	require.NotContains(t, text, "Measure or improve")
}

// With draws a number has two digits and its range behind it; the three unknowns that matter most under the worst load
// stand first, and what fails in some of the draws.
func TestTipWithRanges(t *testing.T) {
	text := running(tip(t, drawn()))
	for _, want := range []string{
		"side push 36 µm (28 to 49) right", "drilling 12.7 µm up", "point bed end 20 µm (14 to 31)",
		"Stiffness x 1.4 (1.0 to 1.8), y 1.6 (1.1 to 2.2), z 2.5 (2.0 to 3.1) N/µm.",
		"Measure or improve first for “side push”: faces of column/arm (41 %): push the joint and read it; carriages of z (22 %); " +
			"preload of column/arm (10 %).", "Joint column/arm slips in 8 of 100 under “drilling”.",
		"Nine of ten machines built like this lie in the ranges in brackets.",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "base/column opens")
	require.NotContains(t, text, "the holder (60 %)")
	require.NotContains(t, text, "factor of two")
	unsettled := drawn()
	unsettled.Sure.Settled, unsettled.Sure.SettledPercent = false, 7
	require.Contains(t, running(tip(t, unsettled)), "Their ends may still be off by 7.0 %.")
}

// The widths and the order hold whatever a machine is called, and a machine of a dozen loads, cuts and shares fits.
func TestTipFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn()
		r.Check = []answer.Check{{Part: "head", Place: "where the tool leaves it", Direction: [3]float64{-1, 0, 0},
			Against: "work on the table of the mill", ForceN: 200, ReadingUm: 123}}
		for i := range rapid.IntRange(0, 12).Draw(t, "loads") {
			l := load(rapid.StringMatching(`[a-z ]{1,30}`).Draw(t, "name")+fmt.Sprint(i), [3]float64{float64(i), 1, 0})
			r.Loads = append(r.Loads, l)
			for k := range 12 {
				r.Shares = append(r.Shares, answer.Share{Load: l.Name, Source: fmt.Sprintf("part number_%d", k), Percent: 8})
			}
		}
		for i := range rapid.IntRange(0, 5).Draw(t, "cuts") {
			r.Cuts = append(r.Cuts, answer.CutResult{Name: fmt.Sprintf("cut %d", i), Load: fmt.Sprint(i), ToleranceUm: 20,
				Typical: answer.CutLevel{MovementUm: 30, NormalUm: 25, DeepestMM: of(1.2), DeepestBy: "diameter",
					Surfaces: []answer.SurfaceError{{Surface: "left wall", Normal: [3]float64{1, 0, 0}, MostUm: 25}}}})
		}
		for i := range rapid.IntRange(0, 8).Draw(t, "joints") {
			r.Screws = append(r.Screws, answer.ScrewLoad{Load: "drilling", Joint: fmt.Sprintf("a/%d", i), SlipPercent: 60})
		}
		width := rapid.IntRange(40, 200).Draw(t, "width")
		var b bytes.Buffer
		none := func(answer.Result) []string {
			return strings.Fields("loads shares next screws guides drives stress notes")
		}
		require.NoError(t, Tip(table.Medium{Writer: &b, Width: width}, answer.Answer{Machine: "Mill", Asks: asks,
			Options: []answer.Result{r}}, []string{"another", "and another", "and one more"}, none))
		if width >= 80 {
			require.LessOrEqual(t, strings.Count(b.String(), "\n"), mostLines, b.String())
		}
		for line := range strings.SplitSeq(b.String(), "\n") {
			require.LessOrEqual(t, wrap.Letters(line), min(width, 80), line)
		}
	})
}

// Colours stand on headings and on what is beyond a limit, where there are any, and take no room.
func TestColours(t *testing.T) {
	var plain, coloured bytes.Buffer
	a := answer.Answer{Machine: "Mill", Options: []answer.Result{mill()}}
	none := func(answer.Result) []string { return nil }
	require.NoError(t, Tip(&plain, a, nil, none))
	require.NoError(t, Tip(table.Medium{Writer: &coloured, Width: 80, Colour: true}, a, nil, none))
	require.NotContains(t, plain.String(), "\x1b")
	require.Contains(t, coloured.String(), "\x1b[1mWhat is near a limit\x1b[0m\n\x1b[1;31m  Slip of column/arm")
	require.Equal(t, plain.String(), strings.NewReplacer("\x1b[1;31m", "", "\x1b[1m", "", "\x1b[0m", "").Replace(coloured.String()))
}

// Pushes at one place stand in one sentence, the dial's reading also in hundredths of a millimetre; without pushes there
// is no such block.
func TestCheck(t *testing.T) {
	r := mill()
	require.NotContains(t, tip(t, r), "Check it")
	at := answer.Check{Part: "head", Place: "where the tool leaves it", Against: "work on bed"}
	left, down, other := at, at, at
	left.Direction, left.ForceN, left.ReadingUm = [3]float64{-1, 0, 0}, 100, 40.31
	down.Direction, down.ForceN, down.ReadingUm = [3]float64{0, 0, -1}, 200, 154.32
	other.Part, other.Place, other.Direction = "bed", "point end", [3]float64{0, -1, 0}
	other.Against, other.ForceN, other.ReadingUm = "the ground", 50, 3
	r.Check = []answer.Check{left, down, other}
	r.Sure = &answer.Sure{Draws: 256, Settled: true, Checks: []answer.Range{
		{Low: 35.2, High: 61.7}, {Low: 140, High: 171}, {Low: 2.9, High: 3.4}}}
	require.Contains(t, running(tip(t, r)), "Check it Push head where the tool leaves it, dial on work on bed: 100 N left "+
		"reads 40 µm (35 to 62) = 4.0 hundredths of a mm; 200 N down reads 150 µm (140 to 170) = 15. Push bed point end, dial on "+
		"the ground: 50 N towards you reads 3.0 µm (2.9 to 3.4) = 0.30 hundredths of a mm.")
}

// Each option has a screen of its own.
func TestTwoScreens(t *testing.T) {
	other := mill()
	other.Name = "long bed"
	text := tip(t, mill(), other)
	require.Contains(t, text, "Mill: short bed\n")
	require.Contains(t, text, "\n\nMill: long bed\n")
}

func TestNothingNearALimit(t *testing.T) {
	r := mill()
	r.Screws = r.Screws[:1]
	r.Screws[0].SlipPercent = 30.9
	require.Contains(t, tip(t, r), "  Nothing; nearest is slip of column/arm under “side push”, 31 %.\n")
	r.Screws, r.Stress = nil, nil
	require.Contains(t, tip(t, r), "  Nothing: no joint is on its way to slip or open, no part to yield.\n")
	r.Loads[0].TipSizeUm = of(2000)
	require.Contains(t, running(tip(t, r)), "load side push: the tip moves 2 mm")
}

// A guide without the safety that is asked for, a motor near what it holds and a screw near buckling are near a limit.
func TestGuidesAndDrivesNearALimit(t *testing.T) {
	r := mill()
	r.Screws = nil
	r.Carriages = []answer.CarriageLoad{{Load: "drilling", Axis: "x", Guide: "rail 1", StaticSafety: of(2.5),
		EquivalentN: of(900), DynamicN: of(10000), LifeKm: of(3200), LifeH: of(450)},
		{Load: "side push", Axis: "x", Guide: "rail 1", StaticSafety: of(8), EquivalentN: of(100), DynamicN: of(10000)}}
	r.Drives = []answer.DriveLoad{{Load: "drilling", Drive: "drive x", ForceN: -900, TorqueNmm: of(800), HoldingNmm: of(1000),
		BucklingN: of(1000)}}
	text := running(tip(t, r))
	for _, want := range []string{
		"Buckling of the screw of drive x under “drilling”: 90 %", "The torque that holds the motor of drive x under “drilling”: " +
			"80 %", "Static load of guide x, rail 1 under “drilling”: 50 %",
		"Shortest life: guide x, rail 1 under “drilling”, 3200 km or 450 h at its rapid move, an indication.",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "Dynamic load")
}

// A frame without a tool is asked for its points.
func TestTipWithoutATool(t *testing.T) {
	r := answer.Result{Name: "as drawn", Loads: []answer.LoadResult{{Name: "wind", PointsUm: map[string][3]float64{
		"eaves": {12.34, 0, 0}, "foot": {0, 0, 0}}}}}
	text := tip(t, r)
	require.Contains(t, text, "How far the points move; there is no tool\n  wind  12.3 µm  point eaves, right\n")
	require.NotContains(t, text, "Stiffness")
	r.Against = map[string]string{"eaves": "foot"}
	require.Contains(t, tip(t, r), "  wind  12.3 µm  point eaves against foot, right\n")
	r.Loads = nil
	require.Contains(t, tip(t, r), "There is no tool, and no load moves a point.")
}

func TestShow(t *testing.T) {
	_, inv := sample.Mill()
	inv.Asks = asks
	var b bytes.Buffer
	require.NoError(t, Show(&b, inv, []string{"parts"}))
	text := running(b.String())
	require.Contains(t, text, "rib_left, rib_right")
	require.Regexp(t, `base/rib_left, rib_left/bed,.* 4 × M6 30 × 280 milled`, text)
	require.LessOrEqual(t, strings.Count(b.String(), "\n"), mostLines)
	many := inv
	for i := range 60 {
		p, j := inv.Parts[0], inv.Joints[0]
		p.Name, p.SizeMM[0] = fmt.Sprintf("plate %d", i), float64(i)
		j.Name, j.ToMM[0] = fmt.Sprintf("a/%d", i), float64(i)
		many.Parts, many.Joints = append(many.Parts, p), append(many.Joints, j)
	}
	b.Reset()
	require.NoError(t, Show(&b, many, []string{"parts"}))
	require.LessOrEqual(t, strings.Count(b.String(), "\n"), mostLines)
	require.Regexp(t, `\d+ parts more: --show parts`, running(b.String()))
}

func TestTravel(t *testing.T) {
	path := func(um ...float64) answer.Travel {
		v := answer.Travel{Path: "bed", Load: "push", ToleranceUm: 20}
		for i, u := range um {
			v.AtMM, v.TipUm = append(v.AtMM, 100*float64(i)), append(v.TipUm, [3]float64{u, 0, 0})
		}
		return v
	}
	steep := path(10, 18, 30)
	steep.WithinMM = &[2]float64{0, 116.6}
	level := path(10, 10.05, 10)
	level.Load, level.WithinMM, level.Axis, level.SoftestNPerUm = "pull", &[2]float64{0, 200}, "x", []float64{1.2, 1.1, 1.205}
	nowhere := path(40, 30, 50)
	nowhere.Load = "drill"
	k := func(v float64) *float64 { return &v }
	um := func(v float64) *[3]float64 { return &[3]float64{v, 0, 0} }
	plane := answer.Map{Axes: [2]string{"x", "z"}, AtMM: [2][]float64{{0, 50}, {0, 40}}, ToleranceUm: 20,
		SoftestNPerUm: [][]*float64{{k(1), k(1.005)}, {k(1), nil}}, Softest: answer.MapPosition{Value: 1},
		Loads: []answer.MapLoad{{Load: "push", TipUm: [][]*[3]float64{{um(10), um(30)}, {um(10), nil}},
			Worst: answer.MapPosition{AtMM: [2]float64{0, 40}, Value: 30}, WithinPercent: of(66.7)}}}
	r := answer.Result{Name: "one", Travel: []answer.Travel{steep, level, nowhere}, Maps: []answer.Map{plane},
		Straight: []answer.Straightness{{Axis: "x", Across: "y", AtMM: []float64{-60, 60}, Um: 0.506},
			{Axis: "x", Across: "z", AtMM: []float64{-60, 60}, Um: 0.004},
			{Axis: "y", Across: "z", AtMM: []float64{-70, 70}, Um: 0.004}},
		Sure: &answer.Sure{Stretches: []answer.StretchRange{{Path: "bed", Load: "push", StretchMM: answer.Range{Low: 90.2,
			High: 141.6}}}}}
	var b bytes.Buffer
	require.NoError(t, Travel(&b, answer.Answer{Machine: "Mill", Asks: asks, Options: []answer.Result{r}}, []string{"places"}))
	text := running(b.String())
	require.Regexp(t, `bed +push +20 µm: 0 to 117, 117 \(90.2 to +30.0 µm at 200 +10.0 µm at 0\n +142\) of 200`, b.String())
	for _, want := range []string{
		"bed pull 20 µm: all of 200 10.1 µm flat", "bed drill 20 µm: nowhere 50.0 µm at 200 30.0 µm at 100",
		"Softest along x 1.10 N/µm at x 100 mm.",
		"Straight under its own weight: x from -60 to 60: 0.506 µm in y; y from -70 to 70: flat.",
		"Over x and z: stiffness flat, 1.00 N/µm; push most 30.0 µm at x 0, z 40 mm, within 20 µm on 67 % of it.",
	} {
		require.Contains(t, text, want)
	}
	b.Reset()
	require.NoError(t, Travel(&b, answer.Answer{Machine: "Mill", Options: []answer.Result{{Name: "a"}}}, nil))
	require.Contains(t, b.String(), "nothing to follow")
}

func TestSweep(t *testing.T) {
	a := answer.Sweep{Machine: "Mill", Option: "as drawn", Asks: asks,
		Values: []answer.SweptValue{{Name: "leg", Unit: "mm", Drawn: 60}}}
	for i := range 30 {
		um := 100 / float64(i+1)
		at := 40 + 10*float64(i)
		a.Values[0].At = append(a.Values[0].At, at)
		a.Places = append(a.Places, answer.SweptStep{At: []float64{at}, MassKg: 3,
			Tip:   &answer.Tip{StiffnessNPerUm: answer.Stiffness{Softest: 1 + float64(i)/10}},
			Loads: []answer.SweptLoad{{Name: "push", OnTip: true, TipSizeUm: &um}}})
	}
	push := "push"
	a.Knees = []answer.Knee{{Along: "leg", Kind: answer.LevelsOff, At: of(90), Toward: "more", Before: 0.1, Beyond: 0.02},
		{Along: "leg", Kind: answer.Steady, Toward: "more", Load: &push}}
	a.LeftOut = []answer.LeftOut{{At: []float64{200}, Why: "the arm is gone"}}
	var b bytes.Buffer
	require.NoError(t, Sweep(&b, a, []string{"places"}))
	text := running(b.String())
	for _, want := range []string{
		"Mill: as drawn: leg from 40 to 330 mm", "More leg: by the stiffness it stops paying at 90 mm, where a step gains 20 % of one " +
			"before; by “push” it pays about as much at the end as at the beginning.",
		"60 1.20 33.3 3.00 0 as drawn", "Left out: 1 place, the first leg 200 mm: the arm is gone",
	} {
		require.Contains(t, text, want)
	}
	require.LessOrEqual(t, strings.Count(b.String(), "\n"), mostLines)
}

func TestScreensRefuseNotANumber(t *testing.T) {
	bad := mill()
	bad.Loads[0].TipUm[1] = math.NaN()
	none := func(answer.Result) []string { return nil }
	a := answer.Answer{Machine: "Mill", Options: []answer.Result{bad}}
	_, inv := sample.Mill()
	inv.MassKg = math.Inf(1)
	sweep := answer.Sweep{Places: []answer.SweptStep{{MassKg: math.NaN()}}}
	for name, write := range map[string]func(w io.Writer) error{
		"tip":    func(w io.Writer) error { return Tip(w, a, nil, none) },
		"travel": func(w io.Writer) error { return Travel(w, a, nil) },
		"show":   func(w io.Writer) error { return Show(w, inv, nil) },
		"sweep":  func(w io.Writer) error { return Sweep(w, sweep, nil) },
	} {
		var b bytes.Buffer
		require.Error(t, write(&b), name)
		require.Empty(t, b.String(), name)
	}
}

// What a tenth more thickness takes off: of bending all but 1/1.1³, of stretching all but 1/1.1, and never more than of bending,
// whatever a slope claims.
func TestThicknessGoesByPower(t *testing.T) {
	require.InDelta(t, 1-1/(1.1*1.1*1.1), byPower(0.3, 0.1), 1e-12)
	require.InDelta(t, 1-1/1.1, byPower(0.1, 0.1), 1e-12)
	require.InDelta(t, 1-1/(1.1*1.1*1.1), byPower(0.5, 0.1), 1e-12)
	require.InDelta(t, 1-0.9, byPower(0.1, -0.1), 1e-12, "thinner, where that is stiffer")
}

// A gain is a share of what the model gives that its slope is of: the meshed movement goes down by as much of itself.
func TestChangesAreSharesOfTheirOwnModel(t *testing.T) {
	r := mill()
	before, _ := ChangesOf(r)
	r.Section = &answer.Result{Next: r.Next, Loads: slices.Clone(r.Loads)}
	r.Next = nil
	for i := range r.Section.Loads {
		um := *r.Section.Loads[i].TipUm
		for k := range um {
			um[k] *= 2
		}
		r.Section.Loads[i].TipUm = &um
	}
	after, _ := ChangesOf(r)
	require.Contains(t, strings.Join(before, "; "), "side push 5.0 µm less (14 %)")
	require.Contains(t, strings.Join(after, "; "), "side push 2.5 µm less (7 %)")
}
