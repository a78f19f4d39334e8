package paper

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// outlineGlyph is a filled marker, its corners given in radii from its middle.
type outlineGlyph [][2]float64

// Diamond, and the other markers that the plotting library lacks as filled ones.
var (
	Diamond   = outlineGlyph{{0, 1.3}, {1.3, 0}, {0, -1.3}, {-1.3, 0}}
	arrowhead = outlineGlyph{{-1.2, 1}, {1.2, 1}, {0, -1.2}}
	hourglass = outlineGlyph{{-1.1, 1.1}, {1.1, 1.1}, {-1.1, -1.1}, {1.1, -1.1}}
)

// DrawGlyph draws the marker in the style's colour.
func (g outlineGlyph) DrawGlyph(c *draw.Canvas, sty draw.GlyphStyle, at vg.Point) {
	var corners []vg.Point
	for _, p := range g {
		corners = append(corners, vg.Point{X: at.X + vg.Length(p[0])*sty.Radius, Y: at.Y + vg.Length(p[1])*sty.Radius})
	}
	c.FillPolygon(sty.Color, corners)
}

// The measures of every picture, in points.
const (
	Margin   = vg.Length(16)  // round the whole
	Gap      = vg.Length(8)   // between two things that stand apart
	Hairline = vg.Length(0.5) // widths of lines
	ThinLine = vg.Length(0.8)
	FullLine = vg.Length(1.6)
)

// FillBox fills a rectangle and draws its outline.
func FillBox(c draw.Canvas, r vg.Rectangle, fill color.Color, edge draw.LineStyle) {
	corners := CornersOf(r)
	c.FillPolygon(fill, corners)
	c.StrokeLines(edge, append(corners, r.Min))
}

// CornersOf gives the corners of a rectangle, round it from the lower left one.
func CornersOf(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// hatchSpacing is the distance between two lines of a hatch, in points.
const hatchSpacing = vg.Length(4.5)

// hatchDirections are the directions of the lines that tell the bars of options apart, in turns of a full circle.
var hatchDirections = [][]float64{nil, {1.0 / 8}, {3.0 / 8}, {1.0 / 8, 3.0 / 8}, {0}, {0.25}}

// FillSeries fills a rectangle in the manner of series i, counted from 0: plain or with white lines, outlined. 36 series
// differ.
func FillSeries(c draw.Canvas, r vg.Rectangle, i int) {
	k := SeriesColour(i)
	corners := CornersOf(r)
	c.FillPolygon(k, corners)
	for _, turn := range hatchDirections[again(i)] {
		Hatch(c, r, turn, draw.LineStyle{Color: White, Width: vg.Length(1.1)})
	}
	c.StrokeLines(draw.LineStyle{Color: Ink, Width: Hairline}, append(corners, r.Min))
}

// Hatch draws parallel lines within a rectangle, at turn of a full circle from the horizontal.
func Hatch(c draw.Canvas, r vg.Rectangle, turn float64, sty draw.LineStyle) {
	sin, cos := math.Sincos(2 * math.Pi * turn)
	centre := vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
	reach := vg.Length(math.Hypot(float64(r.Max.X-r.Min.X), float64(r.Max.Y-r.Min.Y))) / 2
	inside := draw.Canvas{Canvas: c.Canvas, Rectangle: r}
	n := math.Floor(float64(reach / hatchSpacing))
	for k := -n; k <= n; k++ {
		off := vg.Length(k) * hatchSpacing
		x, y := centre.X-off*vg.Length(sin), centre.Y+off*vg.Length(cos)
		line := []vg.Point{
			{X: x - reach*vg.Length(cos), Y: y - reach*vg.Length(sin)},
			{X: x + reach*vg.Length(cos), Y: y + reach*vg.Length(sin)},
		}
		c.StrokeLines(sty, inside.ClipLinesXY(line)...)
	}
}

// MiddleOf is the middle of a rectangle.
func MiddleOf(r vg.Rectangle) vg.Point {
	return vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
}

// Dot draws a filled circle with a rim of paper, which keeps it apart from what is under it.
func Dot(c draw.Canvas, at vg.Point, radius vg.Length, k color.Color) {
	c.DrawGlyph(draw.GlyphStyle{Color: White, Radius: radius + 1, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyph(draw.GlyphStyle{Color: k, Radius: radius, Shape: draw.CircleGlyph{}}, at)
}

// Circle draws the rim of a circle.
func Circle(c draw.Canvas, at vg.Point, radius vg.Length, sty draw.LineStyle) {
	c.SetLineStyle(sty)
	var path vg.Path
	path.Move(vg.Point{X: at.X + radius, Y: at.Y})
	path.Arc(at, radius, 0, 2*math.Pi)
	path.Close()
	c.Stroke(path)
}
