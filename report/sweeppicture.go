package report

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/machine"
)

// SweepPicture shows, over one value, the tip's stiffness and its movement under each load, with the places where they
// level off; over two, lines of equal stiffness, and where the worst load on the tip moves it by the tolerance.
func SweepPicture(s machine.Sweep) (*Picture, error) {
	if err := checkFinite(s); err != nil {
		return nil, err
	}
	if s.Places[0].Tip == nil {
		return nil, NothingToDraw("the model has no tool")
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
}

// sweptCurve is one line of it; a place left out breaks it.
type sweptCurve struct {
	name   string
	series int
	x, y   []float64
	all    []float64 // all places of the sweep, for the breaks
	knee   *float64
}

func curvesPicture(s machine.Sweep) (*Picture, error) {
	v := s.Values[0]
	sheet := sheet{
		title:    fmt.Sprintf("%s: %s", s.Machine, sweptInWords(s)),
		subtitle: "Option: " + s.Option + ". A ring is where a curve levels off: farthest above its chord, each step beyond gaining at most half as much",
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
		}
		if i == 0 {
			c.knee = kneeOf(s, machine.OfStiffness)
		}
		stiff.curves = append(stiff.curves, c)
	}
	moves := sweptPanel{title: "Movement of the tip against the work", axis: "µm"}
	if s.Within != nil {
		moves.tolerance = *s.Within
	}
	for i, name := range sweptLoads(s) {
		c := sweptCurve{name: name, series: i, all: v.At, knee: kneeOf(s, name)}
		for _, p := range s.Places {
			if l := p.Load(name); l != nil && l.TipSizeUm != nil {
				c.x, c.y = append(c.x, p.At[0]), append(c.y, *l.TipSizeUm)
			}
		}
		moves.curves = append(moves.curves, c)
	}
	panels := []sweptPanel{stiff}
	if len(moves.curves) > 0 {
		panels = append(panels, moves)
	}
	keys := make([]vg.Length, len(panels))
	height := vg.Length(0)
	for i, p := range panels {
		_, keys[i] = keyLayout(p.key(), pictureWidth-2*margin)
		height += keys[i] + wideBeside
	}
	total := sheet.headHeight(pictureWidth) + sheet.footHeight() + height
	return &Picture{pictureWidth, total, func(c draw.Canvas) {
		room := sheet.draw(c)
		top := room.Max.Y
		for i, p := range panels {
			p.paint(draw.Canvas{Canvas: room.Canvas, Rectangle: vg.Rectangle{
				Min: vg.Point{X: room.Min.X, Y: top - keys[i] - wideBeside + gap}, Max: vg.Point{X: room.Max.X, Y: top},
			}}, v)
			top -= keys[i] + wideBeside
		}
	}}, nil
}

// kneeOf is where a curve over the one value levels off; nil when it does not.
func kneeOf(s machine.Sweep, of string) *float64 {
	for _, k := range s.Knees {
		if k.Of == of && k.Kind == machine.LevelsOff {
			return k.At
		}
	}
	return nil
}

// key explains the curves of a panel.
func (p sweptPanel) key() (key []keyEntry) {
	for _, c := range p.curves {
		key = append(key, keyEntry{c.name, curveMark(c.series)})
	}
	if _, shown := p.scale(); shown {
		key = append(key, keyEntry{fmt.Sprintf("tolerance of the travel, %s µm", given(p.tolerance)), func(c draw.Canvas, box vg.Rectangle) {
			y := (box.Min.Y + box.Max.Y) / 2
			c.StrokeLine2(toleranceEdge, box.Min.X, y, box.Max.X, y)
		}})
	}
	return key
}

// scale is the top of the panel's scale, and whether the tolerance can be shown below it.
func (p sweptPanel) scale() (top float64, toleranceShown bool) {
	for _, c := range p.curves {
		top = max(top, slices.Max(c.y))
	}
	if p.tolerance > 0 && p.tolerance <= farTolerance*top {
		top, toleranceShown = max(top, p.tolerance), true
	}
	if top < noise {
		top = 1
	}
	return top * (1 + headRoom), toleranceShown
}

func (p sweptPanel) paint(c draw.Canvas, v machine.SweptValue) {
	sty := boldLettering(panelSize, ink)
	c.Max.Y -= writeLines(c, sty, []string{p.title}, vg.Point{X: c.Min.X, Y: c.Max.Y}) + 3
	key := p.key()
	places, keyHeight := keyLayout(key, c.Max.X-c.Min.X)
	for _, e := range places {
		drawKeyEntry(c, key[e.entry], e.lines, vg.Point{X: c.Min.X + e.left, Y: c.Max.Y - e.top})
	}
	c.Max.Y -= keyHeight
	top, shown := p.scale()
	chart := plot.New()
	chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = v.At[0], v.At[len(v.At)-1], 0, top
	axis(&chart.X, headOf(v))
	axis(&chart.Y, p.axis)
	grid := plotter.NewGrid()
	grid.Vertical, grid.Horizontal = draw.LineStyle{Color: rule, Width: hairline}, draw.LineStyle{Color: rule, Width: hairline}
	chart.Add(grid)
	if shown {
		chart.Add(toleranceLine(p.tolerance))
	}
	for _, curve := range p.curves {
		chart.Add(curve)
	}
	for _, curve := range p.curves {
		if curve.knee != nil {
			chart.Add(kneeMark(curve))
		}
	}
	chart.Draw(c)
}

// Plot draws the curve, broken where a place was left out.
func (s sweptCurve) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var run []vg.Point
	for _, at := range s.all {
		i := slices.Index(s.x, at)
		if i < 0 {
			c.StrokeLines(curveStyle(s.series), run)
			run = nil
			continue
		}
		run = append(run, vg.Point{X: toX(at), Y: toY(s.y[i])})
	}
	c.StrokeLines(curveStyle(s.series), run)
	step := max(1, len(s.x)/markersOnCurve)
	for i := 0; i < len(s.x); i += step {
		c.DrawGlyph(markerStyle(s.series), vg.Point{X: toX(s.x[i]), Y: toY(s.y[i])})
	}
}

// kneeMark rings the place where a curve levels off, and names it.
type kneeMark sweptCurve

// Plot draws the ring with the place beside it.
func (k kneeMark) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	i := slices.Index(k.x, *k.knee)
	at := vg.Point{X: toX(*k.knee), Y: toY(k.y[i])}
	leavingMark(c, at, seriesColours[k.series%len(seriesColours)])
	sty := lettering(smallSize, ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	words := "levels off: " + withMinus(significantPlace(*k.knee))
	half := sty.Width(words)/2 + 3
	x := min(max(at.X, c.Min.X+half), c.Max.X-half)
	y := min(at.Y+placeOff+placeHeight/2+3, c.Max.Y-placeHeight/2)
	fillBox(c, vg.Rectangle{Min: vg.Point{X: x - half, Y: y - placeHeight/2}, Max: vg.Point{X: x + half, Y: y + placeHeight/2}}, paper,
		draw.LineStyle{Color: seriesColours[k.series%len(seriesColours)], Width: thinLine})
	c.FillText(sty, vg.Point{X: x, Y: y}, words)
}
