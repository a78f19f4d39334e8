package report

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
)

// sampleSweep is an invented sweep of a leg from 30 to 130 mm that levels off; every place above 110 mm is left out.
func sampleSweep() answer.Sweep {
	s := answer.Sweep{
		Tiploop: 1, Machine: "Clock-plate mill", Option: "as drawn", Detail: "section",
		Values: []answer.SweptValue{{Name: "leg", Unit: "mm", Drawn: 50}},
	}
	within := 20.0
	s.Within = &within
	for i := range 11 {
		at := 30 + 10*float64(i)
		s.Values[0].At = append(s.Values[0].At, at)
		if at > 110 {
			s.LeftOut = append(s.LeftOut, answer.LeftOut{At: []float64{at}, Why: "bed and brace run into each other"})
			continue
		}
		s.Places = append(s.Places, samplePlace(5-4*math.Exp(-(at-30)/20), 30+at/100, at))
	}
	knee, before, beyond := 70.0, 0.0865, 0.0125
	s.Knees = []answer.Knee{
		{Along: "leg", Kind: answer.LevelsOff, At: &knee, Toward: "more", Before: before,
			Beyond: beyond},
		{Load: new("side push"), Along: "leg", Kind: answer.Steady, Toward: "more"},
		{Load: new("down push"), Along: "leg", Kind: answer.LevelsOff, At: &knee, Toward: "more", Before: 3, Beyond: 0.5},
	}
	return s
}

// samplePlace is an invented place of some stiffness.
func samplePlace(stiffness, mass float64, at ...float64) answer.SweptStep {
	p := answer.SweptStep{
		At: at, MassKg: mass, Holes: answer.Holes{Through: 22, Tapped: 22, Operations: 242, Minutes: 330},
		Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 2 * stiffness, Y: 1.5 * stiffness, Z: 3 * stiffness,
			Softest: stiffness, SoftestDirection: [3]float64{0, 1, 0}}},
	}
	for i, name := range []string{"side push", "down push", "own weight"} {
		tip := [3]float64{0, 60 / stiffness, float64(-3 * i)}
		n := number.Norm(tip)
		p.Loads = append(p.Loads, answer.SweptLoad{Name: name, OnTip: i < 2, TipUm: &tip, TipSizeUm: &n,
			PointsUm: map[string][3]float64{"bed end": {0, 0, -1 / stiffness}}})
	}
	return p
}

// sampleGrid is an invented sweep over two values, one of them a count.
func sampleGrid() answer.Sweep {
	s := sampleSweep()
	s.Places, s.LeftOut = nil, nil
	s.Values[0].At = s.Values[0].At[:7]
	s.Values = append(s.Values, answer.SweptValue{Name: "rows", Whole: true, Drawn: 2, At: []float64{1, 2, 3, 4, 5}})
	for _, a := range s.Values[0].At {
		for _, b := range s.Values[1].At {
			switch {
			case a > 80 && b > 3:
				s.LeftOut = append(s.LeftOut,
					answer.LeftOut{At: []float64{a, b}, Why: fmt.Sprintf("%g screws in a row find no room", b)})
			default:
				s.Places = append(s.Places, samplePlace(5-4*math.Exp(-(a-30)/20)+b/2, 30+a/100, a, b))
			}
		}
	}
	for i := range s.Knees {
		other := 2.0
		s.Knees[i].AtOther = &other
	}
	fifty := 50.0
	s.Knees = append(s.Knees, answer.Knee{Along: "rows", AtOther: &fifty,
		Kind: answer.Unmoved})
	return s
}

// drawnSweep is the sample drawn: a fifth up and down everywhere.
func drawnSweep() answer.Sweep {
	s := sampleSweep()
	s.Sure = &answer.SweptSure{Draws: 256, Seed: 20, Settled: true}
	for i := range s.Places {
		p := &s.Places[i]
		k := p.Tip.StiffnessNPerUm.Softest
		p.SoftestNPerUm90 = &[2]float64{0.8 * k, 1.2 * k}
		for n := range p.Loads {
			um := *p.Loads[n].TipSizeUm
			p.Loads[n].TipSizeUm90 = &[2]float64{um / 1.2, um / 0.8}
		}
	}
	for i, percent := range []float64{97.3, 99.9, 93} {
		s.Knees[i].SamePercent = new(percent)
	}
	s.Knees[0].At90, s.Knees[2].At90 = &[2]float64{60, 80}, &[2]float64{70, 70}
	return s
}

// toolless is a sweep of a model without a tool.
func toolless() answer.Sweep {
	s := sampleSweep()
	s.Knees, s.Within = nil, nil
	for i := range s.Places {
		s.Places[i].Tip = nil
		s.Places[i].Loads = s.Places[i].Loads[2:]
		s.Places[i].Loads[0].TipUm, s.Places[i].Loads[0].TipSizeUm = nil, nil
	}
	return s
}

func TestWriteSweep(t *testing.T) {
	for name, s := range map[string]answer.Sweep{"sweep_one": sampleSweep(), "sweep_two": sampleGrid(),
		"sweep_frame": toolless(), "sweep_drawn": drawnSweep()} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteSweep(b, s) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteSweepCSV(b, s) }))
		})
	}
}

