package verdict

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// moved is an option whose load "drilling" moves the tip and a point so far, µm.
func moved(name string, tip, point float64) answer.Result {
	return answer.Result{Name: name, Loads: []answer.LoadResult{{Name: "drilling", OnTip: true, TipUm: &[3]float64{0, 0, tip},
		TipSizeUm: &tip, PointsUm: map[string][3]float64{"front": {point}}}}}
}

// drawnWithin is an option drawn on a basis of that error, percent.
func drawnWithin(percent float64, r answer.Result) answer.Result {
	r.Sure = &answer.Sure{ErrorPercent: percent}
	return r
}

// duelOf is how two options compare in a quantity in draws.
func duelOf(key string, wins, losses float64, ratio *answer.Range) answer.Duel {
	return answer.Duel{Quantity: key, Option: "b", Against: "a", BetterPercent: wins + (100-wins-losses)/2, WinsPercent: wins,
		LossesPercent: losses, TiesPercent: 100 - wins - losses, Ratio: ratio}
}

func ratio(low, high float64) *answer.Range {
	return &answer.Range{Low: low, Median: (low + high) / 2, High: high}
}

// TestWhatDecidesNothing: the bounds are held against differences, and ties are no wins.
func TestWhatDecidesNothing(t *testing.T) {
	point := answer.MovementKey("drilling", "front")
	tip := answer.MovementKey("drilling", "")
	for _, tt := range []struct {
		name string
		a, b answer.Result
		duel []answer.Duel
		same []string
		open []string
		wins []string
	}{
		{name: "0.13 µm beside 48", a: moved("a", 48, 0.69), b: moved("b", 40, 0.82),
			duel: []answer.Duel{duelOf(point, 0, 100, ratio(1.1, 1.3)), duelOf(tip, 99, 1, ratio(0.8, 0.9))},
			same: []string{point}, wins: []string{tip}},
		{name: "0.13 µm beside 48 of one value beyond the bound", a: moved("a", 48, 0.4), b: moved("b", 40, 0.6),
			same: []string{point}, wins: []string{tip}},
		{name: "0.84 % within the bound, not in the draws", a: moved("a", 48, 47), b: moved("b", 48, 47.39),
			duel: []answer.Duel{duelOf(point, 1, 99, ratio(1.002, 1.03))}, same: []string{tip}, open: []string{point}},
		{name: "half a percent in every draw", a: moved("a", 48, 0), b: moved("b", 47.76, 0),
			duel: []answer.Duel{duelOf(tip, 100, 0, ratio(0.994, 0.996))}, same: []string{tip, point}},
		{name: "apart by no more than the bases", a: drawnWithin(0.6, moved("a", 48, 0)), b: drawnWithin(0.7, moved("b", 48.1, 0)),
			duel: []answer.Duel{duelOf(tip, 4, 96, ratio(1.001, 1.02))}, same: []string{tip, point}},
		{name: "apart by more than the bases", a: drawnWithin(0.3, moved("a", 48, 0)), b: drawnWithin(0.4, moved("b", 48.1, 0)),
			duel: []answer.Duel{duelOf(tip, 4, 96, ratio(1.001, 1.02))}, same: []string{point}, open: []string{tip}},
		{name: "alike in nine draws of ten, not typically", a: moved("a", 48, 0), b: moved("b", 47, 0),
			duel: []answer.Duel{duelOf(tip, 50, 50, ratio(0.995, 1.005))}, same: []string{point}, open: []string{tip}},
		{name: "nothing against nothing", a: moved("a", 0, 0), b: moved("b", 1e-7, 0),
			duel: []answer.Duel{duelOf(tip, 100, 0, nil)}, same: []string{tip, point}},
		{name: "ties", a: moved("a", 48, 0), b: moved("b", 40, 0),
			duel: []answer.Duel{duelOf(tip, 70, 0, ratio(0.7, 1))}, same: []string{point}, open: []string{tip}},
		{name: "a tie in 95 of 100, once nothing", a: moved("a", 48, 0), b: moved("b", 47.9, 0),
			duel: []answer.Duel{duelOf(tip, 3, 2, nil)}, same: []string{tip, point}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := pairings(answer.Answer{Options: []answer.Result{tt.a, tt.b}, Duels: tt.duel})[0]
			got := map[outcome][]string{}
			for _, q := range Quantities([]answer.Result{tt.a, tt.b}) {
				m, ok := p.in(q)
				require.True(t, ok)
				got[m.outcome] = append(got[m.outcome], q.Key)
			}
			require.Equal(t, map[outcome][]string{same: tt.same, open: tt.open, better: tt.wins},
				map[outcome][]string{same: got[same], open: got[open], better: got[better]})
			require.Empty(t, got[worse])
		})
	}
}

