package report

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// labelPlaces finds places for labels beside marks on a chart, so that none covers a curve, a mark or another label.
type labelPlaces struct {
	canvas draw.Canvas
	lines  [][]vg.Point   // curves
	taken  []vg.Rectangle // marks and labels
}

// labelSteps is how many steps of its height a label may stand away from its mark.
const labelSteps = 9

// beside returns the middle of the nearest free place for a label of that size beside a mark, and takes it. Where nothing is
// free it is the one right above the mark.
func (l *labelPlaces) beside(mark vg.Point, size vg.Point) vg.Point {
	first := markLabelOff + size.Y/2 + 1
	var places []vg.Point
	for n := range labelSteps {
		off := first + vg.Length(n)*size.Y*2/3
		for _, turn := range []vg.Length{0, -1, 1} {
			for _, up := range []vg.Length{1, -1} {
				places = append(places, vg.Point{X: mark.X + turn*(size.X/2+markLabelOff), Y: mark.Y + up*off})
			}
		}
	}
	slices.SortStableFunc(places, func(a, b vg.Point) int { return cmp.Compare(apart(a, mark), apart(b, mark)) })
	chosen := places[0]
	for _, at := range places {
		if l.free(boxRound(l.inside(at, size), size.Add(vg.Point{X: 4, Y: 4}))) {
			chosen = at
			break
		}
	}
	chosen = l.inside(chosen, size)
	l.taken = append(l.taken, boxRound(chosen, size))
	return chosen
}

// inside moves a place so far that the box round it lies on the canvas.
func (l *labelPlaces) inside(at, size vg.Point) vg.Point {
	c := l.canvas
	return vg.Point{X: min(max(at.X, c.Min.X+size.X/2), c.Max.X-size.X/2), Y: min(max(at.Y, c.Min.Y+size.Y/2), c.Max.Y-size.Y/2)}
}

// free tells whether a box covers nothing.
func (l *labelPlaces) free(box vg.Rectangle) bool {
	within := draw.Canvas{Rectangle: box}
	return !slices.ContainsFunc(l.taken, func(o vg.Rectangle) bool { return overlap(o, box) }) &&
		!slices.ContainsFunc(l.lines, func(line []vg.Point) bool { return len(line) > 0 && len(within.ClipLinesXY(line)) > 0 })
}

// boxRound is the box of that size round a middle.
func boxRound(middle, size vg.Point) vg.Rectangle {
	half := vg.Point{X: size.X / 2, Y: size.Y / 2}
	return vg.Rectangle{Min: middle.Sub(half), Max: middle.Add(half)}
}

// apart is the distance between two places.
func apart(a, b vg.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

// markBox is the room that a mark takes.
func markBox(at vg.Point) vg.Rectangle { return boxRound(at, vg.Point{X: 10, Y: 10}) }
