package report

import (
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/paper"
)

// bandEdge is the edge of the band round series i, dashed as its curve is.
func bandEdge(i int) draw.LineStyle {
	edge := curveStyle(i)
	edge.Width = paper.Hairline
	return edge
}

// drawn tells whether the curve has a band.
func (s sweptCurve) drawn() bool {
	return slices.ContainsFunc(s.ends, func(e *[2]float64) bool { return e != nil })
}

// sweptBand is what nine draws in ten lie between along a curve; a place left out breaks it.
type sweptBand struct {
	sweptCurve
	beside int // how many are on the chart
}

// Plot fills the band.
func (s sweptBand) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var low, high []vg.Point
	fill := func() {
		if len(low) > 1 {
			c.StrokeLines(bandEdge(s.series), low, high)
			back := slices.Clone(high)
			slices.Reverse(back)
			c.FillPolygon(bandColour(s.series, s.beside), append(low, back...))
		}
		low, high = nil, nil
	}
	for _, at := range s.all {
		i := slices.Index(s.x, at)
		if i < 0 || i >= len(s.ends) || s.ends[i] == nil {
			fill()
			continue
		}
		low = append(low, vg.Point{X: toX(at), Y: toY(s.ends[i][0])})
		high = append(high, vg.Point{X: toX(at), Y: toY(s.ends[i][1])})
	}
	fill()
}

// bandMark draws a piece of the band round series i.
func bandMark(i int) func(c draw.Canvas, box vg.Rectangle) {
	return func(c draw.Canvas, box vg.Rectangle) {
		c.FillPolygon(bandColour(i, 1), paper.CornersOf(box))
		c.StrokeLine2(bandEdge(i), box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
		c.StrokeLine2(bandEdge(i), box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
	}
}
