package verdict

import (
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/report/number"
)

// mostTimes is the ratio beyond which one quantity counts no more than at it, and so does something against nothing: no
// builder takes a machine that is beaten in all else for the sake of one number, however good. Common practice, no source.
const mostTimes = 4

// A movement below trifling of the farthest one that is counted does not weigh on average: what is 1 µm less of sag is nothing
// to who cuts with 40 µm. From weighty of it on one weighs in full, and between the two by the square of how far it has come: no
// bound at which the order turns, and 3 µm that become 1 do not outweigh 4 more beside 40. Common practice, no source.
const (
	trifling = 0.05
	weighty  = 0.2
)

// weights are how much each of what was counted weighs on average, 0 to 1: a movement by the largest that any option has of it,
// all else in full.
func weights(options []answer.Result, counted []Quantity) []float64 {
	largest, farthest := make([]float64, len(counted)), 0.0
	for i, q := range counted {
		for _, r := range options {
			if um, ok := q.Value(r); ok && q.load != "" {
				largest[i] = max(largest[i], um)
			}
		}
		farthest = max(farthest, largest[i])
	}
	list := make([]float64, len(counted))
	for i, q := range counted {
		if q.load == "" {
			list[i] = 1
			continue
		}
		come := min(1, max(0, (largest[i]/farthest-trifling)/(weighty-trifling)))
		list[i] = come * come
	}
	return list
}

// WeightOf is how much a quantity weighs on average; 0 of one that is not counted.
func WeightOf(v *answer.Verdict, key string) float64 {
	i := slices.Index(v.Counted, key)
	if i < 0 {
		return 0
	}
	return v.Weights[i]
}

// gained is the logarithm of how many times as good one number is as another, neither negative.
func gained(a, b float64, moreIsBetter bool) float64 {
	a, b = number.WithoutRounding(a, number.Noise), number.WithoutRounding(b, number.Noise)
	if !moreIsBetter {
		a, b = b, a
	}
	if a == b {
		return 0
	}
	return math.Max(-math.Log(mostTimes), math.Min(math.Log(mostTimes), math.Log(a/b))) // of nothing an infinite one
}

// overall is how the first of a pairing comes off against the other on average over what was counted, each by its weight,
// typically and draw by draw; what was not drawn is typical in all of them.
func (p pairing) overall(counted []Quantity, weights []float64) answer.Overall {
	type draws struct {
		of, against []float64
		more        bool
		weight      float64
	}
	var drawn []draws
	typical, fixed, sum := 0.0, 0.0, 0.0 // fixed: of what was not drawn
	for i, q := range counted {
		m, ok := p.in(q)
		if !ok {
			continue
		}
		if sum += weights[i]; m.outcome == same {
			continue
		}
		a, _ := q.Value(*p.option)
		b, _ := q.Value(*p.against)
		gain := weights[i] * gained(a, b, q.MoreIsBetter)
		typical += gain
		of, against := column(p.option, q.Key), column(p.against, q.Key)
		if m.claim.WinsPercent == nil || of == nil || against == nil {
			fixed += gain
			continue
		}
		drawn = append(drawn, draws{of, against, q.MoreIsBetter, weights[i]})
	}
	if sum == 0 {
		return answer.Overall{Times: 1, Verdict: answer.TheSame}
	}
	o := answer.Overall{Times: math.Exp(typical / sum)}
	if drawn != nil {
		count := math.MaxInt
		for _, d := range drawn {
			count = min(count, len(d.of), len(d.against))
		}
		times := make([]float64, count)
		for i := range times {
			log := fixed
			for _, d := range drawn {
				log += d.weight * gained(d.of[i], d.against[i], d.more)
			}
			times[i] = math.Exp(log / sum)
		}
		even := slices.Repeat([]float64{1}, count)
		v, r := chance.Beats(times, even), chance.RangeOf(times)
		o.WinsPercent, o.LossesPercent = new(100*v.Greater), new(100*v.Less)
		o.Range = &answer.Range{Low: r.Low, Median: r.Median, High: r.High}
	}
	o.Verdict = overallVerdict(o)
	return o
}

// column is what was drawn of an option in a quantity; nil where nothing was.
func column(r *answer.Result, key string) []float64 {
	if r.Sure == nil {
		return nil
	}
	i := slices.IndexFunc(r.Sure.Columns, func(c answer.Column) bool { return c.Quantity == key })
	if i < 0 {
		return nil
	}
	return r.Sure.Columns[i].Values
}

// overallVerdict is by the bounds of a single quantity.
func overallVerdict(o answer.Overall) string {
	level := o.Times < 1+alike && 1/o.Times < 1+alike
	switch {
	case o.WinsPercent == nil && level, level && o.Range.Low > 1/(1+alike) && o.Range.High < 1+alike:
		return answer.TheSame
	case level:
	case o.Times > 1 && (o.WinsPercent == nil || *o.WinsPercent >= probably):
		return answer.Better
	case o.Times < 1 && (o.LossesPercent == nil || *o.LossesPercent >= probably):
		return answer.Worse
	}
	return answer.NoDifference
}

// turnedOverall is the same from the other side.
func turnedOverall(o answer.Overall) answer.Overall {
	back := answer.Overall{Times: 1 / o.Times, WinsPercent: o.LossesPercent, LossesPercent: o.WinsPercent, Verdict: o.Verdict}
	if o.Range != nil {
		back.Range = &answer.Range{Low: 1 / o.Range.High, Median: 1 / o.Range.Median, High: 1 / o.Range.Low}
	}
	switch o.Verdict {
	case answer.Better:
		back.Verdict = answer.Worse
	case answer.Worse:
		back.Verdict = answer.Better
	}
	return back
}

// Standing is how many times as good an option is as the others on average, as the logarithm: the mean over its pairs.
func Standing(pairs []answer.Pair, option string) (log float64) {
	own := PairsOf(pairs, option)
	for _, p := range own {
		log += math.Log(p.Overall.Times)
	}
	return log / float64(max(1, len(own)))
}
