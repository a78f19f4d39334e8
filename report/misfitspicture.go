package report

import (
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// AlignPicture draws how far the most sensitive things may be out of place.
func AlignPicture(a answer.Answer) (*paper.Picture, error) {
	if err := number.CheckFinite(a); err != nil {
		return nil, err
	}
	b := graph.Bars{Sheet: paper.Sheet{Title: a.Machine + ": what must be aligned", Subtitle: "How far each may be out of " +
		"place by itself before something takes a tenth of its rating or its preload, a joint slips or the tip leaves its " +
		"tolerance"}}
	addDetail(&b.Sheet, a)
	panel := graph.Panel{Title: "the most sensitive first", Axis: "out of place at most, µm"}
	for _, r := range a.Options {
		b.Series = append(b.Series, r.Name)
	}
	for _, l := range mostSensitive(a.Options) {
		row := graph.Row{Label: l.What + ", " + l.How}
		for _, r := range a.Options {
			row.Bars = append(row.Bars, alignBar(r, l))
		}
		panel.Rows = append(panel.Rows, row)
	}
	if panel.Rows == nil {
		return nil, paper.NothingToDraw("nothing here has a limit")
	}
	b.Panels = []graph.Panel{panel}
	return b.Picture(), nil
}

// mostSensitive are the first lines of each option, each thing once.
func mostSensitive(options []answer.Result) (lines []answer.AlignLine) {
	for _, r := range options {
		if r.Align == nil {
			continue
		}
		for _, l := range r.Align.Lines[:min(len(r.Align.Lines), mostAligned)] {
			if !slices.ContainsFunc(lines, func(o answer.AlignLine) bool { return o.What == l.What && o.How == l.How }) {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

// alignBar is an option's for a thing.
func alignBar(r answer.Result, l answer.AlignLine) graph.Bar {
	if r.Align != nil {
		for _, o := range r.Align.Lines {
			if o.What == l.What && o.How == l.How {
				return graph.Bar{Value: o.AllowedUm, Words: number.Significant(o.AllowedUm)}
			}
		}
	}
	return graph.Bar{Absent: true}
}