// TestSureOfKnees: with how sure it is where one looks, that nothing was drawn of two values, and nothing of either where
// there is nothing to draw.
func TestSureOfKnees(t *testing.T) {
	text := func(s answer.Sweep) string {
		return strings.Join(strings.Fields(string(written(t, func(b *bytes.Buffer) error { return WriteSweep(b, s) }))), " ")
	}
	drawn := text(drawnSweep())
	require.Contains(t, drawn, "beyond it 0.0125. So it is in 97 of 100 draws within a step of it; nine in ten of those that "+
		"find one put it from 60 to 80 mm.")
	require.Contains(t, drawn, "“side push”: gains on to the end (in 99 of 100 draws); “down push”: stops paying at 70 mm (in "+
		"93 of 100 draws within a step of it).")
	require.Contains(t, text(sampleGrid()), "over two values nothing is drawn")
	for _, s := range []answer.Sweep{sampleSweep(), toolless()} {
		require.NotRegexp(t, `draws|is drawn`, text(s))
	}
	rows := readRows(t, func(b *bytes.Buffer) error { return WriteSweepCSV(b, drawnSweep()) })
	for i, p := range drawnSweep().Places {
		require.Equal(t, one(p.SoftestNPerUm90[0]), rows[i]["stiffness_softest_n_per_um_low"])
		require.Equal(t, one(p.Loads[1].TipSizeUm90[1]), rows[i]["down_push_tip_size_um_high"])
	}
	require.Empty(t, rows[len(rows)-1]["stiffness_softest_n_per_um_low"], "left out")
}

// TestKneeInWords: every kind of curve has its sentence.
func TestKneeInWords(t *testing.T) {
	s := sampleSweep()
	at := 70.0
	for kind, want := range map[answer.KneeKind]string{
		answer.LevelsOff: "More leg stops paying at 70 mm, which keeps nine tenths of the gain: up to there it is 0.0865 " +
			"N/µm per mm on average, beyond it 0.0125.",
		answer.BestInside:  "The tip is stiffest at leg 70 mm, and less stiff on both sides.",
		answer.WorstInside: "The tip is least stiff at leg 70 mm, and stiffer on both sides.",
		answer.Rising:      "The gain from more leg does not stop in this range: it grows to the very end.",
		answer.Steady:      "The gain from more leg does not stop in this range: it goes on about as it begins.",
		answer.Unmoved:     "leg makes next to no difference to the stiffness, less than 3 % in all.",
		answer.TooFew:      "There are too few places along leg to say where more stops paying.",
	} {
		k := answer.Knee{Kind: kind, Along: "leg", At: &at, Toward: "more", Before: 0.0865, Beyond: 0.0125}
		require.Equal(t, want, kneeInWords(s, s.Values[0], k))
		require.NotEmpty(t, shortKnee(s.Values[0], k))
	}
}

func TestSweepPicture(t *testing.T) {
	for name, s := range map[string]answer.Sweep{"one": sampleSweep(), "one drawn": drawnSweep(), "two": sampleGrid()} {
		p, err := SweepPicture(s)
		require.NoError(t, err, name)
		for _, f := range []paper.Format{paper.SVG, paper.PNG, paper.PDF} {
			var a, b bytes.Buffer
			require.NoError(t, p.Encode(&a, f))
			require.NoError(t, p.Encode(&b, f))
			require.Equal(t, a.Bytes(), b.Bytes())
			if f == paper.SVG {
				require.NotRegexp(t, `NaN|Inf`, a.String())
				require.Equal(t, name == "one drawn", strings.Contains(a.String(), "nine of ten"))
				if name != "two" {
					require.Contains(t, a.String(), "stops paying at 70")
				}
				require.Contains(t, a.String(), "tolerance")
			}
		}
	}
	level := drawnSweep()
	for i := range level.Places {
		level.Places[i].Tip = level.Places[0].Tip
	}
	p, err := SweepPicture(level)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, p.Encode(&b, paper.SVG))
	require.Contains(t, b.String(), "about the same all along")
	require.Contains(t, b.String(), ">softest direction: ")
	require.NotContains(t, b.String(), ">up–down (z)<", "no curve and no key to it")
	require.Contains(t, b.String(), "A ring is where more stops paying", "of the movement")
	for _, s := range []answer.Sweep{sampleSweep(), drawnSweep()} {
		s.Knees = slices.DeleteFunc(slices.Clone(s.Knees), func(k answer.Knee) bool { return k.Kind == answer.LevelsOff })
		p, err := SweepPicture(s)
		require.NoError(t, err)
		require.NotContains(t, string(papertest.Encoded(t, p, paper.SVG)), "A ring")
	}
	_, err = SweepPicture(toolless())
	require.EqualError(t, err, "nothing to draw: the model has no tool")
	s := sampleSweep()
	s.Places[0].MassKg = math.NaN()
	_, err = SweepPicture(s)
	require.Error(t, err)
	require.Error(t, WriteSweep(&bytes.Buffer{}, s))
}
