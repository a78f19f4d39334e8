package report

import (
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
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
	var stiffness, travel []comparedLine
	for _, l := range stiffnessLines() {
		l.what = strings.TrimPrefix(l.what, stiffnessOf)
		stiffness = append(stiffness, l)
	}
	for _, t := range tolerated(a.Options) {
		travel = append(travel, comparedLine{t.words(), "mm", t.within, number.Along, t.known})
	}
	mass := comparedLine{"whole machine", "kg", func(r answer.Result) (float64, bool) { return r.MassKg, true },
		number.Significant, nil}
	operations := comparedLine{"whole machine", "number",
		func(r answer.Result) (float64, bool) { return float64(r.Holes.Operations), true }, number.Length, nil}
	b.add("Stiffness of the tool tip against the work: longer is better", "stiffness, N/µm", stiffness, a.Options)
	if len(b.panels) == 0 {
		b.add("Movement of points: shorter is better", "movement, µm", pointLines(a.Options), a.Options)
	}
	if len(travel) > 0 {
		b.add("Travel within tolerance: longer is better", "stretch, mm", travel, a.Options)
		b.panels[len(b.panels)-1].least = longestPath(a.Options) // so that a short stretch looks short
	}
	b.add("Mass", "mass, kg", []comparedLine{mass}, a.Options)
	// a welded machine has none
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Holes.Operations > 0 }) {
		b.add("Holes", "hole operations", []comparedLine{operations}, a.Options)
	}
	return b.picture(), nil
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
func (b *barChart) add(title, axis string, lines []comparedLine, options []answer.Result) {
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
			row.bars = append(row.bars, bar{value: v, words: l.write(v)})
		}
		if any {
			p.rows = append(p.rows, row)
		}
	}
	if len(p.rows) > 0 {
		b.panels = append(b.panels, p)
	}
}
