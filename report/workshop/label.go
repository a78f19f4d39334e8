package workshop

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/paper"
)

// label is the number of a hole on the sheet, ready to be drawn.
type label struct {
	words    string
	box      vg.Rectangle // of its letters
	from, to vg.Point     // its leader, from the hole's rim; the same place: none
}

// ring is a hole as it takes up room on the sheet.
type ring struct {
	at     vg.Point
	radius vg.Length
}

// The places tried for a number: in labelWays directions, at these distances from the hole's rim, in points.
const labelWays = 16

var labelReach = []vg.Length{1.5, 7, 13, 20, 28, 38, 50, 64, 80}

// labelLead is the distance from which on a number has a leader, in points.
const labelLead = vg.Length(6)

// The costs of what a number would cover, in points of leader that one would rather draw.
const (
	overHole   = 400
	overLabel  = 400
	overWords  = 400
	overEdge   = 60
	nearOther  = 70 // looks like that one's number
	acrossHole = 150
	acrossLine = 60
)

// sameCost is a difference of costs that is rounding: of two alike the first stays.
const sameCost = 1e-6

// mostPlaced is how many holes of one face have places looked for; numbers of more stand where they come.
const mostPlaced = 250

// clutter is what numbers keep clear of.
type clutter struct {
	rings []ring
	edges [][2]vg.Point  // lines of the outline
	words []vg.Rectangle // names, dimensions
	room  vg.Rectangle   // of the face, which numbers do not leave
	done  []label
}

// place finds where the number of a hole stands.
func (c *clutter) place(own int, words string) label {
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	half := vg.Point{X: sty.Width(words) / 2, Y: sty.Font.Size * 0.38}
	hole := c.rings[own]
	var best label
	least := math.Inf(1)
	for _, reach := range labelReach {
		for way := range labelWays {
			sin, cos := math.Sincos(2 * math.Pi * (float64(way) + 2) / labelWays) // up and right first
			x, y := vg.Length(cos), vg.Length(sin)
			off := hole.radius + reach + half.X*vg.Length(math.Abs(cos)) + half.Y*vg.Length(math.Abs(sin))
			at := vg.Point{X: hole.at.X + off*x, Y: hole.at.Y + off*y}
			l := label{words: words, box: vg.Rectangle{Min: vg.Point{X: at.X - half.X, Y: at.Y - half.Y},
				Max: vg.Point{X: at.X + half.X, Y: at.Y + half.Y}}}
			if reach >= labelLead {
				l.from = vg.Point{X: hole.at.X + (hole.radius+1)*x, Y: hole.at.Y + (hole.radius+1)*y}
				end := hole.radius + reach - 1
				l.to = vg.Point{X: hole.at.X + end*x, Y: hole.at.Y + end*y}
			}
			if len(c.rings) > mostPlaced {
				return l
			}
			if cost := float64(reach) + c.cost(l, own); cost < least-sameCost {
				best, least = l, cost
			}
		}
		if least <= float64(reach) { // farther is no better
			break
		}
	}
	c.done = append(c.done, best)
	return best
}

// cost is that of what a number and its leader would cover.
func (c *clutter) cost(l label, own int) (cost float64) {
	for i, r := range c.rings {
		if outside(l.box, r.at) < r.radius+1 {
			cost += overHole
		}
		if i != own && outside(l.box, r.at)-r.radius < c.keepsOff(l, own) {
			cost += nearOther
		}
		if i != own && l.from != l.to && segmentApart(r.at, l.from, l.to) < r.radius+1 {
			cost += acrossHole
		}
	}
	for _, d := range c.done {
		if overlap(l.box, d.box, 1.5) {
			cost += overLabel
		}
		if d.from != d.to && crosses(l.box, d.from, d.to) {
			cost += overLabel
		}
		if l.from != l.to && crosses(d.box, l.from, l.to) {
			cost += overLabel
		}
		if l.from != l.to && d.from != d.to && cut(l.from, l.to, d.from, d.to) {
			cost += acrossLine
		}
	}
	for _, w := range c.words {
		if overlap(l.box, w, 1) || l.from != l.to && crosses(w, l.from, l.to) {
			cost += overWords
		}
	}
	if in := c.room; l.box.Min.X < in.Min.X || l.box.Max.X > in.Max.X || l.box.Min.Y < in.Min.Y || l.box.Max.Y > in.Max.Y {
		cost += overWords
	}
	for _, e := range c.edges {
		if crosses(grown(l.box, 1), e[0], e[1]) {
			cost += overEdge
		}
	}
	return cost
}

