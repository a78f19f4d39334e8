package report

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// farTolerance is how many times the most movement a tolerance may be and still be drawn to scale: beyond it the
// curves would lie flat on the axis.
const farTolerance = 6

// headRoom is the part of a scale left free above what is drawn.
const headRoom = 0.12

// The heights of a panel, in points: of one that has the whole width, and of one of two side by side.
const (
	wideAlone  = vg.Length(400)
	wideBeside = vg.Length(300)
)

// travelPanel is one path under one load, with a curve for each option.
type travelPanel struct {
	path, load string
	axis       string // the axis that runs; "": only the work spot goes along
	curves     []travelCurve
	beams      []beamCurve  // the same by the beam model, where that stands beside
	bands      []graph.Band // where nine of ten such machines have the curves
}

// travelCurve is one option's travel; series is the option's place in the answer.
type travelCurve struct {
	series int
	travel answer.Travel
}

// TravelPicture shows how far the tip moves along each path, a panel for each path and load and a curve for each
// option, with the tolerance as a band and the places where it is left; for each axis also how stiff the tip is and how
// straight it runs; for each plane of two axes lines of equal movement and stiffness.
func TravelPicture(a answer.Answer) (*paper.Picture, error) {
	if err := number.CheckFinite(a); err != nil {
		return nil, err
	}
	if err := CheckTravels(a); err != nil {
		return nil, err
	}
	allPanels, allBlocks := travelPanels(a), mapBlocks(a)
	panels, blocks := worstPanels(allPanels), worstBlocks(allBlocks)
	curves := curveRows(a, panels)
	rows := append(curves, mapRowsOf(blocks)...)
	if len(rows) == 0 {
		return nil, paper.NothingToDraw("there is no path with a load on the tool tip")
	}
	drawnPanels := shaped(a, panels)
	s := paper.Sheet{
		Title:    a.Machine + ": movement of the tool tip along the travel",
		Subtitle: "Size of the movement of the tool against the work" + travelSubtitle(panels, blocks),
	}
	if len(panels) < len(allPanels) || len(blocks) < len(allBlocks) {
		s.Subtitle += ". Of many loads the worst"
	}
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Sure != nil && len(r.Sure.Over) > 0 }) && len(blocks) > 0 {
		s.Subtitle += ". Over planes: " + overPlanes
	}
	addDetail(&s, a)
	if marked(curves) {
		for i, r := range a.Options {
			s.Key = append(s.Key, paper.KeyEntry{Words: r.Name, Mark: graph.CurveMark(i)})
		}
	}
	if i := slices.IndexFunc(drawnPanels, func(p travelPanel) bool { return len(p.bands) > 0 }); i >= 0 {
		s.Key = append(s.Key, graph.BandKey(drawnPanels[i].bands[0].Series))
	}
	if beams := beamKey(panels, len(a.Options)); beams != nil {
		s.Key = append(s.Key, *beams)
	}
	s.Key = append(append(s.Key, toleranceKey(drawnPanels)...), mapKey(blocks)...)
	return paper.Stack{Sheet: s, Blocks: func(vg.Length) (blocks []paper.Block) {
		for _, r := range rows {
			blocks = append(blocks, paper.Block{Height: r.height, Paint: r.Paint})
		}
		return blocks
	}}.Picture(), nil
}

// chart is something drawn in the rectangle it is given.
type chart interface{ Paint(c draw.Canvas) }

// chartRow is a row of charts of one height in columns of one width, the last ones of which may be empty.
type chartRow struct {
	charts  []chart
	columns int
	height  vg.Length
}

func (r chartRow) Paint(c draw.Canvas) {
	width := (c.Max.X - c.Min.X) / vg.Length(r.columns)
	for i, p := range r.charts {
		left := c.Min.X + vg.Length(i)*width
		p.Paint(draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
			Min: vg.Point{X: left + paper.Gap/2, Y: c.Max.Y - r.height + paper.Gap},
			Max: vg.Point{X: left + width - paper.Gap/2, Y: c.Max.Y},
		}})
	}
}

// inRows puts charts into rows of two; one by itself has all the width.
func inRows(charts []chart) (rows []chartRow) {
	columns, height := 1, wideAlone
	if len(charts) > 1 {
		columns, height = 2, wideBeside
	}
	for row := range slices.Chunk(charts, columns) {
		rows = append(rows, chartRow{row, columns, height})
	}
	return rows
}

// travelPanels are the paths and axes of an answer, each under each of its loads.
func travelPanels(a answer.Answer) (panels []travelPanel) {
	for i, r := range a.Options {
		for _, t := range r.Travel {
			at := slices.IndexFunc(panels, func(p travelPanel) bool { return p.path == t.Path && p.load == t.Load })
			if at < 0 {
				at = len(panels)
				panels = append(panels, travelPanel{path: t.Path, load: t.Load, axis: t.Axis})
			}
			panels[at].curves = append(panels[at].curves, travelCurve{i, t})
			if band := bandOf(i, r, t); band != nil {
				panels[at].bands = append(panels[at].bands, *band)
			}
			if beam := sectionTravel(r, t); beam != nil {
				panels[at].beams = append(panels[at].beams, beamCurve{i, *beam})
			}
		}
	}
	return panels
}

// shaped are the panels that are drawn, being not flat.
func shaped(a answer.Answer, panels []travelPanel) []travelPanel {
	return slices.DeleteFunc(slices.Clone(panels), func(p travelPanel) bool { return p.level(optionNames(a)) != nil })
}

// optionNames are the names of the options.
func optionNames(a answer.Answer) (names []string) {
	for _, r := range a.Options {
		names = append(names, r.Name)
	}
	return names
}

