package report

import (
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// AlignPicture draws how far the most sensitive things may be out of place.
func AlignPicture(a answer.Answer) (*paper.Picture, error) {
	if err := number.CheckFinite(a); err != nil {
		return nil, err
	}
	b := barChart{Sheet: paper.Sheet{Title: a.Machine + ": what must be aligned", Subtitle: "How far each may be out of " +
		"place by itself before something takes a tenth of its rating or its preload, a joint slips or the tip leaves its " +
		"tolerance"}}
	addDetail(&b.Sheet, a)
	panel := barPanel{title: "the most sensitive first", axis: "out of place at most, µm"}
	for _, r := range a.Options {
		b.series = append(b.series, r.Name)
	}
	for _, l := range mostSensitive(a.Options) {
		row := barRow{label: l.What + ", " + l.How}
		for _, r := range a.Options {
			row.bars = append(row.bars, alignBar(r, l))
		}
		panel.rows = append(panel.rows, row)
	}
	if panel.rows == nil {
		return nil, paper.NothingToDraw("nothing here has a limit")
	}
	b.panels = []barPanel{panel}
	return b.picture(), nil
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
func alignBar(r answer.Result, l answer.AlignLine) bar {
	if r.Align != nil {
		for _, o := range r.Align.Lines {
			if o.What == l.What && o.How == l.How {
				return bar{value: o.AllowedUm, words: number.Significant(o.AllowedUm)}
			}
		}
	}
	return bar{absent: true}
}
