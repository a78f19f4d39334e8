package report

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// axisPanel is a chart over the positions of an axis that has no tolerance: the stiffness of the tip, or how straight
// the axis runs, with a curve for each option.
type axisPanel struct {
	title, axis, label string
	stiffness          bool
	curves, beams      []axisCurve // beams: the same by the beam model, where that stands beside
	bands              []graph.Band
}

// axisCurve is one option's values over the positions of an axis; series is the option's place in the answer.
type axisCurve struct {
	series int
	at, v  []float64
}

// stiffnessPanel is the stiffness along a path of an axis; nil when the answer has none.
func stiffnessPanel(a answer.Answer, path string) *axisPanel {
	of := func(r *answer.Result) *answer.Travel {
		i := slices.IndexFunc(r.Travel, func(t answer.Travel) bool { return t.Path == path && t.SoftestNPerUm != nil })
		if i < 0 {
			return nil
		}
		return &r.Travel[i]
	}
	p := axisPanel{label: "stiffness, N/µm", stiffness: true}
	for i, r := range a.Options {
		t := of(&r)
		if t == nil {
			continue
		}
		p.title, p.axis = panelPath(t.Axis, t.Path)+": stiffness of the tip in its softest direction", t.Axis
		p.curves = append(p.curves, axisCurve{i, t.AtMM, t.SoftestNPerUm})
		if band := stiffnessBand(i, r, *t); band != nil {
			p.bands = append(p.bands, *band)
		}
		if r.Section != nil {
			if beam := of(r.Section); beam != nil {
				p.beams = append(p.beams, axisCurve{i, beam.AtMM, beam.SoftestNPerUm})
			}
		}
	}
	if p.curves == nil {
		return nil
	}
	return &p
}

// straightPanels are how straight an axis runs, one for each direction in which any option leaves its line by more than
// flatShare of moved, the most that any load of the axis moves the tip, µm; of the other directions it is said in words.
func straightPanels(a answer.Answer, axis string, moved float64) (panels []chart) {
	straight := graph.Words{Title: fmt.Sprintf("Axis %s: off the straight line, own weight", axis)}
	for _, across := range []string{"x", "y", "z"} {
		which := phrase.Lines[strings.Index("xyz", across)]
		p := axisPanel{title: fmt.Sprintf("Axis %s: off the straight line %s, own weight", axis, which), axis: axis,
			label: "off the line, µm"}
		most := 0.0
		for i, r := range a.Options {
			for _, s := range r.Straight {
				if s.Axis == axis && s.Across == across {
					p.curves, most = append(p.curves, axisCurve{i, s.AtMM, s.OffUm}), max(most, s.Um)
				}
			}
			if r.Section == nil {
				continue
			}
			for _, s := range r.Section.Straight {
				if s.Axis == axis && s.Across == across {
					p.beams = append(p.beams, axisCurve{i, s.AtMM, s.OffUm})
				}
			}
		}
		switch {
		case most < unseen:
		case most <= flatShare*moved:
			straight.Lines = append(straight.Lines, graph.Line{Words: "at most " + twoDigits(most) + " µm " + which})
		default:
			panels = append(panels, p)
		}
	}
	if straight.Lines != nil {
		straight.Note = "next to nothing beside the " + twoDigits(moved) + " µm that a load moves the tip"
		panels = append(panels, straight)
	}
	return panels
}

// scale is the stretch of positions and of values that the panel shows; nothing is always among the values.
func (p axisPanel) scale() (from, to, lo, hi float64) {
	from, to = p.curves[0].at[0], p.curves[0].at[0]
	for _, c := range slices.Concat(p.curves, p.beams) {
		from, to = min(from, slices.Min(c.at)), max(to, slices.Max(c.at))
		lo, hi = min(lo, slices.Min(c.v)), max(hi, slices.Max(c.v))
	}
	for _, b := range p.bands {
		hi = max(hi, slices.Max(b.High))
	}
	if to-from < number.Noise {
		from, to = from-1, to+1
	}
	if hi-lo < number.Noise {
		hi = 1
	}
	room := headRoom * (hi - lo)
	if lo < 0 {
		lo -= room
	}
	if hi > 0 {
		hi += room
	}
	return from, to, lo, hi
}

// Paint draws the panel: title, axes, curves.
func (p axisPanel) Paint(c draw.Canvas) {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	c.Max.Y -= paper.WriteLines(c, sty, paper.Fitted(sty, p.title, c.Max.X-c.Min.X), vg.Point{X: c.Min.X, Y: c.Max.Y}) +
		4
	chart := plot.New()
	chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = p.scale()
	graph.Axis(&chart.X, placesAxis(p.axis))
	graph.Axis(&chart.Y, p.label)
	chart.Add(graph.Grid())
	for _, band := range p.bands {
		band.Beside = len(p.bands)
		chart.Add(band)
	}
	for _, curve := range p.beams {
		chart.Add(plotted(func(c draw.Canvas, on func(axisCurve) []vg.Point) {
			c.StrokeLines(beamStyle(curve.series), on(curve))
		}))
	}
	for _, curve := range p.curves {
		chart.Add(plotted(func(c draw.Canvas, on func(axisCurve) []vg.Point) {
			graph.StrokeCurve(c, curve.series, on(curve))
		}))
	}
	chart.Draw(c)
}

// plotted draws on a chart; on takes a curve to the paper.
type plotted func(c draw.Canvas, on func(axisCurve) []vg.Point)

// Plot draws.
func (f plotted) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	f(c, func(a axisCurve) []vg.Point {
		points := make([]vg.Point, len(a.at))
		for i, at := range a.at {
			points[i] = vg.Point{X: toX(at), Y: toY(a.v[i])}
		}
		return points
	})
}

// level of a stiffness along an axis, or how straight one runs where that is next to nothing.
func (p axisPanel) level(options []string) *graph.Words {
	l := graph.Words{Title: p.title, Note: flatNote(len(p.bands) > 0)}
	for _, c := range p.curves {
		if !p.stiffness || !flat(c.v) {
			return nil
		}
		low, high := rangeIn(p.bands, c.series)
		l.Add(c.series, inTheMiddle(c.v, "N/µm", low, high))
	}
	if len(p.beams) > 0 {
		return nil
	}
	l.Named(options)
	return &l
}
