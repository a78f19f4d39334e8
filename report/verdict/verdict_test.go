package verdict

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// pushN is the force of "drilling" where it pushes the tip along x alone.
const pushN = 7

// anAnswer draws options with a stiffness, two loads, a path and a cut, each of them drawn too or none. The load
// "drilling" acts along x, in half of all answers by the same force in every option.
func anAnswer(t *rapid.T) answer.Answer {
	a := answer.Answer{Options: make([]answer.Result, rapid.IntRange(2, 5).Draw(t, "options"))}
	pushed := rapid.Bool().Draw(t, "pushed")
	drawn := rapid.Bool().Draw(t, "drawn")
	for i := range a.Options {
		r := &a.Options[i]
		r.Name = fmt.Sprintf("option %d", i)
		r.MassKg = rapid.SampledFrom([]float64{10, 10.0005, 11, 12.5}).Draw(t, "kg")
		r.Holes.Minutes = rapid.SampledFrom([]float64{60, 60.5, 90, 240}).Draw(t, "minutes")
		some := func(name string) float64 {
			return rapid.SampledFrom([]float64{0, 0.015, 1, 1.005, 1.05, 2, 5}).Draw(t, name)
		}
		s := answer.Stiffness{X: 1 + some("x"), Y: 1 + some("y"), Z: 1 + some("z")}
		s.Softest = min(s.X, s.Y, s.Z)
		r.Tip = &answer.Tip{StiffnessNPerUm: s, ComplianceUmPerN: [3][3]float64{{1 / s.X}, {0, 1 / s.Y}, {0, 0, 1 / s.Z}}}
		for _, load := range []string{"drilling", "side"} {
			um := some(load)
			if pushed && load == "drilling" {
				um = pushN / s.X
			}
			way := [3]float64{um, 0, 0}
			if load == "side" {
				way = [3]float64{0.6 * um, 0.8 * um, 0}
			}
			r.Loads = append(r.Loads, answer.LoadResult{Name: load, OnTip: true, TipUm: &way, TipSizeUm: &um,
				PointsUm: map[string][3]float64{"bed": {0, some("bed"), 0}}})
		}
		r.Travel = []answer.Travel{{Path: "table", Load: "side", ToleranceUm: 10, WithinMM: &[2]float64{0, some("stretch")}}}
		deepest := some("depth")
		r.Cuts = []answer.CutResult{{Name: "slot", Typical: answer.CutLevel{DeepestMM: &deepest}}}
		if drawn { // what is drawn of an option goes with its faces alone
			r.Sure = &answer.Sure{ErrorPercent: 0.5 * float64(i), Unknowns: []answer.DrawnUnknown{
				{Key: fmt.Sprint("faces ", i), What: "faces", Settle: "push it"}, {Key: "nuts", What: "nuts", Settle: "measure them"}}}
			for k := range 20 {
				r.Sure.Unknowns[0].Logs = append(r.Sure.Unknowns[0].Logs, math.Sin(float64(k*(i+1))))
				r.Sure.Unknowns[1].Logs = append(r.Sure.Unknowns[1].Logs, float64(k%2))
			}
		}
	}
	if !drawn {
		return a
	}
	for _, q := range Quantities(a.Options) {
		for i := range a.Options {
			v, _ := q.Value(a.Options[i])
			c := answer.Column{Quantity: q.Key, MoreIsBetter: q.MoreIsBetter}
			spread := rapid.SampledFrom([]float64{0, 0.002, 0.1, 1}).Draw(t, "spread")
			for k := range 20 {
				c.Values = append(c.Values, v*math.Exp(spread*math.Sin(float64(k*(i+1)))))
			}
			r := a.Options[i].Sure
			r.Columns = append(r.Columns, c)
		}
	}
	a.Duels = answer.Duels(a.Options)
	return a
}

// read is an answer with its verdict as whoever reads its JSON has it.
func read(t *rapid.T, a answer.Answer) answer.Answer {
	a.Verdict = Of(a)
	require.NoError(t, number.CheckFinite(a))
	data, err := json.Marshal(a)
	require.NoError(t, err)
	var back answer.Answer
	require.NoError(t, json.Unmarshal(data, &back))
	return back
}

