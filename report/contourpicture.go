package report

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/contour"
	"tiploop/report/graph"
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
			"under its worst load", number.Given(*s.Within)), Mark: paper.KeyLine(graph.ToleranceContour).Across})
	}
	sheet.Key = append(sheet.Key, paper.KeyEntry{Words: "as drawn", Mark: func(c draw.Canvas, box vg.Rectangle) {
		graph.LeavingMark(c, paper.MiddleOf(box), paper.Blue)
	}})
	total := sheet.HeadHeight(paper.Width) + sheet.FootHeight() + contourHeight
	return &paper.Picture{Width: paper.Width, Height: total, Paint: func(c draw.Canvas) {
		area := sheet.Draw(c)
		chart := plot.New()
		chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = a.At[0], a.At[len(a.At)-1], b.At[0], b.At[len(b.At)-1]
		sweptAxis(&chart.X, a)
		sweptAxis(&chart.Y, b)
		field := graph.Field{Lattice: lat, Levels: levelsOf(lo, hi), Shade: graph.StiffnessShade}
		if within {
			field.Tolerance = &graph.Level{Lattice: moved, Um: *s.Within}
		}
		chart.Add(field)
		chart.Add(sweptMarks{s})
		chart.Draw(area)
	}}, nil
}

// contourHeight is the height of a chart of contours.
const contourHeight = vg.Length(470)

// levelsOf are the levels of a quantity between its least and its greatest value; none when it is about the same all
// over.
func levelsOf(lo, hi float64) []paper.Tick {
	if !(hi-lo > alike*hi) {
		return nil
	}
	return paper.NiceTicks(lo, hi, linesOfLevel)
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
		graph.LeavingMark(c, at, paper.Blue)
	}
}
