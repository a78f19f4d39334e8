package workshop

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// The room round a face on the sheet, in points: its caption and the name of its upper side above, the name of its lower
// side and its width below, its height and the names of its sides to the left and right.
const (
	roomAbove = vg.Length(31)
	roomBelow = vg.Length(44)
	roomLeft  = vg.Length(70)
	roomRight = vg.Length(44)
)

// placed is a face in its place on the sheet: left and top are those of its room, below the remarks.
type placed struct {
	*face
	left, top vg.Length
	size      vg.Point // of its room
}

// shelves puts the faces beside one another in rows; not ok when one is too wide.
func (s *sheet) shelves(at scale) (places []placed, ok bool) {
	var left, top, high vg.Length
	ok = true
	for i := range s.faces {
		f := &s.faces[i]
		wide := max(at.points(f.size[0])+roomRight, captionStyle().Width(f.caption())+paper.Gap)
		size := vg.Point{X: roomLeft + wide, Y: roomAbove + at.points(f.size[1]) + roomBelow}
		if size.X > s.inner() {
			ok = false
		}
		if left > 0 && left+size.X > s.inner() {
			left, top, high = 0, top+high, 0
		}
		places = append(places, placed{f, left, top, size})
		left += size.X
		high = max(high, size.Y)
	}
	return places, ok
}

// paint draws a face from the upper left corner of its room.
func (p placed) paint(c draw.Canvas, corner vg.Point, at scale) {
	box := vg.Rectangle{Min: vg.Point{X: corner.X + roomLeft, Y: corner.Y - p.size.Y + roomBelow}}
	box.Max = vg.Point{X: box.Min.X + at.points(p.face.size[0]), Y: box.Min.Y + at.points(p.face.size[1])}
	on := func(x, y float64) vg.Point { return vg.Point{X: box.Min.X + at.points(x), Y: box.Min.Y + at.points(y)} }
	var clear clutter
	for i, loop := range p.outlines() {
		var corners []vg.Point
		for _, q := range loop {
			corners = append(corners, on(q[0], q[1]))
		}
		ink := metal
		if p.window(i) {
			ink = paper.White
		}
		c.FillPolygon(ink, corners)
		closed := append(corners, corners[0])
		c.StrokeLines(draw.LineStyle{Color: paper.Ink, Width: paper.FullLine * 0.75}, closed)
		for i := range corners {
			clear.edges = append(clear.edges, [2]vg.Point{closed[i], closed[i+1]})
		}
	}
	if p.sawn != nil { // the block that it is sawn from
		c.StrokeLines(draw.LineStyle{Color: paper.FaintInk, Width: paper.Hairline, Dashes: []vg.Length{1, 2}}, append(paper.CornersOf(box), box.Min))
	}
	name := vg.Point{X: box.Min.X, Y: box.Max.Y + 17}
	c.FillText(captionStyle(), name, p.caption())
	clear.words = append(p.dimensions(c, box), p.sides(c, box)...)
	clear.words = append(clear.words, vg.Rectangle{Min: name, Max: vg.Point{X: name.X + captionStyle().Width(p.caption()),
		Y: name.Y + paper.LabelSize}})
	clear.room = vg.Rectangle{Min: vg.Point{X: corner.X, Y: corner.Y - p.size.Y}, Max: vg.Point{X: corner.X + p.size.X,
		Y: corner.Y}}
	for _, m := range p.marks {
		r := signSizes{drill: at.points(m.DrillMM / 2), sink: at.points(m.SinkMM / 2)}
		if screw, ok := joint.LookupScrew(m.Screw); ok {
			r.thread = at.points(screw.D / 2)
		}
		r = r.readable()
		x, y := p.at(m.XMM, m.YMM)
		place := on(x, y)
		holeSign(c, m, place, r)
		clear.rings = append(clear.rings, ring{place, r.outer(m) + crossOver})
	}
	if len(p.marks) > 0 {
		right, up := p.at(0, 0)
		clear.words = append(clear.words, p.datum(c, on(right, up))...)
	}
	for i, m := range p.marks {
		clear.place(i, m.numbered()).draw(c)
	}
}

// metal fills a face.
var metal = color.NRGBA{0xF2, 0xF6, 0xFA, 0xFF}

// barFace is the name of the view of a bar without holes.
const barFace = "side"

// caption names the face.
func (f *face) caption() string {
	if f.name == barFace {
		return "Seen from its side"
	}
	return phrase.Capital(f.name) + " face, seen from outside"
}

// captionStyle is how it is lettered.
func captionStyle() text.Style { return paper.BoldLettering(paper.LabelSize, paper.Ink) }

