package report

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/paper"
)

// rangeBand is where nine of ten such machines have a curve; series is the option's place in the answer.
type rangeBand struct {
	series          int
	atMM, low, high []float64
	beside          int // how many bands are on the chart
}

// bandOf is the band of an option's travel; nil where none was drawn.
func bandOf(series int, r answer.Result, t answer.Travel) *rangeBand {
	of := alongRange(r, t)
	if of == nil {
		return nil
	}
	return &rangeBand{series: series, atMM: t.AtMM, low: of.LowUm, high: of.HighUm}
}

// stiffnessBand is the band of an option's stiffness along an axis, taken as that of its movement is: by the share that it
// has where the axis stands; nil where none was drawn.
func stiffnessBand(series int, r answer.Result, t answer.Travel) *rangeBand {
	of := r.StiffnessRange("softest")
	if of == nil || r.Tip == nil {
		return nil
	}
	b := rangeBand{series: series, atMM: t.AtMM}
	for _, k := range t.SoftestNPerUm {
		share := k / r.Tip.StiffnessNPerUm.Softest
		b.low, b.high = append(b.low, share*of.Low), append(b.high, share*of.High)
	}
	return &b
}

// rangeIn are the ends of what an option's band spans; none without one.
func rangeIn(bands []rangeBand, series int) (low, high float64) {
	i := slices.IndexFunc(bands, func(b rangeBand) bool { return b.series == series })
	if i < 0 {
		return 0, 0
	}
	return slices.Min(bands[i].low), slices.Max(bands[i].high)
}

// alongRange is what was drawn of a travel, at all its places; nil where nothing was.
func alongRange(r answer.Result, t answer.Travel) *answer.AlongRange {
	if r.Sure == nil {
		return nil
	}
	i := slices.IndexFunc(r.Sure.Along, func(a answer.AlongRange) bool { return a.Path == t.Path && a.Load == t.Load })
	if i < 0 {
		return nil
	}
	of := &r.Sure.Along[i]
	if len(of.LowUm) != len(t.AtMM) || len(of.HighUm) != len(t.AtMM) {
		return nil
	}
	return of
}

// bandOpacity is that of a band, of 255: what lies under it and other bands show through. Of many bands together it is no
// more than bandsOpacity.
const (
	bandOpacity  = 0x2c
	bandsOpacity = 0x70
)

// bandColour is that of the band of series i, one of so many on a chart.
func bandColour(i, of int) color.NRGBA {
	c := paper.SeriesColour(i)
	c.A = uint8(min(bandOpacity, bandsOpacity/max(1, of)))
	return c
}

// Plot fills the band and draws its edges, which tell it from others over it.
func (b rangeBand) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var outline []vg.Point
	for i, at := range b.atMM {
		outline = append(outline, vg.Point{X: toX(at), Y: toY(b.low[i])})
	}
	for i := len(b.atMM) - 1; i >= 0; i-- {
		outline = append(outline, vg.Point{X: toX(b.atMM[i]), Y: toY(b.high[i])})
	}
	c.FillPolygon(bandColour(b.series, b.beside), outline)
	c.StrokeLines(bandEdge(b.series), outline[:len(b.atMM)], outline[len(b.atMM):])
}

// bandKey explains the bands, of series i first.
func bandKey(i int) *paper.KeyEntry {
	return &paper.KeyEntry{Words: "nine of ten such machines, in the band of its colour", Mark: bandMark(i)}
}
