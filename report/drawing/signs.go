package drawing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// jointLines are the lines of joints by their kind, in the order of the key. A joint of another kind is drawn as
// sprung.
var jointLines = []struct {
	kind  string
	style draw.LineStyle
}{
	{"screwed", draw.LineStyle{Color: paper.Vermillion, Width: 2}},
	{"bonded", draw.LineStyle{Color: paper.Blue, Width: 2, Dashes: []vg.Length{7, 2}}},
	{"sprung", draw.LineStyle{Color: paper.Purple, Width: 2, Dashes: []vg.Length{2, 2}}},
}

// jointStyle is the line of a kind of joint.
func jointStyle(kind string) draw.LineStyle {
	for _, l := range jointLines {
		if l.kind == kind {
			return l.style
		}
	}
	return jointLines[len(jointLines)-1].style
}

// The measures of signs, in points: they keep their size whatever the scale.
const (
	screwRadius  = vg.Length(3)
	screwReach   = vg.Length(6) // of the centre line of a screw seen from the side
	tipRadius    = vg.Length(2.2)
	workRadius   = vg.Length(5)
	groundWidth  = vg.Length(14)
	groundTick   = vg.Length(5)
	groundSquare = vg.Length(7)
)

var (
	screwLine  = draw.LineStyle{Color: paper.Ink, Width: paper.Hairline}
	groundLine = draw.LineStyle{Color: paper.Ink, Width: 1.2}
	tickLine   = draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
	workLine   = draw.LineStyle{Color: paper.Vermillion, Width: 1.5}
)

// flatAxis is the axis along which a contact or a ground has no size; -1 when it has some along each. Of a line or
// point, which has several, it is the last, so that a point on the floor looks down.
func flatAxis(from, to [3]float64) machine.Axis {
	for a := machine.Z; a >= machine.X; a-- {
		if math.Abs(to[a]-from[a]) < number.Noise {
			return a
		}
	}
	return -1
}

// paintJoints draws where parts are joined, as far as the contact is seen from its edge, and the screws.
func (p *paperView) paintJoints() {
	for _, j := range p.drawing.inv.Joints {
		from, to := p.at(j.FromMM), p.at(j.ToMM)
		sty := jointStyle(j.Kind)
		switch axis := flatAxis(j.FromMM, j.ToMM); {
		case axis < 0: // one part in the other
			p.canvas.StrokeLines(sty, append(paper.CornersOf(vg.Rectangle{Min: from, Max: to}), from))
		case from == to:
			jointPoint(p.canvas, from, sty)
		case from.X == to.X || from.Y == to.Y:
			p.canvas.StrokeLines(sty, []vg.Point{from, to})
		}
	}
	for _, j := range p.drawing.inv.Joints {
		if j.Screw != "" {
			axis := flatAxis(j.FromMM, j.ToMM)
			for _, mm := range j.PlacesMM {
				p.paintScrew(p.at(mm), axis)
			}
		}
	}
}

// jointPoint draws a joint that has no size in the view.
func jointPoint(c draw.Canvas, at vg.Point, sty draw.LineStyle) {
	c.DrawGlyph(draw.GlyphStyle{Color: sty.Color, Radius: 3.2, Shape: paper.Diamond}, at)
}

// paintScrew draws a screw along an axis: a crossed circle from its head, a short centre line from its side.
func (p *paperView) paintScrew(at vg.Point, axis machine.Axis) {
	switch axis {
	case p.view.right:
		p.canvas.StrokeLine2(screwLine, at.X-screwReach, at.Y, at.X+screwReach, at.Y)
	case p.view.up:
		p.canvas.StrokeLine2(screwLine, at.X, at.Y-screwReach, at.X, at.Y+screwReach)
	default:
		screwSign(p.canvas, at)
	}
}

// screwSign draws a screw seen from its head.
func screwSign(c draw.Canvas, at vg.Point) {
	paper.Circle(c, at, screwRadius, screwLine)
	reach := screwRadius + 1.5
	c.StrokeLine2(screwLine, at.X-reach, at.Y, at.X+reach, at.Y)
	c.StrokeLine2(screwLine, at.X, at.Y-reach, at.X, at.Y+reach)
}

