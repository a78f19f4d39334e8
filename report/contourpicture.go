package report

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/contour"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// linesOfLevel is about how many lines of equal stiffness a picture has.
const linesOfLevel = 9

func contourPicture(s answer.Sweep) (*paper.Picture, error) {
	a, b := s.Values[0], s.Values[1]
	lat := contour.Lattice{X: a.At, Y: b.At}
	moved := contour.Lattice{X: a.At, Y: b.At}
	worst := ""
	for _, x := range a.At {
		row, away := make([]float64, len(b.At)), make([]float64, len(b.At))
		for k, y := range b.At {
			row[k], away[k] = math.NaN(), math.NaN()
			p := answerAt(s, x, y)
			if p == nil {
				continue
			}
			row[k] = p.Tip.StiffnessNPerUm.Softest
			for _, l := range p.Loads {
				if l.OnTip && l.TipSizeUm != nil && !(*l.TipSizeUm <= away[k]) {
					away[k], worst = *l.TipSizeUm, l.Name
				}
			}
		}
		lat.V, moved.V = append(lat.V, row), append(moved.V, away)
	}
	lo, hi, _ := lat.Span() // there is at least one place
	sheet := paper.Sheet{
		Title: fmt.Sprintf("%s: %s", s.Machine, sweptInWords(s)),
		Subtitle: "Option: " + s.Option + ". Stiffness of the tip in its softest direction, N/µm; a cross is a place " +
			"left out because the model is wrong there",
	}
	within := s.Within != nil && worst != "" && len(moved.Lines(*s.Within)) > 0
	sheet.Key = append(sheet.Key, paper.KeyEntry{Words: "lines of equal stiffness, N/µm",
		Mark: paper.KeyLine{Color: paper.Ink, Width: paper.ThinLine}.Across})
	if within {
		sheet.Key = append(sheet.Key, paper.KeyEntry{Words: fmt.Sprintf("the tip moves by the tolerance, %s µm, "+
			"under its worst load", number.Given(*s.Within)), Mark: paper.KeyLine(toleranceContour).Across})
	}
	sheet.Key = append(sheet.Key, paper.KeyEntry{Words: "as drawn", Mark: func(c draw.Canvas, box vg.Rectangle) {
		leavingMark(c, paper.MiddleOf(box), paper.Blue)
	}})
	total := sheet.HeadHeight(paper.Width) + sheet.FootHeight() + contourHeight
	return &paper.Picture{Width: paper.Width, Height: total, Paint: func(c draw.Canvas) {
		area := sheet.Draw(c)
		chart := plot.New()
		chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = a.At[0], a.At[len(a.At)-1], b.At[0], b.At[len(b.At)-1]
		sweptAxis(&chart.X, a)
		sweptAxis(&chart.Y, b)
		field := levelled{Lattice: lat, levels: levelsOf(lo, hi), shade: stiffnessShade}
		if within {
			field.tolerance = &toleranceAt{moved, *s.Within}
		}
		chart.Add(field)
		chart.Add(sweptMarks{s})
		chart.Draw(area)
	}}, nil
}

// contourHeight is the height of a chart of contours.
const contourHeight = vg.Length(470)

// toleranceContour is the line on which the movement is the tolerance.
var toleranceContour = draw.LineStyle{Color: paper.Vermillion, Width: 2.4, Dashes: []vg.Length{7, 3}}

// levelled draws tinted bands, the darker the more, and labelled lines between them.
type levelled struct {
	contour.Lattice
	levels []paper.Tick
	shade  func(share float64) color.Color

	tolerance *toleranceAt // drawn under the labels; nil: none
	spread    *toleranceSpread
	clear     []vg.Rectangle // where no label may stand
}

// levelsOf are the levels of a quantity between its least and its greatest value; none when it is about the same all
// over.
func levelsOf(lo, hi float64) []paper.Tick {
	if !(hi-lo > alike*hi) {
		return nil
	}
	return paper.NiceTicks(lo, hi, linesOfLevel)
}

// tinted gives the tints of a scale from 0 to 1 between two of them: light enough for lines and letters on it.
func tinted(from, to color.NRGBA) func(share float64) color.Color {
	mix := func(a, b uint8, share float64) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*share) }
	return func(share float64) color.Color {
		return color.NRGBA{mix(from.R, to.R, share), mix(from.G, to.G, share), mix(from.B, to.B, share), 0xFF}
	}
}

// The tints of stiffness and of movement.
var (
	stiffnessShade = tinted(color.NRGBA{0xFA, 0xFA, 0xFA, 0xFF}, color.NRGBA{0xA8, 0xC9, 0xDE, 0xFF})
	movementShade  = tinted(color.NRGBA{0xFF, 0xFB, 0xF0, 0xFF}, color.NRGBA{0xF0, 0xC8, 0x78, 0xFF})
)

