package report

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/contour"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// mapBlock is one quantity over a plane, a chart for each option, all with the same levels.
type mapBlock struct {
	title    string
	unit     string // of the quantity, in the words of its scale
	axes     [2]string
	charts   []mapChart
	levels   []paper.Tick
	path     string  // over the plane
	most     float64 // anywhere
	least    float64 // anywhere; the tint of all when there are no levels
	shade    func(share float64) color.Color
	from, to [2]float64 // positions of the two axes at the ends of the charts
}

// mapChart is a quantity over a plane in one option.
type mapChart struct {
	option, note string
	contour.Lattice
	mark      *contour.Point // where the quantity is worst; nil: it is about the same all over
	markWords string
	tolerance float64 // the level at which the tolerance is reached; 0: none
	spread    *graph.Spread
	missing   bool // at some positions no work is under the tool
}

// mostBeside is how many charts of a plane stand side by side.
const mostBeside = 4

// mapHeight is the height of a chart of a plane; scaleHeight is that of the scale of its tints.
const (
	mapHeight   = vg.Length(270)
	scaleHeight = vg.Length(30)
)

// gridOf makes a lattice of a plane from a value at each position, NaN where there is none.
func gridOf(m answer.Map, value func(i, k int) float64) contour.Lattice {
	l := contour.Lattice{X: m.AtMM[0], Y: m.AtMM[1]}
	for i := range l.X {
		row := make([]float64, len(l.Y))
		for k := range l.Y {
			row[k] = value(i, k)
		}
		l.V = append(l.V, row)
	}
	return l
}

// softestOf is the stiffness over a plane, N/µm.
func softestOf(m answer.Map) contour.Lattice {
	return gridOf(m, func(i, k int) float64 {
		if v := m.SoftestNPerUm[i][k]; v != nil {
			return *v
		}
		return math.NaN()
	})
}

// sizesOf is the size of the movement over a plane under a load, µm.
func sizesOf(m answer.Map, l answer.MapLoad) contour.Lattice {
	return gridOf(m, func(i, k int) float64 {
		if v := l.TipUm[i][k]; v != nil {
			return number.Norm(*v)
		}
		return math.NaN()
	})
}

// mapBlocks are the charts of all planes of an answer: each load of each path, then the stiffness, which is the same for all
// paths over the same plane.
func mapBlocks(a answer.Answer) (blocks []mapBlock) {
	var paths []answer.Map // the first of each name
	loads := map[string][]string{}
	for _, r := range a.Options {
		for _, m := range r.Maps {
			if !slices.ContainsFunc(paths, func(o answer.Map) bool { return o.Name == m.Name }) {
				paths = append(paths, m)
			}
			for _, l := range m.Loads {
				if !slices.Contains(loads[m.Name], l.Load) {
					loads[m.Name] = append(loads[m.Name], l.Load)
				}
			}
		}
	}
	var planes [][2]string // of which the stiffness is there
	for _, path := range paths {
		for _, load := range loads[path.Name] {
			b := mapBlock{title: "movement of the tip under " + phrase.Quoted(load), unit: "µm", path: path.Name,
				shade: graph.MovementShade}
			b.fill(a, func(m answer.Map) bool { return m.Name == path.Name },
				func(r answer.Result, m answer.Map) *mapChart { return movementChart(r, m, load) })
			blocks = append(blocks, b)
		}
		if slices.Contains(planes, path.Axes) {
			continue
		}
		planes = append(planes, path.Axes)
		b := mapBlock{title: "stiffness of the tip in its softest direction", unit: "N/µm", path: path.Name,
			shade: graph.StiffnessShade}
		b.fill(a, func(m answer.Map) bool { return m.Axes == path.Axes }, stiffnessChart)
		blocks = append(blocks, b)
	}
	return slices.DeleteFunc(blocks, func(b mapBlock) bool { return len(b.charts) == 0 })
}

// fill makes the charts of a block, one for the first such map of each option, and levels that fit all of them.
func (b *mapBlock) fill(a answer.Answer, of func(answer.Map) bool, chart func(answer.Result, answer.Map) *mapChart) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range a.Options {
		i := slices.IndexFunc(r.Maps, of)
		if i < 0 {
			continue
		}
		m := r.Maps[i]
		c := chart(r, m)
		if c == nil {
			continue
		}
		least, most, ok := c.Span()
		if !ok {
			continue
		}
		lo, hi = min(lo, least), max(hi, most)
		c.option = r.Name
		c.missing = len(withoutWork(m)) > 0
		for k, at := range m.AtMM {
			first, last := at[0], at[len(at)-1]
			if len(b.charts) > 0 {
				first, last = min(first, b.from[k]), max(last, b.to[k])
			}
			b.from[k], b.to[k] = first, last
		}
		if b.axes == [2]string{} {
			b.axes, b.title = m.Axes, panelPlane(m)+": "+b.title
		}
		b.charts = append(b.charts, *c)
	}
	b.most = hi
	if len(b.charts) > 0 && hi >= number.Noise {
		b.levels, b.least = levelsOf(lo, hi), lo
	}
}

