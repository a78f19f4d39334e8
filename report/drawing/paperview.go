package drawing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// paperView is a view in its place on the paper.
type paperView struct {
	view     view
	drawing  *drawing
	canvas   draw.Canvas
	box      vg.Rectangle // of the machine, without what stands round it
	order    []int        // of the bodies, the farthest first
	outlines [][]flat     // by body
	holes    [][][]flat
}

// place puts a view on the paper with the upper left corner of the machine at left and top.
func (d *drawing) place(v view, c draw.Canvas, left, top vg.Length) *paperView {
	p := &paperView{view: v, drawing: d, canvas: c, order: v.farToNear(d.bodies)}
	p.box = vg.Rectangle{
		Min: vg.Point{X: left, Y: top - d.points(d.extent(v.up))},
		Max: vg.Point{X: left + d.points(d.extent(v.right)), Y: top},
	}
	for _, b := range d.bodies {
		outer, holes := v.outline(b)
		p.outlines = append(p.outlines, outer)
		p.holes = append(p.holes, holes)
	}
	return p
}

// paper gives the place on the paper of a place in the view.
func (p *paperView) paper(f flat) vg.Point {
	lo := p.view.flatten(p.drawing.lo)
	return vg.Point{X: p.box.Min.X + p.drawing.points(f.right-lo.right), Y: p.box.Min.Y + p.drawing.points(f.up-lo.up)}
}

// at gives the place on the paper of a place in the machine, mm.
func (p *paperView) at(mm [3]float64) vg.Point { return p.paper(p.view.flatten(mm)) }

// loop gives a closed line on the paper.
func (p *paperView) loop(points []flat) []vg.Point {
	var line []vg.Point
	for _, f := range points {
		line = append(line, p.paper(f))
	}
	return append(line, line[0])
}

// The lines of parts: full where an edge is seen, dashed where another part hides it.
var (
	seenEdge   = draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
	hiddenEdge = draw.LineStyle{Color: paper.Ink, Width: paper.Hairline, Dashes: []vg.Length{3, 2}}
)

// paintParts draws the parts from far to near, each covering what is behind it, and then the edges so covered.
func (p *paperView) paintParts() {
	for _, i := range p.order {
		line := p.loop(p.outlines[i])
		p.fill(i)
		for _, hole := range p.holes[i] {
			p.canvas.StrokeLines(seenEdge, p.loop(hole))
		}
		p.canvas.StrokeLines(seenEdge, line)
		p.ridge(i)
		p.steps(i)
	}
	for rank := range p.order {
		p.canvas.StrokeLines(hiddenEdge, p.hiddenEdges(rank)...)
	}
}

// fill inks a body; through its holes what is behind it is seen.
func (p *paperView) fill(i int) {
	var area vg.Path
	for k, loop := range append([][]flat{p.outlines[i]}, p.holes[i]...) {
		line := p.loop(loop)
		if (windingOf(loop) > 0) != (k == 0) { // holes the other way round, which takes them out
			slices.Reverse(line)
		}
		area.Move(line[0])
		for _, at := range line[1:] {
			area.Line(at)
		}
		area.Close()
	}
	p.canvas.SetColor(p.drawing.bodies[i].kind.fill)
	p.canvas.Fill(area)
}

// windingOf a closed line is above zero when it runs counterclockwise.
func windingOf(loop []flat) (twice float64) {
	for k, b := range loop {
		twice += turn(loop[0], b, loop[(k+1)%len(loop)])
	}
	return twice
}

// leastStep is the turn of an outline, rad, from which the edge there is drawn: of curves no chord is.
const leastStep = 0.35

// steps draws the edges through the thickness of a plate sawn to an outline that is seen from its side: full where no
// metal of its own is nearer, dashed where some is.
func (p *paperView) steps(i int) {
	b, v := p.drawing.bodies[i], p.view
	if b.sawn == nil || math.Abs(array(b.along)[v.toward]) > cosEndOn {
		return
	}
	n := b.sawn.Across()
	u, _ := n.Others()
	toward, level := 1, 0 // which coordinates of the outline run to the reader and along the paper
	if v.toward == u {
		toward, level = 0, 1
	}
	lo, hi := b.sawn.Outline.Bounds()
	for _, loop := range b.sawn.Outline {
		for k, at := range loop {
			before, next := loop[(k+len(loop)-1)%len(loop)], loop[(k+1)%len(loop)]
			in, out := [2]float64{at[0] - before[0], at[1] - before[1]}, [2]float64{next[0] - at[0], next[1] - at[1]}
			if math.Abs(math.Atan2(in[0]*out[1]-in[1]*out[0], in[0]*out[0]+in[1]*out[1])) < leastStep ||
				at[level] == lo[level] || at[level] == hi[level] {
				continue
			}
			from, to := lo, hi // of what is nearer, on both sides of the edge
			from[level], to[level] = at[level]-machine.Touching, at[level]+machine.Touching
			if v.near > 0 {
				from[toward] = at[toward]
			} else {
				to[toward] = at[toward]
			}
			ends := [2]r3.Vec{b.sawn.From, b.sawn.To}
			var line []vg.Point
			for _, end := range ends {
				place := array(end)
				place[3-int(v.toward)-int(n)] = at[level]
				line = append(line, p.at(place))
			}
			style := seenEdge
			if b.sawn.Outline.Covers(from, to, level) {
				style = hiddenEdge
			}
			p.canvas.StrokeLines(style, line)
		}
	}
}

