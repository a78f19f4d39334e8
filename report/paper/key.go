package paper

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// KeyEntry explains one sign: the mark is drawn in the box it is given.
type KeyEntry struct {
	Words string                                // beside the mark
	Mark  func(c draw.Canvas, box vg.Rectangle) // draws the sign
}

// KeyLine is a line as a mark in a key.
type KeyLine draw.LineStyle

// Across strokes the line through the middle of the key's box.
func (l KeyLine) Across(c draw.Canvas, box vg.Rectangle) {
	c.StrokeLine2(draw.LineStyle(l), box.Min.X, MiddleOf(box).Y, box.Max.X, MiddleOf(box).Y)
}

// The measures of a key, in points.
const (
	keyMarkWidth  = vg.Length(30)
	keyMarkHeight = vg.Length(11)
	keyColumnGap  = vg.Length(22)
)

// KeyPlace is where an entry of a key stands.
type KeyPlace struct {
	Entry int       // which of the key's entries
	Left  vg.Length // from the key's left edge
	Top   vg.Length // below the key's own top
	Lines []string  // its words, broken
}

// KeyLayout places the entries of a key in rows within width and gives the height they take; both in points.
func KeyLayout(key []KeyEntry, width vg.Length) (places []KeyPlace, height vg.Length) {
	sty := Lettering(LabelSize, Ink)
	var left, top, rowHeight vg.Length
	for i, e := range key {
		lines := Fitted(sty, e.Words, width-keyMarkWidth-Gap)
		wide := vg.Length(0)
		for _, l := range lines {
			wide = max(wide, sty.Width(l))
		}
		wide += keyMarkWidth + Gap
		if left > 0 && left+wide > width {
			top += rowHeight
			left, rowHeight = 0, 0
		}
		places = append(places, KeyPlace{i, left, top, lines})
		rowHeight = max(rowHeight, TextHeight(sty, len(lines))+3)
		left += wide + keyColumnGap
	}
	return places, top + rowHeight
}

// DrawKeyEntry draws one entry from its top left corner.
func DrawKeyEntry(c draw.Canvas, e KeyEntry, lines []string, at vg.Point) {
	sty := Lettering(LabelSize, Ink)
	middle := at.Y - TextHeight(sty, 1)/2
	e.Mark(c, vg.Rectangle{
		Min: vg.Point{X: at.X, Y: middle - keyMarkHeight/2},
		Max: vg.Point{X: at.X + keyMarkWidth, Y: middle + keyMarkHeight/2},
	})
	WriteLines(c, sty, lines, vg.Point{X: at.X + keyMarkWidth + Gap, Y: at.Y})
}
