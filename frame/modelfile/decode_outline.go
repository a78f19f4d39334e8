package modelfile

import (
	"errors"
	"fmt"

	"tiploop/beam"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
	"tiploop/frame/svgpath"
)

// chordShare is how far chords may lie from the curves of an outline, as a share of its size: a circle has some hundred
// and thirty corners then, its area is within 0.04 % and its second moments within 0.08 %.
const chordShare = 1e-4

// outline reads a section from the path of a drawing; nil when it cannot be used. By the even-odd rule what one
// subpath encloses is metal, and what a second one encloses within is not. The path's y runs down.
func (d *decoder) outline(n *source.Node) beam.Shape {
	if !d.isKind(n, source.Scalar, "outline") {
		return nil
	}
	loops, outer, ok := d.onePiece(n, "a section is one piece, and what lies within is a hole")
	if !ok {
		return nil
	}
	var p beam.Polygon
	for i, l := range loops {
		if i == outer {
			p.Outer = cornersOf(l, upright)
		} else {
			p.Holes = append(p.Holes, cornersOf(l, upright))
		}
	}
	return p
}

// onePiece reads a path as one outline with holes in it: the loops as they are drawn, and which of them is outside.
func (d *decoder) onePiece(n *source.Node, rule string) (loops []svgpath.Loop, outer int, ok bool) {
	loops, err := loopsOf(n.Text)
	if err != nil {
		d.pathFault(n, err)
		return nil, 0, false
	}
	outer = -1
	for i, l := range loops {
		around := 0
		for j, other := range loops {
			if j != i && beam.Encloses(other.Corners, l.Corners[0]) {
				around++
			}
		}
		switch {
		case around == 0 && outer < 0:
			outer = i
		case around != 1:
			d.pathFault(n, &svgpath.Error{Offset: l.Offsets[0], What: "the outline is in several pieces: another begins here",
				Hint: rule})
			return nil, 0, false
		}
	}
	if outer < 0 {
		// Two loops that cross, or one twice, can each have their first corner in the other.
		d.pathFault(n, &svgpath.Error{Offset: loops[1].Offsets[0],
			What: "the outline crosses itself or is there twice: another begins here", Hint: rule})
		return nil, 0, false
	}
	if holes := len(loops) - 1; holes > mostHoles {
		d.fault(n.Pos, fmt.Sprintf("too many holes: %d, at most %d", holes, mostHoles), "")
		return nil, 0, false
	}
	return loops, outer, true
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
	if len(loops) == 0 {
		return nil, &svgpath.Error{What: "the path draws no line", Hint: "it only moves: L, H and V draw"}
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

// upright turns a place of a path, whose y runs down, into one of a section.
func upright(p [2]float64) [2]float64 { return [2]float64{p[0] + 0, 0 - p[1]} }

// cornersOf are the corners of a loop where place puts them.
func cornersOf(l svgpath.Loop, place func([2]float64) [2]float64) (corners [][2]float64) {
	for _, c := range l.Corners {
		corners = append(corners, place(c))
	}
	return corners
}

// cornerAt finds the corner that place puts somewhere: where it is drawn, and where in the path the command is that leads
// to it.
func cornerAt(at [2]float64, loops []svgpath.Loop, place func([2]float64) [2]float64) (drawn [2]float64, offset int, ok bool) {
	for _, l := range loops {
		for i, c := range l.Corners {
			if place(c) == at {
				return c, l.Offsets[i], true
			}
		}
	}
	return drawn, 0, false
}

// pathFault reports what is wrong with the path at n, with the rest of it from there.
func (d *decoder) pathFault(n *source.Node, err error) {
	var bad *svgpath.Error
	if !errors.As(err, &bad) {
		d.fault(n.Pos, err.Error(), "")
		return
	}
	at, rest := n.Pos, []rune(n.Text)[bad.Offset:]
	if n.Verbatim {
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
func (d *decoder) sectionFault(section *source.Node, err error) {
	var bad *beam.OutlineError
	path := section.Find("outline")
	if path == nil || !errors.As(err, &bad) {
		d.misfit(section.Pos, err.Error(), "")
		return
	}
	what := fmt.Sprintf("the outline is no section at (%g, %g): %s", bad.At[0], 0-bad.At[1], bad.What)
	loops, _ := loopsOf(path.Value.Text) // it has been read before
	_, offset, _ := cornerAt(bad.At, loops, upright)
	d.pathFault(path.Value, &svgpath.Error{Offset: offset, What: what})
}
