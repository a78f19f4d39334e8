package drawing

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// The measures of a drawing, in points.
const (
	dimensionRoom = vg.Length(46)  // left of and below the views, without the travel of axes
	viewGap       = vg.Length(58)  // between two views
	captionRoom   = vg.Length(26)  // above a view
	edgeRoom      = vg.Length(26)  // right of the last view
	tallestViews  = vg.Length(700) // of the two views that stand above each other
	listGap       = vg.Length(24)  // between the columns of the list of parts
	longestBar    = vg.Length(110) // of the scale
	leastRight    = vg.Length(190) // width kept for the view from the right, its caption and the scale
)

// thinnest is the least size of a view as a share of the largest, so that a flat frame still has three of them.
const thinnest = 0.02

// drawing is a machine laid out on paper.
type drawing struct {
	paper.Sheet
	machine *machine.Machine
	inv     answer.Inventory
	bodies  []body     // the parts, in their order, then what stands on axes
	lo, hi  [3]float64 // the box round everything drawn, mm; a flat machine's is given some thickness
	size    [3]float64 // of the machine, mm
	scale   float64    // points per mm
	list    []string   // of parts
}

// Picture shows the machine from the front, from the right and from above to one scale, in third-angle
// projection, with its parts numbered and listed, its joints, screws and grounds, its axes with what guides and drives
// them, the tool tip and the work spot.
func Picture(m *machine.Machine, inv answer.Inventory) (*paper.Picture, error) {
	if m == nil {
		panic("drawing: no machine to draw")
	}
	if err := number.CheckFinite(inv); err != nil {
		return nil, err
	}
	all, err := bodies(m)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, paper.NothingToDraw("the machine has no parts")
	}
	d := drawing{machine: m, inv: inv, bodies: append(all, axisBodies(inv.Axes)...)}
	d.measure()
	for i, v := range d.hi {
		if math.IsNaN(v-d.lo[i]) || math.IsInf(v-d.lo[i], 0) {
			return nil, fmt.Errorf("report: the machine's size along %s is not a number that can be drawn",
				machine.Axis(i))
		}
	}
	d.Title = m.Name
	if m.Option != "" {
		d.Title += ": " + m.Option
	}
	d.Subtitle = "Third-angle projection, lengths in mm"
	d.Key = d.signs()
	d.list = d.partList()
	height := d.HeadHeight(paper.Width) + d.FootHeight() + d.viewsHeight()
	if !d.listFitsBeside() {
		_, below := d.listLayout(2, d.columnBelow())
		height += below + paper.Gap
	}
	return &paper.Picture{Width: paper.Width, Height: height, Paint: d.paint}, nil
}

// measure finds the box round the machine and the scale at which its views fit.
func (d *drawing) measure() {
	d.lo, d.hi = d.bodies[0].middle(), d.bodies[0].middle()
	reach := func(p [3]float64) {
		for i, v := range p {
			d.lo[i], d.hi[i] = min(d.lo[i], v), max(d.hi[i], v)
		}
	}
	for _, b := range d.bodies {
		for _, c := range b.corners {
			reach(array(c))
		}
	}
	if d.machine.Tool != nil {
		reach(array(d.machine.Tool.At))
	}
	most := 0.0
	for i := range d.lo {
		d.size[i] = d.hi[i] - d.lo[i]
		most = max(most, d.size[i])
	}
	for i := range d.lo {
		if short := most*thinnest - d.size[i]; short > 0 {
			d.lo[i] -= short / 2
			d.hi[i] += short / 2
		}
	}
	x, y, z := d.extent(machine.X), d.extent(machine.Y), d.extent(machine.Z)
	wide := float64(paper.Width - 2*paper.Margin - d.roomLeft() - viewGap - edgeRoom)
	d.scale = min(wide/(x+y), float64(tallestViews)/(y+z), (wide-float64(leastRight))/x)
}

// extent is the size of the box along an axis, mm.
func (d *drawing) extent(a machine.Axis) float64 { return d.hi[a] - d.lo[a] }

// points turns mm into points on the paper.
func (d *drawing) points(mm float64) vg.Length { return vg.Length(mm * d.scale) }

