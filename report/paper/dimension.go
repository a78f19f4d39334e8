package paper

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// DimensionLine is the line of a dimension.
var DimensionLine = draw.LineStyle{Color: FaintInk, Width: Hairline}

// ArrowLength is the length of a dimension's arrowheads, in points.
const ArrowLength = vg.Length(7)

// Dimension draws a dimension line from one place to another on its right or above it, with arrowheads, and writes words
// over it, for which it is broken; where it is too short for that, they stand below it, or to its left.
func Dimension(c draw.Canvas, from, to vg.Point, words string) {
	c.StrokeLines(DimensionLine, []vg.Point{from, to})
	length := vg.Length(math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y)))
	x, y := (to.X-from.X)/length, (to.Y-from.Y)/length
	arrow(c, from, -x, -y)
	arrow(c, to, x, y)
	at := vg.Point{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}
	upright := y > x
	if Lettering(LabelSize, Ink).Width(words)+4*ArrowLength > length {
		if upright {
			at.X -= 1.2 * LabelSize
		} else {
			at.Y -= 1.2 * LabelSize
		}
	}
	rotation := 0.0
	if upright {
		rotation = math.Pi / 2
	}
	dimensionWords(c, at, words, rotation)
}

// dimensionWords writes a dimension over its line.
func dimensionWords(c draw.Canvas, at vg.Point, words string, rotation float64) {
	sty := Lettering(LabelSize, Ink)
	half := vg.Point{X: sty.Width(words)/2 + 3, Y: sty.Font.Size / 2}
	if rotation != 0 {
		half.X, half.Y = half.Y, half.X
	}
	FillBox(c, vg.Rectangle{Min: vg.Point{X: at.X - half.X, Y: at.Y - half.Y},
		Max: vg.Point{X: at.X + half.X, Y: at.Y + half.Y}}, White, draw.LineStyle{})
	sty.XAlign, sty.YAlign, sty.Rotation = draw.XCenter, draw.YCenter, rotation
	c.FillText(sty, at, words)
}

// arrow draws the arrowhead of a dimension: its tip is at a place and it points along (x, y), of unit length.
func arrow(c draw.Canvas, at vg.Point, x, y vg.Length) {
	back, half := ArrowLength, ArrowLength/5
	c.FillPolygon(FaintInk, []vg.Point{at,
		{X: at.X - x*back - y*half, Y: at.Y - y*back - x*half}, {X: at.X - x*back + y*half, Y: at.Y - y*back + x*half}})
}
