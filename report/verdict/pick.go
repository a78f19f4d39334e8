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

// worstUm is how far the worst of the loads on the tip moves it; nil without one.
func worstUm(r *answer.Result) (um *float64) {
	for _, l := range r.Loads {
		if l.OnTip && l.TipSizeUm != nil && (um == nil || *l.TipSizeUm > *um) {
			um = l.TipSizeUm
		}
	}
	return um
}

// Counts are how often an option is the better one and how often the worse one, over all its pairs and all that was
// counted.
func Counts(pairs []answer.Pair, option string) (better, worse int) {
	for _, p := range pairs {
		switch option {
		case p.Option:
		case p.Against:
			p = Turned(p)
		default:
			continue
		}
		better += len(p.Better)
		worse += len(p.Worse)
	}
	return better, worse
}

// steadiest picks by how often an option beats others and is beaten, and of equals by the worst load.
func steadiest(options []answer.Result, pairs []answer.Pair) answer.Steadiest {
	beats, beatenBy := make([]int, len(options)), make([]int, len(options))
	most, differ := math.MinInt, false
	for i := range options {
		beats[i], beatenBy[i] = Counts(pairs, options[i].Name)
		most, differ = max(most, beats[i]-beatenBy[i]), differ || beats[i]+beatenBy[i] > 0
	}
	s := answer.Steadiest{Options: []string{}}
	if !differ {
		return s
	}
	least := math.Inf(1)
	var first []int
	for i := range options {
		if beats[i]-beatenBy[i] == most {
			first = append(first, i)
			if um := worstUm(&options[i]); um != nil {
				least = math.Min(least, *um)
			}
		}
	}
	first = slices.DeleteFunc(first, func(i int) bool {
		um := worstUm(&options[i])
		return um != nil && *um > least*(1+alike)
	})
	s.Beats, s.Beaten, s.WorstUm = beats[first[0]], beatenBy[first[0]], worstUm(&options[first[0]])
	for _, i := range first {
		s.Options = append(s.Options, options[i].Name)
	}
	return s
}

// purchase picks the option that gains most over the cheapest for each unit that it costs more: the gain is the mean
// over what was counted, as ratios are averaged. Of options that are equally cheap the one that gains most is the
// cheapest to begin from.
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
		if cost >= least && gain >= alike && gain/cost > best*(1+alike) {
			best = gain / cost
			p.Option, p.GainPercent, p.Cost = r.Name, 100*gain, cost
		}
	}
	return p
}

// Gain is by how much an option is better than another on average, as a share: the geometric mean of the typical
// ratios over all that was counted, where one without a real difference counts as 1 and one with nothing on either side
// does not count. Movements count the other way round.
func Gain(pairs []answer.Pair, option, against string) float64 {
	p := pairOf(pairs, option, against)
	sum, n := 0.0, len(p.Open)+len(p.Same)
	for _, side := range []struct {
		sign   float64
		claims []answer.Claim
	}{{1, p.Better}, {-1, p.Worse}} {
		for _, c := range side.claims {
			if c.Ratio != nil && *c.Ratio > 0 {
				sum += side.sign * math.Abs(math.Log(*c.Ratio))
				n++
			}
		}
	}
	if n == 0 {
		return 0
	}
	return math.Exp(sum/float64(n)) - 1
}

// pairOf is an option against another, from its side; an empty one where there is none.
func pairOf(pairs []answer.Pair, option, against string) answer.Pair {
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
