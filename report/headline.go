package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/verdict"
)

// Picked is the number of the option that a verdict is for: the steadiest, of several the first; where nothing that was
// counted differs the one in which misfits do least, and else the first of all.
func Picked(a answer.Answer) int {
	if a.Verdict != nil && len(a.Verdict.Steadiest.Options) > 0 {
		name := a.Verdict.Steadiest.Options[0]
		if i := slices.IndexFunc(a.Options, func(r answer.Result) bool { return r.Name == name }); i >= 0 {
			return i
		}
	}
	if a.Verdict != nil && len(a.Verdict.Steadiest.Options) == 0 {
		return max(0, leastMisfits(a.Options))
	}
	return 0
}

// Headline says in a sentence or two what to build and what it does, or of a single option what it does, and how sure that
// is in another. The answer has an option at least.
func Headline(a answer.Answer) (says, sure string) {
	picked := a.Options[Picked(a)]
	keeps, keepsRange := keepsInWords(picked)
	moves, movesRange := movesInWords(picked)
	does, known := moves, []string{movesRange}
	switch {
	case keeps != "":
		does, known = keeps, []string{keepsRange}
		if len(a.Options) == 1 && moves != "" {
			does, known = keeps+" "+moves, []string{keepsRange, movesRange}
		}
	case moves == "":
		does = "No load moves the tip or a point."
	}
	if picked.Sure == nil {
		known = []string{"These are typical numbers; a joint's stiffness is hardly known within a factor of two."}
	}
	if len(a.Options) > 1 && a.Verdict != nil {
		build, why := whatToBuild(a)
		if why { // what it does is no reason, and may be alike in all
			return build, joined(append([]string{does}, append(known, howMuchBetter(a))...))
		}
		does = build + " " + does
		known = append(known, howMuchBetter(a))
	}
	return does, joined(known)
}

// joined are sentences in a row.
func joined(sentences []string) string {
	return strings.Join(slices.DeleteFunc(sentences, func(s string) bool { return s == "" }), " ")
}

// whatToBuild names the option to build, or says that none is the better one; and whether it says why.
func whatToBuild(a answer.Answer) (says string, why bool) {
	switch names := a.Verdict.Steadiest.Options; len(names) {
	case 0:
		if says := whyByMisfits(a); says != "" {
			return says, true
		}
		return "There is no real difference between the options.", false
	case 1:
		if reason := whyBuild(a, a.Options[Picked(a)]); reason != "" {
			return "Build " + phrase.Quoted(names[0]) + ": " + reason, true
		}
		return "Build " + phrase.Quoted(names[0]) + ".", false
	default:
		var quoted []string
		for _, name := range names {
			quoted = append(quoted, phrase.Quoted(name))
		}
		return "Build either of " + phrase.List(quoted) + ": on average there is no real difference between them.", false
	}
}

// howMuchBetter says for the steadiest option by how much it is better than the next on average, in how much of what
// differs it is better than the others together, how sure the least sure of these claims is, and in how much it is worse.
func howMuchBetter(a answer.Answer) string {
	names := a.Verdict.Steadiest.Options
	if len(names) != 1 {
		return ""
	}
	better, worse, open, same, least := 0, 0, 0, 0, (*float64)(nil)
	for _, p := range verdict.PairsOf(a.Verdict.Pairs, names[0]) {
		better, worse, open, same = better+len(p.Better), worse+len(p.Worse), open+len(p.Open), same+len(p.Same)
		for _, c := range p.Better {
			if c.WinsPercent != nil && (least == nil || *c.WinsPercent < *least) {
				least = c.WinsPercent
			}
		}
	}
	words := ""
	p := verdict.PairOf(a.Verdict.Pairs, names[0], runnerUp(a, names[0]))
	if p.Overall.Verdict == answer.Better && len(a.Verdict.Counted) > 1 {
		words = fmt.Sprintf("On average it is %s than %s", number.Digits(100*(p.Overall.Times-1), 2)+" % better",
			phrase.Quoted(p.Against))
		if p.Overall.WinsPercent != nil {
			words += ", in " + phrase.Chance(*p.Overall.WinsPercent) + " such machines"
		}
		words += ". "
	}
	words += fmt.Sprintf("Of %s with the others it wins %d", phrase.Count(better+worse+open+same, "comparison"), better)
	if least != nil && better > 0 {
		words += ", each in " + phrase.Chance(*least) + " such machines"
		if *least < 100 {
			words += " or more"
		}
	}
	words += ", and loses " + phrase.NoneOr(worse)
	if same > 0 {
		words += fmt.Sprintf("; in %d they are alike", same)
	}
	if open > 0 {
		words += fmt.Sprintf("; %d cannot be told", open)
	}
	return words + "."
}

