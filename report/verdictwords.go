package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// judge words a verdict. Options go by the heads that they have in a table.
type judge struct {
	*answer.Verdict
	heads      map[string]string
	quantities map[string]verdict.Quantity
	claims     int // how many of a pair's claims are told one by one
}

// judgeOf makes the verdict on an answer of several options; heads are those of the options in their order.
func judgeOf(a answer.Answer, heads []string, claims int) judge {
	j := judge{verdict.Of(a), map[string]string{}, map[string]verdict.Quantity{}, claims}
	for i, r := range a.Options {
		j.heads[r.Name] = heads[i]
	}
	for _, q := range verdict.Quantities(a.Options) {
		j.quantities[q.Key] = q
	}
	return j
}

// grouped names quantities, those of a kind together: "stiffness x, y; tip under “a”, “b”".
func (j judge) grouped(keys []string) string {
	var groups []string
	items := map[string][]string{}
	for _, key := range keys {
		q := j.quantities[key]
		if items[q.Group] == nil {
			groups = append(groups, q.Group)
		}
		items[q.Group] = append(items[q.Group], q.Item)
	}
	for i, g := range groups {
		groups[i] = g + " " + strings.Join(items[g], ", ")
	}
	return strings.Join(groups, "; ")
}

// counted says what was counted.
func (j judge) counted() string {
	if len(j.Counted) == 0 {
		return "Nothing that was compared differs: " + j.grouped(j.Same) + "."
	}
	words := fmt.Sprintf("Counted, %d: %s.", len(j.Counted), j.grouped(j.Counted))
	if len(j.Same) > 0 {
		words += " The same for all: " + j.grouped(j.Same) + "."
	}
	return words
}

// steadiest says which option is the steadiest, and how it comes off against each of the others.
func (j judge) steadiest() []string {
	switch len(j.Steadiest.Options) {
	case 0:
		return []string{"Steadiest: none; there is no real difference."}
	case 1:
	default:
		var names []string
		for _, name := range j.Steadiest.Options {
			names = append(names, j.heads[name])
		}
		return []string{"Steadiest: " + list(names) + "; nothing counted tells them apart."}
	}
	name := j.Steadiest.Options[0]
	says := []string{fmt.Sprintf("Steadiest: %s; over all pairs it is better %s and worse %s.", j.heads[name],
		oftenInWords(j.Steadiest.Beats), oftenInWords(j.Steadiest.Beaten))}
	for _, p := range j.Pairs {
		if p.Against == name {
			p = verdict.Turned(p)
		}
		if p.Option == name {
			says = append(says, j.against(p))
		}
	}
	return says
}

