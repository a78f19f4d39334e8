package report

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/verdict"
)

// telling says whether a quantity is worth a headline beside what else options do: a stretch that is the whole path is not,
// for it tells no more than how long the path is.
func telling(q verdict.Quantity, options []answer.Result) bool {
	stretch, all := false, true
	for _, r := range options {
		for _, t := range r.Travel {
			if q.Key == answer.StretchKey(t.Path, t.Load) && len(t.AtMM) > 0 {
				stretch, all = true, all && keepsAll(t)
			}
		}
	}
	return !stretch || !all
}

// keepsAll tells whether a path keeps its tolerance from end to end.
func keepsAll(t answer.Travel) bool { return t.WithinMM != nil && within(t) >= pathLength(t) }

// runnerUp is the option that is best on average, of all but one.
func runnerUp(a answer.Answer, but string) string {
	name, best := "", math.Inf(-1)
	for _, r := range a.Options {
		if log := verdict.Standing(a.Verdict.Pairs, r.Name); r.Name != but && log > best {
			name, best = r.Name, log
		}
	}
	return name
}

// slight is a ratio, as a logarithm, up to which it is not worth to build something else. Common practice, no source.
var slight = math.Log(1.05)

// whyBuild names the largest real difference of an option to the runner-up, or where that is slight to the file's own
// values if that is more, with what it costs; "" where there is none to either.
func whyBuild(a answer.Answer, picked answer.Result) (says string) {
	most := 0.0
	for _, name := range []string{runnerUp(a, picked.Name), a.Options[0].Name} {
		p := verdict.PairOf(a.Verdict.Pairs, picked.Name, name)
		if p.Option == "" || most > slight {
			continue
		}
		other := a.Options[slices.IndexFunc(a.Options, func(r answer.Result) bool { return r.Name == name })]
		if words, size := largestDifference(a.Verdict, p, picked, other); number.Exceeds(size, most) {
			says, most = fmt.Sprintf("%s as with %s, %s.", words, phrase.Quoted(name), costs(p)), size
		}
	}
	return says
}

// largestDifference says in which quantity a pair's first option is better by the largest ratio, each by its weight, of those
// worth it, and by which, as a logarithm.
func largestDifference(v *answer.Verdict, p answer.Pair, picked, other answer.Result) (says string, most float64) {
	both := []answer.Result{other, picked}
	for _, q := range verdict.Quantities(both) {
		better := slices.ContainsFunc(p.Better, func(c answer.Claim) bool { return c.Quantity == q.Key })
		if !better || !telling(q, both) {
			continue
		}
		of, _ := q.Value(picked)
		off, _ := q.Value(other)
		size := verdict.WeightOf(v, q.Key) * math.Abs(math.Log(math.Max(of, number.Noise)/math.Max(off, number.Noise)))
		if !number.Exceeds(size, most) {
			continue
		}
		most = size
		reads, instead := apart(of, off)
		says = fmt.Sprintf("%s %s instead of %s %s", q.Words(), reads, instead, q.Unit)
	}
	return says, most
}

// apart writes two numbers with as few digits as tell them apart, but two.
func apart(v, w float64) (of, off string) {
	for digits := phrase.RangedDigits; digits <= phrase.RangedDigits+2; digits++ {
		if of, off = number.Digits(v, digits), number.Digits(w, digits); of != off {
			break
		}
	}
	return of, off
}

// costs says what the first option of a pair takes beyond the other.
func costs(p answer.Pair) string {
	var words []string
	if p.MoreKg != 0 {
		words = append(words, fmt.Sprintf("%s kg %s", number.Digits(math.Abs(p.MoreKg), phrase.RangedDigits),
			phrase.MoreOrLess(p.MoreKg)))
	}
	if p.MoreHours != 0 {
		words = append(words, fmt.Sprintf("%s %s at the drill press", phrase.Duration(60*math.Abs(p.MoreHours)),
			phrase.MoreOrLess(p.MoreHours)))
	}
	if words == nil {
		return "for no more mass or holes"
	}
	return "for " + phrase.List(words)
}

// whyByMisfits says by how much misfits put the tip less out of place in an option than in another, where nothing else
// tells them apart, and that they use up the limits of both where they do; "" where they do alike.
func whyByMisfits(a answer.Answer) string {
	i := leastMisfits(a.Options)
	if i < 0 {
		return ""
	}
	k := 0
	if i == 0 {
		k = 1
	}
	lines := misfitLines()
	moved, used := lines[0], lines[1]
	says := ""
	if v, w, ok := both(moved, a.Options[i], a.Options[k]); ok {
		says = fmt.Sprintf(": tip %s instead of %s µm out of place by misfits", number.Significant(v), number.Significant(w))
	}
	if v, w, ok := both(used, a.Options[i], a.Options[k]); ok {
		words := fmt.Sprintf("they use up %s instead of %s %% of %s", number.Significant(v), number.Significant(w),
			limitOf(a.Options[i], a.Options[k]))
		switch {
		case v >= limit && w >= limit:
			words += ", too much in both"
		case v >= limit:
			words += ", too much"
		}
		if says == "" {
			says = ": where parts do not line up, " + words
		} else {
			says += "; " + words
		}
	}
	return "Build " + phrase.Quoted(a.Options[i].Name) + says + "."
}

// limitOf names the limit of which misfits use up most in two options.
func limitOf(r, o answer.Result) string {
	if r.Misfits != nil && o.Misfits != nil {
		_, one := worstLocked(*r.Misfits.Together).used()
		if _, other := worstLocked(*o.Misfits.Together).used(); one == other {
			return one
		}
	}
	return "a limit"
}

// both are the numbers of two options in a line, and whether they differ.
func both(l comparedLine, r, o answer.Result) (v, w float64, differ bool) {
	v, okV := l.value(r)
	w, okW := l.value(o)
	return v, w, okV && okW && differs(v, w)
}

// leastMisfits is the option whose tip misfits put least out of place, or of equals and where there is no tip that of
// which they use up least; −1 where misfits do the same in all.
func leastMisfits(options []answer.Result) int {
	if len(options) < 2 || !misfitsDiffer(options) {
		return -1
	}
	for _, l := range misfitLines() {
		best, differ := 0, false
		for i, r := range options {
			v, w, apart := both(l, r, options[best])
			if differ = differ || apart; apart && v < w {
				best = i
			}
		}
		if differ {
			return best
		}
	}
	return -1
}
