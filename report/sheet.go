package report

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/machine"
)

// sheet is what every picture has in common: a title, a line below it, a key to the series, and the caution at its
// foot. What is between them is drawn by the picture itself.
type sheet struct {
	title    string
	subtitle string
	key      []keyEntry
}

// addDetail ends the line below the title with the detail of the answer, where that is not the usual one.
func (s *sheet) addDetail(a machine.Answer) {
	words := detailInWords(a)
	if s.subtitle != "" && words != "" {
		s.subtitle += ". "
	}
	s.subtitle += words
}

// keyEntry explains one sign: the mark is drawn in the box it is given.
type keyEntry struct {
	words string
	mark  func(c draw.Canvas, box vg.Rectangle)
}

// keyLine is a line as a mark in a key.
type keyLine draw.LineStyle

// across strokes the line through the middle of the key's box.
func (l keyLine) across(c draw.Canvas, box vg.Rectangle) {
	c.StrokeLine2(draw.LineStyle(l), box.Min.X, middleOf(box).Y, box.Max.X, middleOf(box).Y)
}

// The measures of a key, in points.
const (
	keyMarkWidth  = vg.Length(30)
	keyMarkHeight = vg.Length(11)
	keyColumnGap  = vg.Length(22)
)

// keyLine is one row of the key: which entries stand in it, how far from the left, in which lines.
type keyPlace struct {
	entry int
	left  vg.Length
	top   vg.Length // below the key's own top
	lines []string
}

// keyLayout places the entries of a key in rows within width and gives the height they take.
func keyLayout(key []keyEntry, width vg.Length) (places []keyPlace, height vg.Length) {
	sty := lettering(labelSize, ink)
	var left, top, rowHeight vg.Length
	for i, e := range key {
		lines := fitted(sty, e.words, width-keyMarkWidth-gap)
		wide := vg.Length(0)
		for _, l := range lines {
			wide = max(wide, sty.Width(l))
		}
		wide += keyMarkWidth + gap
		if left > 0 && left+wide > width {
			top += rowHeight
			left, rowHeight = 0, 0
		}
		places = append(places, keyPlace{i, left, top, lines})
		rowHeight = max(rowHeight, textHeight(sty, len(lines))+3)
		left += wide + keyColumnGap
	}
	return places, top + rowHeight
}

// headHeight is the room for title, line and key, in points.
func (s sheet) headHeight(width vg.Length) vg.Length {
	inner := width - 2*margin
	h := margin
	h += textHeight(boldLettering(titleSize, ink), len(fitted(boldLettering(titleSize, ink), s.title, inner)))
	if s.subtitle != "" {
		h += 2 + textHeight(lettering(labelSize, faintInk), len(fitted(lettering(labelSize, faintInk), s.subtitle, inner)))
	}
	if len(s.key) > 0 {
		_, keyHeight := keyLayout(s.key, inner)
		h += gap + keyHeight
	}
	return h + gap
}

// footHeight is the room for the caution, in points.
func (s sheet) footHeight() vg.Length { return textHeight(lettering(smallSize, faintInk), 1) + margin }

// draw paints the paper, the head and the foot, and gives the room between.
func (s sheet) draw(c draw.Canvas) draw.Canvas {
	c.FillPolygon(paper, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
	width := c.Max.X - c.Min.X
	inner := width - 2*margin
	at := vg.Point{X: c.Min.X + margin, Y: c.Max.Y - margin}
	sty := boldLettering(titleSize, ink)
	at.Y -= writeLines(c, sty, fitted(sty, s.title, inner), at)
	if s.subtitle != "" {
		sty = lettering(labelSize, faintInk)
		at.Y -= 2
		at.Y -= writeLines(c, sty, fitted(sty, s.subtitle, inner), at)
	}
	if len(s.key) > 0 {
		at.Y -= gap
		places, _ := keyLayout(s.key, inner)
		for _, p := range places {
			drawKeyEntry(c, s.key[p.entry], p.lines, vg.Point{X: at.X + p.left, Y: at.Y - p.top})
		}
	}
	writeLines(c, lettering(smallSize, faintInk), []string{footnote},
		vg.Point{X: at.X, Y: c.Min.Y + margin/2 + textHeight(lettering(smallSize, faintInk), 1)})
	return draw.Crop(c, margin, -margin, s.footHeight(), -s.headHeight(width))
}

// drawKeyEntry draws one entry from its top left corner.
func drawKeyEntry(c draw.Canvas, e keyEntry, lines []string, at vg.Point) {
	sty := lettering(labelSize, ink)
	middle := at.Y - textHeight(sty, 1)/2
	e.mark(c, vg.Rectangle{
		Min: vg.Point{X: at.X, Y: middle - keyMarkHeight/2},
		Max: vg.Point{X: at.X + keyMarkWidth, Y: middle + keyMarkHeight/2},
	})
	writeLines(c, sty, lines, vg.Point{X: at.X + keyMarkWidth + gap, Y: at.Y})
}
