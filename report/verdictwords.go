package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
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

// judgeOf makes the verdict on an answer of several options; heads are those of the options in their
// order; claims is how many of a pair's are told.
func judgeOf(a answer.Answer, heads []string, claims int) judge {
	j := judge{verdict.Of(a), map[string]string{}, map[string]verdict.Quantity{}, claims}
	for i, r := range a.Options {
		j.heads[r.Name] = heads[i]
		if heads[i] == wrap.OneLine(r.Name) {
			j.heads[r.Name] = phrase.Quoted(r.Name)
		}
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
		return []string{"Steadiest: " + phrase.List(names) + "; nothing counted tells them apart."}
	}
	name := j.Steadiest.Options[0]
	says := []string{fmt.Sprintf("Steadiest: %s; over all pairs better %s, worse %s.", j.heads[name],
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
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// againstOption begins what is said of a pair.
const againstOption = "Against "

// against says in how much of what was counted an option is better than another, and where most.
func (j judge) against(p answer.Pair) string {
	all := len(p.Better) + len(p.Worse) + len(p.Open) + len(p.Same)
	words := fmt.Sprintf(againstOption+"%s: better in %d of %d", j.heads[p.Against], len(p.Better), all)
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

// largest tells the claims by the size of their ratios, as many as there is room for; of a kind those that say the same
// once.
func (j judge) largest(claims []answer.Claim) string {
	size := func(c answer.Claim) float64 {
		if c.Ratio == nil || *c.Ratio == 0 {
			return math.Inf(1)
		}
		return math.Abs(math.Log(*c.Ratio))
	}
	claims = slices.Clone(claims)
	slices.SortStableFunc(claims, func(a, b answer.Claim) int { return cmp.Compare(size(b), size(a)) })
	var words, told []string
	for _, c := range claims {
		// the softest direction is mostly one of the axes
		one := j.quantities[c.Quantity].Group + changeInWords(c.Ratio)
		if len(words) < j.claims && !slices.Contains(told, one) {
			words, told = append(words, j.claim(c)), append(told, one)
		}
	}
	return strings.Join(words, "; ")
}

// claim writes how an option compares in one quantity: "tip under “drilling” 36 % less, in 97 of 100".
func (j judge) claim(c answer.Claim) string {
	words := j.quantities[c.Quantity].Words() + " " + changeInWords(c.Ratio)
	if c.BetterPercent != nil {
		words += ", in " + phrase.Chance(math.Max(*c.BetterPercent, 100-*c.BetterPercent))
	}
	return words
}

// changeInWords writes a ratio as a change.
func changeInWords(ratio *float64) string {
	switch {
	case ratio == nil:
		return "more than none"
	case *ratio >= timesFrom:
		return times(*ratio) + " times as much"
	case *ratio >= 1:
		return number.Digits(100*(*ratio-1), 2) + " % more"
	}
	return number.Digits(100*(1-*ratio), 2) + " % less"
}

// purchases say which option gives most for a kilogram and for an hour, beyond the cheapest.
func (j judge) purchases() []string {
	return []string{
		j.purchase("Most for a kilogram: ", "all weigh the same", "weighs", massInWords(j.Kilogram.Cost), j.Kilogram),
		j.purchase("Most for an hour of holes: ", "all take the same", "takes", phrase.Duration(60*j.Hour.Cost)+" more", j.Hour),
	}
}

// purchase says it of one kind of cost.
func (j judge) purchase(what, alike, costs, cost string, p answer.Purchase) string {
	switch {
	case p.Option == "":
		return what + alike + "."
	case p.Option == p.Cheapest:
		return what + fmt.Sprintf("%s; none that %s more is steadier.", j.heads[p.Option], costs)
	}
	return what + fmt.Sprintf("%s, %s %% steadier on average than %s for %s.", j.heads[p.Option],
		number.Digits(p.GainPercent, 2), j.heads[p.Cheapest], cost)
}

// beaten says of each option that another beats in everything which those are, the one that costs least with its
// chance and cost; of the last ones only that.
func (j judge) beaten(most int) (says []string) {
	by := map[string][]answer.Beaten{}
	var names []string
	for _, b := range j.Beaten {
		if by[b.Option] == nil {
			names = append(names, b.Option)
		}
		by[b.Option] = append(by[b.Option], b)
	}
	var also []string
	for i, name := range names {
		if i >= most {
			also = append(also, j.heads[name])
			continue
		}
		all := by[name]
		slices.SortStableFunc(all, func(a, b answer.Beaten) int {
			return cmp.Or(cmp.Compare(math.Max(a.MoreKg, 0), math.Max(b.MoreKg, 0)), cmp.Compare(a.MoreHours, b.MoreHours))
		})
		first := all[0]
		words := fmt.Sprintf("%s is beaten by %s in everything that differs", j.heads[name], j.heads[first.By])
		if first.LeastPercent != nil {
			words += ", in " + phrase.Chance(*first.LeastPercent)
			if *first.LeastPercent < 100 {
				words += " at least"
			}
		}
		words += ", for " + dearerInWords(first.MoreKg, first.MoreHours)
		if len(all) > 1 {
			words += "; so it is by " + j.beaters(all[1:])
		}
		says = append(says, words+".")
	}
	if also != nil {
		says = append(says, "Beaten in everything by another, too: "+phrase.List(also)+".")
	}
	return says
}

// beaters names who beats an option.
func (j judge) beaters(by []answer.Beaten) string {
	var names []string
	for _, b := range by {
		names = append(names, j.heads[b.By])
	}
	return phrase.List(names)
}

// dearerInWords says what an option takes more than another.
func dearerInWords(kg, hours float64) string {
	var words []string
	if kg != 0 {
		words = append(words, massInWords(kg))
	}
	if hours != 0 {
		words = append(words, fmt.Sprintf("%s %s of holes", phrase.Duration(60*math.Abs(hours)), phrase.MoreOrLess(hours)))
	}
	if words == nil {
		return "no more mass or holes"
	}
	return phrase.List(words)
}

// settled says what to measure where the order is open, the most open first; the rest are counted.
func (j judge) settled(most int) (says []string) {
	for i, s := range j.Settle {
		if i == most {
			says = append(says, fmt.Sprintf("Not settled either: %d more.", len(j.Settle)-most))
			break
		}
		words := fmt.Sprintf("Not settled: %s or %s by %s (%s better in %s). It turns most on %s, %.0f %% of what they differ by",
			j.heads[s.Option], j.heads[s.Against], j.quantities[s.Claim.Quantity].Words(), j.heads[s.Option],
			phrase.Chance(*s.Claim.BetterPercent), wrap.OneLine(s.What), s.SharePercent)
		if s.Settle != "" {
			words += ": " + wrap.OneLine(s.Settle)
		}
		says = append(says, words+".")
	}
	return says
}
