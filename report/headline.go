package report

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
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

// Headline says in two or three sentences what to build and why, or of a single option what it does, and how sure that
// is. The answer has an option at least.
func Headline(a answer.Answer) (says []string) {
	picked := a.Options[Picked(a)]
	if len(a.Options) > 1 && a.Verdict != nil {
		says = append(says, whatToBuild(a))
	}
	if keeps := keepsInWords(picked); keeps != "" {
		says = append(says, keeps)
	} else if moves := movesInWords(picked); moves != "" {
		says = append(says, moves)
	}
	if len(a.Options) > 1 && a.Verdict != nil {
		return append(says, howMuchBetter(a)...)
	}
	if says == nil {
		return []string{"No load moves the tip or a point."}
	}
	if len(a.Options) == 1 && keepsInWords(picked) != "" {
		if moves := movesInWords(picked); moves != "" {
			says = append(says, moves)
		}
	}
	return says
}

// whatToBuild names the option to build, or says that it is all the same.
func whatToBuild(a answer.Answer) string {
	switch names := a.Verdict.Steadiest.Options; len(names) {
	case 0:
		return "Build whichever you like: there is no real difference."
	case 1:
		return fmt.Sprintf("Build %s: the steadiest of %d.", phrase.Quoted(names[0]), len(a.Options))
	default:
		var quoted []string
		for _, name := range names {
			quoted = append(quoted, phrase.Quoted(name))
		}
		return "Build either of " + phrase.List(quoted) + ": nothing that was counted tells them apart."
	}
}

// howMuchBetter says for the steadiest option in how much of what differs it is better than the others together, worse
// and open, and how sure the least sure claim is of those in which it is better.
func howMuchBetter(a answer.Answer) []string {
	names := a.Verdict.Steadiest.Options
	if len(names) != 1 {
		return nil
	}
	better, worse, open, least := 0, 0, 0, (*float64)(nil)
	for _, p := range a.Verdict.Pairs {
		if p.Option != names[0] && p.Against != names[0] {
			continue
		}
		wins, losses := p.Better, p.Worse
		if p.Against == names[0] {
			wins, losses = losses, wins
		}
		better, worse, open = better+len(wins), worse+len(losses), open+len(p.Open)
		for _, c := range wins {
			if c.BetterPercent == nil {
				continue
			}
			sure := max(*c.BetterPercent, 100-*c.BetterPercent)
			if least == nil || sure < *least {
				least = &sure
			}
		}
	}
	words := fmt.Sprintf("Against the others it is better %s", oftenInWords(better))
	if least != nil {
		words += ", in " + chanceInWords(*least)
		if *least < 100 {
			words += " or more"
		}
	}
	if better == 0 {
		return nil
	}
	words += ", worse " + oftenInWords(worse)
	if open > 0 {
		words += ", and " + oftenInWords(open) + " nobody can tell"
	}
	return []string{words + "."}
}

// keepsInWords says how much of the path that keeps its tolerance least it does keep, with the range; "" where no path
// has a tolerance.
func keepsInWords(r answer.Result) string {
	t, ok := TightestTravel(r)
	if !ok {
		return ""
	}
	words := KeepsTolerance(t)
	if r.Sure != nil {
		for _, s := range r.Sure.Stretches {
			if s.Path == t.Path && s.Load == t.Load {
				words += fmt.Sprintf(" (%s to %s of nine in ten such machines)", number.Digits(s.StretchMM.Low, rangedDigits),
					number.Digits(s.StretchMM.High, rangedDigits))
			}
		}
	}
	return words + "."
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

// KeepsTolerance says how much of a path keeps its tolerance: "It keeps 45 µm over 311 of 350 mm of bed under “drilling”".
func KeepsTolerance(t answer.Travel) string {
	words := fmt.Sprintf("It keeps %s µm over %s of %s mm", number.Given(t.ToleranceUm), number.Along(within(t)),
		number.Along(pathLength(t)))
	switch {
	case t.WithinMM == nil:
		words = fmt.Sprintf("It keeps %s µm nowhere", number.Given(t.ToleranceUm))
	case within(t) >= pathLength(t):
		words = fmt.Sprintf("It keeps %s µm all along, %s mm", number.Given(t.ToleranceUm), number.Along(pathLength(t)))
	}
	return words + " of " + wrap.OneLine(t.Path) + " under " + phrase.Quoted(t.Load)
}

// movesInWords says how far the worst load moves the tip, or without a tool the worst point, with the range.
func movesInWords(r answer.Result) string {
	load, point, um := "", "", 0.0
	if worst := worstLoad(r.Loads); worst != nil && *worst.TipSizeUm >= number.Noise {
		load, um = worst.Name, *worst.TipSizeUm
	} else if at, moved := farthestPoint(r); number.Norm(moved) >= number.Noise {
		load, point, um = at.load, at.point, number.Norm(moved)
	}
	if um == 0 {
		return ""
	}
	what := "The tip"
	if point != "" {
		what = "Point " + phrase.Point(r, point)
	}
	if r.Sure != nil {
		for _, m := range r.Sure.Movements {
			if m.Load == load && m.Point == point {
				return fmt.Sprintf("%s moves %s µm under %s, %s to %s in nine of ten such machines.", what,
					number.Digits(um, rangedDigits), phrase.Quoted(load), number.Digits(m.SizeUm.Low, rangedDigits),
					number.Digits(m.SizeUm.High, rangedDigits))
			}
		}
	}
	return fmt.Sprintf("%s moves %s µm under %s.", what, number.Significant(um), phrase.Quoted(load))
}
