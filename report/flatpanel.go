package report

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/number"
	"tiploop/report/paper"
)

// flatShare is the part of itself by which a curve may vary and still be called about the same all along: on a chart that
// is little more than the height of its markers. An axis that leaves its line by no more than that part of what its loads
// move the tip is as good as straight.
const flatShare = 0.05

// flat tells whether values are about the same all along.
func flat(values []float64) bool {
	lo, hi := slices.Min(values), slices.Max(values)
	return hi-lo <= flatShare*max(hi, -lo)
}

// flatPanel says in words what a chart would show as level lines over much air.
type flatPanel struct {
	title, note string
	lines       []flatLine
}

// flatLine says something of some options, told by their places in the answer; of none: of all that there are.
type flatLine struct {
	series []int
	words  string
}

// alikeAlong is the note of curves that are flat.
const alikeAlong = "about the same all along"

// besides is what a note says of ranges in brackets; nothing where there are none.
func besides(bands []rangeBand) string {
	if len(bands) == 0 {
		return ""
	}
	return "; in brackets nine of ten such machines"
}

// add says it of an option, together with others of which the same is said.
func (p *flatPanel) add(series int, words string) {
	if i := slices.IndexFunc(p.lines, func(l flatLine) bool { return l.words == words }); i >= 0 {
		p.lines[i].series = append(p.lines[i].series, series)
		return
	}
	p.lines = append(p.lines, flatLine{[]int{series}, words})
}

// named puts the names of the options behind what is said of them; where the same is said of all of several, none.
func (p *flatPanel) named(options []string) {
	for i, l := range p.lines {
		if len(p.lines) == 1 && len(l.series) == len(options) && len(options) > 1 {
			p.lines[i] = flatLine{words: l.words + ", all options"}
			continue
		}
		for _, n := range l.series {
			p.lines[i].words += ", " + options[n]
		}
	}
}

// inTheMiddle is the middle of what little flat values vary by, written with their unit, and the range round it.
func inTheMiddle(values []float64, unit string, low, high float64) string {
	middle := (slices.Min(values) + slices.Max(values)) / 2
	if !(high > low) {
		return paper.WithMinus(number.Significant(middle)) + " " + unit
	}
	return twoDigits(middle) + " " + unit + " (" + twoDigits(low) + " to " + twoDigits(high) + ")"
}

// The measures of such lines, in points.
const (
	flatMark = vg.Length(30) // the width of the mark of an option
	flatStep = vg.Length(2)  // between two lines
)

// marks is the room for the marks of a line.
func (l flatLine) marks() vg.Length {
	return vg.Length(len(l.series)) * (flatMark + flatStep)
}

// fitted are the words of a line in a column of that width.
func (l flatLine) fitted(width vg.Length) []string {
	return paper.Fitted(paper.Lettering(paper.LabelSize, paper.Ink), l.words, width-l.marks()-paper.Gap)
}

// height is the room that it takes in a column of that width.
func (p flatPanel) height(width vg.Length) vg.Length {
	sty, words := paper.BoldLettering(paper.PanelSize, paper.Ink), paper.Lettering(paper.LabelSize, paper.Ink)
	h := paper.TextHeight(sty, len(paper.Fitted(sty, p.title, width))) + 2*paper.Gap
	if p.note != "" {
		h += paper.TextHeight(words, 1) + flatStep
	}
	for _, l := range p.lines {
		h += paper.TextHeight(words, len(l.fitted(width))) + flatStep
	}
	return h
}

// paint writes the lines below the title.
func (p flatPanel) paint(c draw.Canvas) {
	sty, words := paper.BoldLettering(paper.PanelSize, paper.Ink), paper.Lettering(paper.LabelSize, paper.Ink)
	at := vg.Point{X: c.Min.X, Y: c.Max.Y}
	width := c.Max.X - c.Min.X
	at.Y -= paper.WriteLines(c, sty, paper.Fitted(sty, p.title, width), at)
	if p.note != "" {
		at.Y -= paper.WriteLines(c, paper.Lettering(paper.LabelSize, paper.FaintInk), []string{p.note}, at) + flatStep
	}
	for _, l := range p.lines {
		middle := at.Y - paper.TextHeight(words, 1)/2
		for i, n := range l.series {
			left := at.X + vg.Length(i)*(flatMark+flatStep)
			curveMark(n)(c, vg.Rectangle{Min: vg.Point{X: left, Y: middle - 1}, Max: vg.Point{X: left + flatMark, Y: middle + 1}})
		}
		beside := vg.Point{X: at.X + l.marks(), Y: at.Y}
		if len(l.series) > 0 {
			beside.X += paper.Gap
		}
		at.Y -= paper.WriteLines(c, words, l.fitted(width), beside) + flatStep
	}
}

// leveled is a chart that can say of itself that all of its curves are flat.
type leveled interface {
	chart
	// level is what to say in its place; nil when a curve has a shape, or where its beam model is drawn beside.
	level(options []string) *flatPanel
}

// level of a path under a load.
func (p travelPanel) level(options []string) *flatPanel {
	l := flatPanel{title: p.title(), note: alikeAlong + besides(p.bands)}
	for _, c := range p.curves {
		var sizes []float64
		for _, v := range c.travel.TipUm {
			sizes = append(sizes, number.Norm(v))
		}
		if !flat(sizes) {
			return nil
		}
		low, high := rangeIn(p.bands, c.series)
		words := inTheMiddle(sizes, "µm", low, high)
		if c.travel.ToleranceUm > 0 && c.travel.WithinMM == nil {
			words += ", nowhere within the tolerance"
		}
		l.add(c.series, words)
	}
	if len(p.beams) > 0 || len(p.ends()) > 0 {
		return nil
	}
	l.named(options)
	return &l
}

// level of a stiffness along an axis, or how straight one runs where that is next to nothing.
func (p axisPanel) level(options []string) *flatPanel {
	l := flatPanel{title: p.title, note: alikeAlong + besides(p.bands)}
	for _, c := range p.curves {
		if !p.stiffness || !flat(c.v) {
			return nil
		}
		low, high := rangeIn(p.bands, c.series)
		l.add(c.series, inTheMiddle(c.v, "N/µm", low, high))
	}
	if len(p.beams) > 0 {
		return nil
	}
	l.named(options)
	return &l
}

// inRowsOrWords puts charts into rows, after them those that are flat, in words.
func inRowsOrWords(charts []chart, options []string) []chartRow {
	var shaped, level []chart
	for _, c := range charts {
		if l, is := c.(flatPanel); is {
			level = append(level, l)
			continue
		}
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

// marked tells whether any chart, or what stands in its place, has the mark of an option.
func marked(rows []chartRow) bool {
	return slices.ContainsFunc(rows, func(r chartRow) bool {
		return slices.ContainsFunc(r.charts, func(c chart) bool {
			l, level := c.(flatPanel)
			return !level || slices.ContainsFunc(l.lines, func(l flatLine) bool { return len(l.series) > 0 })
		})
	})
}
