package report

import (
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
	"tiploop/report/wrap"
)

// SweepPicture shows, over one value, the tip's stiffness and its movement under each load, with the places where they
// stop paying; over two, lines of equal stiffness, and where the worst load on the tip moves it by the tolerance.
func SweepPicture(s answer.Sweep) (*paper.Picture, error) {
	if err := number.CheckFinite(s); err != nil {
		return nil, err
	}
	if s.Places[0].Tip == nil {
		return nil, paper.NothingToDraw("the model has no tool")
	}
	if len(s.Values) == 2 {
		return contourPicture(s)
	}
	return curvesPicture(s)
}

// sweptPanel is one chart over a value.
type sweptPanel struct {
	title, axis string
	curves      []sweptCurve
	tolerance   float64 // 0: none
	level       graph.Words
}

// sweptCurve is one line of it; a place left out breaks it.
type sweptCurve struct {
	name   string
	series int
	x, y   []float64
	ends   []*[2]float64 // at each place what nine in ten draws lie between; nil: not drawn
	all    []float64     // all places of the sweep, for the breaks
	knee   *answer.Knee  // where it stops paying; nil: nowhere
}

func curvesPicture(s answer.Sweep) (*paper.Picture, error) {
	v := s.Values[0]
	sheet := paper.Sheet{
		Title:    fmt.Sprintf("%s: %s", s.Machine, sweptInWords(s)),
		Subtitle: "Option: " + s.Option,
	}
	x := make([]float64, len(s.Places))
	for i, p := range s.Places {
		x[i] = p.At[0]
	}
	stiff := sweptPanel{title: "Stiffness of the tip against the work", axis: "N/µm"}
	for i, name := range []string{"softest direction", "left–right (x)", "towards/away (y)", "up–down (z)"} {
		c := sweptCurve{name: name, series: i, x: x, all: v.At}
		for _, p := range s.Places {
			k := p.Tip.StiffnessNPerUm
			c.y = append(c.y, [4]float64{k.Softest, k.X, k.Y, k.Z}[i])
			if i == 0 {
				c.ends = append(c.ends, p.SoftestNPerUm90)
			}
		}
		if i == 0 {
			c.knee = kneeOf(s, nil)
		}
		stiff.curves = append(stiff.curves, c)
	}
	moves := sweptPanel{title: "Movement of the tip against the work", axis: "µm"}
	if s.Within != nil {
		moves.tolerance = *s.Within
	}
	loads := worstSwept(s)
	if all := len(sweptLoads(s)); len(loads) < all {
		moves.title += fmt.Sprintf(", the %d worst of %d loads", len(loads), all)
	}
	for i, name := range loads {
		c := sweptCurve{name: name, series: i, all: v.At, knee: kneeOf(s, &name)}
		for _, p := range s.Places {
			if l := p.Load(name); l != nil && l.TipSizeUm != nil {
				c.x, c.y, c.ends = append(c.x, p.At[0]), append(c.y, *l.TipSizeUm), append(c.ends, l.TipSizeUm90)
			}
		}
		moves.curves = append(moves.curves, c)
	}
	panels := []sweptPanel{stiff}
	if len(moves.curves) > 0 {
		panels = append(panels, moves)
	}
	for i := range panels {
		panels[i].levelOut(v)
	}
	if slices.ContainsFunc(panels, sweptPanel.ringed) {
		sheet.Subtitle += ". A ring is where more stops paying: nine tenths of the gain are kept, each step beyond gaining at most " +
			"half as much"
	}
	if slices.ContainsFunc(panels, sweptPanel.spread) {
		sheet.Subtitle += "; the line through it is where it does for nine of ten such machines"
	}
	return paper.Stack{Sheet: sheet, Blocks: func(vg.Length) (blocks []paper.Block) {
		for _, p := range panels {
			blocks = append(blocks, paper.Block{Height: p.height(), Paint: func(c draw.Canvas) {
				c.Min.Y += paper.Gap
				p.Paint(c, v)
			}})
		}
		return blocks
	}}.Picture(), nil
}

// worstSwept are the loads under which the tip moves most anywhere, in the order in which they came.
func worstSwept(s answer.Sweep) []string {
	most := func(name string) (um float64) {
		for _, p := range s.Places {
			if l := p.Load(name); l != nil && l.TipSizeUm != nil {
				um = max(um, *l.TipSizeUm)
			}
		}
		return um
	}
	return worstBy(sweptLoads(s), mostLoads, most)
}

