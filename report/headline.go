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
	"tiploop/report/wrap"
)

// Picked is the number of the option that a verdict is for: the steadiest, of several the first; without a verdict the
// first of all.
func Picked(a answer.Answer) int {
	if a.Verdict != nil && len(a.Verdict.Steadiest.Options) > 0 {
		name := a.Verdict.Steadiest.Options[0]
		if i := slices.IndexFunc(a.Options, func(r answer.Result) bool { return r.Name == name }); i >= 0 {
			return i
		}
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
		does = whatToBuild(a) + " " + does
		known = append(known, howMuchBetter(a))
	}
	known = slices.DeleteFunc(known, func(s string) bool { return s == "" })
	return does, strings.Join(known, " ")
}

// whatToBuild names the option to build, or says that it is all the same.
func whatToBuild(a answer.Answer) string {
	switch names := a.Verdict.Steadiest.Options; len(names) {
	case 0:
		if misfitsDiffer(a.Options) {
			return "Build whichever you like: they differ in what misfits do, and in nothing else that was compared."
		}
		return "Build whichever you like: there is no real difference."
	case 1:
		return "Build " + phrase.Quoted(names[0]) + "."
	default:
		var quoted []string
		for _, name := range names {
			quoted = append(quoted, phrase.Quoted(name))
		}
		return "Build either of " + phrase.List(quoted) + ": nothing that was counted tells them apart."
	}
}

// howMuchBetter says for the steadiest option in how much of what differs it is better than the others together, how sure
// the least sure of these claims is, and in how much it is worse.
func howMuchBetter(a answer.Answer) string {
	names := a.Verdict.Steadiest.Options
	if len(names) != 1 {
		return ""
	}
	better, worse, open, least := 0, 0, 0, (*float64)(nil)
	for _, p := range a.Verdict.Pairs {
		if p.Against == names[0] {
			p = verdict.Turned(p)
		}
		if p.Option != names[0] {
			continue
		}
		better, worse, open = better+len(p.Better), worse+len(p.Worse), open+len(p.Open)
		for _, c := range p.Better {
			if c.WinsPercent != nil && (least == nil || *c.WinsPercent < *least) {
				least = c.WinsPercent
			}
		}
	}
	words := fmt.Sprintf("Of %s with the others it wins %d", phrase.Count(better+worse+open, "comparison"), better)
	if least != nil && better > 0 {
		words += ", each in " + phrase.Chance(*least) + " such machines"
		if *least < 100 {
			words += " or more"
		}
	}
	words += fmt.Sprintf(", and loses %d", worse)
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

// KeepsTolerance says of something how much of a path keeps its tolerance: "It keeps 45 µm over 311 of 350 mm of bed under “drilling”".
func KeepsTolerance(what string, t answer.Travel) string {
	words := fmt.Sprintf("%s keeps %s µm over %s of %s mm", what, number.Given(t.ToleranceUm), number.Along(within(t)),
		number.Along(pathLength(t)))
	switch {
	case t.WithinMM == nil:
		words = fmt.Sprintf("%s keeps %s µm nowhere", what, number.Given(t.ToleranceUm))
	case within(t) >= pathLength(t):
		words = fmt.Sprintf("%s keeps %s µm all along, %s mm", what, number.Given(t.ToleranceUm), number.Along(pathLength(t)))
	}
	return words + " of " + wrap.OneLine(t.Path) + " under " + phrase.Quoted(t.Load)
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
				known = fmt.Sprintf("In nine of ten such machines that is %s to %s µm.", number.Digits(m.SizeUm.Low, phrase.RangedDigits),
					number.Digits(m.SizeUm.High, phrase.RangedDigits))
			}
		}
	}
	return fmt.Sprintf("%s moves %s µm under %s.", what, number.Digits(um, digits), phrase.Quoted(load)), known
}

// MostDifferent says in which number options differ most; "" where they differ in none that was counted.
func MostDifferent(a answer.Answer) string {
	if a.Verdict == nil {
		return ""
	}
	says, most := "", 0.0
	for _, q := range verdict.Quantities(a.Options) {
		if !slices.Contains(a.Verdict.Counted, q.Key) {
			continue
		}
		low, high := math.Inf(1), 0.0
		for _, r := range a.Options {
			if v, ok := q.Value(r); ok {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
		if spread := math.Log(math.Max(high, number.Noise) / math.Max(low, number.Noise)); number.Exceeds(spread, most) {
			most = spread
			says = fmt.Sprintf("%s: %s to %s %s", q.Words(), number.Digits(low, phrase.RangedDigits), number.Digits(high, phrase.RangedDigits), q.Unit)
		}
	}
	return says
}
