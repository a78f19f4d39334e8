package report

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/machine"
)

// linesOfLevel is about how many lines of equal stiffness a picture has.
const linesOfLevel = 9

func contourPicture(s machine.Sweep) (*Picture, error) {
	a, b := s.Values[0], s.Values[1]
	lat := lattice{x: a.At, y: b.At}
	moved := lattice{x: a.At, y: b.At}
	worst := ""
	for _, x := range a.At {
		row, away := make([]float64, len(b.At)), make([]float64, len(b.At))
		for k, y := range b.At {
			row[k], away[k] = math.NaN(), math.NaN()
			p := placeAt(s, x, y)
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
		lat.v, moved.v = append(lat.v, row), append(moved.v, away)
	}
	lo, hi, _ := lat.span() // there is at least one place
	sheet := sheet{
		title:    fmt.Sprintf("%s: %s", s.Machine, sweptInWords(s)),
		subtitle: "Option: " + s.Option + ". Stiffness of the tip in its softest direction, N/µm; a cross is a place left out because the model is wrong there",
	}
	within := s.Within != nil && worst != "" && len(moved.contour(*s.Within)) > 0
	sheet.key = append(sheet.key, keyEntry{"lines of equal stiffness, N/µm", func(c draw.Canvas, box vg.Rectangle) {
		y := (box.Min.Y + box.Max.Y) / 2
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: thinLine}, box.Min.X, y, box.Max.X, y)
	}})
	if within {
		sheet.key = append(sheet.key, keyEntry{fmt.Sprintf("the tip moves by the tolerance, %s µm, under its worst load", given(*s.Within)), func(c draw.Canvas, box vg.Rectangle) {
			y := (box.Min.Y + box.Max.Y) / 2
			c.StrokeLine2(toleranceContour, box.Min.X, y, box.Max.X, y)
		}})
	}
	sheet.key = append(sheet.key, keyEntry{"as drawn", func(c draw.Canvas, box vg.Rectangle) {
		leavingMark(c, vg.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}, blue)
	}})
	total := sheet.headHeight(pictureWidth) + sheet.footHeight() + contourHeight
	return &Picture{pictureWidth, total, func(c draw.Canvas) {
		room := sheet.draw(c)
		chart := plot.New()
		chart.X.Min, chart.X.Max, chart.Y.Min, chart.Y.Max = a.At[0], a.At[len(a.At)-1], b.At[0], b.At[len(b.At)-1]
		axis(&chart.X, headOf(a))
		axis(&chart.Y, headOf(b))
		chart.Add(levelled{lat, lo, hi})
		if within {
			chart.Add(toleranceAt{moved, *s.Within})
		}
		chart.Add(sweptSpots{s})
		chart.Draw(room)
	}}, nil
}

// contourHeight is the height of a chart of contours.
const contourHeight = vg.Length(470)

// toleranceContour is the line on which the movement is the tolerance.
var toleranceContour = draw.LineStyle{Color: vermillion, Width: 2.4, Dashes: []vg.Length{7, 3}}

// levelled draws bands of grey, the darker the stiffer, and labelled lines between them.
type levelled struct {
	lattice
	lo, hi float64
}

// shade is the tint of a share of the scale from 0 to 1: light enough for lines and letters on it.
func shade(share float64) color.Color {
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*share) }
	return color.NRGBA{mix(0xFA, 0xA8), mix(0xFA, 0xC9), mix(0xFA, 0xDE), 0xFF}
}

// finely is how many tinted pieces a cell has along each side.
const finely = 12

// seam is how far a piece reaches under the next, in points, so that no paper shows between them.
const seam = vg.Length(0.4)

