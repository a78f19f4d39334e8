package report

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// toleranceSpread is the band over a plane within which nine of ten such machines reach their tolerance: where a machine
// typically moves by less than From even one of the softest keeps it, where by more than To one of the stiffest does not.
type toleranceSpread struct {
	toleranceAt
	from, to float64 // µm of typical movement
}

// spreadOf is the band of a tolerance; nil where nothing was drawn.
func spreadOf(at toleranceAt, of *answer.OverRange) *toleranceSpread {
	if of == nil || !(at.um > 0) || !(of.Times90[0] > 0) {
		return nil
	}
	return &toleranceSpread{at, at.um / of.Times90[1], at.um / of.Times90[0]}
}

// The lines of such a band.
var (
	spreadEdge  = draw.LineStyle{Color: toleranceContour.Color, Width: paper.ThinLine, Dashes: []vg.Length{1.5, 2.5}}
	spreadHatch = draw.LineStyle{Color: toleranceContour.Color, Width: paper.Hairline}
)

// spreadStep is how finely the ends of the hatch are found, in points, and spreadApart how far apart its lines are.
const (
	spreadStep  = vg.Length(1.5)
	spreadApart = vg.Length(7)
)

// anywhere tells whether any of the band lies on the plane.
func (s toleranceSpread) anywhere() bool {
	least, most, ok := s.Span()
	return ok && least < s.to && most > s.from
}

// draw hatches the band and draws its edges.
func (s toleranceSpread) draw(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	value := func(at vg.Point) float64 {
		x := p.X.Min + float64((at.X-c.Min.X)/(c.Max.X-c.Min.X))*(p.X.Max-p.X.Min)
		y := p.Y.Min + float64((at.Y-c.Min.Y)/(c.Max.Y-c.Min.Y))*(p.Y.Max-p.Y.Min)
		return s.At(x, y)
	}
	height := c.Max.Y - c.Min.Y
	for left := c.Min.X - height; left < c.Max.X; left += spreadApart {
		var run []vg.Point
		for off := max(0, c.Min.X-left); off <= min(height, c.Max.X-left); off += spreadStep {
			at := vg.Point{X: left + off, Y: c.Min.Y + off}
			if v := value(at); v >= s.from && v <= s.to {
				run = append(run, at)
				continue
			}
			hatchRun(c, run)
			run = nil
		}
		hatchRun(c, run)
	}
	for _, um := range []float64{s.from, s.to} {
		for _, line := range s.Lines(um) {
			c.StrokeLines(spreadEdge, onPaper(line, toX, toY))
		}
	}
}

// hatchRun draws a line of the hatch from the first of its points to the last.
func hatchRun(c draw.Canvas, run []vg.Point) {
	if n := len(run); n > 1 {
		c.StrokeLine2(spreadHatch, run[0].X, run[0].Y, run[n-1].X, run[n-1].Y)
	}
}

// spreadKey explains the band.
var spreadKey = paper.KeyEntry{Words: "nine of ten such machines reach the tolerance in here",
	Mark: func(c draw.Canvas, box vg.Rectangle) {
		paper.Hatch(c, box, 1.0/8, spreadHatch)
		c.StrokeLine2(spreadEdge, box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
		c.StrokeLine2(spreadEdge, box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
	}}

// twoDigits writes the ends of a range.
func twoDigits(v float64) string { return number.Digits(v, spanDigits) }