// TestMeasureOnlyWhatMayTurn: where an option is never worse nothing is offered to measure, however open it is.
func TestMeasureOnlyWhatMayTurn(t *testing.T) {
	tip := answer.MovementKey("drilling", "")
	q := movement("drilling", "")
	for _, tt := range []struct {
		wins, losses float64
		turns        bool
	}{{41, 0, false}, {0, 41, false}, {41, 20, true}} {
		p := pairings(answer.Answer{Options: []answer.Result{moved("a", 48, 0), moved("b", 40, 0)},
			Duels: []answer.Duel{duelOf(tip, tt.wins, tt.losses, ratio(0.7, 1.2))}})[0]
		m, _ := p.in(q)
		require.Equal(t, open, m.outcome)
		require.Equal(t, tt.turns, m.turns, tt)
	}
}

// pushed is an option with a diagonal compliance, pushed along y, and along y and z at once.
func pushed(name string, y, z, force float64) answer.Result {
	along, both := force/y, math.Hypot(50/y, 50/z)
	return answer.Result{Name: name,
		Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 9, Y: y, Z: z, Softest: min(y, z)},
			ComplianceUmPerN: [3][3]float64{{1.0 / 9}, {0, 1 / y}, {0, 0, 1 / z}}},
		Loads: []answer.LoadResult{
			{Name: "aside", OnTip: true, TipUm: &[3]float64{0, along, 0}, TipSizeUm: &along},
			{Name: "little", OnTip: true, TipUm: &[3]float64{0, along / 5, 0}, TipSizeUm: new(along / 5)},
			{Name: "askew", OnTip: true, TipUm: &[3]float64{0, 50 / y, 50 / z}, TipSizeUm: &both},
		}}
}

// TestOneNumberCountsOnce: the softest direction that is y in every option, the stiffness in y and two pushes along it are
// one number; another force in one option, or another softest direction, is something else.
func TestOneNumberCountsOnce(t *testing.T) {
	for _, tt := range []struct {
		name    string
		b       answer.Result
		repeats map[string]string
	}{
		{"all one", pushed("b", 2, 5, 30), map[string]string{"movement little": "movement aside", "stiffness y": "movement aside",
			"stiffness softest": "movement aside"}},
		{"another force", pushed("b", 2, 5, 40), map[string]string{"stiffness softest": "stiffness y"}},
		{"softest in z", pushed("b", 2, 1.5, 30), map[string]string{"movement little": "movement aside",
			"stiffness y": "movement aside"}},
	} {
		v := Of(answer.Answer{Options: []answer.Result{pushed("a", 1, 4, 30), tt.b}})
		got := map[string]string{}
		for _, r := range v.Repeats {
			got[r.Quantity] = r.Of
			require.NotContains(t, v.Counted, r.Quantity)
			require.Contains(t, v.Counted, r.Of)
		}
		require.Equal(t, tt.repeats, got, tt.name)
		require.Contains(t, v.Counted, "movement askew", tt.name)
	}
}

// TestNothingToCompare: without a tool and loads nothing is picked, and no list is empty.
func TestNothingToCompare(t *testing.T) {
	a := answer.Answer{Options: []answer.Result{{Name: "a", MassKg: 1}, {Name: "b", MassKg: 2}}}
	v := Of(a)
	require.Empty(t, v.Kilogram.Option+v.Kilogram.Cheapest+v.Hour.Option)
	w := InWords(a, []string{"a", "b"})
	require.False(t, w.Compared())
	require.Equal(t, "There is nothing to compare: no tool, and no load that moves a point.", w.Counted())
	require.Equal(t, w.Counted(), w.CountedInShort())
}

// TestNothingIsTurned: nothing against something is something against nothing from the other side.
func TestNothingIsTurned(t *testing.T) {
	v := Of(answer.Answer{Options: []answer.Result{moved("a", 48, 0), moved("b", 0, 0)}})
	require.Len(t, v.Pairs[0].Better, 1)
	require.Equal(t, "none against some", changeInWords(v.Pairs[0].Better[0].Ratio))
	back := Turned(v.Pairs[0])
	require.Equal(t, "some against none", changeInWords(back.Worse[0].Ratio))
	require.Equal(t, v.Pairs[0], Turned(back))
}

