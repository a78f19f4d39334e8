package drawing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// The lines of axes.
var (
	// the axis of a screw or belt
	chainLine  = draw.LineStyle{Color: paper.Ink, Width: paper.Hairline, Dashes: []vg.Length{8, 2, 1.5, 2}}
	beltEdge   = draw.LineStyle{Color: paper.Ink, Width: paper.Hairline}
	slideLine  = draw.LineStyle{Color: paper.Green, Width: 2, Dashes: []vg.Length{9, 3, 2, 3}}
	travelLine = draw.LineStyle{Color: paper.Ink, Width: 1.2}
)

// The measures of axes, in points.
const (
	travelRow   = vg.Length(18)  // of one arrow of travel, beside a view
	firstTravel = vg.Length(20)  // from the view to the first of them
	nutRadius   = vg.Length(5.8) // round a bearing where both are seen from the end
	bearingHalf = vg.Length(3.6)
	actsRadius  = vg.Length(3.4)
)

// parts are the bodies that are parts.
func (d *drawing) parts() []body { return d.bodies[:len(d.machine.Parts)] }

// axisBodies gives rails, carriages and the screws of drives as bodies.
func axisBodies(axes []answer.AxisLine) (all []body) {
	add := func(kind *partKind, name string, b answer.Block) {
		all = append(all, body{name: name, kind: kind, corners: boxCorners(vector(b.FromMM), vector(b.ToMM))})
	}
	for _, a := range axes {
		for _, g := range a.Guides {
			if g.Rail != nil {
				add(railKind, g.Name, *g.Rail)
			}
			for _, b := range g.Blocks {
				add(carriageKind, g.Name, b)
			}
		}
		for _, v := range a.Drives {
			if v.Shaft != nil {
				add(shaftKind, v.Kind, *v.Shaft)
			}
		}
	}
	return all
}