// panelPlane names the two axes of a plane, and its path where that has another name.
func panelPlane(m answer.Map) string {
	s := fmt.Sprintf("Axes %s and %s", m.Axes[0], m.Axes[1])
	if m.Name != m.Axes[0]+", "+m.Axes[1] {
		s += ", path " + m.Name
	}
	return s
}

// movementChart is the movement under a load; nil when the map has no such load.
func movementChart(r answer.Result, m answer.Map, load string) *mapChart {
	i := slices.IndexFunc(m.Loads, func(l answer.MapLoad) bool { return l.Load == load })
	if i < 0 {
		return nil
	}
	l := m.Loads[i]
	c := &mapChart{Lattice: sizesOf(m, l), tolerance: m.ToleranceUm}
	of := r.OverRange(m.Name, load)
	c.spread = spreadOf(graph.Level{Lattice: c.Lattice, Um: c.tolerance}, of)
	if l.WithinPercent != nil {
		c.note = keptWithRange(m, *l.WithinPercent, of)
	}
	c.pointOut(l.Worst, of, "most", "µm")
	return c
}

// stiffnessChart is the stiffness in the softest direction.
func stiffnessChart(r answer.Result, m answer.Map) *mapChart {
	c := &mapChart{Lattice: softestOf(m)}
	c.pointOut(m.Softest, r.OverRange(m.Name, ""), "least", "N/µm")
	return c
}

// pointOut marks where a quantity is worst, and says between what it varies where nothing else is said of it, unless it
// is about the same all over.
func (c *mapChart) pointOut(worst answer.MapPosition, of *answer.OverRange, words, unit string) {
	lo, hi, _ := c.Span()
	value, ends := number.Significant(worst.Value), endsOver(of)
	if of != nil {
		value = twoDigits(worst.Value)
	}
	if hi < number.Noise || hi-lo < alike*hi {
		if of != nil && hi >= number.Noise && c.note == "" {
			c.note = value + " " + unit + ends
		}
		return
	}
	c.mark, c.markWords = &contour.Point{X: worst.AtMM[0], Y: worst.AtMM[1]}, words+": "+value+" "+unit+ends
	if c.note == "" {
		c.note = fmt.Sprintf("From %s to %s %s", number.Significant(lo), number.Significant(hi), unit)
	}
}

// mapRowsOf puts blocks into rows: those of one option two side by side, those of several by themselves.
func mapRowsOf(blocks []mapBlock) (rows []chartRow) {
	for i := 0; i < len(blocks); {
		row := chartRow{charts: []chart{blocks[i]}, columns: 1, height: blocks[i].height(paper.Width - 2*paper.Margin)}
		if len(blocks[i].charts) == 1 && (i > 0 && rows[len(rows)-1].columns == 2 || i+1 < len(blocks) &&
			len(blocks[i+1].charts) == 1) {
			row.columns = 2
			width := (paper.Width - 2*paper.Margin) / 2
			row.height = blocks[i].height(width)
			if i+1 < len(blocks) && len(blocks[i+1].charts) == 1 {
				i++
				row.charts, row.height = append(row.charts, blocks[i]), max(row.height, blocks[i].height(width))
			}
		}
		rows = append(rows, row)
		i++
	}
	return rows
}

// columns is how many charts stand side by side.
func (b mapBlock) columns() int { return min(mostBeside, len(b.charts)) }

// rows is how many rows of charts there are.
func (b mapBlock) rows() int { return (len(b.charts) + b.columns() - 1) / b.columns() }

// titleLines is the block's title within a width.
func (b mapBlock) titleLines(width vg.Length) []string {
	return paper.Fitted(paper.BoldLettering(paper.PanelSize, paper.Ink), b.title, width)
}