// sides names the sides of the face and gives the room that takes.
func (p placed) sides(c draw.Canvas, box vg.Rectangle) (taken []vg.Rectangle) {
	sty := paper.Lettering(paper.SmallSize, paper.FaintInk)
	write := func(words string, at vg.Point, x, y stand) {
		if words == "" {
			return
		}
		s := sty
		s.XAlign, s.YAlign = x.x(), y.y()
		w, h := s.Width(words), s.Font.Size
		lo := vg.Point{X: at.X + w*vg.Length(s.XAlign), Y: at.Y + h*vg.Length(s.YAlign)}
		taken = append(taken, vg.Rectangle{Min: lo, Max: vg.Point{X: lo.X + w, Y: lo.Y + h}})
		paper.FillBox(c, taken[len(taken)-1], paper.White, draw.LineStyle{}) // over the lines of dimensions
		c.FillText(s, at, words)
	}
	middle := paper.MiddleOf(box)
	// The names of the two sides at the datum corner keep clear of its arrows.
	alongSide := func(words string) (vg.Length, stand) {
		switch {
		case box.Max.X-box.Min.X >= sty.Width(words)+2*arrowRoom:
			return middle.X, centre
		case p.flip[0]:
			return box.Max.X - arrowRoom, high
		}
		return box.Min.X + arrowRoom, low
	}
	beside := func(datum bool) vg.Length {
		if datum && box.Max.Y-box.Min.Y < 2*arrowRoom {
			return 16
		}
		return 6
	}
	top, bottom := alongSide, alongSide
	x, align := middle.X, centre
	if p.flip[1] {
		x, align = top(p.edges.top)
	}
	write(p.edges.top, vg.Point{X: x, Y: box.Max.Y + 4}, align, low)
	x, align = middle.X, centre
	if !p.flip[1] {
		x, align = bottom(p.edges.bottom)
	}
	write(p.edges.bottom, vg.Point{X: x, Y: box.Min.Y - 4}, align, high)
	write(p.edges.left, vg.Point{X: box.Min.X - beside(!p.flip[0]), Y: middle.Y}, high, centre)
	write(p.edges.right, vg.Point{X: box.Max.X + beside(p.flip[0]), Y: middle.Y}, low, centre)
	if p.edges.slope != "" {
		off := vg.Point{X: 6, Y: 6}
		align, up := low, low
		if p.flip[0] {
			off.X, align = -off.X, high
		}
		if p.flip[1] {
			off.Y, up = -off.Y, high
		}
		write(p.edges.slope, vg.Point{X: middle.X + off.X, Y: middle.Y + off.Y}, align, up)
	}
	return taken
}

// arrowRoom is the room of the datum's arrows along a side, in points.
const arrowRoom = vg.Length(30)

// stand is on which side of a place words stand: low begins there, high ends there.
type stand int

const (
	low stand = iota
	centre
	high
)

func (s stand) x() draw.XAlignment {
	return []draw.XAlignment{draw.XLeft, draw.XCenter, draw.XRight}[s]
}
func (s stand) y() draw.YAlignment {
	return []draw.YAlignment{draw.YBottom, draw.YCenter, draw.YTop}[s]
}

// dimensions measures the face below it and to its left, and gives the room that takes.
func (p placed) dimensions(c draw.Canvas, box vg.Rectangle) []vg.Rectangle {
	const beside, below = vg.Length(50), vg.Length(22)
	y, x := box.Min.Y-below, box.Min.X-beside
	for _, at := range []vg.Length{box.Min.X, box.Max.X} {
		c.StrokeLine2(paper.DimensionLine, at, box.Min.Y-2, at, y-4)
	}
	for _, at := range []vg.Length{box.Min.Y, box.Max.Y} {
		c.StrokeLine2(paper.DimensionLine, box.Min.X-2, at, x-4, at)
	}
	paper.Dimension(c, vg.Point{X: box.Min.X, Y: y}, vg.Point{X: box.Max.X, Y: y}, number.Length(p.face.size[0]))
	paper.Dimension(c, vg.Point{X: x, Y: box.Min.Y}, vg.Point{X: x, Y: box.Max.Y}, number.Length(p.face.size[1]))
	return []vg.Rectangle{
		{Min: vg.Point{X: box.Min.X, Y: y - 14}, Max: vg.Point{X: box.Max.X, Y: y + 5}},
		{Min: vg.Point{X: x - 14, Y: box.Min.Y}, Max: vg.Point{X: x + 5, Y: box.Max.Y}},
	}
}