// seam is how far a tinted piece reaches under its neighbours, in points, so that no paper shows between them.
const seam = vg.Length(0.4)

// tint is the tint of the band above level n, of that below all levels for 0.
func (l levelled) tint(n int) color.Color {
	return l.shade(float64(n) / float64(max(1, len(l.levels))))
}

// fill draws the bands, the lower ones first and under the higher.
func (l levelled) fill(c draw.Canvas, toX, toY func(float64) vg.Length) {
	piece := func(n int, corners []contour.Point) {
		points := onPaper(corners, toX, toY)
		c.FillPolygon(l.tint(n), points)
		c.StrokeLines(draw.LineStyle{Color: l.tint(n), Width: seam}, append(points, points[0]))
	}
	for n := range len(l.levels) + 1 {
		least := math.Inf(-1)
		if n > 0 {
			least = l.levels[n-1].At
		}
		for k := range len(l.Y) - 1 {
			whole := 0 // cells before this one that are all above, and not yet drawn
			flush := func(i int) {
				if whole > 0 {
					corner := func(i, k int) contour.Point { return contour.Point{X: l.X[i], Y: l.Y[k]} }
					piece(n, []contour.Point{corner(i-whole, k), corner(i, k), corner(i, k+1), corner(i-whole, k+1)})
				}
				whole = 0
			}
			for i := range len(l.X) - 1 {
				if corners, _, ok := l.Cell(i, k); ok && slices.Min(corners[:]) >= least {
					whole++
					continue
				}
				flush(i)
				for _, part := range l.Above(i, k, least) {
					piece(n, part)
				}
			}
			flush(len(l.X) - 1)
		}
	}
}

// Plot draws the bands and the lines.
func (l levelled) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	l.fill(c, toX, toY)
	for _, t := range l.levels {
		for _, line := range l.Lines(t.At) {
			c.StrokeLines(draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}, onPaper(line, toX, toY))
		}
	}
	if l.spread != nil {
		l.spread.draw(c, p)
	}
	if l.tolerance != nil {
		l.tolerance.draw(c, toX, toY)
	}
	taken := slices.Clone(l.clear)
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	for _, t := range l.levels {
		for _, line := range l.Lines(t.At) {
			points := onPaper(line, toX, toY)
			half := sty.Width(t.Label)/2 + 2
			// The label stands as near to the line's middle as it is clear of the others and of the frame.
			for step := range len(points) {
				i := len(points)/2 + (step+1)/2*(1-2*(step%2))
				if i < 0 || i >= len(points) {
					continue
				}
				box := vg.Rectangle{Min: vg.Point{X: points[i].X - half, Y: points[i].Y - paper.LabelHeight/2},
					Max: vg.Point{X: points[i].X + half, Y: points[i].Y + paper.LabelHeight/2}}
				inside := box.Min.X >= c.Min.X && box.Max.X <= c.Max.X && box.Min.Y >= c.Min.Y && box.Max.Y <= c.Max.Y
				if !inside || slices.ContainsFunc(taken, func(o vg.Rectangle) bool { return paper.Overlap(o, box) }) {
					continue
				}
				taken = append(taken, box)
				paper.FillBox(c, box, paper.White, draw.LineStyle{})
				c.FillText(sty, points[i], t.Label)
				break
			}
		}
	}
}

// onPaper takes the points of a contour to the picture.
func onPaper(line []contour.Point, toX, toY func(float64) vg.Length) []vg.Point {
	points := make([]vg.Point, len(line))
	for i, s := range line {
		points[i] = vg.Point{X: toX(s.X), Y: toY(s.Y)}
	}
	return points
}

// toleranceAt is where a movement is the tolerance.
type toleranceAt struct {
	contour.Lattice
	um float64
}

func (t toleranceAt) draw(c draw.Canvas, toX, toY func(float64) vg.Length) {
	for _, line := range t.Lines(t.um) {
		c.StrokeLines(toleranceContour, onPaper(line, toX, toY))
	}
}

// sweptMarks marks the places that were left out and the machine as drawn.
type sweptMarks struct{ answer.Sweep }

// Plot draws the marks.
func (s sweptMarks) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	for _, l := range s.LeftOut {
		c.DrawGlyph(draw.GlyphStyle{Color: paper.FaintInk, Radius: 3.5, Shape: draw.CrossGlyph{}},
			vg.Point{X: toX(l.At[0]), Y: toY(l.At[1])})
	}
	at := vg.Point{X: toX(s.Values[0].Drawn), Y: toY(s.Values[1].Drawn)}
	if at.X >= c.Min.X && at.X <= c.Max.X && at.Y >= c.Min.Y && at.Y <= c.Max.Y {
		leavingMark(c, at, paper.Blue)
	}
}
