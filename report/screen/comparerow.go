package screen

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/verdict"
)

// row is one of the table of what each option does.
type row struct {
	label  string
	cells  []string // with their ranges
	short  []string // without
	rank   rank
	most   float64 // the largest of the numbers
	spread float64 // over the least, as a logarithm
}

// rank is which rows give way first.
type rank int

const (
	always rank = iota // the worst load on the tip, the softest direction, what an option costs
	inRoom             // what else decides anything, of what is lost to play the most
	points
	spare // play under other loads, what decides nothing
)

// firstOf keeps so many rows, in their order: by rank, and of a rank those that differ most.
func firstOf(rows []row, most int) []row {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(rows[a].rank, rows[b].rank), cmp.Compare(rows[b].spread, rows[a].spread))
	})
	order = order[:min(most, len(order))]
	slices.Sort(order)
	var kept []row
	for _, i := range order {
		kept = append(kept, rows[i])
	}
	return kept
}

// rows are what the options differ in, of one option all it does: what is counted and the softest direction, then what
// stands beside that and what it costs.
func (c *comparison) rows() (rows []row) {
	worst, play := -1, -1
	for _, q := range verdict.Quantities(c.options) {
		softest := q.Key == answer.StiffnessKey("softest")
		if c.words != nil && !slices.Contains(c.words.Verdict.Counted, q.Key) && !(softest && c.repeats(q.Key)) {
			continue
		}
		r := c.row(q, phrase.RangedDigits)
		r.rank = inRoom
		switch {
		case softest:
			r.rank = always
		case q.Kind == verdict.Point:
			r.rank = points
		case q.Kind == verdict.Tip && (worst < 0 || number.Exceeds(r.most, rows[worst].most)):
			worst = len(rows)
		case q.Kind == verdict.Play:
			r.rank = spare
			if play < 0 || number.Exceeds(r.most, rows[play].most) {
				play = len(rows)
			}
		}
		if r.rank != always && !c.decides(q.Key) {
			r.rank = spare
		}
		rows = append(rows, r)
	}
	if worst >= 0 {
		rows[worst].rank = always
	}
	if play >= 0 {
		rows[play].rank = inRoom
	}
	for _, q := range append(slices.Clone(c.beside), verdict.Mass, verdict.Hours) {
		digits := costDigits
		if q.Key == verdict.Hours.Key {
			digits = phrase.RangedDigits
		}
		r := c.row(q, digits)
		differs := slices.ContainsFunc(r.short, func(s string) bool { return s != r.short[0] })
		some := slices.ContainsFunc(r.short, func(s string) bool { return s != number.Absent })
		if some && (differs || c.words == nil) {
			rows = append(rows, r)
		}
	}
	return rows
}

// costDigits are those of a number that is known.
const costDigits = 3

// decides tells whether any option is better by a quantity than another.
func (c *comparison) decides(key string) bool {
	if c.words == nil {
		return true
	}
	is := func(claim answer.Claim) bool { return claim.Quantity == key }
	return slices.ContainsFunc(c.words.Verdict.Pairs, func(p answer.Pair) bool {
		return slices.ContainsFunc(p.Better, is) || slices.ContainsFunc(p.Worse, is)
	})
}

// repeats tells whether a quantity is not counted because it says again what another one says.
func (c *comparison) repeats(key string) bool {
	return slices.ContainsFunc(c.words.Verdict.Repeats, func(r answer.Repeat) bool { return r.Quantity == key })
}

// row is that of one quantity. Where ranges are known two digits are enough, unless the
// options come out alike by them.
func (c *comparison) row(q verdict.Quantity, digits int) (r row) {
	r.label = q.Words() + ", " + q.Unit
	least := math.Inf(1)
	drawn := false
	for _, o := range c.options {
		if v, ok := q.Value(o); ok {
			least, r.most = math.Min(least, v), math.Max(r.most, v)
			drawn = drawn || q.Range != nil && q.Range(o) != nil
		}
	}
	if q.Range != nil && (!drawn || number.Digits(least, digits) == number.Digits(r.most, digits)) {
		digits = costDigits
	}
	for _, o := range c.options {
		v, ok := q.Value(o)
		if !ok {
			r.cells, r.short = append(r.cells, number.Absent), append(r.short, number.Absent)
			continue
		}
		short := number.Digits(v, digits)
		cell := short
		if q.Range != nil && q.Range(o) != nil {
			known := q.Range(o)
			cell = phrase.WithEnds(v, known.Low, known.High)
		}
		r.cells, r.short = append(r.cells, cell), append(r.short, short)
	}
	r.spread = math.Log(max(r.most, number.Noise) / max(least, number.Noise))
	return r
}