// paintGrounds draws what holds the machine: a line with slanted ticks on the side of the ground, or a square where
// the face held looks at the reader.
func (p *paperView) paintGrounds() {
	for _, g := range p.drawing.inv.Grounds {
		axis := flatAxis(g.FromMM, g.ToMM)
		if axis < 0 {
			axis = machine.Z
		}
		held := slices.Clone(g.PlacesMM)
		if len(held) == 0 && g.FromMM == g.ToMM {
			held = [][3]float64{g.FromMM}
		}
		if axis == p.view.toward {
			for _, mm := range held {
				groundSquareSign(p.canvas, p.at(mm))
			}
			continue
		}
		side := p.groundSide(g, axis)
		for _, mm := range held {
			at := p.at(mm)
			if axis == p.view.up {
				tickedLine(p.canvas, vg.Point{X: at.X - groundWidth/2, Y: at.Y},
					vg.Point{X: at.X + groundWidth/2, Y: at.Y}, side)
			} else {
				tickedLine(p.canvas, vg.Point{X: at.X, Y: at.Y - groundWidth/2},
					vg.Point{X: at.X, Y: at.Y + groundWidth/2}, side)
			}
		}
		if len(held) == 0 {
			tickedLine(p.canvas, p.at(g.FromMM), p.at(g.ToMM), side)
		}
	}
}

// groundSide is −1 when the ground lies at smaller coordinates than the face it holds, +1 when at larger ones.
func (p *paperView) groundSide(g answer.GroundLine, axis machine.Axis) vg.Length {
	for _, b := range p.drawing.bodies {
		if b.name == g.Part && g.FromMM[axis] > b.middle()[axis]+number.Noise {
			return 1
		}
	}
	return -1
}

// tickedLine draws a level or upright line with slanted ticks on the side of smaller coordinates (side −1) or larger.
func tickedLine(c draw.Canvas, from, to vg.Point, side vg.Length) {
	c.StrokeLines(groundLine, []vg.Point{from, to})
	span := max(to.X-from.X, from.X-to.X, to.Y-from.Y, from.Y-to.Y)
	n := max(2, math.Floor(float64(span/groundTick)))
	for k := range int(n) + 1 {
		part := vg.Length(float64(k) / n)
		at := vg.Point{X: from.X + part*(to.X-from.X), Y: from.Y + part*(to.Y-from.Y)}
		end := vg.Point{X: at.X - groundTick*0.7, Y: at.Y + side*groundTick}
		if from.X == to.X {
			end = vg.Point{X: at.X + side*groundTick, Y: at.Y - groundTick*0.7}
		}
		c.StrokeLines(tickLine, []vg.Point{at, end})
	}
}

// groundSquareSign draws a foot or a held point seen square to the face.
func groundSquareSign(c draw.Canvas, at vg.Point) {
	half := groundSquare / 2
	box := vg.Rectangle{Min: vg.Point{X: at.X - half, Y: at.Y - half}, Max: vg.Point{X: at.X + half, Y: at.Y + half}}
	c.StrokeLines(groundLine, append(paper.CornersOf(box), box.Min))
	c.StrokeLines(tickLine, []vg.Point{box.Min, box.Max})
}

// paintTool draws the cutter, the tip and the spot of the work that the tip pushes on.
func (p *paperView) paintTool() {
	t := p.drawing.machine.Tool
	if t == nil {
		return
	}
	tip := array(t.At)
	if t.Stickout > 0 {
		up := r3.Vec{Z: 1}
		if b := p.drawing.bodies[t.Part]; b.kind == barKind {
			up = b.along
			if bar := p.drawing.machine.Parts[t.Part].Bar; r3.Norm(r3.Sub(bar.From, t.At)) > r3.Norm(r3.Sub(bar.To,
				t.At)) {
				up = r3.Scale(-1, b.along)
			}
		}
		end := array(r3.Add(t.At, r3.Scale(t.Stickout, up)))
		width := max(p.drawing.points(t.Diameter), paper.FullLine)
		p.canvas.StrokeLines(draw.LineStyle{Color: paper.FaintInk, Width: width}, []vg.Point{p.at(tip), p.at(end)})
	}
	if w := p.drawing.machine.Work; w != nil {
		paper.Circle(p.canvas, p.at(p.drawing.workSpot()), workRadius, workLine)
	}
	paper.Dot(p.canvas, p.at(tip), tipRadius, paper.Ink)
}