// outcomeByHand is how option i comes off against option k in a quantity, recomputed from the JSON's numbers by the rule
// that stands above answer.Verdict: 1 better, -1 worse, 0 no real difference, and whether they are the same.
func outcomeByHand(a answer.Answer, i, k int, q Quantity) (side int, same bool) {
	if i < k { // duels are those of an option against one before it
		side, same = outcomeByHand(a, k, i, q)
		return -side, same
	}
	v, _ := q.Value(a.Options[i])
	w, _ := q.Value(a.Options[k])
	if v < 1e-6 && w < 1e-6 {
		return 0, true
	}
	bound := 0.01 * math.Max(v, w)
	load := ""
	if !q.MoreIsBetter {
		load = strings.Trim(q.Item, "“”")
	}
	for _, r := range []answer.Result{a.Options[i], a.Options[k]} {
		for _, l := range r.Loads {
			if l.Name == load {
				bound = math.Max(bound, 0.01*math.Max(math.Hypot(l.TipUm[0], l.TipUm[1]), l.PointsUm["bed"][1]))
			}
		}
	}
	sign := 1
	if v > w != q.MoreIsBetter {
		sign = -1
	}
	j := slices.IndexFunc(a.Duels, func(d answer.Duel) bool {
		return d.Quantity == q.Key && d.Option == a.Options[i].Name && d.Against == a.Options[k].Name
	})
	near := math.Abs(v-w) < bound
	if j < 0 {
		if near {
			return 0, true
		}
		return sign, false
	}
	d := a.Duels[j]
	var drawsNear bool
	bound += (a.Options[i].Sure.ErrorPercent + a.Options[k].Sure.ErrorPercent) / 100 * math.Max(v, w)
	if d.Ratio == nil {
		drawsNear = d.TiesPercent >= 90
	} else {
		drawsNear = w*math.Abs(d.Ratio.Low-1) < bound && w*math.Abs(d.Ratio.High-1) < bound
	}
	switch {
	case near:
		return 0, drawsNear
	case d.WinsPercent >= 80:
		return 1, false
	case d.LossesPercent >= 80:
		return -1, false
	}
	return 0, false
}

// wins are the draws that an option wins against another, percent, by the JSON's duels.
func wins(a answer.Answer, option, against, key string) (percent float64, drawn bool) {
	for _, d := range a.Duels {
		switch {
		case d.Quantity != key:
		case d.Option == option && d.Against == against:
			return d.WinsPercent, true
		case d.Option == against && d.Against == option:
			return d.LossesPercent, true
		}
	}
	return 0, false
}

// beats tells by hand whether one option beats another in a quantity.
func beats(a answer.Answer, i, k int, q Quantity) bool {
	side, _ := outcomeByHand(a, i, k, q)
	return side > 0
}

// repeatsByHand are those of the random answers, of what differs, by the rule that stands above answer.Repeat: "drilling"
// pushes the tip along x, "side" in no axis.
func repeatsByHand(a answer.Answer, differ []string) map[string]string {
	var forces []float64
	for _, r := range a.Options {
		forces = append(forces, r.Loads[0].TipUm[0]*r.Tip.StiffnessNPerUm.X) // by the stiffness that it says
	}
	pushed := slices.Min(forces) > 0.99*slices.Max(forces)
	repeats := map[string]string{}
	for _, axis := range []string{"x", "y", "z"} {
		softestOf := true
		for _, r := range a.Options {
			s := r.Tip.StiffnessNPerUm
			softestOf = softestOf && s.Softest > 0.99*map[string]float64{"x": s.X, "y": s.Y, "z": s.Z}[axis]
		}
		var one []string
		for _, key := range []string{"movement drilling", "stiffness " + axis, "stiffness softest"} {
			is := key == "stiffness "+axis || key == "stiffness softest" && softestOf ||
				key == "movement drilling" && axis == "x" && pushed
			if is && slices.Contains(differ, key) && repeats[key] == "" {
				one = append(one, key)
			}
		}
		for n, key := range one {
			if n > 0 {
				repeats[key] = one[0]
			}
		}
	}
	return repeats
}

