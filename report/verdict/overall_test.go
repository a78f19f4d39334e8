package verdict

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
)

// goodAs is how many times as good one number is as another, between a quarter and four times.
func goodAs(v, w float64, more bool) float64 {
	if !more {
		v, w = w, v
	}
	switch {
	case v < 1e-6 && w < 1e-6:
		return 1
	case v >= 4*w || w < 1e-6:
		return 4
	case w >= 4*v || v < 1e-6:
		return 0.25
	}
	return v / w
}

// overallByHand is how option i compares with option k on average, by the rule that stands above answer.Overall, from the
// JSON's numbers; in every draw from what was drawn, which the JSON does not say.
func overallByHand(a, drawn answer.Answer, i, k int) (times float64, draws []float64, verdict string) {
	product, n := 1.0, 0.0
	draws = slices.Repeat([]float64{1}, 20)
	none := true
	for _, q := range Quantities(a.Options) {
		if !slices.Contains(a.Verdict.Counted, q.Key) {
			continue
		}
		weight := weightByHand(a, q)
		n += weight
		if _, same := outcomeByHand(a, i, k, q); same {
			continue
		}
		v, _ := q.Value(a.Options[i])
		w, _ := q.Value(a.Options[k])
		product *= math.Pow(goodAs(v, w, q.MoreIsBetter), weight)
		of := func(option int) []float64 {
			s := drawn.Options[option].Sure
			if s == nil {
				return nil
			}
			return s.Columns[slices.IndexFunc(s.Columns, func(c answer.Column) bool { return c.Quantity == q.Key })].Values
		}
		x, y := of(i), of(k)
		none = none && x == nil
		for d := range draws {
			if x == nil {
				draws[d] *= math.Pow(goodAs(v, w, q.MoreIsBetter), weight)
			} else {
				draws[d] *= math.Pow(goodAs(x[d], y[d], q.MoreIsBetter), weight)
			}
		}
	}
	if n == 0 {
		return 1, nil, answer.TheSame
	}
	times = math.Pow(product, 1/n)
	wins, losses, near := 0, 0, 0
	for d := range draws {
		draws[d] = math.Pow(draws[d], 1/n)
		if draws[d] > 1+1e-9 {
			wins++
		}
		if draws[d] < 1-1e-9 {
			losses++
		}
		if math.Abs(math.Log(draws[d])) < math.Log(1.01) {
			near++
		}
	}
	level := math.Abs(math.Log(times)) < math.Log(1.01)
	if none {
		draws = nil
		wins, losses, near = 20, 20, 20
	}
	verdict = answer.NoDifference
	switch {
	case level && near == len(draws), level && none:
		verdict = answer.TheSame
	case level && near < 18: // else it lies with the ends of the range
	case level:
		verdict = ""
	case times > 1 && wins >= 16:
		verdict = answer.Better
	case times < 1 && losses >= 16:
		verdict = answer.Worse
	}
	return times, draws, verdict
}

// requireOverall holds what is said of a pair on average to what is counted by hand.
func requireOverall(t *rapid.T, a, drawn answer.Answer, i, k int, o answer.Overall) {
	times, draws, verdict := overallByHand(a, drawn, i, k)
	require.InDelta(t, times, o.Times, 1e-9*times)
	if math.Abs(math.Abs(math.Log(times))-math.Log(1.01)) > 1e-9 && verdict != "" {
		require.Equal(t, verdict, o.Verdict)
	}
	require.Equal(t, draws == nil, o.WinsPercent == nil)
	if draws == nil {
		return
	}
	wins, losses := 0.0, 0.0
	for _, d := range draws {
		if d > 1+1e-9 {
			wins += 5
		}
		if d < 1-1e-9 {
			losses += 5
		}
	}
	require.InDelta(t, wins, *o.WinsPercent, 1e-9)
	require.InDelta(t, losses, *o.LossesPercent, 1e-9)
	require.GreaterOrEqual(t, o.Range.Low, slices.Min(draws)*(1-1e-9))
	require.LessOrEqual(t, o.Range.High, slices.Max(draws)*(1+1e-9))
}