// chartTitle is the option of a chart, where there are several, and how much of the plane keeps the tolerance.
func (b mapBlock) chartTitle(c mapChart, width vg.Length) []string {
	words := c.note
	if len(b.charts) > 1 {
		words = c.option
		if c.note != "" {
			words += ": " + strings.ToLower(c.note[:1]) + c.note[1:]
		}
	}
	if words == "" {
		return nil
	}
	return paper.Fitted(paper.Lettering(paper.LabelSize, paper.Ink), words, width)
}

// chartTitles is the height of the highest title of a chart.
func (b mapBlock) chartTitles(width vg.Length) (height vg.Length) {
	for _, c := range b.charts {
		height = max(height, paper.TextHeight(paper.Lettering(paper.LabelSize, paper.Ink), len(b.chartTitle(c, width))))
	}
	return height
}

// height is how high the block stands in a column of some width.
func (b mapBlock) height(width vg.Length) vg.Length {
	width -= paper.Gap
	each := width/vg.Length(b.columns()) - paper.Gap
	return paper.TextHeight(paper.BoldLettering(paper.PanelSize, paper.Ink), len(b.titleLines(width))) + scaleHeight +
		vg.Length(b.rows())*(mapHeight+b.chartTitles(each)) + paper.Gap
}

// paint draws the title, the scale of the tints and the charts.
func (b mapBlock) Paint(c draw.Canvas) {
	width := c.Max.X - c.Min.X
	c.Max.Y -= paper.WriteLines(c, paper.BoldLettering(paper.PanelSize, paper.Ink), b.titleLines(width),
		vg.Point{X: c.Min.X, Y: c.Max.Y})
	b.paintScale(c)
	each := width / vg.Length(b.columns())
	titles := b.chartTitles(each - paper.Gap)
	for i, m := range b.charts { // from the foot up, in line with those of a block beside
		left, top := c.Min.X+vg.Length(i%b.columns())*each, c.Min.Y+vg.Length(b.rows()-i/b.columns())*(mapHeight+titles)
		paper.WriteLines(c, paper.Lettering(paper.LabelSize, paper.Ink), b.chartTitle(m, each-paper.Gap),
			vg.Point{X: left, Y: top})
		chart := plot.New()
		chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = b.from[0], b.to[0], b.from[1], b.to[1]
		graph.Axis(&chart.X, b.axes[0]+", mm")
		graph.Axis(&chart.Y, b.axes[1]+", mm")
		chart.Add(mapField{b, m})
		chart.Draw(draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
			Min: vg.Point{X: left, Y: top - titles - mapHeight + paper.Gap}, Max: vg.Point{X: left + each - paper.Gap,
				Y: top - titles - 2},
		}})
	}
}

// The measures of the scale of tints, in points.
const (
	scaleBar  = vg.Length(9)
	scaleWide = vg.Length(26) // of one tint
)

// paintScale draws the tints in a row with the levels between them.
func (b mapBlock) paintScale(c draw.Canvas) {
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	tints := graph.Field{Levels: b.levels, Shade: b.shade}
	top := c.Max.Y - 3
	wide := min(scaleWide, (c.Max.X-c.Min.X)*0.7/vg.Length(len(b.levels)+1))
	taken := c.Min.X
	for n := range len(b.levels) + 1 {
		left := c.Min.X + vg.Length(n)*wide
		paper.FillBox(c, vg.Rectangle{Min: vg.Point{X: left, Y: top - scaleBar}, Max: vg.Point{X: left + wide, Y: top}},
			tints.Tint(n), draw.LineStyle{Color: paper.FaintInk, Width: paper.Hairline})
		if n == 0 {
			continue
		}
		words := b.levels[n-1].Label
		half := sty.Width(words) / 2
		if left-half < taken && n > 1 {
			continue
		}
		c.FillText(sty, vg.Point{X: left, Y: top - scaleBar - paper.LabelHeight/2 - 1}, words)
		taken = left + half + 3
	}
	sty.XAlign = draw.XLeft
	words := b.unit
	if len(b.levels) == 0 {
		words = "about " + paper.WithMinus(number.Significant(b.least)) + " " + b.unit + " all over"
	}
	c.FillText(sty, vg.Point{X: c.Min.X + vg.Length(len(b.levels)+1)*wide + paper.Gap, Y: top - scaleBar/2}, words)
}

// mapField draws a quantity over a plane: tints and levels, the tolerance, what is missing, the worst place.
type mapField struct {
	block mapBlock
	chart mapChart
}