// viewsHeight is the room for the views with their captions and dimensions.
func (d *drawing) viewsHeight() vg.Length {
	return 2*captionRoom + d.points(d.extent(machine.Y)+d.extent(machine.Z)) + viewGap - captionRoom + d.roomBelow() +
		paper.Gap
}

// paint draws everything.
func (d *drawing) paint(c draw.Canvas) {
	room := d.Sheet.Draw(c)
	left := room.Min.X + d.roomLeft()
	aboveTop := room.Max.Y - captionRoom
	frontTop := aboveTop - d.points(d.extent(machine.Y)) - viewGap
	front := d.place(fromFront, c, left, frontTop)
	right := d.place(fromRight, c, front.box.Max.X+viewGap, frontTop)
	above := d.place(fromAbove, c, left, aboveTop)
	views := []*paperView{above, front, right}
	for _, v := range views {
		v.paintParts()
		v.paintJoints()
		v.paintGrounds()
		v.paintAxes()
		v.paintTool()
		v.caption()
	}
	placeBalloons(views)
	d.dimensions(front, right)
	d.travels(front, right)
	d.scaleBar(c, vg.Point{X: right.box.Min.X, Y: aboveTop - scaleRoom/4})
	if d.listFitsBeside() {
		d.paintList(c, vg.Point{X: right.box.Min.X, Y: aboveTop - scaleRoom}, 1, d.columnBeside())
	} else {
		d.paintList(c, vg.Point{X: room.Min.X, Y: front.box.Min.Y - d.roomBelow() - paper.Gap}, 2, d.columnBelow())
	}
}

// scaleRoom is the room for the bar of the scale, in points.
const scaleRoom = vg.Length(28)

// columnBelow is the width of a column of the list of parts when it stands below the views.
func (d *drawing) columnBelow() vg.Length { return (paper.Width - 2*paper.Margin - listGap) / 2 }

// columnBeside is its width when it stands above the view from the right, beside that from above.
func (d *drawing) columnBeside() vg.Length {
	return paper.Width - 2*paper.Margin - d.roomLeft() - d.points(d.extent(machine.X)) - viewGap
}

// listFitsBeside says whether the list has room there.
func (d *drawing) listFitsBeside() bool {
	_, height := d.listLayout(1, d.columnBeside())
	return height <= d.points(d.extent(machine.Y))-scaleRoom
}

// dimensions measures the machine over all: width and depth below, height to the left.
func (d *drawing) dimensions(front, right *paperView) {
	const beside = 20 // less than the room
	front.dimensionBelow(d.roomBelow()-beside, d.size[machine.X])
	right.dimensionBelow(d.roomBelow()-beside, d.size[machine.Y])
	front.dimensionLeft(d.roomLeft()-beside, d.size[machine.Z])
}

// scaleBar draws a bar of a round length.
func (d *drawing) scaleBar(c draw.Canvas, at vg.Point) {
	mm := math.Pow(10, math.Floor(math.Log10(float64(longestBar)/d.scale)))
	for _, factor := range []float64{5, 2} {
		if d.points(factor*mm) <= longestBar {
			mm *= factor
			break
		}
	}
	end := at.X + d.points(mm)
	line := draw.LineStyle{Color: paper.Ink, Width: paper.FullLine}
	c.StrokeLines(line, []vg.Point{{X: at.X, Y: at.Y - 4}, {X: at.X, Y: at.Y + 4}}, []vg.Point{at, {X: end, Y: at.Y}},
		[]vg.Point{{X: end, Y: at.Y - 4}, {X: end, Y: at.Y + 4}})
	sty := paper.Lettering(paper.LabelSize, paper.Ink)
	sty.YAlign = draw.YCenter
	c.FillText(sty, vg.Point{X: end + paper.Gap, Y: at.Y}, number.Length(mm)+" mm")
}

// partList gives a line for each part: what it is and its size, as far as the inventory has it.
func (d *drawing) partList() []string {
	var lines []string
	for _, b := range d.parts() {
		words := b.name + ": " + b.kind.name
		for _, l := range d.inv.Parts {
			if l.Name != b.name {
				continue
			}
			if l.Section != "" {
				words += " " + l.Section
			}
			words += ", " + number.Sizes(l.SizeMM) + " mm"
			if l.Material != "" {
				words += ", " + l.Material
			}
		}
		lines = append(lines, words)
	}
	return lines
}