// oftenInWords writes how often something happens.
func oftenInWords(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// against says in how much of what was counted an option is better than another, and where most.
func (j judge) against(p answer.Pair) string {
	all := len(p.Better) + len(p.Worse) + len(p.Open) + len(p.Same)
	words := fmt.Sprintf("Against %s: better in %d of %d", j.heads[p.Against], len(p.Better), all)
	if claims := j.largest(p.Better); claims != "" {
		words += " (" + claims + ")"
	}
	if len(p.Worse) > 0 {
		words += fmt.Sprintf(", worse in %d (%s)", len(p.Worse), j.largest(p.Worse))
	}
	if n := len(p.Open); n > 0 {
		words += fmt.Sprintf(", no real difference in %d", n)
	}
	return words + "."
}

// largest tells the claims by the size of their ratios, as many as there is room for.
func (j judge) largest(claims []answer.Claim) string {
	size := func(c answer.Claim) float64 {
		if c.Ratio == nil || *c.Ratio == 0 {
			return math.Inf(1)
		}
		return math.Abs(math.Log(*c.Ratio))
	}
	claims = slices.Clone(claims)
	slices.SortStableFunc(claims, func(a, b answer.Claim) int { return cmp.Compare(size(b), size(a)) })
	var words []string
	for _, c := range claims[:min(len(claims), j.claims)] {
		words = append(words, j.claim(c))
	}
	return strings.Join(words, "; ")
}

// claim writes how an option compares in one quantity: "tip under “drilling” 36 % less, in 97 of 100".
func (j judge) claim(c answer.Claim) string {
	words := j.quantities[c.Quantity].Words() + " " + change(c.Ratio)
	if c.BetterPercent != nil {
		words += ", in " + chanceInWords(math.Max(*c.BetterPercent, 100-*c.BetterPercent))
	}
	return words
}

// change writes a ratio as a change.
func change(ratio *float64) string {
	switch {
	case ratio == nil:
		return "more than none"
	case *ratio >= timesFrom:
		return times(*ratio) + " times as much"
	case *ratio >= 1:
		return number.Significant(roundedTo(2, 100*(*ratio-1))) + " % more"
	}
	return number.Significant(roundedTo(2, 100*(1-*ratio))) + " % less"
}

// chanceInWords writes a percentage of draws; what is not certain is never called so.
func chanceInWords(percent float64) string {
	whole := math.Round(percent)
	if whole == 100 && percent < 100 {
		whole = 99
	}
	return fmt.Sprintf("%.0f of 100", whole)
}

// purchase says which option gives most for what it costs beyond the cheapest: unit is that of the cost.
func (j judge) purchase(what, cheapest, unit string, p answer.Purchase) string {
	words := "Most for " + what + ": "
	switch {
	case p.Option == "":
		return words + "none; all cost the same of it."
	case p.Option == p.Cheapest:
		return words + fmt.Sprintf("%s, the %s; none that costs more is steadier.", j.heads[p.Option], cheapest)
	}
	return words + fmt.Sprintf("%s, %s %% steadier on average than %s for %s %s more.", j.heads[p.Option],
		number.Significant(roundedTo(2, p.GainPercent)), j.heads[p.Cheapest], number.Significant(p.Cost), unit)
}

// purchases say which option gives most for a kilogram and for an hour.
func (j judge) purchases() []string {
	return []string{j.purchase("a kilogram", "lightest", "kg", j.Kilogram),
		j.purchase("an hour of holes", "one with the least holes", "hours", j.Hour)}
}

// beaten says which options another beats in everything.
func (j judge) beaten() (says []string) {
	for _, b := range j.Beaten {
		words := fmt.Sprintf("%s is beaten by %s in everything that differs", j.heads[b.Option], j.heads[b.By])
		if b.LeastPercent != nil {
			words += ", in " + chanceInWords(*b.LeastPercent) + " at least"
		}
		says = append(says, words+"; "+j.heads[b.By]+" takes "+costInWords(b.MoreKg, b.MoreHours)+".")
	}
	return says
}

// costInWords says what an option takes more than another.
func costInWords(kg, hours float64) string {
	var words []string
	if kg != 0 {
		words = append(words, massInWords(kg))
	}
	if hours != 0 {
		words = append(words, fmt.Sprintf("%s %s of holes", duration(60*math.Abs(hours)), moreOrLess(hours)))
	}
	if words == nil {
		return "no more mass or holes"
	}
	return list(words)
}

// settled says what to measure where the order is open, what would settle most first; the rest are counted.
func (j judge) settled(most int) (says []string) {
	for i, s := range j.Settle {
		if i == most {
			says = append(says, fmt.Sprintf("So it is %s more.", oftenInWords(len(j.Settle)-most)))
			break
		}
		q := j.quantities[s.Claim.Quantity]
		words := fmt.Sprintf("Open: %s or %s by %s", j.heads[s.Option], j.heads[s.Against], q.Words())
		if s.Claim.BetterPercent != nil {
			words += fmt.Sprintf(" (%s better in %s)", j.heads[s.Option], chanceInWords(*s.Claim.BetterPercent))
		}
		words += fmt.Sprintf("; first settle %s, %.0f %% of its spread", wrap.OneLine(s.What), s.SharePercent)
		if s.Settle != "" {
			words += ": " + wrap.OneLine(s.Settle)
		}
		says = append(says, words+".")
	}
	return says
}

// roundedTo rounds to so many significant digits.
func roundedTo(digits int, v float64) float64 {
	if v == 0 {
		return 0
	}
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}