// levelOut takes the curves that are about the same all along out of the chart, and says them in words.
func (p *sweptPanel) levelOut(v answer.SweptValue) {
	p.level = graph.Words{Title: p.title}
	shaped, ranges := []sweptCurve{}, false
	for _, c := range p.curves {
		if !flat(c.y) {
			shaped = append(shaped, c)
			continue
		}
		low, high := c.span()
		words := c.name + ": " + inTheMiddle(c.y, p.axis, low, high)
		least, most := slices.Min(c.y), slices.Max(c.y)
		if share := 100 * (most - least) / most; share >= 1 {
			words += fmt.Sprintf(", %s changes it by %.0f %%", wrap.OneLine(v.Name), share)
			if c.knee != nil {
				words += ", " + kneeWords(*c.knee, v)
			}
		}
		p.level.Lines = append(p.level.Lines, graph.Line{Words: words})
		ranges = ranges || high > low
	}
	p.level.Note, p.curves = flatNote(ranges), shaped
}

// span are the least and the most of the ranges of a curve; none where nothing was drawn.
func (s sweptCurve) span() (low, high float64) {
	for _, e := range s.ends {
		if e != nil {
			if high == 0 {
				low = e[0]
			}
			low, high = min(low, e[0]), max(high, e[1])
		}
	}
	return low, high
}

// kneeWords say where a curve stops paying, and in what range of places nine of ten draws do.
func kneeWords(k answer.Knee, v answer.SweptValue) string {
	words := paper.WithMinus(sweptValue(*k.At))
	if spreadOut(k) {
		words += " (" + paper.WithMinus(sweptValue(k.At90[0])) + " to " + paper.WithMinus(sweptValue(k.At90[1])) + ")"
	}
	return "stops paying at " + phrase.WithUnit(words, v.Unit)
}

// ringed tells whether a place where a curve stops paying is drawn.
func (p sweptPanel) ringed() bool {
	return slices.ContainsFunc(p.curves, func(c sweptCurve) bool { return c.knee != nil })
}

// spread tells whether such a place has a range.
func (p sweptPanel) spread() bool {
	return slices.ContainsFunc(p.curves, func(c sweptCurve) bool { return c.knee != nil && spreadOut(*c.knee) })
}

// height is the room that the panel takes.
func (p sweptPanel) height() (h vg.Length) {
	width := paper.Width - 2*paper.Margin
	if p.level.Lines != nil {
		h += p.level.Height(width)
	}
	if len(p.curves) > 0 {
		_, key := paper.KeyLayout(p.key(), width)
		h += key + wideBeside
	}
	return h
}

// kneeOf is where a curve over the one value stops paying, that of a load or without one the stiffness; nil when it does
// not.
func kneeOf(s answer.Sweep, load *string) *answer.Knee {
	for i := range s.Knees {
		k := &s.Knees[i]
		same := (k.Load == nil) == (load == nil) && (load == nil || *k.Load == *load)
		if same && k.Kind == answer.LevelsOff {
			return k
		}
	}
	return nil
}

// key explains the curves of a panel.
func (p sweptPanel) key() (key []paper.KeyEntry) {
	for _, c := range p.curves {
		key = append(key, paper.KeyEntry{Words: c.name, Mark: graph.CurveMark(c.series)})
	}
	if i := slices.IndexFunc(p.curves, sweptCurve.drawn); i >= 0 {
		key = append(key, graph.BandKey(p.curves[i].series))
	}
	if _, shown := p.scale(); shown {
		key = append(key, paper.KeyEntry{Words: fmt.Sprintf("tolerance of the travel, %s µm",
			number.Given(p.tolerance)), Mark: func(c draw.Canvas, box vg.Rectangle) {
			y := (box.Min.Y + box.Max.Y) / 2
			c.StrokeLine2(graph.ToleranceEdge, box.Min.X, y, box.Max.X, y)
		}})
	}
	return key
}

// scale is the top of the panel's scale, and whether the tolerance can be shown below it.
func (p sweptPanel) scale() (top float64, toleranceShown bool) {
	for _, c := range p.curves {
		top = max(top, slices.Max(c.y))
		for _, e := range c.ends {
			if e != nil {
				top = max(top, e[1])
			}
		}
	}
	if p.tolerance > 0 && p.tolerance <= farTolerance*top {
		top, toleranceShown = max(top, p.tolerance), true
	}
	if top < number.Noise {
		top = 1
	}
	return top * (1 + headRoom), toleranceShown
}