// datum marks the corner that the holes are measured from, with the ways that x and y run, and gives the room that takes.
func (p placed) datum(c draw.Canvas, corner vg.Point) (taken []vg.Rectangle) {
	const long, head, off = vg.Length(22), vg.Length(6), vg.Length(7)
	line := draw.LineStyle{Color: paper.Vermillion, Width: 2}
	sty := paper.BoldLettering(paper.SmallSize, paper.Vermillion)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	x, y := vg.Length(1), vg.Length(1)
	if p.flip[0] {
		x = -1
	}
	if p.flip[1] {
		y = -1
	}
	for _, a := range []struct {
		word string
		x, y vg.Length // the way it runs
		out  vg.Point  // of the part
	}{{"x", x, 0, vg.Point{Y: -y}}, {"y", 0, y, vg.Point{X: -x}}} {
		end := vg.Point{X: corner.X + long*a.x, Y: corner.Y + long*a.y}
		c.StrokeLine2(line, corner.X, corner.Y, end.X-head*a.x, end.Y-head*a.y)
		c.FillPolygon(line.Color, []vg.Point{end,
			{X: end.X - head*a.x - 3*a.y, Y: end.Y - head*a.y - 3*a.x},
			{X: end.X - head*a.x + 3*a.y, Y: end.Y - head*a.y + 3*a.x}})
		at := vg.Point{X: end.X - 4*a.x + off*a.out.X, Y: end.Y - 4*a.y + off*a.out.Y}
		c.FillText(sty, at, a.word)
		arrow := vg.Rectangle{Min: vg.Point{X: min(corner.X, end.X), Y: min(corner.Y, end.Y)},
			Max: vg.Point{X: max(corner.X, end.X), Y: max(corner.Y, end.Y)}}
		taken = append(taken, grown(vg.Rectangle{Min: at, Max: at}, 4), grown(arrow, 2))
	}
	paper.Dot(c, corner, 3, paper.Vermillion)
	return append(taken, grown(vg.Rectangle{Min: corner, Max: corner}, 4))
}

// signSizes are the radii of a hole's signs, in points.
type signSizes struct{ drill, thread, sink vg.Length }

// readable makes signs of small holes large enough to be told apart.
func (r signSizes) readable() signSizes {
	r.drill = max(r.drill, 1.3)
	r.thread = max(r.thread, r.drill+1)
	if r.sink > 0 {
		r.sink = max(r.sink, r.drill+1)
	}
	return r
}

// outer is the radius of all of a hole's sign.
func (r signSizes) outer(m mark) vg.Length {
	switch {
	case m.Kind == answer.TappedHole:
		return r.thread
	case m.SinkMM > 0:
		return r.sink
	}
	return r.drill
}

// holeSign draws a hole: its rim, white where it goes through and grey where it ends in the metal; round it the thread as
// three quarters of a circle, as ISO 6410 has it, or the counterbore, dashed where it is on the other face; and a cross
// over its middle.
func holeSign(c draw.Canvas, m mark, at vg.Point, r signSizes) {
	fill := paper.White
	if m.OutOn == "" {
		fill = blindFill
	}
	thin := draw.LineStyle{Color: paper.Ink, Width: paper.Hairline}
	if m.SinkMM > 0 {
		rim := draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
		if m.sunkHere {
			c.DrawGlyph(draw.GlyphStyle{Color: paper.White, Radius: r.sink, Shape: draw.CircleGlyph{}}, at)
		} else {
			rim.Dashes = []vg.Length{2, 1.5}
		}
		paper.Circle(c, at, r.sink, rim)
	}
	c.DrawGlyph(draw.GlyphStyle{Color: fill, Radius: r.drill, Shape: draw.CircleGlyph{}}, at)
	paper.Circle(c, at, r.drill, draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine})
	if m.Kind == answer.TappedHole {
		c.SetLineStyle(thin)
		var arc vg.Path
		arc.Move(vg.Point{X: at.X, Y: at.Y + r.thread})
		arc.Arc(at, r.thread, math.Pi/2, 3*math.Pi/2)
		c.Stroke(arc)
	}
	reach := r.outer(m) + crossOver
	c.StrokeLine2(thin, at.X-reach, at.Y, at.X+reach, at.Y)
	c.StrokeLine2(thin, at.X, at.Y-reach, at.X, at.Y+reach)
}

// crossOver is how far the cross over a hole reaches out of its sign, in points.
const crossOver = vg.Length(1.5)

// blindFill fills holes that end in the metal.
var blindFill = color.NRGBA{0xA8, 0xA8, 0xA8, 0xFF}
