package workshop

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// tableColumn is a column of the table of holes: its head, how wide it is and whether its cells stand to the right.
type tableColumn struct {
	head  string
	width vg.Length // 0: what the others leave
	right bool
}

// tableColumns are those of the table of holes.
var tableColumns = []tableColumn{
	{"no.", 24, true}, {"x", 34, true}, {"y", 34, true}, {"edge", 28, true}, {"drill Ø", 30, true}, {"depth", 34, true},
	{"", 2, false}, {"hole", 148, false}, {"face", 70, false}, {"for", 0, false},
}

// row is a row of the table, its cells broken into lines; or, with one cell, words over the table's width.
type row struct {
	cells [][]string
	rule  bool // a line under it
}

// lines is how many lines a row takes.
func (r row) lines() (n int) {
	for _, c := range r.cells {
		n = max(n, len(c))
	}
	return n
}

// rowGap is the room between two rows, in points.
const rowGap = vg.Length(1.5)

// cellGap is the room between two columns, in points.
const cellGap = vg.Length(4)

// columnWidth is that of a column.
func (s *sheet) columnWidth(i int) vg.Length {
	if tableColumns[i].width > 0 {
		return tableColumns[i].width
	}
	left := s.inner()
	for _, c := range tableColumns {
		left -= c.width + cellGap
	}
	return left
}

// rows are those of the table of holes, and behind it what else is screwed to the part.
func (s *sheet) rows() (rows []row) {
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	add := func(cells ...string) {
		var r row
		for i, c := range cells {
			r.cells = append(r.cells, paper.Fitted(sty, c, s.columnWidth(i)))
		}
		rows = append(rows, r)
	}
	if len(s.holes) > 0 {
		var heads []string
		for _, c := range tableColumns {
			heads = append(heads, c.head)
		}
		add(heads...)
		rows[0].rule = true
	}
	for _, h := range s.holes {
		on := h.Face
		if h.OutOn != "" {
			on += " to " + h.OutOn
		}
		add(mark{HoleLine: h}.numbered(), number.Length(h.XMM), number.Length(h.YMM), number.Length(h.EdgeMM),
			number.Length(h.DrillMM), phrase.HoleDepth(h), "", whatHole(h), on, short(h.For, longestName))
	}
	say := func(words string) {
		rows = append(rows, row{cells: [][]string{paper.Fitted(sty, words, s.inner())}})
	}
	if len(s.holes) > 0 {
		rows[len(rows)-1].rule = true
		say("x, y: from the " + s.corners() + ". edge: from the middle to the " +
			"nearest edge of the face. depth: of the drill at full diameter. Through holes by ISO 273, tapping drills by " +
			"ISO 2306: check them against your screws and taps.")
	}
	for _, words := range s.sawnWords() {
		say(words)
	}
	for _, o := range s.open {
		say("Not drawn: " + s.openWords(o) + ".")
	}
	return rows
}

// mostCorners is how many corners of a loop are written: of more it has curves.
const mostCorners = 24

// sawnWords measure the outline that the part is sawn to: its corners, loop by loop, as far as they can be marked out by
// their places.
func (s *sheet) sawnWords() (list []string) {
	for _, f := range s.faces {
		if f.sawn == nil || f.isEdge {
			continue
		}
		for i, loop := range f.sawn {
			what := "Sawn to, x, y from the " + f.corner + " of the block: "
			if f.window(i) {
				what = "Window, the same way: "
			}
			if len(loop) > mostCorners {
				list = append(list, fmt.Sprintf("%sa line with curves, %d corners; take it from the face at full size.", what, len(loop)))
				continue
			}
			var corners []string
			for _, c := range loop {
				corners = append(corners, "("+number.Length(c[0])+", "+number.Length(c[1])+")")
			}
			list = append(list, what+strings.Join(corners, " – ")+".")
		}
		return list // the other face has the same
	}
	return nil
}

// whatHole says what a hole is, and why it is not to be drilled yet.
func whatHole(h answer.HoleLine) string {
	if h.NotYet == "" || phrase.NoThread(h) {
		return phrase.Hole(h)
	}
	return phrase.Hole(h) + "; not yet: " + h.NotYet
}

// corners names the datum corners of the faces with holes, those of one corner together.
func (s *sheet) corners() string {
	var corners []string
	on := map[string][]string{}
	for _, f := range s.faces {
		if len(f.marks) == 0 {
			continue
		}
		if on[f.corner] == nil {
			corners = append(corners, f.corner)
		}
		on[f.corner] = append(on[f.corner], f.name)
	}
	for i, c := range corners {
		corners[i] = c + " on the " + phrase.List(on[c]) + " face"
	}
	return phrase.List(corners)
}

// mostPlaces is how many places of one thing are written.
const mostPlaces = 8

// openWords says what else is screwed to the part, and where from the datum corner.
func (s *sheet) openWords(o answer.OpenHoles) string {
	var places []string
	for i, at := range o.PlacesMM {
		if i == mostPlaces {
			places = append(places, "…")
			break
		}
		for k := range at {
			at[k] -= s.part.DatumMM[k]
		}
		places = append(places, "("+number.Length(at[0])+", "+number.Length(at[1])+", "+number.Length(at[2])+")")
	}
	return short(o.For, longestName) + ", at " + strings.Join(places, ", ") + " along the machine's x, y, z from the corner that " +
		"holes are measured from: " + o.Why
}

// rowHeight is the height of a row.
func rowHeight(r row) vg.Length {
	return paper.TextHeight(paper.Lettering(paper.SmallSize, paper.Ink), r.lines()) + rowGap
}

// rowsHeight is that of all rows together.
func (s *sheet) rowsHeight(rows []row) (h vg.Length) {
	for _, r := range rows {
		h += rowHeight(r)
	}
	return h
}

// fitting is how many of the first rows have room.
func (s *sheet) fitting(rows []row, room vg.Length) (n int) {
	for _, r := range rows {
		if room -= rowHeight(r); room < 0 {
			return n
		}
		n++
	}
	return n
}

// table writes rows downwards from a height.
func (s *sheet) table(c draw.Canvas, top vg.Length, rows []row) {
	for _, r := range rows {
		left := c.Min.X
		for i, lines := range r.cells {
			sty := paper.Lettering(paper.SmallSize, paper.Ink)
			at := vg.Point{X: left, Y: top}
			if len(r.cells) > 1 {
				width := s.columnWidth(i)
				if tableColumns[i].right {
					sty.XAlign, at.X = draw.XRight, left+width
				}
				left += width + cellGap
			}
			paper.WriteLines(c, sty, lines, at)
		}
		top -= rowHeight(r)
		if r.rule {
			c.StrokeLine2(draw.LineStyle{Color: paper.FaintInk, Width: paper.Hairline}, c.Min.X, top+rowGap/2, c.Max.X,
				top+rowGap/2)
		}
	}
}
