package graph

import (
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// Bars is a column of panels with level bars, a bar for each series in each row.
type Bars struct {
	paper.Sheet
	Series []string
	Panels []Panel
}

// Panel is one group of rows with a scale of its own.
type Panel struct {
	Title string
	Axis  string  // the scale's words and unit
	Least float64 // the scale reaches at least this far, so that panels can be given the same one
	Rows  []Row

	Counted bool // values are whole numbers
}

// Row is one thing, with a value for each series.
type Row struct {
	Label string
	Bars  []Bar
}

// Bar is one value and how to write it; a series without one leaves its place blank.
type Bar struct {
	Value  float64
	Words  string
	Absent bool
	Span   *answer.Range // nine of ten lie within; nil: not known
}

// anyRange tells whether a bar has a range.
func (b Bars) anyRange() bool {
	for _, p := range b.Panels {
		for _, r := range p.Rows {
			if slices.ContainsFunc(r.Bars, func(v Bar) bool { return v.Span != nil }) {
				return true
			}
		}
	}
	return false
}

// rangeKey explains the band of a range.
var rangeKey = paper.KeyEntry{Words: "nine of ten such machines lie within", Mark: func(c draw.Canvas, box vg.Rectangle) {
	DrawRange(c, box.Min.X, box.Max.X, paper.MiddleOf(box).Y)
}}

// DrawRange draws a range from left to right: a line between two ends, with a rim of paper so that it is seen on every bar.
func DrawRange(c draw.Canvas, left, right, middle vg.Length) {
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

// Picture lays the chart out.
func (b Bars) Picture() *paper.Picture {
	if len(b.Series) > 1 {
		for i, name := range b.Series {
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
func (b Bars) blocks(room vg.Length) (list []paper.Block) {
	for _, whole := range b.Panels {
		for _, p := range b.broken(whole, room) {
			list = append(list, paper.Block{Height: b.panelHeight(p), Paint: func(c draw.Canvas) {
				b.paintPanel(c, p, c.Min.X+b.labelWidth()+paper.Gap, c.Max.Y)
			}})
		}
	}
	return list
}

// broken are the pieces of a panel, each no higher than the room where that can be.
func (b Bars) broken(p Panel, room vg.Length) (pieces []Panel) {
	_, p.Least = p.span()
	on := p
	on.Rows = nil
	for _, r := range p.Rows {
		longer := on
		longer.Rows = append(slices.Clone(on.Rows), r)
		if len(on.Rows) > 0 && b.panelHeight(longer) > room {
			pieces = append(pieces, on)
			on.Title, longer.Rows = p.Title+" (continued)", []Row{r}
		}
		on.Rows = longer.Rows
	}
	return append(pieces, on)
}

func (b Bars) barHeight() vg.Length {
	if len(b.Series) > 1 {
		return crowdedBar
	}
	return aloneBar
}

// rowHeight is the room for a row's bars or its label, whichever is taller.
func (b Bars) rowHeight(r Row) vg.Length {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	return max(vg.Length(len(b.Series))*b.barHeight(),
		paper.TextHeight(sty, len(paper.Fitted(sty, r.Label, widestLabel)))) + rowGap
}

func (b Bars) panelHeight(p Panel) vg.Length {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	h := paper.TextHeight(sty, len(paper.Fitted(sty, p.Title, paper.Width-2*paper.Margin))) + 4 + axisHeight + panelGap
	return h + b.rowsHeight(p.Rows)
}

// labelWidth is the room for the labels of all panels, so that their zero lines stand below each other.
func (b Bars) labelWidth() vg.Length {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	wide := vg.Length(0)
	for _, p := range b.Panels {
		for _, r := range p.Rows {
			for _, l := range paper.Fitted(sty, r.Label, widestLabel) {
				wide = max(wide, sty.Width(l))
			}
		}
	}
	return wide
}

// span is the range of a panel's scale; it always holds zero and is never empty.
func (p Panel) span() (lo, hi float64) {
	hi = p.Least
	for _, r := range p.Rows {
		for _, v := range r.Bars {
			lo, hi = min(lo, v.Value), max(hi, v.Value)
			if v.Span != nil {
				hi = max(hi, v.Span.High)
			}
		}
	}
	if hi-lo < number.Noise {
		hi = lo + 1
	}
	return lo, hi
}

func (b Bars) paintPanel(c draw.Canvas, p Panel, left, top vg.Length) {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	top -= paper.WriteLines(c, sty, paper.Fitted(sty, p.Title, c.Max.X-c.Min.X), vg.Point{X: c.Min.X, Y: top}) + 4
	height := b.rowsHeight(p.Rows)
	bottom := top - height
	lo, hi := p.span()
	right := c.Max.X - b.valueRoom()
	x := func(v float64) vg.Length { return left + vg.Length((v-lo)/(hi-lo))*(right-left) }
	numbers := paper.Lettering(paper.SmallSize, paper.Ink)
	numbers.XAlign, numbers.YAlign = draw.XCenter, draw.YTop
	ticks := paper.NiceTicks(lo, hi, ticksOnScale)
	if p.Counted {
		ticks = paper.WholeTicks(lo, hi, ticksOnScale)
	}
	for _, t := range ticks {
		c.StrokeLine2(draw.LineStyle{Color: paper.Rule, Width: paper.ThinLine}, x(t.At), bottom-3, x(t.At), top)
		c.FillText(numbers, vg.Point{X: x(t.At), Y: bottom - 5}, t.Label)
	}
	words := paper.Lettering(paper.LabelSize, paper.Ink)
	words.XAlign, words.YAlign = draw.XCenter, draw.YTop
	c.FillText(words, vg.Point{X: (left + right) / 2, Y: bottom - 18}, p.Axis)
	for _, r := range p.Rows {
		b.paintRow(c, r, left, top, x)
		top -= b.rowHeight(r)
	}
	c.StrokeLine2(draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}, x(0), bottom-3, x(0), bottom+height)
}

// rowsHeight is the room for rows.
func (b Bars) rowsHeight(rows []Row) vg.Length {
	h := vg.Length(0)
	for _, r := range rows {
		h += b.rowHeight(r)
	}
	return h
}

// valueRoom is the room right of the longest bar for its number.
func (b Bars) valueRoom() vg.Length {
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	wide := leastValueRoom
	for _, p := range b.Panels {
		for _, r := range p.Rows {
			for _, v := range r.Bars {
				wide = max(wide, sty.Width(v.Words)+paper.Gap)
			}
		}
	}
	return wide
}

// paintRow draws a row's label and bars below top.
func (b Bars) paintRow(c draw.Canvas, r Row, left, top vg.Length, x func(float64) vg.Length) {
	height := b.rowHeight(r)
	middle := top - height/2
	b.paintLabel(c, paper.Lettering(paper.LabelSize, paper.Ink), r.Label, left-paper.Gap, middle)
	y := middle + vg.Length(len(r.Bars))*b.barHeight()/2
	numbers := paper.Lettering(paper.SmallSize, paper.Ink)
	numbers.YAlign = draw.YCenter
	for i, v := range r.Bars {
		box := vg.Rectangle{
			Min: vg.Point{X: min(x(0), x(v.Value)), Y: y - b.barHeight() + 1},
			Max: vg.Point{X: max(x(0), x(v.Value)), Y: y},
		}
		if !v.Absent && box.Max.X > box.Min.X {
			paper.FillSeries(c, box, i)
		}
		end := box.Max.X
		if v.Span != nil {
			DrawRange(c, x(v.Span.Low), x(v.Span.High), paper.MiddleOf(box).Y)
			end = max(end, x(v.Span.High))
		}
		words := vg.Rectangle{Min: vg.Point{X: end + 3, Y: box.Min.Y}, Max: vg.Point{X: end + 5 + numbers.Width(v.Words), Y: box.Max.Y}}
		if v.Words != "" {
			c.FillPolygon(paper.White, paper.CornersOf(words)) // so that no line of the grid runs through
		}
		c.FillText(numbers, vg.Point{X: end + 4, Y: (box.Min.Y + box.Max.Y) / 2}, v.Words)
		y -= b.barHeight()
	}
}

// paintLabel writes a row's label, ending at right, its lines centred on middle.
func (b Bars) paintLabel(c draw.Canvas, sty text.Style, label string, right, middle vg.Length) {
	lines := paper.Fitted(sty, label, widestLabel)
	sty.XAlign = draw.XRight
	paper.WriteLines(c, sty, lines, vg.Point{X: right, Y: middle + paper.TextHeight(sty, len(lines))/2})
}