// TestPicksCanStandTogether: who wins most often need not be the steadiest; a gain is told by what it is in, and by the same
// number as the claim where only one was counted.
func TestPicksCanStandTogether(t *testing.T) {
	of := func(name string, kg float64, um ...float64) answer.Result {
		r := answer.Result{Name: name, MassKg: kg}
		for i, v := range um {
			r.Loads = append(r.Loads, answer.LoadResult{Name: fmt.Sprint("load ", i), OnTip: true, TipUm: &[3]float64{v},
				TipSizeUm: &v})
		}
		return r
	}
	say := func(options ...answer.Result) string {
		var heads []string
		for _, r := range options {
			heads = append(heads, r.Name)
		}
		w := InWords(answer.Answer{Options: options}, heads)
		says, against := w.Steadiest(9)
		return strings.Join(append(append([]string{says}, against...), w.Purchases()...), "\n")
	}
	text := say(of("light", 1, 10, 10, 5), of("heavy", 2, 9, 9, 10))
	require.Contains(t, text, "Steadiest: “light”.\nAgainst “heavy”: 17 % better on average; better in 1 of 3 (tip under “load 2” "+
		"50 % less), worse in 2 (tip under “load 0” 11 % more).")
	require.Contains(t, text, "Most for a kilogram: “light”; none that weighs more is better on average.")
	text = say(of("one", 1, 10, 10, 8), of("two", 2, 10, 8, 10))
	require.Contains(t, text, "Steadiest: “one” and “two”; on average there is no real difference between them.\n“one” against "+
		"“two”: alike on average; better in 1 of 2 (tip under “load 2” 20 % less), worse in 1 (tip under “load 1” 25 % more).")
	text = say(of("one", 1, 40, 8, 3), of("two", 2, 44, 8, 1))
	require.Contains(t, text, "Steadiest: “one”.\nAgainst “two”: 8.1 % better on average; better in 1 of 2 (tip under “load 0” 9.1 % "+
		"less), worse in 1 (tip under “load 2” 3.0 times as much).", "3 µm beside 40 hardly weigh")
	text = say(of("one", 1, 40, 3), of("two", 2, 40, 2), of("three", 2, 44, 3))
	require.Contains(t, text, "Steadiest: “two”.", "alike on average, and never worse")
	text = say(of("one", 1, 10, 20, 8), of("two", 2, 10, 16, 10))
	require.Contains(t, text, "Steadiest: “two”.", "of equals by the worst load")
	text = say(of("thin", 1, 10), of("thick", 1.05, 5.5))
	require.Contains(t, text, "(tip under “load 0” 45 % less)")
	require.Contains(t, text, "Most for a kilogram: “thick”, tip under “load 0” 45 % less than “thin” for 50 g more.")
	text = say(of("thin", 1, 10, 10), of("thick", 2, 5, 9))
	require.Contains(t, text, "Most for a kilogram: “thick”, 49 % better on average than “thin”, in movement alone, "+
		"for 1.00 kg more.")
	text = say(of("thin", 1, 10, 10, 10, 10, 10), of("thick", 1, 5, 9, 12, 10, 10),
		of("other", 1, 10, 10, 10, 3, 3))
	require.Contains(t, text, "Steadiest: “other”. Held against each of the others in turn it is better in 5 of 10, worse in 2.")
	require.Contains(t, text, "Against “thick”: 43 % better on average; better in 3 of 5 (tip under “load 3” 70 % less; tip "+
		"under “load 2” 17 % less), worse in 2 (tip under “load 0” 2.0 times as much; tip under “load 1” 11 % more).")
	require.Contains(t, text, "Against “thin”: 62 % better on average; better in 2 of 5 (tip under “load 3” 70 % less), the "+
		"same in 3.")
}

// TestCountedInShortSaysWhatDoesNotWeigh: who reads of an average must know what is not in it, or in part.
func TestCountedInShortSaysWhatDoesNotWeigh(t *testing.T) {
	for _, um := range []float64{2, 5} {
		a := answer.Answer{Options: []answer.Result{moved("a", 50, um), moved("b", 40, um/2)}}
		a.Verdict = Of(a)
		w := InWords(a, []string{"a", "b"})
		require.Equal(t, "Counted: all 2 numbers that differ; 1 moves too little to weigh in full.", w.CountedInShort())
		_, against := w.Steadiest(1)
		require.Contains(t, against[0], "tip under “drilling” 20 % less", "before what is small, halved as that is")
	}
}

// A movement that grows past a bound turns no order by itself: what an option comes to on average goes with it in small steps.
func TestOverallDoesNotJump(t *testing.T) {
	last := math.NaN()
	for i := range 1000 {
		um := 0.02 * float64(i)
		a := answer.Answer{Options: []answer.Result{moved("a", 44, um/3), moved("b", 40, um)}}
		times := Of(a).Pairs[0].Overall.Times
		if i > 0 {
			require.InDelta(t, last, times, 0.004, "at %g µm", um)
		}
		last = times
	}
}

// What is large and the same for all does not make trifles of what is left to tell options by.
func TestOverallDoesNotJumpBesideWhatIsTheSame(t *testing.T) {
	of := func(name string, drilling, side float64) answer.Result {
		tip := 100.0
		r := moved(name, drilling, side)
		r.Loads = append(r.Loads, answer.LoadResult{Name: "own weight", OnTip: true, TipUm: &[3]float64{0, 0, tip}, TipSizeUm: &tip,
			PointsUm: map[string][3]float64{"front": {}}})
		return r
	}
	last := math.NaN()
	for i := range 1000 {
		um := 4.5 + 0.001*float64(i)
		a := answer.Answer{Options: []answer.Result{of("a", um/2, 4.5), of("b", um, 1.5)}}
		times := Of(a).Pairs[0].Overall.Times
		if i > 0 {
			require.InDelta(t, last, times, 0.004, "at %g µm", um)
		}
		last = times
	}
}