// Plot draws the bands and the lines.
func (l levelled) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	var ticks []tick
	if l.hi-l.lo > alike*l.hi {
		ticks = niceTicks(l.lo, l.hi, linesOfLevel)
	}
	band := func(v float64) float64 { // tint by band, so that lines part tints
		n := 0
		for _, t := range ticks {
			if v >= t.at {
				n++
			}
		}
		return float64(n) / float64(max(1, len(ticks)))
	}
	for i := range len(l.x) - 1 {
		for k := range len(l.y) - 1 {
			corners := [4]float64{l.v[i][k], l.v[i+1][k], l.v[i+1][k+1], l.v[i][k+1]}
			if math.IsNaN(corners[0] + corners[1] + corners[2] + corners[3]) {
				continue
			}
			for b := range finely {
				y := func(b int) vg.Length { return toY(l.y[k] + (l.y[k+1]-l.y[k])*float64(b)/finely) }
				x := func(a int) vg.Length { return toX(l.x[i] + (l.x[i+1]-l.x[i])*float64(a)/finely) }
				tint := func(a int) float64 {
					s, t := (float64(a)+0.5)/finely, (float64(b)+0.5)/finely
					return band((1-s)*(1-t)*corners[0] + s*(1-t)*corners[1] + s*t*corners[2] + (1-s)*t*corners[3])
				}
				for a, from := 0, 0; a < finely; a++ { // pieces of one tint in one stroke
					if a+1 < finely && tint(a+1) == tint(from) {
						continue
					}
					c.FillPolygon(shade(tint(from)), cornersOf(vg.Rectangle{Min: vg.Point{X: x(from), Y: y(b)}, Max: vg.Point{X: x(a+1) + seam, Y: y(b+1) + seam}}))
					from = a + 1
				}
			}
		}
	}
	var taken []vg.Rectangle
	sty := lettering(smallSize, ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	for _, t := range ticks {
		for _, line := range l.contour(t.at) {
			points := onPaper(line, toX, toY)
			c.StrokeLines(draw.LineStyle{Color: ink, Width: thinLine}, points)
			half := sty.Width(t.label)/2 + 2
			// The label stands as near to the line's middle as it is clear of the others and of the frame.
			for step := range len(points) {
				i := len(points)/2 + (step+1)/2*(1-2*(step%2))
				if i < 0 || i >= len(points) {
					continue
				}
				box := vg.Rectangle{Min: vg.Point{X: points[i].X - half, Y: points[i].Y - placeHeight/2}, Max: vg.Point{X: points[i].X + half, Y: points[i].Y + placeHeight/2}}
				inside := box.Min.X >= c.Min.X && box.Max.X <= c.Max.X && box.Min.Y >= c.Min.Y && box.Max.Y <= c.Max.Y
				if !inside || slices.ContainsFunc(taken, func(o vg.Rectangle) bool { return overlap(o, box) }) {
					continue
				}
				taken = append(taken, box)
				fillBox(c, box, paper, draw.LineStyle{})
				c.FillText(sty, points[i], t.label)
				break
			}
		}
	}
}

// onPaper takes the spots of a contour to the picture.
func onPaper(line []contourSpot, toX, toY func(float64) vg.Length) []vg.Point {
	points := make([]vg.Point, len(line))
	for i, s := range line {
		points[i] = vg.Point{X: toX(s.x), Y: toY(s.y)}
	}
	return points
}

// toleranceAt draws where a movement is the tolerance.
type toleranceAt struct {
	lattice
	um float64
}

// Plot draws the line.
func (t toleranceAt) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	for _, line := range t.contour(t.um) {
		c.StrokeLines(toleranceContour, onPaper(line, toX, toY))
	}
}

// sweptSpots marks the places that were left out and the machine as drawn.
type sweptSpots struct{ machine.Sweep }

// Plot draws the marks.
func (s sweptSpots) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	for _, l := range s.LeftOut {
		c.DrawGlyph(draw.GlyphStyle{Color: faintInk, Radius: 3.5, Shape: draw.CrossGlyph{}}, vg.Point{X: toX(l.At[0]), Y: toY(l.At[1])})
	}
	at := vg.Point{X: toX(s.Values[0].Drawn), Y: toY(s.Values[1].Drawn)}
	if at.X >= c.Min.X && at.X <= c.Max.X && at.Y >= c.Min.Y && at.Y <= c.Max.Y {
		leavingMark(c, at, blue)
	}
}