// By the rule that stands above answer.Overall, at its bounds.
func TestOverallVerdict(t *testing.T) {
	for _, c := range []struct {
		times, low, high, wins, losses float64
		verdict                        string
	}{
		{1.002, 0.995, 1.009, 60, 40, answer.TheSame},
		{1.002, 0.985, 1.009, 60, 40, answer.NoDifference},
		{1.002, 0.995, 1.012, 60, 40, answer.NoDifference},
		{1.2, 0.9, 1.4, 79, 21, answer.NoDifference},
		{1.2, 0.9, 1.4, 80, 20, answer.Better},
		{0.8, 0.7, 1.1, 21, 79, answer.NoDifference},
		{0.8, 0.7, 1.1, 20, 80, answer.Worse},
	} {
		o := answer.Overall{Times: c.times, WinsPercent: &c.wins, LossesPercent: &c.losses,
			Range: &answer.Range{Low: c.low, Median: c.times, High: c.high}}
		require.Equal(t, c.verdict, overallVerdict(o), "%+v", c)
		require.Equal(t, overallVerdict(turnedOverall(o)), turnedOverall(answer.Overall{Times: c.times, Verdict: c.verdict}).Verdict)
	}
	for times, verdict := range map[float64]string{1: answer.TheSame, 1.009: answer.TheSame, 1.011: answer.Better,
		0.98: answer.Worse} {
		require.Equal(t, verdict, overallVerdict(answer.Overall{Times: times}), times)
	}
}

// weightByHand is how much a quantity weighs on average, by the rule that stands above answer.Overall.
func weightByHand(a answer.Answer, q Quantity) float64 {
	if q.Unit != "µm" {
		return 1
	}
	own, farthest := 0.0, 0.0
	for _, r := range a.Options {
		for _, other := range Quantities(a.Options) {
			um, _ := other.Value(r)
			if other.Key == q.Key {
				own = max(own, um)
			}
			if other.Unit == "µm" && slices.Contains(a.Verdict.Counted, other.Key) {
				farthest = max(farthest, um)
			}
		}
	}
	return math.Pow(min(1, max(0, own/farthest-0.05)/0.15), 2)
}

// averaged is what the JSON says of an option against another on average.
func averaged(a answer.Answer, option, against string) (times float64, verdict string) {
	for _, p := range a.Verdict.Pairs {
		o := p.Overall
		switch {
		case p.Option == option && p.Against == against:
			return o.Times, o.Verdict
		case p.Option == against && p.Against == option:
			turned := map[string]string{answer.Better: answer.Worse, answer.Worse: answer.Better}[o.Verdict]
			if turned == "" {
				turned = o.Verdict
			}
			return 1 / o.Times, turned
		}
	}
	return 1, answer.TheSame
}

// requireSteadiest holds the pick to the pairs: nothing that is left out is as good on average as what is best, or else it is
// beaten by one that is.
func requireSteadiest(t *rapid.T, a answer.Answer, quantities map[string]Quantity) {
	v := a.Verdict
	differ := slices.ContainsFunc(v.Pairs, func(p answer.Pair) bool { return len(p.Better)+len(p.Worse) > 0 })
	require.Equal(t, differ, len(v.Steadiest.Options) > 0)
	if !differ {
		return
	}
	standing := make([]float64, len(a.Options))
	for i, r := range a.Options {
		for _, o := range a.Options {
			times, _ := averaged(a, r.Name, o.Name)
			standing[i] += math.Log(times)
		}
	}
	best := 0
	for i, s := range standing {
		if s > standing[best]+1e-9 {
			best = i
		}
	}
	equal := func(i int) bool {
		_, verdict := averaged(a, a.Options[best].Name, a.Options[i].Name)
		return i == best || verdict != answer.Better
	}
	beatenByEqual := func(i int) bool {
		for k := range a.Options {
			if k == i || !equal(k) {
				continue
			}
			if slices.ContainsFunc(v.Beaten, func(b answer.Beaten) bool {
				return b.Option == a.Options[i].Name && b.By == a.Options[k].Name
			}) {
				return true
			}
			load, most := "", -1.0
			for _, r := range []answer.Result{a.Options[i], a.Options[k]} {
				for _, l := range r.Loads {
					if *l.TipSizeUm > most {
						load, most = l.Name, *l.TipSizeUm
					}
				}
			}
			if q := quantities["movement "+load]; slices.Contains(v.Counted, q.Key) && beats(a, k, i, q) {
				return true
			}
		}
		return false
	}
	var picked []string
	for i, r := range a.Options {
		if equal(i) && !beatenByEqual(i) {
			picked = append(picked, r.Name)
		}
	}
	if picked != nil {
		require.Equal(t, picked, v.Steadiest.Options)
	}
	score := 0
	for _, q := range v.Counted {
		i := slices.IndexFunc(a.Options, func(r answer.Result) bool { return r.Name == v.Steadiest.Options[0] })
		for k := range a.Options {
			if k != i {
				side, _ := outcomeByHand(a, i, k, quantities[q])
				score += side
			}
		}
	}
	require.Equal(t, score, v.Steadiest.Beats-v.Steadiest.Beaten)
}
