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
	series int
	atMM   []float64
	of     answer.AlongRange
}

// bandOf is the band of an option's travel; nil where none was drawn.
func bandOf(series int, r answer.Result, t answer.Travel) *rangeBand {
	of := alongRange(r, t)
	if of == nil {
		return nil
	}
	return &rangeBand{series, t.AtMM, *of}
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

// bandOpacity is that of a band, of 255: what lies under it and other bands show through.
const bandOpacity = 0x2c

// bandColour is that of the band of series i.
func bandColour(i int) color.NRGBA {
	c := paper.SeriesColour(i)
	c.A = bandOpacity
	return c
}

// Plot fills the band.
func (b rangeBand) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var outline []vg.Point
	for i, at := range b.atMM {
		outline = append(outline, vg.Point{X: toX(at), Y: toY(b.of.LowUm[i])})
	}
	for i := len(b.atMM) - 1; i >= 0; i-- {
		outline = append(outline, vg.Point{X: toX(b.atMM[i]), Y: toY(b.of.HighUm[i])})
	}
	c.FillPolygon(bandColour(b.series), outline)
}

// bandKey explains the bands; nil when the panels have none.
func bandKey(panels []travelPanel) *paper.KeyEntry {
	for _, p := range panels {
		for _, b := range p.bands {
			return &paper.KeyEntry{Words: "nine of ten such machines", Mark: func(c draw.Canvas, box vg.Rectangle) {
				paper.FillBox(c, box, bandColour(b.series), draw.LineStyle{})
			}}
		}
	}
	return nil
}
