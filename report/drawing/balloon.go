package drawing

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/number"
	"tiploop/report/paper"
)

// The measures of the numbers on parts, in points.
const (
	balloonRadius = vg.Length(7.5)
	balloonRoom   = balloonRadius + 1.5 // from its middle to the nearest edge, to stand inside a part
	balloonApart  = 2*balloonRadius + 3 // between the middles of two
)

// plenty is more room than a number needs, in points; offMiddle how much of it one gives up for a place nearer to the
// middle of the part, per distance; onHidden how much for one off a hidden edge.
const (
	plenty    = 2.5 * balloonRoom
	offMiddle = 0.05
	onHidden  = vg.Length(6)
)

// sampling is how many places across a part are tried for its number.
const sampling = 24

// leaderReach are the lengths of the lines from a part too small for its number to the number, in points.
var leaderReach = []vg.Length{18, 26, 36, 48, 62, 80}

// leaderWays is in how many directions such a line is tried.
const leaderWays = 16

// balloon is the number of a part, ready to be drawn.
type balloon struct {
	view   *paperView
	part   int
	at     vg.Point
	target *vg.Point // what a leader points at; nil when the number stands in the part
}

// placeBalloons numbers the parts: inside each in every view in which there is room where it is seen, and at the end
// of a leader in one view where there is room in none.
func placeBalloons(views []*paperView) {
	var done []balloon
	parts := len(views[0].drawing.parts())
	numbered := make([]bool, parts)
	for _, v := range views {
		for i := range parts {
			if at, room := v.roomiest(i, done); room >= balloonRoom {
				done = append(done, balloon{view: v, part: i, at: at})
				numbered[i] = true
			}
		}
	}
	var small []balloon
	for i := range parts {
		if numbered[i] {
			continue
		}
		b := balloon{part: i, target: new(vg.Point)}
		most := vg.Length(math.Inf(-1))
		for _, v := range views {
			if at, room := v.roomiest(i, nil); room > most {
				b.view, *b.target, most = v, at, room
			}
		}
		small = append(small, b)
	}
	for _, b := range small {
		b.at = b.view.besides(b, done, small)
		done = append(done, b)
	}
	for _, b := range done {
		b.draw(b.view.canvas)
	}
}

// roomiest is the place of a part with the most room round it: clear of its own edges, of nearer parts, of signs and
// of numbers already there. A part that is hidden everywhere has less than no room, and its middle is given.
func (p *paperView) roomiest(part int, done []balloon) (at vg.Point, room vg.Length) {
	outline := p.outlines[part]
	rank := slices.Index(p.order, part)
	lo, hi := outline[0], outline[0]
	for _, f := range outline {
		lo = flat{min(lo.right, f.right), min(lo.up, f.up)}
		hi = flat{max(hi.right, f.right), max(hi.up, f.up)}
	}
	middle := p.paper(flat{(lo.right + hi.right) / 2, (lo.up + hi.up) / 2})
	at, room = middle, -1
	best, signs := vg.Length(math.Inf(-1)), p.signPlaces()
	for i := range sampling {
		for k := range sampling {
			f := flat{lo.right + (hi.right-lo.right)*(float64(i)+0.5)/sampling,
				lo.up + (hi.up-lo.up)*(float64(k)+0.5)/sampling}
			if !contains(outline, f) {
				continue
			}
			r, hidden := p.roomAt(f, rank, done, signs)
			if hidden {
				continue
			}
			crossed := vg.Length(0)
			for _, farther := range p.order[:rank] {
				if p.drawing.points(distance(p.outlines[farther], f)) < balloonRadius {
					crossed = onHidden
				}
			}
			// Where there is plenty of room, the middle of the part is the best place.
			place := p.paper(f)
			if worth := min(r, plenty) - offMiddle*apart(place, middle) - crossed; worth > best+number.Noise {
				at, room, best = place, r, worth
			}
		}
	}
	return at, room
}

// roomAt is how far a place of the part of a rank is from its own edges, from nearer parts, from numbers already there,
// from signs and from joints; hidden says that a nearer part covers it.
func (p *paperView) roomAt(f flat, rank int, done []balloon, signs []vg.Point) (room vg.Length, hidden bool) {
	room = p.drawing.points(distance(p.outlines[p.order[rank]], f))
	for _, nearer := range p.order[rank+1:] {
		if contains(p.outlines[nearer], f) {
			return 0, true
		}
		room = min(room, p.drawing.points(distance(p.outlines[nearer], f)))
	}
	place := p.paper(f)
	for _, b := range done {
		room = min(room, apart(place, b.at)-balloonApart+balloonRoom)
	}
	for _, s := range signs {
		room = min(room, apart(place, s)-screwReach+1)
	}
	for _, j := range p.drawing.inv.Joints {
		line := []flat{p.view.flatten(j.FromMM), p.view.flatten(j.ToMM)}
		room = min(room, p.drawing.points(distance(line, f))+1)
	}
	return room, false
}

// signPlaces gives the places of screws, of the marks on drives and of the tool tip on the paper, which numbers keep
// clear of.
func (p *paperView) signPlaces() []vg.Point {
	var places []vg.Point
	for _, j := range p.drawing.inv.Joints {
		for _, mm := range j.PlacesMM {
			places = append(places, p.at(mm))
		}
	}
	if t := p.drawing.machine.Tool; t != nil {
		places = append(places, p.at(array(t.At)))
	}
	for _, m := range p.drawing.driveMarks() {
		places = append(places, p.at(m.at))
	}
	return places
}