// keepsInWords says how much of the path that keeps its tolerance least it does keep, and with which range; "" where no
// path has a tolerance, and no range where none was drawn.
func keepsInWords(r answer.Result) (says, known string) {
	t, ok := TightestTravel(r)
	if !ok {
		return "", ""
	}
	if r.Sure != nil {
		for _, s := range r.Sure.Stretches {
			if s.Path != t.Path || s.Load != t.Load {
				continue
			}
			low, high := number.Digits(s.StretchMM.Low, phrase.RangedDigits), number.Digits(s.StretchMM.High, phrase.RangedDigits)
			switch known = fmt.Sprintf("Nine of ten such machines keep it over %s to %s mm.", low, high); {
			case s.StretchMM.High < number.Noise:
				known = "Nine of ten such machines keep it nowhere."
			case low == high:
				known = fmt.Sprintf("Nine of ten such machines keep it over %s mm.", low)
			}
			if s.StretchMM.High >= number.Noise {
				known += allKept(r, t)
			}
		}
	}
	return KeepsTolerance("It", t) + ".", known
}

// TightestTravel is the path under the load that keeps the least share of itself within its tolerance, of equals the one
// on which the tip moves most; false where none has a tolerance.
func TightestTravel(r answer.Result) (tightest answer.Travel, ok bool) {
	least, most := 0.0, 0.0
	for _, t := range r.Travel {
		if !(t.ToleranceUm > 0) || len(t.AtMM) == 0 {
			continue
		}
		share := 1.0
		if length := pathLength(t); length > 0 {
			share = within(t) / length
		}
		worst, _ := extremePlaces(t)
		um := number.Norm(t.TipUm[worst])
		if !ok || number.Exceeds(least, share) || !number.Exceeds(share, least) && number.Exceeds(um, most) {
			tightest, least, most, ok = t, share, um, true
		}
	}
	return tightest, ok
}

// pathLength is that of a path, mm.
func pathLength(t answer.Travel) float64 {
	return max(t.AtMM[0], t.AtMM[len(t.AtMM)-1]) - min(t.AtMM[0], t.AtMM[len(t.AtMM)-1])
}

// allKept says in how many draws of an option all of a path keeps its tolerance; "" where none was drawn.
func allKept(r answer.Result, t answer.Travel) string {
	key := answer.StretchKey(t.Path, t.Load)
	i := slices.IndexFunc(r.Sure.Columns, func(c answer.Column) bool { return c.Quantity == key })
	if i < 0 || len(r.Sure.Columns[i].Values) == 0 {
		return ""
	}
	whole, list := 0, r.Sure.Columns[i].Values
	for _, mm := range list {
		if !number.Exceeds(pathLength(t), mm) {
			whole++
		}
	}
	return fmt.Sprintf(" In %s all of it is kept.", phrase.Chance(100*float64(whole)/float64(len(list))))
}

// KeepsTolerance says of something how much of a path keeps its tolerance by typical numbers:
// "It typically keeps 45 µm over 311 of 350 mm along “bed” under “drilling”".
func KeepsTolerance(what string, t answer.Travel) string {
	long := number.Along(pathLength(t))
	where := fmt.Sprintf("over %s of %s mm along %s", number.Along(within(t)), long, phrase.Quoted(t.Path))
	switch {
	case t.WithinMM == nil:
		where = "nowhere along " + phrase.Quoted(t.Path)
	case keepsAll(t):
		where = fmt.Sprintf("all along %s, %s mm,", phrase.Quoted(t.Path), long)
	}
	return fmt.Sprintf("%s typically keeps %s µm %s under %s", what, number.Given(t.ToleranceUm), where, phrase.Quoted(t.Load))
}

// movesInWords says how far the worst load moves the tip, or without a tool the worst point, and with which range.
func movesInWords(r answer.Result) (says, known string) {
	load, point, um := "", "", 0.0
	if worst := worstLoad(r.Loads); worst != nil && *worst.TipSizeUm >= number.Noise {
		load, um = worst.Name, *worst.TipSizeUm
	} else if at, moved := farthestPoint(r); number.Norm(moved) >= number.Noise {
		load, point, um = at.load, at.point, number.Norm(moved)
	}
	if um == 0 {
		return "", ""
	}
	what := "The tip"
	if point != "" {
		what = "Point " + phrase.Point(r, point)
	}
	digits := 3
	if r.Sure != nil {
		for _, m := range r.Sure.Movements {
			if m.Load == load && m.Point == point {
				digits = phrase.RangedDigits
				known = fmt.Sprintf("In nine of ten such machines that is %s µm.", phrase.Span(m.SizeUm))
			}
		}
	}
	return fmt.Sprintf("%s moves %s µm under %s.", what, number.Digits(um, digits), phrase.Quoted(load)), known
}

// MostDifferent says in which number worth a headline options differ most, each by its weight; "" where they differ in none
// that was counted.
func MostDifferent(a answer.Answer) string {
	if a.Verdict == nil {
		return ""
	}
	says, most := "", 0.0
	for _, q := range verdict.Quantities(a.Options) {
		if !telling(q, a.Options) {
			continue
		}
		low, high := math.Inf(1), 0.0
		for _, r := range a.Options {
			if v, ok := q.Value(r); ok {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
		spread := verdict.WeightOf(a.Verdict, q.Key) * math.Log(math.Max(high, number.Noise)/math.Max(low, number.Noise))
		if number.Exceeds(spread, most) {
			most = spread
			says = fmt.Sprintf("%s: %s %s", q.Words(), phrase.Span(answer.Range{Low: low, High: high}), q.Unit)
		}
	}
	if i := leastMisfits(a.Options); says == "" && i >= 0 {
		return "what misfits do"
	}
	return says
}
