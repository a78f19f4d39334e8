package verdict

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// largest tells claims in brackets by how much they come to on average, so many of them; of a kind those that say the same
// once.
func (w *Words) largest(claims []answer.Claim, most int) string {
	size := func(c answer.Claim) float64 {
		if c.Ratio == nil || *c.Ratio == 0 {
			return math.Inf(1)
		}
		return math.Abs(math.Log(*c.Ratio))
	}
	claims = slices.Clone(claims)
	slices.SortStableFunc(claims, func(a, b answer.Claim) int {
		comesTo := func(c answer.Claim) float64 {
			return WeightOf(w.Verdict, c.Quantity) * min(math.Log(mostTimes), size(c))
		}
		return cmp.Or(cmp.Compare(comesTo(b), comesTo(a)), cmp.Compare(size(b), size(a)))
	})
	var words, told []string
	for _, c := range claims {
		q := w.quantities[c.Quantity]
		one := q.Group + changeInWords(c.Ratio)
		if len(words) < most && !slices.Contains(told, one) {
			words, told = append(words, q.Words()+" "+changeInWords(c.Ratio)+inDraws(c)), append(told, one)
		}
	}
	return inBrackets(words)
}

// oneSided tells of what is open in brackets where an option is never worse, or never better.
func (w *Words) oneSided(claims []answer.Claim, most int) string {
	var words []string
	for _, c := range claims {
		wins, losses := *c.WinsPercent, *c.LossesPercent
		if len(words) < most && min(wins, losses) == 0 && max(wins, losses) > 0 && max(wins, losses) < probably {
			words = append(words, w.quantities[c.Quantity].Words()+": "+oftener(c))
		}
	}
	return inBrackets(words)
}

func inBrackets(words []string) string {
	if words == nil {
		return ""
	}
	return " (" + strings.Join(words, "; ") + ")"
}

// inDraws says behind a claim in how many draws it holds: ", in 97 of 100"; where ties matter, the other side too.
func inDraws(c answer.Claim) string {
	if c.WinsPercent == nil {
		return ""
	}
	const told = 99.5 // percent: fewer leave room for a tie that is seen
	if *c.WinsPercent+*c.LossesPercent >= told {
		return ", in " + phrase.Chance(max(*c.WinsPercent, *c.LossesPercent))
	}
	return ", " + oftener(c)
}

// oftener says in how many draws an option is better and in how many worse: "never worse, better in 41 of 100".
func oftener(c answer.Claim) string {
	if *c.WinsPercent >= *c.LossesPercent {
		return often("worse", *c.LossesPercent) + ", " + often("better", *c.WinsPercent)
	}
	return often("better", *c.WinsPercent) + ", " + often("worse", *c.LossesPercent)
}

func often(what string, percent float64) string {
	if percent == 0 {
		return "never " + what
	}
	return what + " in " + phrase.Chance(percent)
}

// changeInWords writes a ratio as a change.
func changeInWords(ratio *float64) string {
	switch {
	case ratio == nil:
		return "some against none"
	case *ratio == 0:
		return "none against some"
	}
	if times, ok := phrase.Times(*ratio); ok {
		return times + " times as much"
	}
	if *ratio >= 1 {
		return number.Digits(100*(*ratio-1), 2) + " % more"
	}
	return number.Digits(100*(1-*ratio), 2) + " % less"
}