// besides finds a place for the number of a small part, near it and clear of other numbers, of what the leaders of small
// parts point at, of edges and of signs.
func (p *paperView) besides(b balloon, done, small []balloon) vg.Point {
	target := *b.target
	best, least := target, math.Inf(1)
	for _, reach := range leaderReach {
		for way := range leaderWays {
			sin, cos := math.Sincos(2 * math.Pi * (float64(way) + 0.5) / leaderWays)
			at := vg.Point{X: target.X + reach*vg.Length(cos), Y: target.Y + reach*vg.Length(sin)}
			cost := float64(reach) + p.clutter(at, done)
			for _, o := range small {
				if apart(at, *o.target) < balloonRadius+2 || o.part != b.part && beside(*o.target, at, target) < 4 {
					cost += overLeader
				}
			}
			for _, o := range done {
				if beside(o.at, at, target) < balloonRadius+1 || o.target != nil && beside(at, o.at, *o.target) < balloonRadius+1 {
					cost += overLeader
				}
			}
			if cost < least*(1-number.Noise) {
				best, least = at, cost
			}
		}
	}
	return best
}

// beside is how far a place is from the line between two.
func beside(at, from, to vg.Point) vg.Length {
	way, off := to.Sub(from), at.Sub(from)
	along := vg.Length(0)
	if square := way.Dot(way); square > 0 {
		along = max(0, min(1, off.Dot(way)/square))
	}
	return apart(at, from.Add(way.Scale(along)))
}

// The costs of clutter under a number, in points of leader that one would rather draw.
const (
	overNumber = 1000
	overLeader = 700
	offView    = 500
	overEdge   = 30
	overSign   = 20
)

// clutter is the cost of a number at a place.
func (p *paperView) clutter(at vg.Point, done []balloon) float64 {
	cost := 0.0
	for _, b := range done {
		if apart(at, b.at) < balloonApart {
			cost += overNumber
		}
	}
	const beside = balloonRadius + 12
	if at.X < p.box.Min.X-beside || at.X > p.box.Max.X+beside || at.Y < p.box.Min.Y-beside || at.Y > p.box.Max.Y {
		cost += offView
	}
	lo := p.view.flatten(p.drawing.lo)
	f := flat{lo.right + float64(at.X-p.box.Min.X)/p.drawing.scale, lo.up + float64(at.Y-p.box.Min.Y)/p.drawing.scale}
	for _, outline := range p.outlines {
		if p.drawing.points(distance(outline, f)) < balloonRadius {
			cost += overEdge
		}
	}
	for _, s := range p.signPlaces() {
		if apart(at, s) < balloonRadius+screwRadius {
			cost += overSign
		}
	}
	return cost
}

// apart is the distance between two places on the paper.
func apart(a, b vg.Point) vg.Length { return vg.Length(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))) }

// draw draws the number in its circle, and its leader.
func (b balloon) draw(c draw.Canvas) {
	line := draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
	if b.target != nil {
		c.StrokeLines(line, []vg.Point{b.at, *b.target})
		paper.Dot(c, *b.target, 1.4, paper.Ink)
	}
	c.DrawGlyph(draw.GlyphStyle{Color: paper.White, Radius: balloonRadius, Shape: draw.CircleGlyph{}}, b.at)
	paper.Circle(c, b.at, balloonRadius, line)
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	c.FillText(sty, b.at, strconv.Itoa(b.part+1))
}

// listPlace is a line of the list of parts on the paper, below the list's own top.
type listPlace struct {
	part      int
	left, top vg.Length
	lines     []string
}

// numberRoom is the room for the numbers of the list, in points.
const numberRoom = 2*balloonRadius + 7

// listLayout puts the list of parts in columns of a width and gives its height.
func (d *drawing) listLayout(columns int, width vg.Length) (places []listPlace, height vg.Length) {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	rows := (len(d.list) + columns - 1) / columns
	var left, top vg.Length
	for i, words := range d.list {
		if i > 0 && i%rows == 0 {
			left, top = left+width+listGap, 0
		}
		lines := paper.Fitted(sty, words, width-numberRoom)
		places = append(places, listPlace{i, left, top, lines})
		top += max(paper.TextHeight(sty, len(lines)), 2*balloonRadius) + 3
		height = max(height, top)
	}
	return places, height
}

// paintList draws the list of parts from its upper left corner.
func (d *drawing) paintList(c draw.Canvas, at vg.Point, columns int, width vg.Length) {
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	places, _ := d.listLayout(columns, width)
	for _, p := range places {
		x, y := at.X+p.left, at.Y-p.top
		room := max(paper.TextHeight(sty, len(p.lines)), 2*balloonRadius)
		balloon{part: p.part, at: vg.Point{X: x + balloonRadius, Y: y - room/2}}.draw(c)
		paper.WriteLines(c, sty, p.lines, vg.Point{X: x + numberRoom,
			Y: y - (room-paper.TextHeight(sty, len(p.lines)))/2})
	}
}
