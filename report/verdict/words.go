package verdict

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// Words tell a verdict. Options go by the heads that they have in a table.
type Words struct {
	Verdict    *answer.Verdict
	heads      map[string]string
	quantities map[string]Quantity
}

// Head is what an option goes by.
func (w *Words) Head(option string) string { return w.heads[option] }

// InWords makes the verdict on an answer of two options or more; heads are those of the options in their order.
func InWords(a answer.Answer, heads []string) *Words {
	w := &Words{Of(a), map[string]string{}, map[string]Quantity{}}
	for i, r := range a.Options {
		w.heads[r.Name] = heads[i]
		if heads[i] == wrap.OneLine(r.Name) {
			w.heads[r.Name] = phrase.Quoted(r.Name)
		}
	}
	for _, q := range Quantities(a.Options) {
		w.quantities[q.Key] = q
	}
	return w
}

// Compared tells whether there was anything to compare.
func (w *Words) Compared() bool { return len(w.Verdict.Counted)+len(w.Verdict.Same) > 0 }

// grouped names quantities, those of a kind together: "stiffness x, y; tip under “a”, “b”".
func (w *Words) grouped(keys []string) string {
	var groups []string
	items := map[string][]string{}
	for _, key := range keys {
		q := w.quantities[key]
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

// Counted says what was counted.
func (w *Words) Counted() string {
	v := w.Verdict
	switch {
	case !w.Compared():
		return nothingCompared
	case len(v.Counted) == 0:
		return "Nothing that was compared differs: " + w.grouped(v.Same) + "."
	}
	words := fmt.Sprintf("Counted, %d: %s.", len(v.Counted), w.grouped(v.Counted))
	if len(v.Repeats) > 0 {
		var again []string
		for _, r := range v.Repeats {
			again = append(again, r.Quantity)
		}
		words += " The same numbers again: " + w.grouped(again) + "."
	}
	if len(v.Trifles) > 0 {
		words += " Too little to weigh on average: " + w.grouped(v.Trifles) + "."
	}
	var small []string
	for i, weight := range v.Weights {
		if 0 < weight && weight < 1 {
			small = append(small, v.Counted[i])
		}
	}
	if small != nil {
		words += " Small, and weighing in part: " + w.grouped(small) + "."
	}
	if len(v.Same) > 0 {
		words += " The same for all, or nearly: " + w.grouped(v.Same) + "."
	}
	return words
}

const nothingCompared = "There is nothing to compare: no tool, and no load that moves a point."

// CountedInShort says how much was counted, and how much of that does not weigh in full.
func (w *Words) CountedInShort() string {
	if len(w.Verdict.Counted) == 0 {
		return w.Counted()
	}
	n := 0
	for _, weight := range w.Verdict.Weights {
		if weight < 1 {
			n++
		}
	}
	if n > 0 {
		move := "move"
		if n == 1 {
			move = "moves"
		}
		return fmt.Sprintf("Counted: all %d numbers that differ; %d %s too little to weigh in full.", len(w.Verdict.Counted), n, move)
	}
	return fmt.Sprintf("Counted: all %d loads, directions, points, paths and cuts that differ.", len(w.Verdict.Counted))
}

// Steadiest says which option is the steadiest, and how it comes off against each of the others, so many claims of each
// pair told one by one.
func (w *Words) Steadiest(claims int) (says string, against []string) {
	v := w.Verdict
	switch len(v.Steadiest.Options) {
	case 0:
		return "Steadiest: none; there is no real difference.", nil
	case 1:
	default:
		return w.equals(v.Steadiest.Options, claims)
	}
	name := v.Steadiest.Options[0]
	all := 0
	for _, p := range PairsOf(v.Pairs, name) {
		all += size(p)
		against = append(against, "Against "+w.against(p, claims))
	}
	says = "Steadiest: " + w.heads[name] + "."
	if len(against) > 1 {
		says = fmt.Sprintf("Steadiest: %s. Held against each of the others in turn it is better in %d of %d, worse in %s.",
			w.heads[name], v.Steadiest.Beats, all, phrase.NoneOr(v.Steadiest.Beaten))
	}
	return says, against
}

// equals says of options that are alike on average in what the first of them is better and worse than each other one.
func (w *Words) equals(options []string, claims int) (says string, against []string) {
	names := []string{w.heads[options[0]]}
	for _, name := range options[1:] {
		names = append(names, w.heads[name])
		if p := PairOf(w.Verdict.Pairs, options[0], name); len(p.Better)+len(p.Worse) > 0 {
			against = append(against, names[0]+" against "+w.against(p, claims))
		}
	}
	if against == nil {
		return "Steadiest: " + phrase.List(names) + "; nothing counted tells them apart.", nil
	}
	return "Steadiest: " + phrase.List(names) + "; on average there is no real difference between them.", against
}

// size is in how many quantities a pair was compared.
func size(p answer.Pair) int { return len(p.Better) + len(p.Worse) + len(p.Open) + len(p.Same) }

// against says by how much an option is better than another on average, and in how much of what was counted better, worse,
// and neither, and where most.
func (w *Words) against(p answer.Pair, claims int) string {
	words := w.heads[p.Against] + ": "
	if size(p) > 1 {
		words += onAverage(p.Overall) + "; "
	}
	words += fmt.Sprintf("better in %s of %d%s", phrase.NoneOr(len(p.Better)), size(p), w.largest(p.Better, claims))
	if n := len(p.Worse); n > 0 {
		words += fmt.Sprintf(", worse in %d%s", n, w.largest(p.Worse, claims))
	}
	if n := len(p.Open); n > 0 {
		words += fmt.Sprintf(", no real difference in %d%s", n, w.oneSided(p.Open, claims))
	}
	if n := len(p.Same); n > 0 {
		words += fmt.Sprintf(", the same in %d", n)
	}
	return words + "."
}

// Purchases say which option gives most for a kilogram and for an hour, beyond the cheapest.
func (w *Words) Purchases() []string {
	v := w.Verdict
	return []string{
		w.purchase("Most for a kilogram: ", "all weigh the same", "weighs", phrase.MoreMass(v.Kilogram.Cost), v.Kilogram),
		w.purchase("Most for an hour of holes: ", "all take the same", "takes", hoursInWords(v.Hour.Cost), v.Hour),
	}
}

// purchase says it of one kind of cost.
func (w *Words) purchase(what, alike, costs, cost string, p answer.Purchase) string {
	switch {
	case p.Option == "":
		return what + alike + "."
	case p.Option != p.Cheapest:
		return what + fmt.Sprintf("%s, %s for %s.", w.heads[p.Option], w.gain(p), cost)
	}
	return what + fmt.Sprintf("%s; none that %s more is better on average.", w.heads[p.Option], costs)
}

// gain says by how much an option is better than the cheapest: by the one number that was counted, else on average.
func (w *Words) gain(p answer.Purchase) string {
	cheapest := w.heads[p.Cheapest]
	pair := PairOf(w.Verdict.Pairs, p.Option, p.Cheapest)
	if len(w.Verdict.Counted) == 1 && len(pair.Better) == 1 {
		c := pair.Better[0]
		return fmt.Sprintf("%s %s than %s", w.quantities[c.Quantity].Words(), changeInWords(c.Ratio), cheapest)
	}
	words, as := timesAsGood(1 + p.GainPercent/100)
	words += " on average " + as + " " + cheapest
	return words + w.alone(slices.Concat(pair.Better, pair.Worse))
}

// onAverage says by how much an option is better on average, or that it is not really so, and in how many draws.
func onAverage(o answer.Overall) string {
	switch o.Verdict {
	case answer.TheSame:
		return "alike on average"
	case answer.NoDifference:
		return "no real difference on average"
	}
	words, _ := timesAsGood(o.Times)
	words += " on average"
	if o.WinsPercent != nil {
		words += ", in " + phrase.Chance(max(*o.WinsPercent, *o.LossesPercent))
	}
	return words
}

// timesAsGood writes a ratio of goodness as a change, and the word for what it is held against.
func timesAsGood(ratio float64) (words, as string) {
	if times, ok := phrase.Times(ratio); ok {
		return times + " times as good", "as"
	}
	if ratio < 1 {
		return number.Digits(100*(1-ratio), 2) + " % worse", "than"
	}
	return number.Digits(100*(ratio-1), 2) + " % better", "than"
}

// alone says which kind of thing all of some claims are about; "" of several.
func (w *Words) alone(claims []answer.Claim) string {
	var kinds []string
	for _, c := range claims {
		name := map[Kind]string{Stiffness: "stiffness", Tip: "movement", Point: "movement", Play: "play", Stretch: "stretch",
			Depth: "depth of cut"}[w.quantities[c.Quantity].Kind]
		if !slices.Contains(kinds, name) {
			kinds = append(kinds, name)
		}
	}
	if len(kinds) != 1 {
		return ""
	}
	return ", in " + kinds[0] + " alone,"
}

// Beaten says of each option that another beats in everything which those are, the one that costs least, of
// equals the steadiest, with its chance and cost; of the last ones only that.
func (w *Words) Beaten(most int) (says []string) {
	by := map[string][]answer.Beaten{}
	var names []string
	for _, b := range w.Verdict.Beaten {
		if by[b.Option] == nil {
			names = append(names, b.Option)
		}
		by[b.Option] = append(by[b.Option], b)
	}
	var also []string
	for i, name := range names {
		if i >= most {
			also = append(also, w.heads[name])
			continue
		}
		all := by[name]
		slices.SortStableFunc(all, func(a, b answer.Beaten) int {
			return cmp.Or(cmp.Compare(math.Max(a.MoreKg, 0), math.Max(b.MoreKg, 0)), cmp.Compare(a.MoreHours, b.MoreHours),
				cmp.Compare(w.place(a.By), w.place(b.By)))
		})
		first := all[0]
		words := fmt.Sprintf("%s is beaten by %s in everything that differs", w.heads[name], w.heads[first.By])
		if first.LeastPercent != nil {
			words += ", in " + phrase.Chance(*first.LeastPercent)
			if *first.LeastPercent < 100 {
				words += " at least"
			}
		}
		words += ", for " + dearerInWords(first.MoreKg, first.MoreHours)
		if len(all) > 1 {
			words += "; so it is by " + w.beaters(all[1:])
		}
		says = append(says, words+".")
	}
	if also != nil {
		words := "Beaten in everything by another"
		if most > 0 {
			words += ", too"
		}
		says = append(says, words+": "+phrase.List(also)+".")
	}
	return says
}

// place puts the steadiest options before the others.
func (w *Words) place(option string) int {
	if slices.Contains(w.Verdict.Steadiest.Options, option) {
		return 0
	}
	return 1
}

// beaters names who beats an option.
func (w *Words) beaters(by []answer.Beaten) string {
	var names []string
	for _, b := range by {
		names = append(names, w.heads[b.By])
	}
	return phrase.List(names)
}

// hoursInWords says how much longer holes take: "40 min more", "1.8 hours less".
func hoursInWords(hours float64) string {
	if math.Abs(hours) < 1 {
		return phrase.Duration(60*math.Abs(hours)) + " " + phrase.MoreOrLess(hours)
	}
	words := strings.TrimSuffix(number.Digits(math.Abs(hours), 2), ".0")
	if words == "1" {
		return "1 hour " + phrase.MoreOrLess(hours)
	}
	return words + " hours " + phrase.MoreOrLess(hours)
}

// dearerInWords says what an option takes more than another.
func dearerInWords(kg, hours float64) string {
	var words []string
	if kg != 0 {
		words = append(words, phrase.MoreMass(kg))
	}
	if hours != 0 {
		words = append(words, hoursInWords(hours)+" of holes")
	}
	if words == nil {
		return "no more mass or holes"
	}
	return phrase.List(words)
}

// Settled says what to measure where the order is open, the most open first; the rest are counted.
func (w *Words) Settled(most int) (says []string) {
	settle := w.Verdict.Settle
	for i, s := range settle {
		if i == most {
			not := "Not settled either"
			if i == 0 {
				not = "Not settled"
			}
			says = append(says, fmt.Sprintf("%s: %d more.", not, len(settle)-most))
			break
		}
		words := fmt.Sprintf("Not settled: %s or %s by %s (%s %s). It turns most on %s, %.0f %% of what they differ by",
			w.heads[s.Option], w.heads[s.Against], w.quantities[s.Claim.Quantity].Words(), w.heads[s.Option], oftener(s.Claim),
			wrap.OneLine(s.What), s.SharePercent)
		if s.Settle != "" {
			words += ": " + wrap.OneLine(s.Settle)
		}
		says = append(says, words+".")
	}
	return says
}
