package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// ComparePicture shows options side by side: the stiffness of the tip (or, without a tool, how far points move), the
// stretch within tolerance, mass and holes.
func ComparePicture(a answer.Answer) (*paper.Picture, error) {
	if err := number.CheckFinite(a); err != nil {
		return nil, err
	}
	if len(a.Options) == 0 {
		return nil, paper.NothingToDraw("there are no options")
	}
	b := barChart{Sheet: paper.Sheet{Title: a.Machine + ": options side by side"}}
	if len(a.Options) == 1 {
		b.Subtitle = "Option: " + a.Options[0].Name
	}
	addDetail(&b.Sheet, a)
	for _, r := range a.Options {
		b.series = append(b.series, r.Name)
	}
	stiffness, moves, depths, travel := stiffnessBars(), loadBars(a.Options), depthBars(a.Options), travelBars(a.Options)
	mass := rangedLine{comparedLine: comparedLine{"whole machine", "kg", func(r answer.Result) (float64, bool) {
		return r.MassKg, true
	}, number.Significant, nil}}
	operations := rangedLine{comparedLine: comparedLine{"whole machine", "number",
		func(r answer.Result) (float64, bool) { return float64(r.Holes.Operations), true }, number.Length, nil}}
	b.add("Stiffness of the tool tip against the work: longer is better", "stiffness, N/µm", stiffness, a.Options)
	under := "each load"
	if all := len(tipLoads(a.Options)); all > len(moves) {
		under = fmt.Sprintf("the %d worst of %d loads", len(moves), all)
	}
	b.add("Movement of the tool tip under "+under+": shorter is better", "movement, µm", moves, a.Options)
	if len(b.panels) == 0 {
		var points []rangedLine
		for _, at := range pointLoads(a.Options) {
			points = append(points, rangedLine{pointLine(at), false})
		}
		b.add("Movement of points: shorter is better", "movement, µm", points, a.Options)
	}
	b.add("Depth of cut within its tolerance"+tightestOf(depths, "cuts")+": longer is better", "depth, mm",
		tightest(depths, a.Options), a.Options)
	if len(travel) > 0 {
		b.add("Travel within tolerance"+tightestOf(travel, "paths and loads")+": longer is better", "stretch, mm",
			tightest(travel, a.Options), a.Options)
		b.panels[len(b.panels)-1].least = longestPath(a.Options) // so that a short stretch looks short
	}
	b.add("Mass", "mass, kg", []rangedLine{mass}, a.Options)
	// a welded machine has none
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Holes.Operations > 0 }) {
		b.add("Holes", "hole operations", []rangedLine{operations}, a.Options)
		b.panels[len(b.panels)-1].counted = true
	}
	return b.picture(), nil
}

// mostLoads is how many loads a comparison shows, the worst of them.
const mostLoads = 6

// rangedLine is a line with the range of its value where that was drawn.
type rangedLine struct {
	comparedLine
	exact bool // it is written with all its digits, as a place is, whatever its range
}

// stiffnessBars are the stiffnesses of the tip.
func stiffnessBars() (lines []rangedLine) {
	for _, l := range stiffnessLines() {
		l.what = strings.TrimPrefix(l.what, stiffnessOf)
		lines = append(lines, rangedLine{l, false})
	}
	return lines
}

// loadBars are the movements of the tip under each load, or under the worst of many.
func loadBars(options []answer.Result) (lines []rangedLine) {
	for _, name := range worstLoads(options, tipLoads(options), mostLoads) {
		l := tipLine(name)
		l.what = phrase.Quoted(name)
		lines = append(lines, rangedLine{l, false})
	}
	return lines
}

// tipLoads are the loads under which the tip moves in any option.
func tipLoads(options []answer.Result) []string {
	return slices.DeleteFunc(loadNames(options), func(name string) bool {
		return !slices.ContainsFunc(options, func(r answer.Result) bool { _, ok := tipLine(name).value(r); return ok })
	})
}

// depthBars are how deep each cut may be.
func depthBars(options []answer.Result) (lines []rangedLine) {
	for _, name := range cutNames(options) {
		l := depthLine(name)
		l.what = phrase.Quoted(name)
		lines = append(lines, rangedLine{l, false})
	}
	return lines
}

// travelBars are the stretches within the tolerance.
func travelBars(options []answer.Result) (lines []rangedLine) {
	for _, t := range tolerated(options) {
		lines = append(lines, rangedLine{comparedLine{t.words(), "mm", t.within, number.Along, t.known}, true})
	}
	return lines
}

// tightest are at most mostLoads of the lines, those with the least value in any option, in the order in which they came.
func tightest(lines []rangedLine, options []answer.Result) []rangedLine {
	least := func(l rangedLine) float64 {
		v := math.Inf(1)
		for _, r := range options {
			if of, ok := l.value(r); ok {
				v = min(v, of)
			}
		}
		return v
	}
	sorted := slices.Clone(lines)
	slices.SortStableFunc(sorted, func(a, b rangedLine) int { return cmp.Compare(least(a), least(b)) })
	kept := map[string]bool{}
	for _, l := range sorted[:min(len(sorted), mostLoads)] {
		kept[l.what] = true
	}
	return slices.DeleteFunc(slices.Clone(lines), func(l rangedLine) bool { return !kept[l.what] })
}

// tightestOf says that not all lines are drawn; "" when they are.
func tightestOf(lines []rangedLine, what string) string {
	if len(lines) <= mostLoads {
		return ""
	}
	return fmt.Sprintf(", the %d tightest of %d %s", mostLoads, len(lines), what)
}

// longestPath is the length of the longest path of any option, mm.
func longestPath(options []answer.Result) float64 {
	longest := 0.0
	for _, r := range options {
		for _, t := range r.Travel {
			if n := len(t.AtMM); n > 0 {
				longest = max(longest, math.Abs(t.AtMM[n-1]-t.AtMM[0]))
			}
		}
	}
	return longest
}

// add makes a panel of lines, leaving out those no option has a value for.
func (b *barChart) add(title, axis string, lines []rangedLine, options []answer.Result) {
	p := barPanel{title: title, axis: axis}
	for _, l := range lines {
		row := barRow{label: l.what}
		any := false
		for _, r := range options {
			v, ok := l.value(r)
			if !ok {
				row.bars = append(row.bars, bar{absent: true, words: "not there"})
				continue
			}
			any = true
			one := bar{value: v, words: l.write(v)}
			if l.known != nil {
				if span := l.known(r); span != nil && span.High-span.Low > alike*span.High {
					one.span = span
					write := l.write
					if !l.exact {
						write = func(v float64) string { return number.Digits(v, spanDigits) }
					}
					one.words = write(v) + " (" + write(span.Low) + " to " + write(span.High) + ")"
				}
			}
			row.bars = append(row.bars, one)
		}
		if any {
			p.rows = append(p.rows, row)
		}
	}
	if len(p.rows) > 0 {
		b.panels = append(b.panels, p)
	}
}
