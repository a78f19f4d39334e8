package report

import (
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// barChart is a column of panels with level bars, a bar for each series in each row.
type barChart struct {
	paper.Sheet
	series []string
	panels []barPanel
}

// barPanel is one group of rows with a scale of its own.
type barPanel struct {
	title string
	axis  string  // the scale's words and unit
	least float64 // the scale reaches at least this far, so that panels can be given the same one
	rows  []barRow

	counted bool // values are whole numbers
}

// barRow is one thing, with a value for each series.
type barRow struct {
	label string
	bars  []bar
}

// bar is one value and how to write it; a series without one leaves its place blank.
type bar struct {
	value  float64
	words  string
	absent bool
	span   *answer.Range // nine of ten lie within; nil: not known
}

// spanDigits are those of the ends of a range.
const spanDigits = 2

// anyRange tells whether a bar has a range.
func (b barChart) anyRange() bool {
	for _, p := range b.panels {
		for _, r := range p.rows {
			if slices.ContainsFunc(r.bars, func(v bar) bool { return v.span != nil }) {
				return true
			}
		}
	}
	return false
}

// rangeKey explains the band of a range.
var rangeKey = paper.KeyEntry{Words: "nine of ten such machines lie within", Mark: func(c draw.Canvas, box vg.Rectangle) {
	drawRange(c, box.Min.X, box.Max.X, paper.MiddleOf(box).Y)
}}

// drawRange draws a range from left to right: a line between two ends, with a rim of paper so that it is seen on every bar.
func drawRange(c draw.Canvas, left, right, middle vg.Length) {
	for _, sty := range []draw.LineStyle{{Color: paper.White, Width: 2.6}, {Color: paper.Ink, Width: 1.2}} {
		c.StrokeLine2(sty, left, middle, right, middle)
		for _, end := range []vg.Length{left, right} {
			c.StrokeLine2(sty, end, middle-rangeEnd, end, middle+rangeEnd)
		}
	}
}

// rangeEnd is half the height of the ends of a range, in points.
const rangeEnd = vg.Length(2.8)

// The measures of bars, in points.
const (
	aloneBar       = vg.Length(13)  // height of a bar that is the only one of its row
	crowdedBar     = vg.Length(11)  // of several
	rowGap         = vg.Length(7)   // between rows
	widestLabel    = vg.Length(280) // where row labels are wrapped
	leastValueRoom = vg.Length(40)
	axisHeight     = vg.Length(34) // ticks and the scale's words
	panelGap       = vg.Length(14)
	ticksOnScale   = 8
)

// picture lays the chart out.
func (b barChart) picture() *paper.Picture {
	if len(b.series) > 1 {
		for i, name := range b.series {
			b.Key = append(b.Key, paper.KeyEntry{Words: name, Mark: func(c draw.Canvas, box vg.Rectangle) {
				paper.FillSeries(c, box, i)
			}})
		}
	}
	if b.anyRange() {
		b.Key = append(b.Key, rangeKey)
	}
	return paper.Stack{Sheet: b.Sheet, Blocks: b.blocks}.Picture()
}

// blocks are the panels; one that is higher than the room goes on below a title of its own, on the same scale.
func (b barChart) blocks(room vg.Length) (list []paper.Block) {
	for _, whole := range b.panels {
		for _, p := range b.broken(whole, room) {
			list = append(list, paper.Block{Height: b.panelHeight(p), Paint: func(c draw.Canvas) {
				b.paintPanel(c, p, c.Min.X+b.labelWidth()+paper.Gap, c.Max.Y)
			}})
		}
	}
	return list
}

// broken are the pieces of a panel, each no higher than the room where that can be.
func (b barChart) broken(p barPanel, room vg.Length) (pieces []barPanel) {
	_, p.least = p.span()
	on := p
	on.rows = nil
	for _, r := range p.rows {
		longer := on
		longer.rows = append(slices.Clone(on.rows), r)
		if len(on.rows) > 0 && b.panelHeight(longer) > room {
			pieces = append(pieces, on)
			on.title, longer.rows = p.title+" (continued)", []barRow{r}
		}
		on.rows = longer.rows
	}
	return append(pieces, on)
}

func (b barChart) barHeight() vg.Length {
	if len(b.series) > 1 {
		return crowdedBar
	}
	return aloneBar
}

// rowHeight is the room for a row's bars or its label, whichever is taller.
func (b barChart) rowHeight(r barRow) vg.Length {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	return max(vg.Length(len(b.series))*b.barHeight(),
		paper.TextHeight(sty, len(paper.Fitted(sty, r.label, widestLabel)))) + rowGap
}

func (b barChart) panelHeight(p barPanel) vg.Length {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	h := paper.TextHeight(sty, len(paper.Fitted(sty, p.title, paper.Width-2*paper.Margin))) + 4 + axisHeight + panelGap
	return h + b.rowsHeight(p.rows)
}

// labelWidth is the room for the labels of all panels, so that their zero lines stand below each other.
func (b barChart) labelWidth() vg.Length {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	wide := vg.Length(0)
	for _, p := range b.panels {
		for _, r := range p.rows {
			for _, l := range paper.Fitted(sty, r.label, widestLabel) {
				wide = max(wide, sty.Width(l))
			}
		}
	}
	return wide
}

// span is the range of a panel's scale; it always holds zero and is never empty.
func (p barPanel) span() (lo, hi float64) {
	hi = p.least
	for _, r := range p.rows {
		for _, v := range r.bars {
			lo, hi = min(lo, v.value), max(hi, v.value)
			if v.span != nil {
				hi = max(hi, v.span.High)
			}
		}
	}
	if hi-lo < number.Noise {
		hi = lo + 1
	}
	return lo, hi
}

func (b barChart) paintPanel(c draw.Canvas, p barPanel, left, top vg.Length) {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	top -= paper.WriteLines(c, sty, paper.Fitted(sty, p.title, c.Max.X-c.Min.X), vg.Point{X: c.Min.X, Y: top}) + 4
	height := b.rowsHeight(p.rows)
	bottom := top - height
	lo, hi := p.span()
	right := c.Max.X - b.valueRoom()
	x := func(v float64) vg.Length { return left + vg.Length((v-lo)/(hi-lo))*(right-left) }
	numbers := paper.Lettering(paper.SmallSize, paper.Ink)
	numbers.XAlign, numbers.YAlign = draw.XCenter, draw.YTop
	ticks := paper.NiceTicks(lo, hi, ticksOnScale)
	if p.counted {
		ticks = paper.WholeTicks(lo, hi, ticksOnScale)
	}
	for _, t := range ticks {
		c.StrokeLine2(draw.LineStyle{Color: paper.Rule, Width: paper.ThinLine}, x(t.At), bottom-3, x(t.At), top)
		c.FillText(numbers, vg.Point{X: x(t.At), Y: bottom - 5}, t.Label)
	}
	words := paper.Lettering(paper.LabelSize, paper.Ink)
	words.XAlign, words.YAlign = draw.XCenter, draw.YTop
	c.FillText(words, vg.Point{X: (left + right) / 2, Y: bottom - 18}, p.axis)
	for _, r := range p.rows {
		b.paintRow(c, r, left, top, x)
		top -= b.rowHeight(r)
	}
	c.StrokeLine2(draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}, x(0), bottom-3, x(0), bottom+height)
}