// The distances in points that a number keeps from the rims of other holes: with a leader, and without one by how much
// more than from its own.
const (
	offLed   = vg.Length(4)
	offUnled = vg.Length(5)
)

// keepsOff is how far a number must be from the rims of other holes to be nobody's but its own hole's.
func (c *clutter) keepsOff(l label, own int) vg.Length {
	if l.from != l.to {
		return offLed
	}
	return outside(l.box, c.rings[own].at) - c.rings[own].radius + offUnled
}

// draw draws a number and its leader.
func (l label) draw(c draw.Canvas) {
	if l.from != l.to {
		c.StrokeLine2(draw.LineStyle{Color: paper.Ink, Width: paper.Hairline}, l.from.X, l.from.Y, l.to.X, l.to.Y)
	}
	sty := paper.BoldLettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	c.FillText(sty, paper.MiddleOf(l.box), l.words)
}

// numbered is the word for a hole on the sheet: its number, with a sign where its place is only usual for a size, and
// with one where it is not to be drilled yet.
func (m mark) numbered() string {
	words := strconv.Itoa(m.Number)
	if m.Typical {
		words += typicalSign
	}
	if m.NotYet != "" {
		words += notYetSign
	}
	return words
}

// typicalSign stands behind the number of a hole whose place is only usual for a size.
const typicalSign = "~"

// outside is how far a place is from a box; 0 inside.
func outside(b vg.Rectangle, at vg.Point) vg.Length {
	x := max(b.Min.X-at.X, at.X-b.Max.X, 0)
	y := max(b.Min.Y-at.Y, at.Y-b.Max.Y, 0)
	return vg.Length(math.Hypot(float64(x), float64(y)))
}

// grown is a box that is larger on all sides.
func grown(b vg.Rectangle, by vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: b.Min.X - by, Y: b.Min.Y - by}, Max: vg.Point{X: b.Max.X + by, Y: b.Max.Y + by}}
}

// overlap tells whether two boxes are nearer than a gap.
func overlap(a, b vg.Rectangle, gap vg.Length) bool {
	return a.Min.X < b.Max.X+gap && b.Min.X < a.Max.X+gap && a.Min.Y < b.Max.Y+gap && b.Min.Y < a.Max.Y+gap
}

// segmentApart is the distance of a place from a line between two places.
func segmentApart(at, from, to vg.Point) vg.Length {
	x, y := float64(to.X-from.X), float64(to.Y-from.Y)
	px, py := float64(at.X-from.X), float64(at.Y-from.Y)
	along := 0.0
	if l := x*x + y*y; l > 0 {
		along = min(1, max(0, (px*x+py*y)/l))
	}
	return vg.Length(math.Hypot(px-along*x, py-along*y))
}

// crosses tells whether a line between two places enters a box.
func crosses(b vg.Rectangle, from, to vg.Point) bool {
	if outside(b, from) == 0 || outside(b, to) == 0 {
		return true
	}
	corners := paper.CornersOf(b)
	return cut(from, to, corners[0], corners[2]) || cut(from, to, corners[1], corners[3])
}

// cut tells whether two lines between places cut each other.
func cut(a, b, c, d vg.Point) bool {
	turn := func(p, q, r vg.Point) vg.Length { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}
