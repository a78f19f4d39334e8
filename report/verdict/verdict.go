package verdict

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
)

// Of counts what the options of an answer do and picks among them; nil of fewer than two.
func Of(a answer.Answer) *answer.Verdict {
	if len(a.Options) < 2 {
		return nil
	}
	v := &answer.Verdict{Counted: []string{}, Same: []string{}, Repeats: []answer.Repeat{}, Weights: []float64{}, Trifles: []string{},
		Beaten: []answer.Beaten{}, Settle: []answer.Settling{}}
	all := pairings(a)
	var counted []Quantity
	for _, q := range Quantities(a.Options) {
		compared, differs := false, false
		for _, p := range all {
			m, ok := p.in(q)
			compared, differs = compared || ok, differs || m.outcome != same
		}
		switch {
		case differs:
			counted = append(counted, q)
		case compared:
			v.Same = append(v.Same, q.Key)
		}
	}
	v.Repeats = repeats(a.Options, counted)
	counted = slices.DeleteFunc(counted, func(q Quantity) bool {
		return slices.ContainsFunc(v.Repeats, func(r answer.Repeat) bool { return r.Quantity == q.Key })
	})
	v.Weights = weights(a.Options, counted)
	for i, q := range counted {
		v.Counted = append(v.Counted, q.Key)
		if v.Weights[i] == 0 {
			v.Trifles = append(v.Trifles, q.Key)
		}
	}
	for _, p := range all {
		pair := p.told(counted)
		pair.Overall = p.overall(counted, v.Weights)
		v.Pairs = append(v.Pairs, pair)
		v.Settle = append(v.Settle, p.settle(counted)...)
	}
	slices.SortStableFunc(v.Settle, func(a, b answer.Settling) int { return cmp.Compare(lead(a), lead(b)) })
	v.Beaten = beaten(v.Pairs)
	v.Steadiest = steadiest(a.Options, v)
	if len(v.Counted)+len(v.Same) == 0 {
		return v
	}
	kilograms := func(r *answer.Result) float64 { return r.MassKg }
	hours := func(r *answer.Result) float64 { return r.Holes.Minutes / 60 }
	v.Kilogram = purchase(a.Options, v.Pairs, kilograms, gram)
	v.Hour = purchase(a.Options, v.Pairs, hours, minute)
	return v
}

// lead is how far from even a comparison is, percent of the draws.
func lead(s answer.Settling) float64 { return math.Abs(*s.Claim.WinsPercent - *s.Claim.LossesPercent) }

// told gathers a pairing by how it comes off in what was counted.
func (p pairing) told(counted []Quantity) answer.Pair {
	t := answer.Pair{Option: p.option.Name, Against: p.against.Name, Better: []answer.Claim{}, Worse: []answer.Claim{},
		Open: []answer.Claim{}, Same: []string{}}
	t.MoreKg, t.MoreHours = p.cost()
	for _, q := range counted {
		m, ok := p.in(q)
		switch {
		case !ok:
		case m.outcome == better:
			t.Better = append(t.Better, m.claim)
		case m.outcome == worse:
			t.Worse = append(t.Worse, m.claim)
		case m.outcome == open:
			t.Open = append(t.Open, m.claim)
		default:
			t.Same = append(t.Same, q.Key)
		}
	}
	return t
}

// settle names for each quantity in which the order turns on something unknown what would settle it: the unknown with
// the largest share in what the two differ by.
func (p pairing) settle(counted []Quantity) (list []answer.Settling) {
	for _, q := range counted {
		m, _ := p.in(q)
		if !m.turns {
			continue
		}
		if on := answer.Turns(p.option, p.against, q.Key); on != nil {
			list = append(list, answer.Settling{Option: p.option.Name, Against: p.against.Name, Claim: m.claim,
				What: on[0].What, SharePercent: on[0].Percent, Settle: on[0].Settle})
		}
	}
	return list
}

// Turned is the same pair from the other side.
func Turned(p answer.Pair) answer.Pair {
	return answer.Pair{Option: p.Against, Against: p.Option, Overall: turnedOverall(p.Overall), Better: turned(p.Worse),
		Worse: turned(p.Better), Open: turned(p.Open), Same: p.Same, MoreKg: -p.MoreKg, MoreHours: -p.MoreHours}
}

// turned are claims from the other side. Where the other has nothing there is no ratio.
func turned(claims []answer.Claim) []answer.Claim {
	list := slices.Clone(claims)
	for i, c := range list {
		if c.BetterPercent != nil {
			list[i].BetterPercent = new(100 - *c.BetterPercent)
		}
		list[i].WinsPercent, list[i].LossesPercent = c.LossesPercent, c.WinsPercent
		switch {
		case c.Ratio == nil:
			list[i].Ratio = new(0.0)
		case *c.Ratio == 0:
			list[i].Ratio = nil
		default:
			list[i].Ratio = new(1 / *c.Ratio)
		}
	}
	return list
}