// rowsHeight is the room for rows.
func (b barChart) rowsHeight(rows []barRow) vg.Length {
	h := vg.Length(0)
	for _, r := range rows {
		h += b.rowHeight(r)
	}
	return h
}

// valueRoom is the room right of the longest bar for its number.
func (b barChart) valueRoom() vg.Length {
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	wide := leastValueRoom
	for _, p := range b.panels {
		for _, r := range p.rows {
			for _, v := range r.bars {
				wide = max(wide, sty.Width(v.words)+paper.Gap)
			}
		}
	}
	return wide
}

// paintRow draws a row's label and bars below top.
func (b barChart) paintRow(c draw.Canvas, r barRow, left, top vg.Length, x func(float64) vg.Length) {
	height := b.rowHeight(r)
	middle := top - height/2
	b.paintLabel(c, paper.Lettering(paper.LabelSize, paper.Ink), r.label, left-paper.Gap, middle)
	y := middle + vg.Length(len(r.bars))*b.barHeight()/2
	numbers := paper.Lettering(paper.SmallSize, paper.Ink)
	numbers.YAlign = draw.YCenter
	for i, v := range r.bars {
		box := vg.Rectangle{
			Min: vg.Point{X: min(x(0), x(v.value)), Y: y - b.barHeight() + 1},
			Max: vg.Point{X: max(x(0), x(v.value)), Y: y},
		}
		if !v.absent && box.Max.X > box.Min.X {
			paper.FillSeries(c, box, i)
		}
		end := box.Max.X
		if v.span != nil {
			drawRange(c, x(v.span.Low), x(v.span.High), paper.MiddleOf(box).Y)
			end = max(end, x(v.span.High))
		}
		words := vg.Rectangle{Min: vg.Point{X: end + 3, Y: box.Min.Y}, Max: vg.Point{X: end + 5 + numbers.Width(v.words), Y: box.Max.Y}}
		if v.words != "" {
			c.FillPolygon(paper.White, paper.CornersOf(words)) // so that no line of the grid runs through
		}
		c.FillText(numbers, vg.Point{X: end + 4, Y: (box.Min.Y + box.Max.Y) / 2}, v.words)
		y -= b.barHeight()
	}
}

// paintLabel writes a row's label, ending at right, its lines centred on middle.
func (b barChart) paintLabel(c draw.Canvas, sty text.Style, label string, right, middle vg.Length) {
	lines := paper.Fitted(sty, label, widestLabel)
	sty.XAlign = draw.XRight
	paper.WriteLines(c, sty, lines, vg.Point{X: right, Y: middle + paper.TextHeight(sty, len(lines))/2})
}
