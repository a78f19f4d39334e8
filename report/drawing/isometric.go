package drawing

import (
	"cmp"
	"fmt"
	"image/color"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// AtRest is the load of an isometric picture of a machine that nothing bends.
const AtRest = -1

// The measures of an isometric picture, in points.
const (
	isoTallest  = vg.Length(560) // of the machine
	numbersRoom = vg.Length(46)  // on either side of the machine for the numbers of parts
	isoFine     = 0.12           // by how much a line may be off when it is straightened
	signLength  = vg.Length(34)  // of the three arrows
	signBarb    = vg.Length(5)
)

// shade is the share of its ink that a face in the dark has.
const shade = 0.78

// isoPicture is an isometric picture on its way to the paper.
type isoPicture struct {
	paper.Sheet
	shape   *answer.Shape
	patches []patch
	rest    [][]seen // edges of the machine at rest, when it is bent
	lo, hi  seen
	scale   float64
	list    []string
	points  []pointed // of the parts and the tool, in order
}

// pointed is a place where a part is seen, and the side that it is pointed at from: 0 left, 1 right.
type pointed struct {
	seen bool
	at   seen
	side int
}

// Isometric shows a machine from the front right and above, its hidden lines removed: bent by a load of its shape, by
// its number, over the thin outline of the machine at rest, as many times as far as the picture says; or at rest. Parts
// and the tool are numbered beside it, where a number covers nothing, and listed.
func Isometric(machine string, shape *answer.Shape, load int) (*paper.Picture, error) {
	if err := number.CheckFinite(shape); err != nil {
		return nil, err
	}
	if len(shape.Bodies) == 0 {
		return nil, paper.NothingToDraw("the machine has no parts")
	}
	p := &isoPicture{shape: shape}
	p.Title, p.Subtitle = machine, "Isometric view at rest"
	if shape.Option != "" {
		p.Title += ": " + shape.Option
	}
	times := 0.0
	if load != AtRest {
		times = shape.Magnification(load)
		p.Subtitle = fmt.Sprintf("Isometric view under %s, the movement drawn %s times as far; thin lines: at rest", shape.Loads[load],
			number.Full(times))
	}
	p.bend(load, times)
	for i := range shape.Bodies {
		if isListed(&shape.Bodies[i]) {
			p.points = append(p.points, p.pointedAt(i))
		}
	}
	p.listParts(load)
	wide := float64(paper.Width - 2*paper.Margin - 2*numbersRoom)
	p.scale = math.Min(wide/(p.hi.right-p.lo.right), float64(isoTallest)/(p.hi.up-p.lo.up))
	if math.IsNaN(p.scale) || math.IsInf(p.scale, 0) {
		return nil, fmt.Errorf("report: the machine's size is not a number that can be drawn")
	}
	height := p.HeadHeight(paper.Width) + p.FootHeight() + p.tall() + signLength + p.listHeight() + 3*paper.Gap
	return &paper.Picture{Width: paper.Width, Height: height, Paint: p.paint}, nil
}

// tall is the height of the machine on the paper.
func (p *isoPicture) tall() vg.Length { return vg.Length((p.hi.up - p.lo.up) * p.scale) }

// bend finds the faces of the machine, bent, and its edges at rest.
func (p *isoPicture) bend(load int, times float64) {
	p.lo, p.hi = seen{math.Inf(1), math.Inf(1), 0}, seen{math.Inf(-1), math.Inf(-1), 0}
	reach := func(s seen) {
		p.lo.right, p.lo.up = math.Min(p.lo.right, s.right), math.Min(p.lo.up, s.up)
		p.hi.right, p.hi.up = math.Max(p.hi.right, s.right), math.Max(p.hi.up, s.up)
	}
	for i := range p.shape.Bodies {
		b := &p.shape.Bodies[i]
		bent, rest := make([]r3.Vec, len(b.AtMM)), make([]seen, len(b.AtMM))
		for n, at := range b.AtMM {
			bent[n], rest[n] = vector(at), isometric(vector(at))
			if load != AtRest {
				bent[n] = r3.Add(bent[n], r3.Scale(times, vector(b.MovedMM[load][n])))
			}
			reach(isometric(bent[n]))
			reach(rest[n])
		}
		p.patches = append(p.patches, facing(i, b, bent)...)
		if load != AtRest {
			for _, line := range chained(b.Edges) {
				var places []seen
				for _, c := range line {
					places = append(places, rest[c])
				}
				p.rest = append(p.rest, places)
			}
		}
	}
	p.patches = backToFront(p.patches)
}

// chained joins pieces of edges into lines, each as long as only two pieces meet.
func chained(edges [][2]int) (lines [][]int) {
	meet := map[int][]int{} // pieces at a corner
	for i, e := range edges {
		meet[e[0]], meet[e[1]] = append(meet[e[0]], i), append(meet[e[1]], i)
	}
	used := make([]bool, len(edges))
	follow := func(piece, from int) {
		line := []int{from}
		for piece >= 0 && !used[piece] {
			used[piece] = true
			at := edges[piece][0] + edges[piece][1] - line[len(line)-1]
			line = append(line, at)
			ends := meet[at]
			piece = -1
			if len(ends) == 2 {
				piece = ends[0]
				if used[piece] {
					piece = ends[1]
				}
			}
		}
		lines = append(lines, line)
	}
	for i, e := range edges {
		for _, end := range e {
			if len(meet[end]) != 2 && !used[i] {
				follow(i, end)
			}
		}
	}
	for i, e := range edges {
		if !used[i] {
			follow(i, e[0]) // a ring
		}
	}
	return lines
}

// isListed tells whether a body is numbered and listed: the parts and the tool are.
func isListed(b *answer.ShapeBody) bool { return b.IsPart() || b.Kind == answer.ShapeTool }

// listParts gives a line for each part and the tool: what it is, and how far it moves.
func (p *isoPicture) listParts(load int) {
	for i := range p.shape.Bodies {
		b := &p.shape.Bodies[i]
		if !isListed(b) {
			continue
		}
		var about []string
		if b.IsPart() {
			about = append(about, string(b.Kind))
		}
		if b.Material != "" {
			about = append(about, b.Material)
		}
		if load != AtRest {
			most := 0.0
			for _, v := range b.MovedMM[load] {
				most = math.Max(most, number.Norm(v))
			}
			about = append(about, "moves up to "+number.Significant(most*umPerMM)+" µm")
		}
		if b.Kind == answer.ShapeTool && p.shape.Tip != nil && load != AtRest {
			tool, work := vector(p.shape.Tip.ToolMM[load]), vector(p.shape.Tip.WorkMM[load])
			about = append(about, "its tip against the work "+number.Significant(r3.Norm(r3.Sub(tool, work))*umPerMM)+" µm")
		}
		words := b.Name
		if about != nil {
			words += ": " + strings.Join(about, ", ")
		}
		if !p.points[len(p.list)].seen {
			words += " (hidden here)"
		}
		p.list = append(p.list, words)
	}
}

// umPerMM turns mm into µm.
const umPerMM = 1e3

// isoColumns is how many columns the list of parts has.
const isoColumns = 2

func (p *isoPicture) column() vg.Length { return (paper.Width - 2*paper.Margin - listGap) / isoColumns }

func (p *isoPicture) listHeight() vg.Length {
	d := drawing{list: p.list}
	_, height := d.listLayout(isoColumns, p.column())
	return height
}

// paint draws everything.
func (p *isoPicture) paint(c draw.Canvas) {
	room := p.Sheet.Draw(c)
	left := (room.Min.X + room.Max.X - vg.Length((p.hi.right-p.lo.right)*p.scale)) / 2
	bottom := room.Max.Y - paper.Gap - p.tall()
	at := func(s seen) vg.Point {
		return vg.Point{X: left + vg.Length((s.right-p.lo.right)*p.scale), Y: bottom + vg.Length((s.up-p.lo.up)*p.scale)}
	}
	line := func(s []seen) (points []vg.Point) {
		for _, corner := range straightened(s, isoFine/p.scale) {
			points = append(points, at(corner))
		}
		return points
	}
	for _, edge := range p.rest {
		c.StrokeLines(draw.LineStyle{Color: paper.FaintInk, Width: paper.Hairline}, line(edge))
	}
	for i := range p.patches {
		f := &p.patches[i]
		ink := lit(Fill(p.shape.Bodies[f.body].Kind), f.light)
		c.SetColor(ink)
		var path vg.Path
		for _, loop := range f.loops {
			points := line(append(slices.Clone(loop), loop[0]))
			path.Move(points[0])
			for _, q := range points[1:] {
				path.Line(q)
			}
			path.Close()
		}
		c.Fill(path)
		for _, seam := range f.seams { // or the paper would be seen between two faces
			c.StrokeLines(draw.LineStyle{Color: ink, Width: paper.Hairline}, line(seam))
		}
		var lines [][]vg.Point
		for _, edge := range f.edges {
			lines = append(lines, line(edge))
		}
		c.StrokeLines(seenEdge, lines...)
	}
	p.signpost(c, vg.Point{X: room.Min.X + signLength, Y: bottom - signLength/2})
	p.paintNumbers(c, at, room)
	d := drawing{list: p.list}
	d.paintList(c, vg.Point{X: room.Min.X, Y: bottom - signLength - paper.Gap}, isoColumns, p.column())
}

// lit is an ink in some light.
func lit(ink color.NRGBA, light float64) color.NRGBA {
	dim := func(v uint8) uint8 { return uint8(math.Round(float64(v) * (shade + (1-shade)*light))) }
	return color.NRGBA{dim(ink.R), dim(ink.G), dim(ink.B), ink.A}
}

// signpost draws three arrows along the axes, with their names.
func (p *isoPicture) signpost(c draw.Canvas, from vg.Point) {
	for _, a := range []struct {
		axis r3.Vec
		name string
	}{{r3.Vec{X: 1}, "right (x)"}, {r3.Vec{Y: 1}, "away (y)"}, {r3.Vec{Z: 1}, "up (z)"}} {
		s := isometric(a.axis)
		length := math.Hypot(s.right, s.up)
		x, y := vg.Length(s.right/length), vg.Length(s.up/length)
		end := vg.Point{X: from.X + signLength*x, Y: from.Y + signLength*y}
		back := func(side vg.Length) vg.Point {
			return vg.Point{X: end.X - signBarb*(x-side*y/2), Y: end.Y - signBarb*(y+side*x/2)}
		}
		c.StrokeLines(travelLine, []vg.Point{from, end}, []vg.Point{back(1), end, back(-1)})
		sty := paper.Lettering(paper.SmallSize, paper.FaintInk)
		sty.YAlign = draw.YCenter
		c.FillText(sty, vg.Point{X: end.X + 4, Y: end.Y + signBarb*y}, a.name)
	}
}

// sampled is how many places across the picture are looked at to find where a part is seen.
const sampled = 90

// paintNumbers writes the number of every part that is seen beside the machine, left of it or right, at the end of a
// line to the part: there a number covers nothing.
func (p *isoPicture) paintNumbers(c draw.Canvas, at func(seen) vg.Point, room draw.Canvas) {
	type numbered struct {
		part   int
		target vg.Point
	}
	var sides [2][]numbered
	for part, s := range p.points {
		if s.seen {
			sides[s.side] = append(sides[s.side], numbered{part, at(s.at)})
		}
	}
	top, low := at(seen{0, p.hi.up, 0}).Y-balloonRadius, at(seen{0, p.lo.up, 0}).Y+balloonRadius
	for side, list := range sides {
		slices.SortStableFunc(list, func(a, b numbered) int { return cmp.Compare(b.target.Y, a.target.Y) })
		x := room.Min.X + balloonRadius
		if side == 1 {
			x = room.Max.X - balloonRadius
		}
		y := top
		for k, n := range list {
			least := low + balloonApart*vg.Length(len(list)-1-k) // room for those that follow
			y = max(min(n.target.Y, y), least)
			balloon{part: n.part, at: vg.Point{X: x, Y: y}, target: &n.target}.draw(c)
			y -= balloonApart
		}
	}
}

// crossing is how much farther from the middle of what is seen of a part its line may end to cross less of the picture.
const crossing = 0.7

// pointedAt is where a body is pointed at, well inside of what is seen of it.
func (p *isoPicture) pointedAt(body int) (out pointed) {
	step := math.Max(p.hi.right-p.lo.right, p.hi.up-p.lo.up) / sampled
	found := map[[2]int]seen{}
	for _, f := range p.patches {
		if f.body != body {
			continue
		}
		for x := int(math.Ceil(f.lo.right / step)); float64(x)*step < f.hi.right; x++ {
			for y := int(math.Ceil(f.lo.up / step)); float64(y)*step < f.hi.up; y++ {
				if s := (seen{float64(x) * step, float64(y) * step, 0}); p.topAt(s) == body {
					found[[2]int{x, y}] = s
				}
			}
		}
	}
	if len(found) == 0 {
		return out
	}
	out.seen = true
	keys := slices.SortedFunc(maps.Keys(found), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	var mean seen
	for _, k := range keys {
		mean.right += found[k].right / float64(len(keys))
		mean.up += found[k].up / float64(len(keys))
	}
	if mean.right > (p.lo.right+p.hi.right)/2 {
		out.side = 1
	}
	best := math.Inf(1)
	for _, k := range keys {
		s, beside := found[k], 0
		for _, way := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if _, is := found[[2]int{k[0] + way[0], k[1] + way[1]}]; is {
				beside++
			}
		}
		long := s.right - p.lo.right
		if out.side == 1 {
			long = p.hi.right - s.right
		}
		cost := math.Hypot(s.right-mean.right, s.up-mean.up) + crossing*long + step*float64(4-beside)*4
		if cost < best {
			best, out.at = cost, s
		}
	}
	return out
}

// topAt is the body that is painted last at a place of the view; −1 where none is.
func (p *isoPicture) topAt(s seen) int {
	for i := len(p.patches) - 1; i >= 0; i-- {
		f := &p.patches[i]
		if s.right < f.lo.right || s.right > f.hi.right || s.up < f.lo.up || s.up > f.hi.up {
			continue
		}
		if slices.ContainsFunc(f.triangles, func(t [3]seen) bool { return covers(t, s) }) {
			return f.body
		}
	}
	return -1
}
