package modelfile

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
	"tiploop/frame/outline"
	"tiploop/frame/svgpath"
)

const (
	// mostSawnCorners bounds the corners of all loops of a plate's outline: a mesh has a line at nearly every one.
	mostSawnCorners = 800
	// sizeSlack is by how much a path may differ from the plate's sides, mm, beside what chords take off a curve: drawings
	// are written with two digits.
	sizeSlack = 0.01
)

// isPath tells whether a text is the path of a drawing.
func isPath(text string) bool {
	_, err := svgpath.Parse(text)
	return err == nil
}

// sawn gives a plate the outline that the path at n says, or the value that n names; false when it cannot be used. What
// is the whole of the block is none.
func (d *decoder) sawn(p *machine.Plate, n *source.Node) bool {
	if !d.isKind(n, source.Scalar, "outline") {
		return false
	}
	if _, ok := d.spelled(n.Text); ok {
		n = d.scope.definitions[n.Text].node
	} else if d.scope.definitions[n.Text] == nil && !isPath(n.Text) && d.misspelt(n) {
		for _, meant := range machine.Nearest(n.Text, d.scope.names) {
			d.spelled(meant) // it is not one that nothing uses
		}
		return false
	}
	loops, outer, ok := d.onePiece(n, "a plate is one piece, and what lies within is a window")
	if !ok {
		return false
	}
	corners := 0
	for _, l := range loops {
		corners += len(l.Corners)
	}
	if corners > mostSawnCorners {
		d.fault(n.Pos, fmt.Sprintf("too many corners: %d, with curves as chords, at most %d", corners, mostSawnCorners),
			"draw it with fewer curves: holes for screws need not be drawn")
		return false
	}
	if err := p.CheckThin(); err != nil {
		d.misfit(n.Pos, err.Error(), "")
		return false
	}
	place, bad := laidOn(p, loops[outer].Corners)
	if bad != nil {
		d.pathFault(n, bad)
		return false
	}
	var windows [][]outline.Point
	for i, l := range loops {
		if i != outer {
			windows = append(windows, cornersOf(l, place))
		}
	}
	shape, err := machine.CheckOutline(cornersOf(loops[outer], place), windows, p.Thickness())
	if err != nil {
		d.sawnFault(n, err, loops, place)
		return false
	}
	if !shape.IsBox() {
		p.Outline = shape
	}
	return true
}

// laidOn says where places of a path lie in a plate's plane: its left end and its upper one on the plate's. A corner
// that is nearly on the plate's side is on it.
func laidOn(p *machine.Plate, outer [][2]float64) (place func([2]float64) outline.Point, bad *svgpath.Error) {
	lo, hi := outline.Shape{outer}.Bounds()
	from, to := p.OnPlane(p.From), p.OnPlane(p.To)
	slack := sizeSlack + chordShare*math.Hypot(hi[0]-lo[0], hi[1]-lo[1])
	for k, size := range [2]float64{to[0] - from[0], to[1] - from[1]} {
		if math.Abs(hi[k]-lo[k]-size) > slack {
			u, v := p.Across().Others()
			return nil, &svgpath.Error{
				What: fmt.Sprintf("the outline is %.6g mm wide and %.6g high, and the plate %.6g along %s and %.6g along %s",
					hi[0]-lo[0], hi[1]-lo[1], to[0]-from[0], u, to[1]-from[1], v),
				Hint: "from and to are the corners of the block that it is sawn from"}
		}
	}
	return func(c [2]float64) outline.Point {
		at := outline.Point{from[0] + (c[0] - lo[0]), to[1] - (c[1] - lo[1])}
		for k := range at {
			switch {
			case math.Abs(at[k]-from[k]) <= slack:
				at[k] = from[k]
			case math.Abs(at[k]-to[k]) <= slack:
				at[k] = to[k]
			}
		}
		return at
	}, nil
}

// sawnFault reports what is wrong with an outline, at the place of the path that leads to the corner.
func (d *decoder) sawnFault(n *source.Node, err error, loops []svgpath.Loop, place func([2]float64) outline.Point) {
	var bad *machine.OutlineError
	if !errors.As(err, &bad) || bad.At == nil {
		d.misfit(n.Pos, "the outline: "+err.Error(), "")
		return
	}
	c, offset, drawn := cornerAt(*bad.At, loops, place)
	if !drawn {
		d.misfit(n.Pos, "the outline: "+bad.What, bad.Hint)
		return
	}
	d.pathFault(n, &svgpath.Error{Offset: offset, Hint: bad.Hint,
		What: fmt.Sprintf("the outline at (%.6g, %.6g): %s", c[0], c[1], bad.What)})
}