// TestVerdictAgainstBruteForce recomputes every claim of a verdict from the numbers of its JSON, each pair and quantity
// by itself.
func TestVerdictAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drawn := anAnswer(t)
		a := read(t, drawn)
		v := a.Verdict
		index := func(name string) int {
			return slices.IndexFunc(a.Options, func(r answer.Result) bool { return r.Name == name })
		}
		quantities := map[string]Quantity{}
		for _, q := range Quantities(a.Options) {
			quantities[q.Key] = q
		}
		got := map[string]string{}
		for _, r := range v.Repeats {
			got[r.Quantity] = r.Of
		}
		differ := slices.Concat(v.Counted, slices.Collect(maps.Keys(got)))
		require.Len(t, slices.Concat(differ, v.Same), len(quantities), "every direction, load, point, path and cut")
		require.Equal(t, repeatsByHand(a, differ), got)
		require.Len(t, v.Weights, len(v.Counted))
		for n, key := range v.Counted {
			require.InDelta(t, weightByHand(a, quantities[key]), v.Weights[n], 1e-9)
			require.Equal(t, v.Weights[n] == 0, slices.Contains(v.Trifles, key))
		}
		beaten := 0
		for _, p := range v.Pairs {
			i, k := index(p.Option), index(p.Against)
			require.Len(t, v.Counted, len(p.Better)+len(p.Worse)+len(p.Open)+len(p.Same))
			requireOverall(t, a, drawn, i, k, p.Overall)
			requireOverall(t, a, drawn, k, i, Turned(p).Overall)
			for _, c := range p.Better {
				require.True(t, beats(a, i, k, quantities[c.Quantity]), "%s better in %s", p.Option, c.Quantity)
				x, _ := quantities[c.Quantity].Value(a.Options[i])
				y, _ := quantities[c.Quantity].Value(a.Options[k])
				if c.Ratio != nil {
					require.InDelta(t, x, *c.Ratio*y, 1e-9)
				}
			}
			for _, c := range p.Worse {
				require.True(t, beats(a, k, i, quantities[c.Quantity]), "%s worse in %s", p.Option, c.Quantity)
			}
			for _, c := range p.Open {
				side, same := outcomeByHand(a, i, k, quantities[c.Quantity])
				require.True(t, side == 0 && !same, c.Quantity)
			}
			for _, key := range p.Same {
				_, same := outcomeByHand(a, i, k, quantities[key])
				require.True(t, same, key)
			}
			lost := func(c answer.Claim) bool { return *c.LossesPercent > 0 }
			won := func(c answer.Claim) bool { return *c.WinsPercent > 0 }
			if len(p.Better) > 0 && len(p.Worse) == 0 && !slices.ContainsFunc(p.Open, lost) ||
				len(p.Worse) > 0 && len(p.Better) == 0 && !slices.ContainsFunc(p.Open, won) {
				beaten++
			}
		}
		for _, key := range v.Same {
			for i := range a.Options {
				for k := range a.Options {
					_, same := outcomeByHand(a, i, k, quantities[key])
					require.True(t, i == k || same, key)
				}
			}
		}
		require.Len(t, v.Pairs, len(a.Options)*(len(a.Options)-1)/2)
		require.Len(t, v.Beaten, beaten)
		for _, b := range v.Beaten {
			least := 100.0
			for _, key := range v.Counted {
				require.False(t, beats(a, index(b.Option), index(b.By), quantities[key]))
				if p, ok := wins(a, b.By, b.Option, key); ok && beats(a, index(b.By), index(b.Option), quantities[key]) {
					least = math.Min(least, p)
				}
			}
			if b.LeastPercent != nil {
				require.InDelta(t, least, *b.LeastPercent, 1e-9)
			}
		}
		requireSteadiest(t, a, quantities)
		for _, s := range v.Settle {
			require.Equal(t, "faces", s.What, "the largest share")
			require.Equal(t, "push it", s.Settle)
			w, _ := wins(a, s.Option, s.Against, s.Claim.Quantity)
			l, _ := wins(a, s.Against, s.Option, s.Claim.Quantity)
			require.True(t, w > 0 && l > 0, "either is the better one in some draws")
		}
	})
}

// TestPurchaseAgainstBruteForce: no other option gains more over the cheapest for a kilogram, or an hour, than the one
// that is picked.
func TestPurchaseAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := read(t, anAnswer(t))
		for _, tt := range []struct {
			p     answer.Purchase
			of    func(answer.Result) float64
			least float64
		}{
			{a.Verdict.Kilogram, func(r answer.Result) float64 { return r.MassKg }, 0.001},
			{a.Verdict.Hour, func(r answer.Result) float64 { return r.Holes.Minutes / 60 }, 1.0 / 60},
		} {
			costs := map[string]float64{}
			for _, r := range a.Options {
				costs[r.Name] = tt.of(r)
			}
			cheapest := costs[tt.p.Cheapest]
			for _, r := range a.Options {
				require.Greater(t, costs[r.Name], cheapest-tt.least)
				gain, cost := gainByHand(a, r.Name, tt.p.Cheapest), costs[r.Name]-cheapest
				if cost < tt.least || gain == 0 {
					continue
				}
				require.NotEmpty(t, tt.p.Option)
				require.NotEqual(t, tt.p.Cheapest, tt.p.Option, "%s gains", r.Name)
				require.LessOrEqual(t, gain/cost, tt.p.GainPercent/100/tt.p.Cost*1.0101)
			}
			if tt.p.Option != "" && tt.p.Option != tt.p.Cheapest {
				require.InDelta(t, 100*gainByHand(a, tt.p.Option, tt.p.Cheapest), tt.p.GainPercent, 1e-6)
				require.InDelta(t, costs[tt.p.Option]-cheapest, tt.p.Cost, 1e-9)
			}
		}
	})
}

// gainByHand is by how much an option is better than another on average, where it really is; see requireOverall.
func gainByHand(a answer.Answer, option, against string) float64 {
	times, verdict := averaged(a, option, against)
	if verdict != answer.Better {
		return 0
	}
	return times - 1
}
