package graph

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/paper"
)

// Band is where nine of ten such machines have a curve; series is the option's place in the answer.
type Band struct {
	Series          int
	AtMM, Low, High []float64
	Beside          int // how many bands are on the chart
}

// bandOpacity is that of a band, of 255: what lies under it and other bands show through. Of many bands together it is no
// more than bandsOpacity.
const (
	bandOpacity  = 0x2c
	bandsOpacity = 0x70
)

// BandColour is that of the band of series i, one of so many on a chart.
func BandColour(i, of int) color.NRGBA {
	c := paper.SeriesColour(i)
	c.A = uint8(min(bandOpacity, bandsOpacity/max(1, of)))
	return c
}

// Plot fills the band and draws its edges, which tell it from others over it.
func (b Band) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var outline []vg.Point
	for i, at := range b.AtMM {
		outline = append(outline, vg.Point{X: toX(at), Y: toY(b.Low[i])})
	}
	for i := len(b.AtMM) - 1; i >= 0; i-- {
		outline = append(outline, vg.Point{X: toX(b.AtMM[i]), Y: toY(b.High[i])})
	}
	c.FillPolygon(BandColour(b.Series, b.Beside), outline)
	c.StrokeLines(BandEdge(b.Series), outline[:len(b.AtMM)], outline[len(b.AtMM):])
}

// BandKey explains the bands, of series i first.
func BandKey(i int) paper.KeyEntry {
	return paper.KeyEntry{Words: "nine of ten such machines, in the band of its colour", Mark: func(c draw.Canvas, box vg.Rectangle) {
		c.FillPolygon(BandColour(i, 1), paper.CornersOf(box))
		c.StrokeLine2(BandEdge(i), box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
		c.StrokeLine2(BandEdge(i), box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
	}}
}

// BandEdge is the edge of the band round series i, dashed as its curve is.
func BandEdge(i int) draw.LineStyle {
	edge := CurveStyle(i)
	edge.Width = paper.Hairline
	return edge
}
