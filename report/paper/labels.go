package paper

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Labels finds places for labels beside marks on a chart, so that none covers a curve, a mark or another label.
type Labels struct {
	Canvas draw.Canvas
	Lines  [][]vg.Point   // curves
	Taken  []vg.Rectangle // marks and labels
}

// LabelHeight is the height of the box of a label of small letters, in points.
const LabelHeight = vg.Length(11)

// labelOff is how far a label stands from its mark, in points.
const labelOff = vg.Length(7)

// labelSteps is how many steps of its height a label may stand away from its mark.
const labelSteps = 9

// Beside returns the middle of the nearest free place for a label of that size beside a mark, and takes it. Where nothing is
// free it is the one right above the mark.
func (l *Labels) Beside(mark vg.Point, size vg.Point) vg.Point {
	first := labelOff + size.Y/2 + 1
	var places []vg.Point
	for n := range labelSteps {
		off := first + vg.Length(n)*size.Y*2/3
		for _, turn := range []vg.Length{0, -1, 1} {
			for _, up := range []vg.Length{1, -1} {
				places = append(places, vg.Point{X: mark.X + turn*(size.X/2+labelOff), Y: mark.Y + up*off})
			}
		}
	}
	slices.SortStableFunc(places, func(a, b vg.Point) int { return cmp.Compare(apart(a, mark), apart(b, mark)) })
	chosen := places[0]
	for _, at := range places {
		if l.free(BoxRound(l.inside(at, size), size.Add(vg.Point{X: 8, Y: 8}))) {
			chosen = at
			break
		}
	}
	chosen = l.inside(chosen, size)
	l.Taken = append(l.Taken, BoxRound(chosen, size))
	return chosen
}

// inside moves a place so far that the box round it lies on the canvas.
func (l *Labels) inside(at, size vg.Point) vg.Point {
	c := l.Canvas
	return vg.Point{X: min(max(at.X, c.Min.X+size.X/2), c.Max.X-size.X/2), Y: min(max(at.Y, c.Min.Y+size.Y/2), c.Max.Y-size.Y/2)}
}

// free tells whether a box covers nothing.
func (l *Labels) free(box vg.Rectangle) bool {
	within := draw.Canvas{Rectangle: box}
	return !slices.ContainsFunc(l.Taken, func(o vg.Rectangle) bool { return Overlap(o, box) }) &&
		!slices.ContainsFunc(l.Lines, func(line []vg.Point) bool { return len(line) > 0 && len(within.ClipLinesXY(line)) > 0 })
}

// BoxRound is the box of that size round a middle.
func BoxRound(middle, size vg.Point) vg.Rectangle {
	half := vg.Point{X: size.X / 2, Y: size.Y / 2}
	return vg.Rectangle{Min: middle.Sub(half), Max: middle.Add(half)}
}

// apart is the distance between two places.
func apart(a, b vg.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

// MarkBox is the room that a mark takes.
func MarkBox(at vg.Point) vg.Rectangle { return BoxRound(at, vg.Point{X: 10, Y: 10}) }

// Overlap tells whether two rectangles share any ground.
func Overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// Write writes words beside a mark, in a box with an edge in the colour of a series.
func (l *Labels) Write(mark vg.Point, words string, series int) {
	sty := Lettering(SmallSize, Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	size := vg.Point{X: sty.Width(words) + 6, Y: LabelHeight}
	at := l.Beside(mark, size)
	FillBox(l.Canvas, BoxRound(at, size), White, draw.LineStyle{Color: SeriesColour(series), Width: ThinLine})
	l.Canvas.FillText(sty, at, words)
}
