package verdict

import (
	"math"
	"slices"

	"tiploop/frame/answer"
)

// beaten are the options that another beats in everything in which the two differ, and that win no draw of what is open.
func beaten(pairs []answer.Pair) []answer.Beaten {
	list := []answer.Beaten{}
	for _, p := range pairs {
		if len(p.Worse) == 0 {
			p = Turned(p)
		}
		wins := func(c answer.Claim) bool { return *c.WinsPercent > 0 }
		if len(p.Worse) == 0 || len(p.Better) > 0 || slices.ContainsFunc(p.Open, wins) {
			continue
		}
		b := answer.Beaten{Option: p.Option, By: p.Against, MoreKg: -p.MoreKg, MoreHours: -p.MoreHours}
		for _, c := range p.Worse {
			if c.LossesPercent != nil && (b.LeastPercent == nil || *c.LossesPercent < *b.LeastPercent) {
				b.LeastPercent = c.LossesPercent
			}
		}
		list = append(list, b)
	}
	return list
}

// worstLoad is the one on the tip that moves it farthest; nil without one.
func worstLoad(r *answer.Result) (worst *answer.LoadResult) {
	for i := range r.Loads {
		l := &r.Loads[i]
		if l.OnTip && l.TipSizeUm != nil && (worst == nil || *l.TipSizeUm > *worst.TipSizeUm) {
			worst = l
		}
	}
	return worst
}

// worstUm is how far that moves it; nil without one.
func worstUm(r *answer.Result) *float64 {
	if l := worstLoad(r); l != nil {
		return l.TipSizeUm
	}
	return nil
}

// Counts are how often an option is the better one and how often the worse one, over all its pairs and all that was
// counted.
func Counts(pairs []answer.Pair, option string) (better, worse int) {
	for _, p := range PairsOf(pairs, option) {
		better += len(p.Better)
		worse += len(p.Worse)
	}
	return better, worse
}

// steadiest picks those that are best on average, and of equals those that are not beaten by one, in everything that differs
// or under the worst load.
func steadiest(options []answer.Result, v *answer.Verdict) answer.Steadiest {
	s := answer.Steadiest{Options: []string{}}
	if !slices.ContainsFunc(v.Pairs, func(p answer.Pair) bool { return len(p.Better)+len(p.Worse) > 0 }) {
		return s
	}
	best := 0
	for i := range options {
		const rounding = 1e-12
		if Standing(v.Pairs, options[i].Name) > Standing(v.Pairs, options[best].Name)+rounding {
			best = i
		}
	}
	var first []*answer.Result
	for i := range options {
		if i == best || PairOf(v.Pairs, options[best].Name, options[i].Name).Overall.Verdict != answer.Better {
			first = append(first, &options[i])
		}
	}
	equals := slices.Clone(first)
	first = slices.DeleteFunc(first, func(r *answer.Result) bool {
		return slices.ContainsFunc(equals, func(o *answer.Result) bool {
			return o != r && (beatenBy(v, r, o) || worseUnderWorst(v, r, o))
		})
	})
	if len(first) == 0 { // each is beaten by another of them, in a ring
		first = equals
	}
	for _, r := range first {
		s.Options = append(s.Options, r.Name)
	}
	s.WorstUm = worstUm(first[0])
	s.Beats, s.Beaten = Counts(v.Pairs, first[0].Name)
	return s
}

// beatenBy tells whether an option is beaten by another in everything in which they differ.
func beatenBy(v *answer.Verdict, r, other *answer.Result) bool {
	return slices.ContainsFunc(v.Beaten, func(b answer.Beaten) bool { return b.Option == r.Name && b.By == other.Name })
}

// worseUnderWorst tells whether an option is really worse than another under the load on the tip that moves either of them
// farthest.
func worseUnderWorst(v *answer.Verdict, r, other *answer.Result) bool {
	worst := worstLoad(r)
	if o := worstLoad(other); worst == nil || o != nil && *o.TipSizeUm > *worst.TipSizeUm {
		worst = o
	}
	if worst == nil {
		return false
	}
	key := answer.MovementKey(worst.Name, "")
	if i := slices.IndexFunc(v.Repeats, func(r answer.Repeat) bool { return r.Quantity == key }); i >= 0 {
		key = v.Repeats[i].Of
	}
	return slices.ContainsFunc(PairOf(v.Pairs, r.Name, other.Name).Worse, func(c answer.Claim) bool { return c.Quantity == key })
}

// purchase picks the option that gains most over the cheapest for each unit that it costs more. Of options that are
// equally cheap the one that gains most is the cheapest to begin from.
func purchase(options []answer.Result, pairs []answer.Pair, of func(*answer.Result) float64, least float64) answer.Purchase {
	base := &options[0]
	dearer := false
	for i := range options {
		r := &options[i]
		dearer = dearer || math.Abs(of(r)-of(&options[0])) >= least
		if of(r) <= of(base)-least || math.Abs(of(r)-of(base)) < least && Gain(pairs, r.Name, base.Name) > 0 {
			base = r
		}
	}
	p := answer.Purchase{Cheapest: base.Name}
	if !dearer {
		return p
	}
	p.Option = base.Name
	best := 0.0
	for i := range options {
		r := &options[i]
		cost, gain := of(r)-of(base), Gain(pairs, r.Name, base.Name)
		if cost >= least && gain > 0 && gain/cost > best*(1+alike) {
			best = gain / cost
			p.Option, p.GainPercent, p.Cost = r.Name, 100*gain, cost
		}
	}
	return p
}

// Gain is by how much an option is better than another on average, as a share; 0 where it is not really so.
func Gain(pairs []answer.Pair, option, against string) float64 {
	if o := PairOf(pairs, option, against).Overall; o.Verdict == answer.Better {
		return o.Times - 1
	}
	return 0
}

// PairsOf are the pairs that an option stands in, each from its side.
func PairsOf(pairs []answer.Pair, option string) (list []answer.Pair) {
	for _, p := range pairs {
		switch option {
		case p.Option:
			list = append(list, p)
		case p.Against:
			list = append(list, Turned(p))
		}
	}
	return list
}

// PairOf is an option against another, from its side; an empty one where there is none.
func PairOf(pairs []answer.Pair, option, against string) answer.Pair {
	for _, p := range pairs {
		switch {
		case p.Option == option && p.Against == against:
			return p
		case p.Option == against && p.Against == option:
			return Turned(p)
		}
	}
	return answer.Pair{}
}
