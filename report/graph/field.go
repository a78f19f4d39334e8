package graph

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/contour"
	"tiploop/report/paper"
)

// ToleranceContour is the line on which the movement is the tolerance.
var ToleranceContour = draw.LineStyle{Color: paper.Vermillion, Width: 2.4, Dashes: []vg.Length{7, 3}}

// Field draws tinted bands, the darker the more, and labelled lines between them.
type Field struct {
	contour.Lattice
	Levels []paper.Tick
	Shade  func(share float64) color.Color

	Tolerance *Level // drawn under the labels; nil: none
	Spread    *Spread
	Clear     []vg.Rectangle // where no label may stand
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
	StiffnessShade = tinted(color.NRGBA{0xFA, 0xFA, 0xFA, 0xFF}, color.NRGBA{0xA8, 0xC9, 0xDE, 0xFF})
	MovementShade  = tinted(color.NRGBA{0xFF, 0xFB, 0xF0, 0xFF}, color.NRGBA{0xF0, 0xC8, 0x78, 0xFF})
)

// seam is how far a tinted piece reaches under its neighbours, in points, so that no paper shows between them.
const seam = vg.Length(0.4)

// Tint is the tint of the band above level n, of that below all levels for 0.
func (l Field) Tint(n int) color.Color {
	return l.Shade(float64(n) / float64(max(1, len(l.Levels))))
}

// fill draws the bands, the lower ones first and under the higher.
func (l Field) fill(c draw.Canvas, toX, toY func(float64) vg.Length) {
	piece := func(n int, corners []contour.Point) {
		points := OnPaper(corners, toX, toY)
		c.FillPolygon(l.Tint(n), points)
		c.StrokeLines(draw.LineStyle{Color: l.Tint(n), Width: seam}, append(points, points[0]))
	}
	for n := range len(l.Levels) + 1 {
		least := math.Inf(-1)
		if n > 0 {
			least = l.Levels[n-1].At
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
func (l Field) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	l.fill(c, toX, toY)
	for _, t := range l.Levels {
		for _, line := range l.Lines(t.At) {
			c.StrokeLines(draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}, OnPaper(line, toX, toY))
		}
	}
	if l.Spread != nil {
		l.Spread.draw(c, p)
	}
	if l.Tolerance != nil {
		l.Tolerance.draw(c, toX, toY)
	}
	taken := slices.Clone(l.Clear)
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	for _, t := range l.Levels {
		for _, line := range l.Lines(t.At) {
			points := OnPaper(line, toX, toY)
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

// OnPaper takes the points of a contour to the picture.
func OnPaper(line []contour.Point, toX, toY func(float64) vg.Length) []vg.Point {
	points := make([]vg.Point, len(line))
	for i, s := range line {
		points[i] = vg.Point{X: toX(s.X), Y: toY(s.Y)}
	}
	return points
}

// Level is where a movement is the tolerance.
type Level struct {
	contour.Lattice
	Um float64
}

func (t Level) draw(c draw.Canvas, toX, toY func(float64) vg.Length) {
	for _, line := range t.Lines(t.Um) {
		c.StrokeLines(ToleranceContour, OnPaper(line, toX, toY))
	}
}

// Spread is the band over a plane within which nine of ten such machines reach their tolerance: where a machine
// typically moves by less than From even one of the softest keeps it, where by more than To one of the stiffest does not.
type Spread struct {
	Level
	From, To float64 // µm of typical movement
}

// The lines of such a band.
var (
	spreadEdge  = draw.LineStyle{Color: ToleranceContour.Color, Width: paper.ThinLine, Dashes: []vg.Length{1.5, 2.5}}
	spreadHatch = draw.LineStyle{Color: ToleranceContour.Color, Width: paper.Hairline}
)

// spreadStep is how finely the ends of the hatch are found, in points, and spreadApart how far apart its lines are.
const (
	spreadStep  = vg.Length(1.5)
	spreadApart = vg.Length(7)
)

// Anywhere tells whether any of the band lies on the plane.
func (s Spread) Anywhere() bool {
	least, most, ok := s.Span()
	return ok && least < s.To && most > s.From
}

// draw hatches the band and draws its edges.
func (s Spread) draw(c draw.Canvas, p *plot.Plot) {
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
			if v := value(at); v >= s.From && v <= s.To {
				run = append(run, at)
				continue
			}
			hatchRun(c, run)
			run = nil
		}
		hatchRun(c, run)
	}
	for _, um := range []float64{s.From, s.To} {
		for _, line := range s.Lines(um) {
			c.StrokeLines(spreadEdge, OnPaper(line, toX, toY))
		}
	}
}

// hatchRun draws a line of the hatch from the first of its points to the last.
func hatchRun(c draw.Canvas, run []vg.Point) {
	if n := len(run); n > 1 {
		c.StrokeLine2(spreadHatch, run[0].X, run[0].Y, run[n-1].X, run[n-1].Y)
	}
}

// SpreadKey explains the band.
var SpreadKey = paper.KeyEntry{Words: "nine of ten such machines reach the tolerance in here",
	Mark: func(c draw.Canvas, box vg.Rectangle) {
		paper.Hatch(c, box, 1.0/8, spreadHatch)
		c.StrokeLine2(spreadEdge, box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
		c.StrokeLine2(spreadEdge, box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
	}}