// Plot draws the field.
func (f mapField) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	var at, beside vg.Point
	var box vg.Rectangle
	field := graph.Field{Lattice: f.chart.Lattice, Levels: f.block.levels, Shade: f.block.shade}
	if f.chart.mark != nil {
		at = vg.Point{X: toX(f.chart.mark.X), Y: toY(f.chart.mark.Y)}
		size := vg.Point{X: sty.Width(f.chart.markWords) + 6, Y: paper.LabelHeight + 2}
		labels := paper.Labels{Canvas: draw.Crop(c, 2, -2, 2, -2), Taken: []vg.Rectangle{paper.MarkBox(at)}}
		for _, level := range f.chart.drawnLevels(f.block.levels) {
			for _, line := range f.chart.Lines(level) {
				labels.Lines = append(labels.Lines, graph.OnPaper(line, toX, toY))
			}
		}
		beside = labels.Beside(at, size)
		box = paper.BoxRound(beside, size)
		ring := vg.Length(6)
		field.Clear = []vg.Rectangle{box, {Min: vg.Point{X: at.X - ring, Y: at.Y - ring},
			Max: vg.Point{X: at.X + ring, Y: at.Y + ring}}}
	}
	if f.chart.tolerance > 0 {
		field.Tolerance = &graph.Level{Lattice: f.chart.Lattice, Um: f.chart.tolerance}
		field.Spread = f.chart.spread
	}
	if f.chart.missing {
		hatchMissing(c, c.Rectangle) // the bands cover the rest
	}
	field.Plot(c, p)
	c.StrokeLines(draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}, append(paper.CornersOf(c.Rectangle), c.Min))
	if f.chart.mark != nil {
		worstMark(c, at)
		paper.FillBox(c, box, paper.White, draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine})
		c.FillText(sty, beside, f.chart.markWords)
	}
}

// drawnLevels are the levels of which lines are drawn.
func (c mapChart) drawnLevels(ticks []paper.Tick) (levels []float64) {
	for _, t := range ticks {
		levels = append(levels, t.At)
	}
	if c.tolerance > 0 {
		levels = append(levels, c.tolerance)
	}
	if c.spread != nil {
		levels = append(levels, c.spread.From, c.spread.To)
	}
	return levels
}

// worstMark marks where a quantity over a plane is worst.
func worstMark(c draw.Canvas, at vg.Point) {
	c.DrawGlyph(draw.GlyphStyle{Color: paper.White, Radius: 5.4, Shape: paper.Diamond}, at)
	c.DrawGlyph(draw.GlyphStyle{Color: paper.Ink, Radius: 4, Shape: paper.Diamond}, at)
}

// hatchMissing hatches a rectangle in which nothing is known.
func hatchMissing(c draw.Canvas, box vg.Rectangle) {
	paper.Hatch(c, box, 1.0/8, draw.LineStyle{Color: paper.FaintInk, Width: paper.Hairline / 2})
}

// mapKey explains the signs on the charts of planes, as far as there are any.
func mapKey(blocks []mapBlock) (key []paper.KeyEntry) {
	lines, tolerance, spread, missing, mark := false, false, false, false, false
	for _, b := range blocks {
		lines = lines || len(b.levels) > 0
		for _, c := range b.charts {
			tolerance = tolerance || c.tolerance > 0 && len(c.Lines(c.tolerance)) > 0
			spread = spread || c.spread != nil && c.spread.Anywhere()
			missing = missing || c.missing
			mark = mark || c.mark != nil
		}
	}
	if lines {
		key = append(key, paper.KeyEntry{Words: "lines of equal movement, µm, or stiffness, N/µm",
			Mark: paper.KeyLine{Color: paper.Ink, Width: paper.ThinLine}.Across})
	}
	if tolerance {
		key = append(key, paper.KeyEntry{Words: "the tip moves by the tolerance",
			Mark: paper.KeyLine(graph.ToleranceContour).Across})
	}
	if spread {
		key = append(key, graph.SpreadKey)
	}
	if mark {
		key = append(key, paper.KeyEntry{Words: "most movement, least stiffness",
			Mark: func(c draw.Canvas, box vg.Rectangle) { worstMark(c, paper.MiddleOf(box)) }})
	}
	if missing {
		key = append(key, paper.KeyEntry{Words: "no work under the tool", Mark: hatchMissing})
	}
	return key
}

// spreadOf is the band of a tolerance; nil where nothing was drawn.
func spreadOf(at graph.Level, of *answer.OverRange) *graph.Spread {
	if of == nil || !(at.Um > 0) || !(of.Times90[0] > 0) {
		return nil
	}
	return &graph.Spread{Level: at, From: at.Um / of.Times90[1], To: at.Um / of.Times90[0]}
}