// curveRows are the charts with curves: paths of the work spot, and for each axis its loads, the stiffness of the tip
// and how straight it runs.
func curveRows(a answer.Answer, panels []travelPanel) (rows []chartRow) {
	options := optionNames(a)
	var pathCharts []chart
	var paths []string // of axes
	for _, p := range panels {
		switch {
		case p.axis == "":
			pathCharts = append(pathCharts, p)
		case !slices.Contains(paths, p.path):
			paths = append(paths, p.path)
		}
	}
	if pathCharts != nil {
		rows = inRowsOrWords(pathCharts, options)
	}
	var drawn []string // axes whose straightness is drawn
	for _, path := range paths {
		var charts []chart
		axis, moved := "", 0.0
		for _, p := range panels {
			if p.path == path {
				charts, axis, moved = append(charts, p), p.axis, max(moved, p.most())
			}
		}
		if stiffness := stiffnessPanel(a, path); stiffness != nil {
			charts = append(charts, *stiffness)
		}
		if !slices.Contains(drawn, axis) {
			charts = append(charts, straightPanels(a, axis, moved)...)
			drawn = append(drawn, axis)
		}
		rows = append(rows, inRowsOrWords(charts, options)...)
	}
	return rows
}

// travelSubtitle says at which places, as far as the picture has such charts.
func travelSubtitle(panels []travelPanel, blocks []mapBlock) string {
	var words []string
	if slices.ContainsFunc(panels, func(p travelPanel) bool { return p.axis == "" }) {
		words = append(words, "with the work spot at each place of the path")
	}
	if slices.ContainsFunc(panels, func(p travelPanel) bool { return p.axis != "" }) {
		words = append(words, "with an axis at each position of its travel")
	}
	if len(blocks) > 0 {
		words = append(words, "with two axes at each position of a plane")
	}
	return ", " + phrase.List(words)
}

// toleranceKey explains the band and the marks at its ends, as far as the panels have any.
func toleranceKey(panels []travelPanel) []paper.KeyEntry {
	band, ends, beams := false, false, false
	for _, p := range panels {
		_, shown := p.scale()
		band = band || shown
		ends = ends || shown && len(p.ends()) > 0
		beams = beams || len(p.beams) > 0
	}
	var key []paper.KeyEntry
	if band {
		key = append(key, paper.KeyEntry{Words: "within the tolerance", Mark: func(c draw.Canvas, box vg.Rectangle) {
			paper.FillBox(c, box, paper.Wash, draw.LineStyle{})
			c.StrokeLine2(graph.ToleranceEdge, box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
		}})
	}
	if ends {
		words := "tolerance left here, place in mm"
		if beams {
			words = "tolerance left here by solid bodies, place in mm"
		}
		key = append(key, paper.KeyEntry{Words: words, Mark: func(c draw.Canvas, box vg.Rectangle) {
			graph.LeavingMark(c, vg.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}, paper.Ink)
		}})
	}
	return key
}

// flatShare is the part of itself by which a curve may vary and still be called about the same all along: on a chart that
// is little more than the height of its markers. An axis that leaves its line by no more than that part of what its loads
// move the tip is as good as straight.
const flatShare = 0.05

// flat tells whether values are about the same all along.
func flat(values []float64) bool {
	lo, hi := slices.Min(values), slices.Max(values)
	return hi-lo <= flatShare*max(hi, -lo)
}

// flatNote is the note of curves that are flat, with ranges in brackets or without.
func flatNote(ranges bool) string {
	const alike = "about the same all along"
	if !ranges {
		return alike
	}
	return alike + "; in brackets nine of ten such machines"
}

// inTheMiddle is the middle of what little flat values vary by, written with their unit, and the range round it.
func inTheMiddle(values []float64, unit string, low, high float64) string {
	middle := (slices.Min(values) + slices.Max(values)) / 2
	if !(high > low) {
		return paper.WithMinus(number.Significant(middle)) + " " + unit
	}
	return phrase.Ranged(middle, &answer.Range{Low: low, High: high}, unit)
}

// leveled is a chart that can say of itself that all of its curves are flat.
type leveled interface {
	chart
	// level is what to say in its place; nil when a curve has a shape, or where its beam model is drawn beside.
	level(options []string) *graph.Words
}

// inRowsOrWords puts charts into rows, after them those that are flat, in words.
func inRowsOrWords(charts []chart, options []string) []chartRow {
	var shaped, level []chart
	for _, c := range charts {
		if l, is := c.(graph.Words); is {
			level = append(level, l)
			continue
		}
		if l, is := c.(leveled); is {
			if words := l.level(options); words != nil {
				level = append(level, *words)
				continue
			}
		}
		shaped = append(shaped, c)
	}
	var rows []chartRow
	if shaped != nil {
		rows = inRows(shaped)
	}
	columns := min(2, len(level))
	for row := range slices.Chunk(level, 2) {
		height := vg.Length(0)
		for _, c := range row {
			height = max(height, c.(graph.Words).Height((paper.Width-2*paper.Margin)/vg.Length(columns)-paper.Gap))
		}
		rows = append(rows, chartRow{row, columns, height})
	}
	return rows
}

// marked tells whether any chart, or what stands in its place, has the mark of an option.
func marked(rows []chartRow) bool {
	return slices.ContainsFunc(rows, func(r chartRow) bool {
		return slices.ContainsFunc(r.charts, func(c chart) bool {
			l, level := c.(graph.Words)
			return !level || slices.ContainsFunc(l.Lines, func(l graph.Line) bool { return len(l.Series) > 0 })
		})
	})
}
