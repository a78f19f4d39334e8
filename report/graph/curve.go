package graph

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/paper"
)

// CurveStyle is the line of series i.
func CurveStyle(i int) draw.LineStyle {
	return draw.LineStyle{Color: paper.SeriesColour(i), Width: paper.FullLine,
		Dashes: paper.SeriesDashes(i)}
}

// MarkerStyle is the marker of series i.
func MarkerStyle(i int) draw.GlyphStyle {
	return draw.GlyphStyle{Color: paper.SeriesColour(i), Radius: 3.2,
		Shape: paper.SeriesMarker(i)}
}

// CurveMark draws a piece of the curve of series i.
func CurveMark(i int) func(c draw.Canvas, box vg.Rectangle) {
	return func(c draw.Canvas, box vg.Rectangle) {
		y := (box.Min.Y + box.Max.Y) / 2
		c.StrokeLine2(CurveStyle(i), box.Min.X, y, box.Max.X, y)
		c.DrawGlyph(MarkerStyle(i), vg.Point{X: (box.Min.X + box.Max.X) / 2, Y: y})
	}
}

// ToleranceEdge is the upper edge of the band of a tolerance.
var ToleranceEdge = draw.LineStyle{Color: paper.Ink, Width: 1.1, Dashes: []vg.Length{5, 3}}

// LeavingMark rings the place where a curve leaves its tolerance.
func LeavingMark(c draw.Canvas, at vg.Point, colour color.Color) {
	c.DrawGlyph(draw.GlyphStyle{Color: paper.White, Radius: 4.6, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyph(draw.GlyphStyle{Color: colour, Radius: 4.6, Shape: draw.RingGlyph{}}, at)
	c.DrawGlyph(draw.GlyphStyle{Color: colour, Radius: 1.3, Shape: draw.CircleGlyph{}}, at)
}

// Axis sets the letters, lines and marks of an axis.
func Axis(a *plot.Axis, label string) {
	a.Label.Text = label
	a.Label.TextStyle.Font = paper.Lettering(paper.LabelSize, paper.Ink).Font
	a.Label.TextStyle.Color = paper.Ink
	a.Label.Padding = 4
	a.Tick.Label.Font = paper.Lettering(paper.SmallSize, paper.Ink).Font
	a.Tick.Label.Color = paper.Ink
	a.LineStyle = draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
	a.Tick.LineStyle = a.LineStyle
	a.Padding = 0
	a.Tick.Marker = Ticked(paper.NiceTicks)
}

// Grid is drawn under what is on a chart, a line at each tick.
func Grid() *plotter.Grid {
	line := draw.LineStyle{Color: paper.Rule, Width: paper.Hairline}
	return &plotter.Grid{Vertical: line, Horizontal: line}
}

// Ticked makes the ticks of an axis.
func Ticked(ticks func(lo, hi float64, n int) []paper.Tick) plot.TickerFunc {
	return func(lo, hi float64) (list []plot.Tick) {
		for _, t := range ticks(lo, hi, ticksOnScale) {
			list = append(list, plot.Tick{Value: t.At, Label: t.Label})
		}
		return list
	}
}

// ToleranceBand is the band from no movement to the tolerance, µm.
type ToleranceBand float64

// Plot draws the band over the whole width.
func (b ToleranceBand) Plot(c draw.Canvas, p *plot.Plot) {
	_, toY := p.Transforms(&c)
	low, high := toY(0), toY(float64(b))
	c.FillPolygon(paper.Wash, paper.CornersOf(vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: low},
		Max: vg.Point{X: c.Max.X, Y: high}}))
}

// ToleranceLine is the upper edge of the band, µm.
type ToleranceLine float64

// Plot draws the line over the whole width.
func (l ToleranceLine) Plot(c draw.Canvas, p *plot.Plot) {
	_, toY := p.Transforms(&c)
	c.StrokeLine2(ToleranceEdge, c.Min.X, toY(float64(l)), c.Max.X, toY(float64(l)))
}

// StrokeCurve draws the curve of series i with its markers.
func StrokeCurve(c draw.Canvas, series int, points []vg.Point) {
	c.StrokeLines(CurveStyle(series), points)
	if len(points) <= MarkersOnCurve {
		for _, at := range points {
			c.DrawGlyph(MarkerStyle(series), at)
		}
		return
	}
	step := max(1, len(points)/MarkersOnCurve)
	for i := series * step / paper.SeriesCount % step; i < len(points); i += step {
		c.DrawGlyph(MarkerStyle(series), points[i])
	}
}

// MarkersOnCurve is how many markers a curve carries, so that they tell curves apart without hiding them.
const MarkersOnCurve = 9
