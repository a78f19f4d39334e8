package report

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/number"
	"tiploop/report/paper"
)

// flatShare is the part of itself by which a curve may vary and still be called about the same all along: on a chart that
// is little more than the height of its markers.
const flatShare = 0.03

// flat tells whether values are about the same all along.
func flat(values []float64) bool {
	lo, hi := slices.Min(values), slices.Max(values)
	return hi-lo <= flatShare*max(hi, -lo)
}

// flatPanel says in words what a chart would show as level lines over much air.
type flatPanel struct {
	title, unit string
	curves      []flatCurve
}

// flatCurve is one option's; series is the option's place in the answer.
type flatCurve struct {
	series int
	name   string
	value  float64 // in the middle of what little it varies by
}

// flatLine is the height of one line of it, in points.
const flatLine = vg.Length(15)

// flatCurveOf is the curve of such values.
func flatCurveOf(series int, name string, values []float64) flatCurve {
	return flatCurve{series, name, (slices.Min(values) + slices.Max(values)) / 2}
}

// height is the room that it takes in a column of that width.
func (p flatPanel) height(width vg.Length) vg.Length {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	return paper.TextHeight(sty, len(paper.Fitted(sty, p.title, width))) + vg.Length(len(p.curves)+1)*flatLine + 3*paper.Gap
}

// paint writes the lines below the title.
func (p flatPanel) paint(c draw.Canvas) {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	at := vg.Point{X: c.Min.X, Y: c.Max.Y}
	at.Y -= paper.WriteLines(c, sty, paper.Fitted(sty, p.title, c.Max.X-c.Min.X), at)
	paper.WriteLines(c, paper.Lettering(paper.LabelSize, paper.FaintInk), []string{"about the same all along"}, at)
	at.Y -= flatLine + 2
	words := paper.Lettering(paper.LabelSize, paper.Ink)
	for _, curve := range p.curves {
		line := paper.WithMinus(number.Significant(curve.value)) + " " + p.unit + ", " + curve.name
		lines := paper.Fitted(words, line, c.Max.X-c.Min.X-flatMark-paper.Gap)[:1]
		middle := at.Y - paper.TextHeight(words, 1)/2
		curveMark(curve.series)(c, vg.Rectangle{Min: vg.Point{X: at.X, Y: middle - 1}, Max: vg.Point{X: at.X + flatMark, Y: middle + 1}})
		paper.WriteLines(c, words, lines, vg.Point{X: at.X + flatMark + paper.Gap, Y: at.Y})
		at.Y -= flatLine
	}
}

// flatMark is the width of the mark of an option, in points.
const flatMark = vg.Length(30)

// leveled is a chart that can say of itself that all of its curves are flat.
type leveled interface {
	chart
	// level is what to say in its place; nil when a curve has a shape, or where its beam model is drawn beside.
	level(options []string) *flatPanel
}

// level of a path under a load.
func (p travelPanel) level(options []string) *flatPanel {
	l := flatPanel{title: p.title(), unit: "µm"}
	for _, c := range p.curves {
		var sizes []float64
		for _, v := range c.travel.TipUm {
			sizes = append(sizes, number.Norm(v))
		}
		if !flat(sizes) {
			return nil
		}
		l.curves = append(l.curves, flatCurveOf(c.series, options[c.series], sizes))
	}
	if len(p.beams) > 0 || len(p.ends()) > 0 {
		return nil
	}
	return &l
}

// level of a stiffness along an axis; how straight one runs is never flat, or it is not drawn.
func (p axisPanel) level(options []string) *flatPanel {
	l := flatPanel{title: p.title, unit: "N/µm"}
	for _, c := range p.curves {
		if !p.stiffness || !flat(c.v) {
			return nil
		}
		l.curves = append(l.curves, flatCurveOf(c.series, options[c.series], c.v))
	}
	if len(p.beams) > 0 {
		return nil
	}
	return &l
}

// inRowsOrWords puts charts into rows, after them those that are flat, in words.
func inRowsOrWords(charts []chart, options []string) []chartRow {
	var shaped, level []chart
	for _, c := range charts {
		if l, is := c.(leveled); is {
			if words := l.level(options); words != nil {
				level = append(level, *words)
				continue
			}
		}
		shaped = append(shaped, c)
	}
	var rows []chartRow
	if shaped != nil {
		rows = inRows(shaped)
	}
	columns := min(2, len(level))
	for row := range slices.Chunk(level, 2) {
		height := vg.Length(0)
		for _, c := range row {
			height = max(height, c.(flatPanel).height((paper.Width-2*paper.Margin)/vg.Length(columns)-paper.Gap))
		}
		rows = append(rows, chartRow{row, columns, height})
	}
	return rows
}