// hiddenStep is the length of the pieces in which an edge is tested for being hidden, and hiddenDepth how far inside a
// nearer part's outline a piece must lie to be so, in points: an edge along an outline is not drawn over it again.
const (
	hiddenStep  = 2
	hiddenDepth = 0.6
)

// hiddenEdges gives the stretches of a body's outline, and of the holes in it, that nearer bodies cover; rank is its place
// in the order.
func (p *paperView) hiddenEdges(rank int) (lines [][]vg.Point) {
	i := p.order[rank]
	lines = p.hiddenOf(p.outlines[i], rank)
	for _, hole := range p.holes[i] {
		lines = append(lines, p.hiddenOf(hole, rank)...)
	}
	return lines
}

// hiddenOf is the same of one loop.
func (p *paperView) hiddenOf(loop []flat, rank int) (lines [][]vg.Point) {
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		n := math.Ceil(math.Hypot(b.right-a.right, b.up-a.up) * p.drawing.scale / hiddenStep)
		at := func(k float64) flat { return flat{a.right + (b.right-a.right)*k/n, a.up + (b.up-a.up)*k/n} }
		from := -1.0 // where the hidden stretch begins; none is open
		for k := 0.0; k <= n; k++ {
			switch hidden := k < n && p.isHidden(at(k+0.5), rank); {
			case hidden && from < 0:
				from = k
			case !hidden && from >= 0:
				lines = append(lines, []vg.Point{p.paper(at(from)), p.paper(at(k))})
				from = -1
			}
		}
	}
	return lines
}

// isHidden says whether a place of the body of a rank is covered by a nearer one.
func (p *paperView) isHidden(f flat, rank int) bool {
	for _, nearer := range p.order[rank+1:] {
		if slices.ContainsFunc(p.holes[nearer], func(hole []flat) bool { return contains(hole, f) }) {
			continue
		}
		if contains(p.outlines[nearer], f) && p.drawing.scale*distance(p.outlines[nearer], f) > hiddenDepth {
			return true
		}
	}
	return false
}

// caption names the view above it.
func (p *paperView) caption() {
	sty := paper.BoldLettering(paper.LabelSize, paper.Ink)
	p.canvas.FillText(sty, vg.Point{X: p.box.Min.X, Y: p.box.Max.Y + 12}, p.view.name)
}

// dimensionBelow writes the machine's width in the view, mm, under it.
func (p *paperView) dimensionBelow(below vg.Length, mm float64) {
	middle := vg.Point{X: paper.MiddleOf(p.box).X, Y: p.box.Min.Y - below}
	half := p.drawing.points(mm) / 2
	from, to := vg.Point{X: middle.X - half, Y: middle.Y}, vg.Point{X: middle.X + half, Y: middle.Y}
	for _, end := range []vg.Point{from, to} {
		p.canvas.StrokeLine2(paper.DimensionLine, end.X, p.box.Min.Y-3, end.X, end.Y-4)
	}
	paper.Dimension(p.canvas, from, to, number.Length(mm))
}

// dimensionLeft writes the machine's height in the view, mm, to its left.
func (p *paperView) dimensionLeft(beside vg.Length, mm float64) {
	middle := vg.Point{X: p.box.Min.X - beside, Y: paper.MiddleOf(p.box).Y}
	half := p.drawing.points(mm) / 2
	from, to := vg.Point{X: middle.X, Y: middle.Y - half}, vg.Point{X: middle.X, Y: middle.Y + half}
	for _, end := range []vg.Point{from, to} {
		p.canvas.StrokeLine2(paper.DimensionLine, p.box.Min.X-3, end.Y, end.X-4, end.Y)
	}
	paper.Dimension(p.canvas, from, to, number.Length(mm))
}
