package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// cutList lists what there is to saw: pieces of one stock and size together, and bars summed by section.
func (p *page) cutList(inv answer.Inventory) {
	if len(inv.CutList) == 0 {
		return
	}
	var rows [][]string
	pieces, kg := 0, 0.0
	for _, c := range inv.CutList {
		n := len(c.Parts)
		pieces, kg = pieces+n, kg+float64(n)*c.MassKg
		rows = append(rows, []string{stockOf(c), cutSize(c), c.Material, strconv.Itoa(n), number.Significant(c.MassKg),
			number.Significant(float64(n) * c.MassKg), strings.Join(c.Parts, ", ")})
	}
	rows = append(rows, []string{"all", "", "", strconv.Itoa(pieces), "", number.Significant(kg), ""})
	p.Heading("Cut list: the heaviest piece first")
	p.Table([]column{named("stock"), named("size, mm"), named("material"), measured("pieces"), measured("each, kg"),
		measured("together, kg"), named("parts")}, rows)
	if len(inv.BarStock) > 0 {
		var bars [][]string
		for _, b := range inv.BarStock {
			bars = append(bars, []string{b.Section, b.Material, strconv.Itoa(b.Pieces), number.Length(b.LengthMM),
				number.Significant(b.MassKg)})
		}
		p.Heading("Bars by section: along themselves, without what the saw takes")
		p.Table([]column{named("section"), named("material"), measured("pieces"), measured("length, mm"),
			measured("mass, kg")}, bars)
	}
}

// stockOf says what a piece is cut from.
func stockOf(c answer.CutLine) string {
	if c.SizeMM[2] == 0 {
		return c.Section
	}
	return c.Kind + " " + number.Length(c.SizeMM[2]) + " mm"
}

// cutSize is the size of a piece, without what its stock says.
func cutSize(c answer.CutLine) string {
	switch {
	case c.SizeMM[2] == 0:
		return number.Length(c.SizeMM[0])
	case c.Kind == gusset:
		return "legs " + number.Length(c.SizeMM[0]) + " × " + number.Length(c.SizeMM[1])
	}
	size := number.Length(c.SizeMM[0]) + " × " + number.Length(c.SizeMM[1])
	if c.Outline != "" {
		size += phrase.Sawn
	}
	return size
}

// gusset is the kind of a part that is a triangle.
const gusset = "gusset"

// holes lists every hole of every part, and what is screwed on by holes that nothing is known of.
func (p *page) holes(inv answer.Inventory) {
	var rows [][]string
	typical, notYet := false, false
	for _, h := range inv.HoleList {
		place := ""
		if h.Typical {
			place, typical = "~", true
		}
		if h.NotYet != "" {
			place, notYet = place+"!", true
		}
		rows = append(rows, []string{h.Part, strconv.Itoa(h.Number), h.Face, place, number.Length(h.XMM), number.Length(h.YMM),
			number.Length(h.EdgeMM), number.Length(h.DrillMM), phrase.HoleDepth(h), phrase.Hole(h), h.For})
	}
	if rows != nil {
		p.Heading("Holes: x and y on the face that touches, from the corner with the least coordinates, of a gusset the right " +
			"angle")
		p.Table([]column{named("part"), measured("no."), named("face"), named(""), measured("x, mm"), measured("y, mm"),
			measured("edge, mm"), measured("drill, mm"), measured("depth, mm"), named("what"), named("for")}, rows)
		p.Say("x and y run along the machine's axes in that face, in their order; edge is the way to the nearest one. " +
			"Depth is that of the drill at its full diameter. Sizes: " + strings.Join(sourcesOf(inv.HoleList), "; ") + ".")
	}
	if typical {
		p.Say("~ is where things of that size usually have their holes: take it from the one in hand.")
	}
	if notYet {
		p.Say("! is not to be drilled yet: the hole, or another one of its screw, cannot be as the model stands.")
	}
	if len(inv.HolesOpen) == 0 {
		return
	}
	rows = nil
	for _, o := range inv.HolesOpen {
		at := place(o.PlacesMM[0])
		if n := len(o.PlacesMM) - 1; n > 0 {
			at += fmt.Sprintf(" and %d more", n)
		}
		rows = append(rows, []string{o.For, o.Part, at, o.Why})
	}
	p.Heading("Holes that are not known or have no place, and are not counted")
	p.Table([]column{named("for"), named("part"), named("at, mm"), named("why")}, rows)
}

// sourcesOf are the sources of the sizes of holes.
func sourcesOf(holes []answer.HoleLine) (list []string) {
	for _, h := range holes {
		if !slices.Contains(list, h.Source) {
			list = append(list, h.Source)
		}
	}
	return list
}

// holeHead are the heads of the columns that tell of a hole where it is.
var holeHead = []string{"number", "face", "comes_out_on", "x_mm", "y_mm", "edge_mm", "drill_mm", "depth_mm", "thread_mm",
	"counterbore_mm", "counterbore_depth_mm", "place", "do_not_drill_yet"}

// holeCells are its cells; depths to the tenth, as a drill press keeps them; the place is "typical" where it is only usual
// for a size; last why it is not to be drilled yet, "" when nothing is known against it.
func holeCells(h answer.HoleLine) []string {
	place := "as said"
	if h.Typical {
		place = "typical"
	}
	thread := phrase.Depth(h.ThreadMM)
	if phrase.NoThread(h) {
		thread = "cannot be"
	}
	return []string{strconv.Itoa(h.Number), h.Face, h.OutOn, one(h.XMM), one(h.YMM), one(h.EdgeMM), one(h.DrillMM),
		phrase.Depth(h.DepthMM), thread, one(h.SinkMM), phrase.Depth(h.SinkDepthMM), place, h.NotYet}
}

// WriteHolesCSV writes a row for each hole of a part of that name.
func WriteHolesCSV(w io.Writer, inv answer.Inventory, part string) error {
	rows := [][]string{append([]string{"option", "part", "kind", "screw", "for"}, holeHead...)}
	var holes []answer.HoleLine
	for _, h := range inv.HoleList {
		if h.Part == part {
			holes = append(holes, h)
			rows = append(rows, append([]string{inv.Option, h.Part, h.Kind, h.Screw, h.For}, holeCells(h)...))
		}
	}
	return writeCSV(w, holes, rows)
}

// heaviest says what the heaviest part weighs, and how to lift it; "" where nobody needs help with it.
func heaviest(inv answer.Inventory) string {
	part, kg, help := phrase.Heavy(inv)
	if !help {
		return ""
	}
	return fmt.Sprintf("The heaviest part here is %s: %s kg. Lift it with help or mechanically, keep hands out from under it.",
		part, number.Significant(kg))
}