// workSpot is where the work is pushed: the place given, or the top of the work part under the tool.
func (d *drawing) workSpot() [3]float64 {
	w := d.machine.Work
	if w.At != nil {
		return array(*w.At)
	}
	spot := array(d.machine.Tool.At)
	spot[machine.Z] = math.Inf(-1)
	for _, c := range d.bodies[w.Part].corners {
		spot[machine.Z] = max(spot[machine.Z], c.Z)
	}
	return spot
}

// signs is the key of the drawing: only what it has.
func (d *drawing) signs() []paper.KeyEntry {
	var key []paper.KeyEntry
	for _, kind := range partKinds {
		if slices.ContainsFunc(d.bodies, func(b body) bool { return b.kind == kind }) {
			key = append(key, paper.KeyEntry{Words: kind.name, Mark: func(c draw.Canvas, box vg.Rectangle) {
				paper.FillBox(c, box, kind.fill, seenEdge)
				switch kind {
				case railKind:
					railRidge(c, box)
				case shaftKind:
					paper.KeyLine(chainLine).Across(c, box)
				}
			}})
		}
	}
	key = append(key, paper.KeyEntry{Words: "hidden edge", Mark: paper.KeyLine(hiddenEdge).Across})
	for _, l := range jointLines {
		if slices.ContainsFunc(d.inv.Joints, func(j answer.JointLine) bool { return j.Kind == l.kind }) {
			key = append(key, paper.KeyEntry{Words: l.kind + " joint", Mark: func(c draw.Canvas, box vg.Rectangle) {
				paper.KeyLine(l.style).Across(c, box)
				if slices.ContainsFunc(d.inv.Joints,
					func(j answer.JointLine) bool { return j.Kind == l.kind && j.FromMM == j.ToMM }) {
					jointPoint(c, paper.MiddleOf(box), l.style)
				}
			}})
		}
	}
	if slices.ContainsFunc(d.inv.Joints, func(j answer.JointLine) bool { return j.Screw != "" }) {
		key = append(key, paper.KeyEntry{Words: "screw", Mark: func(c draw.Canvas, box vg.Rectangle) {
			screwSign(c, vg.Point{X: box.Min.X + 7, Y: paper.MiddleOf(box).Y})
			c.StrokeLine2(screwLine, box.Max.X-7, paper.MiddleOf(box).Y-screwReach, box.Max.X-7,
				paper.MiddleOf(box).Y+screwReach)
		}})
	}
	if len(d.inv.Grounds) > 0 {
		key = append(key, paper.KeyEntry{Words: "ground", Mark: func(c draw.Canvas, box vg.Rectangle) {
			groundSquareSign(c, vg.Point{X: box.Min.X + 5, Y: paper.MiddleOf(box).Y})
			tickedLine(c, vg.Point{X: box.Max.X - groundWidth, Y: paper.MiddleOf(box).Y},
				vg.Point{X: box.Max.X, Y: paper.MiddleOf(box).Y}, -1)
		}})
	}
	key = append(key, d.axisSigns()...)
	if d.machine.Tool != nil {
		key = append(key, paper.KeyEntry{Words: "tool tip", Mark: func(c draw.Canvas, box vg.Rectangle) {
			paper.Dot(c, paper.MiddleOf(box), tipRadius, paper.Ink)
		}})
		if d.machine.Work != nil {
			key = append(key, paper.KeyEntry{Words: "work spot", Mark: func(c draw.Canvas, box vg.Rectangle) {
				paper.Circle(c, paper.MiddleOf(box), workRadius, workLine)
			}})
		}
	}
	return key
}
