package report

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/paper"
)

// beamCurve is one option's travel by the beam model, drawn beside that of solid bodies; series is the option's place
// in the answer.
type beamCurve struct {
	series int
	travel answer.Travel
}

// beamStyle is the line of the beam model of series i: the colour of the option's own curve, but thin, in dashes that
// no curve has, and without markers.
func beamStyle(i int) draw.LineStyle {
	return draw.LineStyle{Color: paper.SeriesColour(i), Width: vg.Length(0.9),
		Dashes: []vg.Length{4, 2.5}}
}

// Plot draws the curve.
func (t beamCurve) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	c.StrokeLines(beamStyle(t.series), onChart(t.travel, toX, toY))
}

// beamKey explains the curves of the beam model; nil when the panels have none. Of several options one entry does for
// all, in the colours of the first ones.
func beamKey(panels []travelPanel, options int) *paper.KeyEntry {
	var series []int
	for _, p := range panels {
		for _, c := range p.beams {
			if len(series) == 0 || series[len(series)-1] < c.series {
				series = append(series, c.series)
			}
		}
	}
	if len(series) == 0 {
		return nil
	}
	words := "the same by the beam model"
	if options > 1 {
		words = "thin dashes: the option of that colour by the beam model"
	}
	const most = 3
	series = series[:min(most, len(series))]
	return &paper.KeyEntry{Words: words, Mark: func(c draw.Canvas, box vg.Rectangle) {
		step := (box.Max.Y - box.Min.Y) / vg.Length(len(series)+1)
		for i, s := range series {
			y := box.Max.Y - step*vg.Length(i+1)
			c.StrokeLine2(beamStyle(s), box.Min.X, y, box.Max.X, y)
		}
	}}
}

// travels are all that a panel draws.
func (p travelPanel) travels() []answer.Travel {
	var all []answer.Travel
	for _, c := range p.curves {
		all = append(all, c.travel)
	}
	for _, c := range p.beams {
		all = append(all, c.travel)
	}
	return all
}