func vector(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

// ridge draws the line along the middle of a rail, which tells it from a bar.
func (p *paperView) ridge(i int) {
	if p.drawing.bodies[i].kind != railKind {
		return
	}
	box := vg.Rectangle{Min: vg.Point{X: vg.Length(math.Inf(1)), Y: vg.Length(math.Inf(1))},
		Max: vg.Point{X: vg.Length(math.Inf(-1)), Y: vg.Length(math.Inf(-1))}}
	for _, at := range p.loop(p.outlines[i]) {
		box.Min = vg.Point{X: min(box.Min.X, at.X), Y: min(box.Min.Y, at.Y)}
		box.Max = vg.Point{X: max(box.Max.X, at.X), Y: max(box.Max.Y, at.Y)}
	}
	railRidge(p.canvas, box)
}

// longRail is how much longer than wide a rail looks unless it is seen from its end.
const longRail = 2

// railRidge draws the middle line of a rail along its longer side; none where it is seen from its end.
func railRidge(c draw.Canvas, box vg.Rectangle) {
	at, wide, high := paper.MiddleOf(box), box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	switch {
	case wide > longRail*high:
		c.StrokeLine2(seenEdge, box.Min.X, at.Y, box.Max.X, at.Y)
	case high > longRail*wide:
		c.StrokeLine2(seenEdge, at.X, box.Min.Y, at.X, box.Max.Y)
	}
}

// driveMark is a sign on a drive.
type driveMark struct {
	at   [3]float64
	sign func(draw.Canvas, vg.Point)
}

// driveMarks gives nuts and bearings, clamps and pulleys, and where other drives act.
func (d *drawing) driveMarks() (list []driveMark) {
	for _, a := range d.inv.Axes {
		for _, v := range a.Drives {
			if v.Shaft == nil && v.BeltMM == 0 {
				list = append(list, driveMark{v.PushMM, actsSign})
				continue
			}
			list = append(list, driveMark{v.PushMM, nutSign}, driveMark{v.FromMM, bearingSign})
			if v.FarHeld {
				list = append(list, driveMark{v.ToMM, bearingSign})
			}
		}
	}
	return list
}

// nutSign is a hexagon.
func nutSign(c draw.Canvas, at vg.Point) {
	var corners []vg.Point
	for i := range 6 {
		sin, cos := math.Sincos(math.Pi / 3 * float64(i))
		corners = append(corners, vg.Point{X: at.X + nutRadius*vg.Length(cos), Y: at.Y + nutRadius*vg.Length(sin)})
	}
	c.FillPolygon(paper.White, corners)
	c.StrokeLines(groundLine, append(corners, corners[0]))
}

// bearingSign is the general sign of a rolling bearing, an upright cross in a square (ISO 8826-1, from memory).
func bearingSign(c draw.Canvas, at vg.Point) {
	box := vg.Rectangle{Min: vg.Point{X: at.X - bearingHalf, Y: at.Y - bearingHalf},
		Max: vg.Point{X: at.X + bearingHalf, Y: at.Y + bearingHalf}}
	paper.FillBox(c, box, paper.White, groundLine)
	const cross = 0.6 * bearingHalf
	c.StrokeLine2(seenEdge, at.X-cross, at.Y, at.X+cross, at.Y)
	c.StrokeLine2(seenEdge, at.X, at.Y-cross, at.X, at.Y+cross)
}

// actsSign is where a rack or a plain stiffness holds an axis: a ring with a dot.
func actsSign(c draw.Canvas, at vg.Point) {
	c.DrawGlyph(draw.GlyphStyle{Color: paper.White, Radius: actsRadius, Shape: draw.CircleGlyph{}}, at)
	paper.Circle(c, at, actsRadius, groundLine)
	c.DrawGlyph(draw.GlyphStyle{Color: paper.Ink, Radius: 1.3, Shape: draw.CircleGlyph{}}, at)
}

// paintAxes draws sliding faces, the lines of drives and the marks on them.
func (p *paperView) paintAxes() {
	for _, a := range p.drawing.inv.Axes {
		for _, g := range a.Guides {
			if g.Face == nil {
				continue
			}
			if from, to := p.at(g.Face.FromMM), p.at(g.Face.ToMM); from.X == to.X || from.Y == to.Y {
				p.canvas.StrokeLines(slideLine, []vg.Point{from, to})
			}
		}
		for _, v := range a.Drives {
			from, to := p.at(v.FromMM), p.at(v.ToMM)
			if from == to {
				continue
			}
			if v.BeltMM > 0 {
				p.beltEdges(from, to, p.drawing.points(v.BeltMM)/2)
			}
			p.canvas.StrokeLines(chainLine, []vg.Point{from, to})
		}
	}
	for _, m := range p.drawing.driveMarks() {
		m.sign(p.canvas, p.at(m.at))
	}
}

// beltEdges draws the two edges of a belt along a level or upright line.
func (p *paperView) beltEdges(from, to vg.Point, half vg.Length) {
	x, y := vg.Length(0), half
	if from.X == to.X {
		x, y = half, 0
	}
	for _, side := range []vg.Length{-1, 1} {
		p.canvas.StrokeLine2(beltEdge, from.X+side*x, from.Y+side*y, to.X+side*x, to.Y+side*y)
	}
}

// travelsAlong lists the axes along a direction.
func (d *drawing) travelsAlong(k machine.Axis) (list []answer.AxisLine) {
	for _, a := range d.inv.Axes {
		if a.Along == k.String() {
			list = append(list, a)
		}
	}
	return list
}

// roomLeft and roomBelow are the room for dimensions and arrows of travel beside the views.
func (d *drawing) roomLeft() vg.Length {
	return dimensionRoom + travelRow*vg.Length(len(d.travelsAlong(machine.Z)))
}

func (d *drawing) roomBelow() vg.Length {
	return dimensionRoom + travelRow*vg.Length(max(len(d.travelsAlong(machine.X)), len(d.travelsAlong(machine.Y))))
}

// travels draws an arrow for the travel of each axis, beside the view in which it is seen: along x below that from the
// front, along y below that from the right, along z left of that from the front. It is the way of the middle of what
// moves.
func (d *drawing) travels(front, right *paperView) {
	for k, p := range []*paperView{front, right, front} {
		for row, a := range d.travelsAlong(machine.Axis(k)) {
			p.travel(a, machine.Axis(k), firstTravel+travelRow*vg.Length(row))
		}
	}
}

// travel draws the arrow of one axis at a distance from the view, with a dot where the axis stands.
func (p *paperView) travel(a answer.AxisLine, k machine.Axis, beside vg.Length) {
	var places [3]vg.Point // the two ends, and where it stands
	for i, to := range []float64{a.TravelMM[0], a.TravelMM[1], a.AtMM} {
		at := p.drawing.middleMoved(a)
		at[k] += to - a.AtMM
		places[i] = p.at(at)
		if k == p.view.up {
			places[i].X = p.box.Min.X - beside
		} else {
			places[i].Y = p.box.Min.Y - beside
		}
	}
	travelArrow(p.canvas, places[0], places[1])
	words := a.Name + ": " + paper.WithMinus(number.Length(a.TravelMM[0])) + " to " +
		paper.WithMinus(number.Length(a.TravelMM[1]))
	p.travelWords(words, places, k == p.view.up)
	paper.Dot(p.canvas, places[2], tipRadius, paper.Ink)
}

// travelWords writes the range of an axis over its arrow, which is broken for it, in the longer stretch beside the dot
// if there is room; otherwise behind the arrow, or before it where that would leave the view.
func (p *paperView) travelWords(words string, places [3]vg.Point, upright bool) {
	along, lo, hi := func(at vg.Point) vg.Length { return at.X }, p.box.Min.X, p.box.Max.X
	if upright {
		along, lo, hi = func(at vg.Point) vg.Length { return at.Y }, p.box.Min.Y, p.box.Max.Y
	}
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	wide := sty.Width(words)
	from, to, stands := along(places[0]), along(places[1]), along(places[2])
	room, middle := to-stands, (to+stands)/2
	if stands-from > room {
		room, middle = stands-from, (from+stands)/2
	}
	inside := room >= wide+2*paper.ArrowLength+paper.Gap
	switch {
	case inside:
	case to+paper.Gap+wide <= hi || from-paper.Gap-wide < lo:
		middle = to + paper.Gap + wide/2
	default:
		middle = from - paper.Gap - wide/2
	}
	at, half := vg.Point{X: middle, Y: places[0].Y}, vg.Point{X: wide/2 + 3, Y: paper.SmallSize / 2}
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	if upright {
		at, half = vg.Point{X: places[0].X, Y: middle}, vg.Point{X: half.Y, Y: half.X}
		sty.Rotation = math.Pi / 2
	}
	if inside {
		paper.FillBox(p.canvas, vg.Rectangle{Min: vg.Point{X: at.X - half.X, Y: at.Y - half.Y},
			Max: vg.Point{X: at.X + half.X, Y: at.Y + half.Y}}, paper.White, draw.LineStyle{})
	}
	p.canvas.FillText(sty, at, words)
}

// travelArrow draws a line with open arrowheads at both ends, level or upright.
func travelArrow(c draw.Canvas, from, to vg.Point) {
	const back, half = paper.ArrowLength * 0.7, paper.ArrowLength * 0.4
	x, y := vg.Length(1), vg.Length(0)
	if from.X == to.X {
		x, y = 0, 1
	}
	c.StrokeLines(travelLine, []vg.Point{from, to})
	for _, end := range []struct {
		at   vg.Point
		sign vg.Length
	}{{from, 1}, {to, -1}} {
		c.StrokeLines(travelLine, []vg.Point{
			{X: end.at.X + end.sign*x*back + y*half, Y: end.at.Y + end.sign*y*back + x*half}, end.at,
			{X: end.at.X + end.sign*x*back - y*half, Y: end.at.Y + end.sign*y*back - x*half},
		})
	}
}

// middleMoved is the middle of the first part that goes along with an axis.
func (d *drawing) middleMoved(a answer.AxisLine) [3]float64 {
	for _, b := range d.parts() {
		if len(a.Moves) > 0 && b.name == a.Moves[0] {
			return b.middle()
		}
	}
	return d.parts()[0].middle()
}

// axisSigns are the signs of axes in the key.
func (d *drawing) axisSigns() (key []paper.KeyEntry) {
	var belts, screws, others, slides bool
	for _, a := range d.inv.Axes {
		for _, v := range a.Drives {
			belts, screws = belts || v.BeltMM > 0, screws || v.Shaft != nil
			others = others || v.BeltMM == 0 && v.Shaft == nil
		}
		for _, g := range a.Guides {
			slides = slides || g.Face != nil
		}
	}
	entry := func(is bool, words string, mark func(draw.Canvas, vg.Rectangle)) {
		if is {
			key = append(key, paper.KeyEntry{Words: words, Mark: mark})
		}
	}
	entry(slides, "sliding faces", paper.KeyLine(slideLine).Across)
	entry(belts, "belt", func(c draw.Canvas, box vg.Rectangle) {
		for _, y := range []vg.Length{box.Min.Y + 3, box.Max.Y - 3} {
			c.StrokeLine2(beltEdge, box.Min.X, y, box.Max.X, y)
		}
		paper.KeyLine(chainLine).Across(c, box)
	})
	held, ends := "nut", "bearing"
	if belts {
		held, ends = "clamp", "pulley"
		if screws {
			held, ends = "nut or clamp", "bearing or pulley"
		}
	}
	entry(belts || screws, held, func(c draw.Canvas, box vg.Rectangle) { nutSign(c, paper.MiddleOf(box)) })
	entry(belts || screws, ends, func(c draw.Canvas, box vg.Rectangle) { bearingSign(c, paper.MiddleOf(box)) })
	entry(others, "where a drive holds its axis",
		func(c draw.Canvas, box vg.Rectangle) { actsSign(c, paper.MiddleOf(box)) })
	entry(len(d.inv.Axes) > 0, "travel; dot: where the axis stands", func(c draw.Canvas, box vg.Rectangle) {
		at := paper.MiddleOf(box)
		travelArrow(c, vg.Point{X: box.Min.X, Y: at.Y}, vg.Point{X: box.Max.X, Y: at.Y})
		paper.Dot(c, at, tipRadius, paper.Ink)
	})
	return key
}
