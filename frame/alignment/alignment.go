// Package alignment ranks what must be aligned: how far each thing may be out of place before something that it
// presses on reaches a limit, by linearity from a misfit of one size, and in which order things are tightened.
//
//	line, ok := alignment.Allowed(alignment.Trial{What: "y: rail 2", How: "aside", SizeUm: 10, Uses: uses})
//
// It knows no machine; lengths are µm, shares of a limit plain ratios.
package alignment

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
)

// RatingShare is how much of a rating what is locked in may take: a tenth, a house value. A life goes with the cube of
// the load.
const RatingShare = 0.1

// Trial is what a misfit of one size uses up.
type Trial struct {
	What, How string
	SizeUm    float64
	// by how much the part that is held moves at the mounting when that is tightened, over the size
	IndicatorShare float64
	Uses           []Use
}

// Use is how much of one limit a trial uses up; 1 is all of it.
type Use struct {
	Limit string // "a tenth of the rating"
	Of    string // "y: rail 1, carriage 2"
	Share float64
}

// leastUse is below what no limit is felt: the rounding of a solution, at misfits of hundredths of a millimetre.
const leastUse = 1e-9

// Allowed is the size at which the first limit is reached; not ok when the trial reaches none, however large.
func Allowed(t Trial) (line answer.AlignLine, ok bool) {
	line = answer.AlignLine{What: t.What, How: t.How, IndicatorShare: t.IndicatorShare}
	most := leastUse
	for _, u := range t.Uses {
		if u.Share > most {
			most, ok = u.Share, true
			line.Limit, line.Of = u.Limit, u.Of
		}
	}
	line.AllowedUm = t.SizeUm / most
	return line, ok
}

// Ranked are the lines of some trials, the most sensitive first; of equals the first.
func Ranked(trials []Trial) []answer.AlignLine {
	lines := []answer.AlignLine{}
	for _, t := range trials {
		if line, ok := Allowed(t); ok {
			lines = append(lines, line)
		}
	}
	slices.SortStableFunc(lines, func(a, b answer.AlignLine) int {
		if alike(a.AllowedUm, b.AllowedUm) {
			return 0
		}
		return cmp.Compare(a.AllowedUm, b.AllowedUm)
	})
	return lines
}

// alike tells whether two sizes differ by rounding: a symmetric machine's rails keep the order of the file.
func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(a, b) }

// Group is what is tightened in one go: a foot, a rail with its carriages, a nut, a bearing.
type Group struct {
	What  string
	Lines []string // the What of the lines that are its own
	Stage int      // what others stand on or are aligned to has a lower one
	First bool     // it is set by itself, and not to anything else
	How   string   // in which way
}

// Steps puts groups in the order of tightening: by stage, and in each from the least sensitive on. What is tightened
// early is what the rest must fit; what is still loose finds its own place, so the most sensitive comes last.
func Steps(groups []Group, lines []answer.AlignLine) []answer.AlignStep {
	type ranked struct {
		Group
		allowed, reading float64
	}
	var list []ranked
	for _, g := range groups {
		r, shown := ranked{Group: g, allowed: math.Inf(1)}, math.Inf(1)
		for _, l := range lines {
			if !slices.Contains(g.Lines, l.What) {
				continue
			}
			r.allowed = math.Min(r.allowed, l.AllowedUm)
			// what turns alone moves no indicator
			if l.IndicatorShare != 0 && l.AllowedUm < shown {
				shown, r.reading = l.AllowedUm, l.AllowedUm*math.Abs(l.IndicatorShare)
			}
		}
		if !math.IsInf(r.allowed, 1) {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int {
		switch {
		case a.Stage != b.Stage:
			return cmp.Compare(a.Stage, b.Stage)
		case alike(a.allowed, b.allowed):
			return 0
		}
		return cmp.Compare(b.allowed, a.allowed)
	})
	steps := []answer.AlignStep{}
	for _, r := range list {
		s := answer.AlignStep{What: r.What, How: r.How}
		if !r.First && r.reading > 0 {
			s.ReadingUm = &r.reading
		}
		steps = append(steps, s)
	}
	return steps
}