func (p sweptPanel) Paint(c draw.Canvas, v answer.SweptValue) {
	if p.level.Lines != nil {
		p.level.Paint(c)
		c.Max.Y -= p.level.Height(c.Max.X - c.Min.X)
	} else {
		sty := paper.BoldLettering(paper.PanelSize, paper.Ink)
		c.Max.Y -= paper.WriteLines(c, sty, []string{p.title}, vg.Point{X: c.Min.X, Y: c.Max.Y}) + 3
	}
	if len(p.curves) == 0 {
		return
	}
	key := p.key()
	places, keyHeight := paper.KeyLayout(key, c.Max.X-c.Min.X)
	for _, e := range places {
		paper.DrawKeyEntry(c, key[e.Entry], e.Lines, vg.Point{X: c.Min.X + e.Left, Y: c.Max.Y - e.Top})
	}
	c.Max.Y -= keyHeight
	top, shown := p.scale()
	chart := plot.New()
	chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = v.At[0], v.At[len(v.At)-1], 0, top
	sweptAxis(&chart.X, v)
	graph.Axis(&chart.Y, p.axis)
	chart.Add(graph.Grid())
	if shown {
		chart.Add(graph.ToleranceLine(p.tolerance))
	}
	for _, curve := range p.curves {
		chart.Add(sweptBand{curve, len(p.curves)})
	}
	for _, curve := range p.curves {
		chart.Add(curve)
	}
	chart.Add(kneeMarks{p.curves, v})
	chart.Draw(c)
}

// Plot draws the curve, broken where a place was left out.
func (s sweptCurve) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var run []vg.Point
	for _, at := range s.all {
		i := slices.Index(s.x, at)
		if i < 0 {
			c.StrokeLines(graph.CurveStyle(s.series), run)
			run = nil
			continue
		}
		run = append(run, vg.Point{X: toX(at), Y: toY(s.y[i])})
	}
	c.StrokeLines(graph.CurveStyle(s.series), run)
	step := max(1, len(s.x)/graph.MarkersOnCurve)
	for i := 0; i < len(s.x); i += step {
		c.DrawGlyph(graph.MarkerStyle(s.series), vg.Point{X: toX(s.x[i]), Y: toY(s.y[i])})
	}
}

// sweptAxis is the axis of a value that is swept; one that counts has whole numbers only.
func sweptAxis(a *plot.Axis, v answer.SweptValue) {
	graph.Axis(a, phrase.SweptHead(v))
	if v.Whole {
		a.Tick.Marker = graph.Ticked(paper.WholeTicks)
	}
}

// kneeMarks rings the places where curves stop paying, with the range of each, and names them.
type kneeMarks struct {
	curves []sweptCurve
	value  answer.SweptValue
}

// Plot draws the rings with the places beside them.
func (k kneeMarks) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	labels := paper.Labels{Canvas: c}
	at := make([]vg.Point, len(k.curves))
	for n, curve := range k.curves {
		var line []vg.Point
		for i, x := range curve.x {
			line = append(line, vg.Point{X: toX(x), Y: toY(curve.y[i])})
		}
		labels.Lines = append(labels.Lines, line)
		if curve.knee == nil {
			continue
		}
		at[n] = line[slices.Index(curve.x, *curve.knee.At)]
		if ends := curve.knee.At90; spreadOut(*curve.knee) {
			graph.DrawRange(c, toX(ends[0]), toX(ends[1]), at[n].Y)
			labels.Lines = append(labels.Lines, []vg.Point{{X: toX(ends[0]), Y: at[n].Y}, {X: toX(ends[1]), Y: at[n].Y}})
		}
		graph.LeavingMark(c, at[n], paper.SeriesColour(curve.series))
		labels.Taken = append(labels.Taken, paper.MarkBox(at[n]))
	}
	for n, curve := range k.curves {
		if curve.knee != nil {
			labels.Write(at[n], kneeWords(*curve.knee, k.value), curve.series)
		}
	}
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
			c.StrokeLines(graph.BandEdge(s.series), low, high)
			back := slices.Clone(high)
			slices.Reverse(back)
			c.FillPolygon(graph.BandColour(s.series, s.beside), append(low, back...))
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
