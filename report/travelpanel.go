package report

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// tolerance is the largest tolerance of a panel's curves, µm; 0 when none has one. Options may change it.
func (p travelPanel) tolerance() float64 {
	most := 0.0
	for _, c := range p.curves {
		most = max(most, c.travel.ToleranceUm)
	}
	return most
}

// most is how far any of the panel's curves goes, µm.
func (p travelPanel) most() (um float64) {
	for _, t := range p.travels() {
		for _, v := range t.TipUm {
			um = max(um, number.Norm(v))
		}
	}
	return um
}

// scale is the top of the panel's scale, µm, and whether the tolerance can be shown below it.
func (p travelPanel) scale() (top float64, toleranceShown bool) {
	top = p.most()
	for _, b := range p.bands {
		top = max(top, slices.Max(b.High))
	}
	tolerance := p.tolerance()
	if top < number.Noise {
		top = 0
	}
	if tolerance > 0 && (top == 0 || tolerance <= farTolerance*top) {
		top, toleranceShown = max(top, tolerance), true
	}
	if top == 0 {
		top = 1
	}
	return top * (1 + headRoom), toleranceShown
}

// span is the stretch of all curves, mm.
func (p travelPanel) span() (from, to float64) {
	from, to = p.curves[0].travel.AtMM[0], p.curves[0].travel.AtMM[0]
	for _, t := range p.travels() {
		from, to = min(from, slices.Min(t.AtMM)), max(to, slices.Max(t.AtMM))
	}
	if to-from < number.Noise {
		from, to = from-1, to+1
	}
	return from, to
}

// leaving is a place where a curve leaves its tolerance short of the end of its path.
type leaving struct {
	series            int
	atMM, toleranceUm float64
}

// ends gives the places where the panel's curves leave their tolerance.
func (p travelPanel) ends() []leaving {
	var all []leaving
	for _, c := range p.curves {
		t := c.travel
		if t.WithinMM == nil || !(t.ToleranceUm > 0) {
			continue
		}
		from, to := slices.Min(t.AtMM), slices.Max(t.AtMM)
		for _, at := range t.WithinMM {
			if at > from+number.Noise && at < to-number.Noise {
				all = append(all, leaving{c.series, at, t.ToleranceUm})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b leaving) int { return cmp.Compare(a.atMM, b.atMM) })
	return all
}

// title names the panel's path, load and tolerance.
func (p travelPanel) title() string {
	s := fmt.Sprintf("%s under %s", panelPath(p.axis, p.path), phrase.Quoted(p.load))
	switch _, shown := p.scale(); {
	case p.tolerance() == 0:
		s += "; no tolerance given"
	case shown:
		s += fmt.Sprintf("; tolerance %s µm", number.Given(p.tolerance()))
	default:
		s += fmt.Sprintf("; all far within the tolerance of %s µm", number.Given(p.tolerance()))
	}
	return s
}

// panelPath names a path of the work spot, or the axis that runs with its path where that has another name.
func panelPath(axis, path string) string {
	switch axis {
	case "":
		return "Path " + path
	case path:
		return "Axis " + axis
	}
	return fmt.Sprintf("Axis %s, path %s", axis, path)
}

// placesAxis labels the places of a chart.
func placesAxis(axis string) string {
	if axis == "" {
		return "place of the work spot along the path, mm"
	}
	return "position of axis " + axis + ", mm"
}

// Paint draws the panel: title, axes, band, curves, marks.
func (p travelPanel) Paint(c draw.Canvas) {
	sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
	c.Max.Y -= paper.WriteLines(c, sty, paper.Fitted(sty, p.title(), c.Max.X-c.Min.X),
		vg.Point{X: c.Min.X, Y: c.Max.Y}) + 4
	top, shown := p.scale()
	from, to := p.span()
	chart := plot.New()
	chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = from, to, 0, top
	graph.Axis(&chart.X, placesAxis(p.axis))
	graph.Axis(&chart.Y, "movement of the tip, µm")
	if shown {
		chart.Add(graph.ToleranceBand(p.tolerance()))
	}
	chart.Add(graph.Grid())
	if shown {
		chart.Add(graph.ToleranceLine(p.tolerance()))
	}
	for _, band := range p.bands {
		band.Beside = len(p.bands)
		chart.Add(band)
	}
	for _, curve := range p.beams {
		chart.Add(curve)
	}
	for _, curve := range p.curves {
		chart.Add(curve)
	}
	if shown {
		chart.Add(leavingMarks{p.ends(), p})
	}
	chart.Draw(c)
}

// Plot draws the curve with its markers, which are shifted from one option to the next so that equal curves show both.
func (t travelCurve) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	graph.StrokeCurve(c, t.series, onChart(t.travel, toX, toY))
}

// onChart takes how far the tip moves along a travel to the paper.
func onChart(t answer.Travel, toX, toY func(float64) vg.Length) []vg.Point {
	points := make([]vg.Point, len(t.AtMM))
	for i, at := range t.AtMM {
		points[i] = vg.Point{X: toX(at), Y: toY(number.Norm(t.TipUm[i]))}
	}
	return points
}

// leavingMarks are the marks where curves leave their tolerance, from left to right.
type leavingMarks struct {
	ends  []leaving
	panel travelPanel
}

// Plot draws the marks with their places beside them.
func (m leavingMarks) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	labels := paper.Labels{Canvas: c}
	for _, t := range m.panel.travels() {
		labels.Lines = append(labels.Lines, onChart(t, toX, toY))
	}
	for _, l := range m.ends {
		at := vg.Point{X: toX(l.atMM), Y: toY(l.toleranceUm)}
		graph.LeavingMark(c, at, paper.SeriesColour(l.series))
		labels.Taken = append(labels.Taken, paper.MarkBox(at))
	}
	for _, l := range m.ends {
		at := vg.Point{X: toX(l.atMM), Y: toY(l.toleranceUm)}
		labels.Write(at, paper.WithMinus(number.Along(l.atMM)), l.series)
	}
}

// level of a path under a load.
func (p travelPanel) level(options []string) *graph.Words {
	l := graph.Words{Title: p.title(), Note: flatNote(len(p.bands) > 0)}
	for _, c := range p.curves {
		var sizes []float64
		for _, v := range c.travel.TipUm {
			sizes = append(sizes, number.Norm(v))
		}
		if !flat(sizes) {
			return nil
		}
		low, high := rangeIn(p.bands, c.series)
		words := inTheMiddle(sizes, "µm", low, high)
		if c.travel.ToleranceUm > 0 && c.travel.WithinMM == nil {
			words += ", nowhere within the tolerance"
		}
		l.Add(c.series, words)
	}
	if len(p.beams) > 0 || len(p.ends()) > 0 {
		return nil
	}
	l.Named(options)
	return &l
}
