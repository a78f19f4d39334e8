package modelfile

import (
	"errors"
	"fmt"

	"tiploop/beam"
	"tiploop/frame/machine"
	"tiploop/frame/svgpath"
)

// chordShare is how far chords may lie from the curves of an outline, as a share of its size: a circle has some hundred
// and thirty corners then, its area is within 0.04 % and its second moments within 0.08 %.
const chordShare = 1e-4

// outline reads a section from the path of a drawing; nil when it cannot be used. By the even-odd rule what one
// subpath encloses is metal, and what a second one encloses within is not. The path's y runs down.
func (d *decoder) outline(n *node) beam.Shape {
	if !d.isKind(n, scalar, "outline") {
		return nil
	}
	_, outer, holes, ok := d.onePiece(n, "a section is one piece, and what lies within is a hole")
	if !ok {
		return nil
	}
	p := beam.Polygon{Outer: asDrawn(outer.Corners)}
	for _, h := range holes {
		p.Holes = append(p.Holes, asDrawn(h.Corners))
	}
	return p
}

// onePiece reads a path as an outline with holes in it, which is all the loops there are.
func (d *decoder) onePiece(n *node, rule string) (loops []svgpath.Loop, outer svgpath.Loop, holes []svgpath.Loop, ok bool) {
	loops, err := loopsOf(n.text)
	if err != nil {
		d.pathFault(n, err)
		return nil, outer, nil, false
	}
	for i, l := range loops {
		around := 0
		for j, other := range loops {
			if j != i && beam.Encloses(other.Corners, l.Corners[0]) {
				around++
			}
		}
		switch {
		case around == 0 && outer.Corners == nil:
			outer = l
		case around == 1:
			holes = append(holes, l)
		default:
			d.pathFault(n, &svgpath.Error{Offset: l.Offsets[0], What: "the outline is in several pieces: another begins here",
				Hint: rule})
			return nil, outer, nil, false
		}
	}
	if outer.Corners == nil {
		// Two loops that cross, or one twice, can each have their first corner in the other.
		d.pathFault(n, &svgpath.Error{Offset: loops[1].Offsets[0], What: "the outline crosses itself or is there twice: another begins here",
			Hint: rule})
		return nil, outer, nil, false
	}
	if len(holes) > mostHoles {
		d.fault(n.pos, fmt.Sprintf("too many holes: %d, at most %d", len(holes), mostHoles), "")
		return nil, outer, nil, false
	}
	return loops, outer, holes, true
}

// loopsOf are the closed loops of a path, with curves as chords. The error is an [*svgpath.Error].
func loopsOf(text string) ([]svgpath.Loop, error) {
	path, err := svgpath.Parse(text)
	if err != nil {
		return nil, err
	}
	size := path.Size()
	if !(size >= aLength.least) {
		return nil, &svgpath.Error{What: fmt.Sprintf("the outline is too small: %s across", aLength.show(size)),
			Hint: "a path is in mm"}
	}
	loops, err := path.Flatten(size*chordShare, mostCorners)
	if err != nil {
		return nil, err
	}
	for _, l := range loops {
		switch first := l.Corners[0]; {
		case !l.Closed:
			return nil, &svgpath.Error{Offset: l.Offsets[0], What: fmt.Sprintf("the outline is open: it does not come back to (%g, %g)",
				first[0], first[1]), Hint: "end it with Z"}
		case len(l.Corners) < 3:
			return nil, &svgpath.Error{Offset: l.Offsets[0], What: "the outline encloses no area here"}
		}
	}
	return loops, nil
}

// asDrawn turns places of a path, whose y runs down, into those of a section.
func asDrawn(loop [][2]float64) [][2]float64 {
	drawn := make([][2]float64, len(loop))
	for i, p := range loop {
		drawn[i] = [2]float64{p[0] + 0, 0 - p[1]}
	}
	return drawn
}

// pathFault reports what is wrong with the path at n, with the rest of it from there.
func (d *decoder) pathFault(n *node, err error) {
	var bad *svgpath.Error
	if !errors.As(err, &bad) {
		d.fault(n.pos, err.Error(), "")
		return
	}
	at, rest := n.pos, []rune(n.text)[bad.Offset:]
	if n.verbatim {
		at.Col += bad.Offset
	}
	hint := bad.Hint
	if len(rest) > 0 && bad.Offset > 0 {
		hint = "at " + machine.Quote(string(rest))
		if bad.Hint != "" {
			hint += ": " + bad.Hint
		}
	}
	d.fault(at, bad.What, hint)
}

// sectionFault reports a section that cannot be worked out; what is wrong with the path of an outline at that place of it.
func (d *decoder) sectionFault(section *node, err error) {
	var bad *beam.OutlineError
	path := section.find("outline")
	if path == nil || !errors.As(err, &bad) {
		d.misfit(section.pos, err.Error(), "")
		return
	}
	what := fmt.Sprintf("the outline is no section at (%g, %g): %s", bad.At[0], 0-bad.At[1], bad.What)
	loops, _ := loopsOf(path.value.text) // it has been read before
	for _, l := range loops {
		for i, p := range asDrawn(l.Corners) {
			if p == bad.At {
				d.pathFault(path.value, &svgpath.Error{Offset: l.Offsets[i], What: what})
				return
			}
		}
	}
	d.fault(path.value.pos, what, "")
}
