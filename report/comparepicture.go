package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/graph"
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
	b := graph.Bars{Sheet: paper.Sheet{Title: a.Machine + ": options side by side"}}
	if len(a.Options) == 1 {
		b.Subtitle = "Option: " + a.Options[0].Name
	}
	addDetail(&b.Sheet, a)
	for _, r := range a.Options {
		b.Series = append(b.Series, r.Name)
	}
	stiffness, moves, depths, travel := stiffnessBars(), loadBars(a.Options), depthBars(a.Options), toleratedLines(a.Options)
	operations := comparedLine{what: wholeMachine, unit: "number",
		value: func(r answer.Result) (float64, bool) { return float64(r.Holes.Operations), true }, write: number.Length}
	addLines(&b, "Stiffness of the tool tip against the work: longer is better", "stiffness, N/µm", stiffness, a.Options)
	under := "each load"
	if all := len(tipLoads(a.Options)); all > len(moves) {
		under = fmt.Sprintf("the %d worst of %d loads", len(moves), all)
	}
	addLines(&b, "Movement of the tool tip under "+under+": shorter is better", "movement, µm", moves, a.Options)
	if len(b.Panels) == 0 {
		addLines(&b, "Movement of points: shorter is better", "movement, µm", pointLines(a.Options), a.Options)
	}
	addLines(&b, "Depth of cut within its tolerance"+tightestOf(depths, "cuts")+": longer is better", "depth, mm",
		tightest(depths, a.Options), a.Options)
	if len(travel) > 0 {
		addLines(&b, "Travel within tolerance"+tightestOf(travel, "paths and loads")+": longer is better", "stretch, mm",
			tightest(travel, a.Options), a.Options)
		b.Panels[len(b.Panels)-1].Least = longestPath(a.Options) // so that a short stretch looks short
	}
	addLines(&b, "Mass", "mass, kg", []comparedLine{massLine(wholeMachine)}, a.Options)
	// a welded machine has none
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Holes.Operations > 0 }) {
		addLines(&b, "Holes", "hole operations", []comparedLine{operations}, a.Options)
		b.Panels[len(b.Panels)-1].Counted = true
	}
	return b.Picture(), nil
}

// mostLoads is how many loads a comparison shows, the worst of them.
const mostLoads = 6

// wholeMachine is what a bar of all of an option is called.
const wholeMachine = "whole machine"

// stiffnessBars are the stiffnesses of the tip.
func stiffnessBars() (lines []comparedLine) {
	for _, l := range stiffnessLines() {
		l.what = strings.TrimPrefix(l.what, stiffnessOf)
		lines = append(lines, l)
	}
	return lines
}

// loadBars are the movements of the tip under each load, or under the worst of many.
func loadBars(options []answer.Result) (lines []comparedLine) {
	for _, name := range worstLoads(options, tipLoads(options), mostLoads) {
		l := tipLine(name)
		l.what = phrase.Quoted(name)
		lines = append(lines, l)
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
func depthBars(options []answer.Result) (lines []comparedLine) {
	for _, name := range cutNames(options) {
		l := depthLine(name)
		l.what = phrase.Quoted(name)
		lines = append(lines, l)
	}
	return lines
}

// tightest are at most mostLoads of the lines, those with the least value in any option, in the order in which they came.
func tightest(lines []comparedLine, options []answer.Result) []comparedLine {
	least := func(l comparedLine) float64 {
		v := math.Inf(1)
		for _, r := range options {
			if of, ok := l.value(r); ok {
				v = min(v, of)
			}
		}
		return v
	}
	return worstBy(lines, mostLoads, func(l comparedLine) float64 { return -least(l) })
}

// tightestOf says that not all lines are drawn; "" when they are.
func tightestOf(lines []comparedLine, what string) string {
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

// addLines makes a panel of lines, leaving out those no option has a value for.
func addLines(b *graph.Bars, title, axis string, lines []comparedLine, options []answer.Result) {
	p := graph.Panel{Title: title, Axis: axis}
	for _, l := range lines {
		row := graph.Row{Label: l.what}
		any := false
		for _, r := range options {
			v, ok := l.value(r)
			if !ok {
				row.Bars = append(row.Bars, graph.Bar{Absent: true, Words: "not there"})
				continue
			}
			any = true
			one := graph.Bar{Value: v, Words: l.write(v)}
			if l.known != nil {
				if span := l.known(r); span != nil && span.High-span.Low > alike*span.High {
					one.Span = span
					one.Words = l.ranged(v) + " (" + l.ranged(span.Low) + " to " + l.ranged(span.High) + ")"
				}
			}
			row.Bars = append(row.Bars, one)
		}
		if any {
			p.Rows = append(p.Rows, row)
		}
	}
	if len(p.Rows) > 0 {
		b.Panels = append(b.Panels, p)
	}
}
