package workshop

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/wrap"
)

// sheet is the drawing of a part, on one page or more.
type sheet struct {
	page   Page
	inv    answer.Inventory
	part   answer.PartLine
	number int
	faces  []face
	holes  []answer.HoleLine
	open   []answer.OpenHoles
}

// scale is how large a face is drawn.
type scale struct {
	words string
	times float64 // mm on paper for a mm of the part
}

// scales are those of ISO 5455, and two between that workshops use, large to small.
var scales = []scale{{"2:1", 2}, {"1:1", 1}, {"1:2", 1. / 2}, {"1:2.5", 1 / 2.5}, {"1:4", 1. / 4}, {"1:5", 1. / 5},
	{"1:10", 1. / 10}, {"1:20", 1. / 20}, {"1:50", 1. / 50}, {"1:100", 1. / 100}, {"1:200", 1. / 200}, {"1:500", 1. / 500},
	{"1:1000", 1. / 1000}}

// points are those of a length of the part, mm.
func (s scale) points(mm float64) vg.Length { return vg.Length(mm*s.times) * vg.Millimeter }

// The letters of names on sheets.
const (
	longestTitle = 60 // of a part
	longestName  = 48 // of a machine, an option, a joint
)

// short is a name on one line, of so many letters at most.
func short(name string, most int) string {
	letters := []rune(wrap.OneLine(name))
	if len(letters) <= most {
		return string(letters)
	}
	return string(letters[:most-1]) + "…"
}

// pictures are the pages: the faces with as much of the table as there is room for, then the rest of it.
func (s *sheet) pictures() []*paper.Picture {
	rows := s.rows()
	at, places := s.fitted(s.rowsHeight(rows))
	room := s.room(at) - height(places)
	var pages [][]row
	var heads []row // of the table, again on further pages
	if len(s.holes) > 0 {
		heads = rows[:1]
	}
	for left := rows; len(pages) == 0 || len(left) > 0; {
		n := s.fitting(left, room)
		switch {
		case n == 0 && len(pages) > 0: // a row higher than a page
			n = 1
		case n < min(leastRows, len(left)) && len(pages) == 0: // heads, or little more
			n = 0
		}
		page := left[:n]
		if len(pages) > 0 {
			page = slices.Concat(heads, page)
		}
		pages = append(pages, page)
		left, room = left[n:], s.room(at)-s.rowsHeight(heads)
	}
	var list []*paper.Picture
	for i, rows := range pages {
		list = append(list, &paper.Picture{Width: s.page.Width, Height: s.page.Height, Paint: func(c draw.Canvas) {
			head := s.head(at)
			if len(pages) > 1 {
				head.Title += fmt.Sprintf(" (sheet %d of %d)", i+1, len(pages))
			}
			room := head.Draw(c)
			s.checkLine(c)
			top := room.Max.Y
			if i == 0 {
				top = s.remarks(room)
				for _, p := range places {
					p.paint(room, vg.Point{X: room.Min.X + p.left, Y: top - p.top}, at)
				}
				top -= height(places)
			}
			s.table(room, top, rows)
		}})
	}
	return list
}

// leastRows is how many rows of the table stand below the faces, if any do and there are more.
const leastRows = 5

// height is the room that faces in their places take.
func height(places []placed) (h vg.Length) {
	for _, p := range places {
		h = max(h, p.top+p.size.Y)
	}
	return h
}

// mostSmaller is by how many scales the faces are drawn smaller than they could be, for the table to stand beside them,
// as long as their holes stay leastApart, in points.
const (
	mostSmaller = 3
	leastApart  = vg.Length(18)
)

// fitted chooses the scale, the largest at which the faces have room together with the table; where the table alone
// leaves less than is good for them, it goes on on further pages.
func (s *sheet) fitted(table vg.Length) (scale, []placed) {
	beside := -1
	for i, at := range scales {
		places, ok := s.shelves(at)
		if !ok || height(places) > s.room(at) {
			continue
		}
		if beside < 0 {
			beside = i
		}
		if height(places)+table <= s.room(at) && (i == beside || i <= beside+mostSmaller && s.closest(at) >= leastApart) {
			return at, places
		}
	}
	if beside < 0 { // a part of a hundred metres and more
		beside = len(scales) - 1
	}
	places, _ := s.shelves(scales[beside])
	return scales[beside], places
}

// closest is how near two holes of a face come on paper.
func (s *sheet) closest(at scale) vg.Length {
	least := math.Inf(1)
	for _, f := range s.faces {
		if len(f.marks) > mostPlaced {
			return 0
		}
		for i, m := range f.marks {
			for _, o := range f.marks[:i] {
				if d := math.Hypot(m.XMM-o.XMM, m.YMM-o.YMM); d > machine.Touching {
					least = math.Min(least, d)
				}
			}
		}
	}
	return at.points(least)
}

// inner is the width between the margins.
func (s *sheet) inner() vg.Length { return s.page.Width - 2*paper.Margin }

// room is the height for faces and table on the first page; on further ones there is a little more.
func (s *sheet) room(at scale) vg.Length {
	head := s.head(at)
	return s.page.Height - head.HeadHeight(s.page.Width) - head.FootHeight() - s.remarksHeight()
}

// head is the title with what the part is, and the key to the signs on its faces.
func (s *sheet) head(at scale) paper.Sheet {
	what := s.part.Kind
	if s.part.Section != "" {
		what += " " + short(s.part.Section, longestName)
	}
	size := number.Sizes(s.part.SizeMM) + " mm (x × y × z)"
	if f := s.faces[0]; f.name == barFace {
		size = number.Length(f.size[0]) + " mm long"
	}
	words := []string{short(s.inv.Machine, longestName)}
	if s.inv.Option != "" {
		words[0] += ", option: " + short(s.inv.Option, longestName)
	}
	words = append(words, what+", "+size, short(s.part.Material, longestName),
		number.Significant(s.part.MassKg)+" kg", "scale "+at.words+" on "+s.page.Name)
	return paper.Sheet{Title: title(s.number, s.part.Name), Subtitle: strings.Join(words, "  ·  "), Key: s.key()}
}

// key explains the signs that there are.
func (s *sheet) key() (key []paper.KeyEntry) {
	has := func(is func(answer.HoleLine) bool) bool { return slices.ContainsFunc(s.holes, is) }
	entry := func(words string, h answer.HoleLine, sunk bool) {
		key = append(key, paper.KeyEntry{Words: words, Mark: func(c draw.Canvas, box vg.Rectangle) {
			holeSign(c, mark{h, sunk}, paper.MiddleOf(box), signSizes{drill: 3.2, thread: 5, sink: 5.2})
		}})
	}
	through, blind := answer.HoleLine{OutOn: "back"}, answer.HoleLine{}
	threaded := func(h answer.HoleLine) answer.HoleLine { h.Kind = answer.TappedHole; return h }
	sunk := answer.HoleLine{OutOn: "back", SinkMM: 1}
	if has(func(h answer.HoleLine) bool { return h.Kind != answer.TappedHole && h.SinkMM == 0 }) {
		words := "through"
		if has(func(h answer.HoleLine) bool { return h.Kind == answer.BoredHole }) {
			words = "through or bored"
		}
		entry(words, through, false)
	}
	if has(func(h answer.HoleLine) bool { return h.SinkMM > 0 }) {
		entry("through, sunk on this face", sunk, true)
		entry("sunk on the other face", sunk, false)
	}
	if has(func(h answer.HoleLine) bool { return h.Kind == answer.TappedHole && h.OutOn != "" }) {
		entry("tapped through", threaded(through), false)
	}
	if has(func(h answer.HoleLine) bool { return h.Kind == answer.TappedHole && h.OutOn == "" }) {
		entry("tapped, not through", threaded(blind), false)
	}
	return key
}

// remarkLines is what must be known before anything is marked out.
func (s *sheet) remarkLines() []string {
	if len(s.holes) == 0 {
		return []string{"Lengths in mm. Nothing of known size to drill in this part."}
	}
	words := "Lengths in mm. Each face is seen from outside; the words along its sides say which side that is on the machine. " +
		"x and y start at the marked corner and run as its arrows do; both ends of a hole through have the same x and y."
	if slices.ContainsFunc(s.holes, func(h answer.HoleLine) bool { return h.Typical }) {
		words += " " + typicalSign + ": as usual for the size of what is screwed there; take it from the one in hand."
	}
	if slices.ContainsFunc(s.holes, held) {
		words += " " + notYetSign + ": not to be drilled yet."
	}
	lines := []string{words}
	if met := s.met(); met != "" {
		lines = append(lines, "Do not drill yet: holes "+met+" run into each other. Move their screws in the model first.")
	}
	if none := s.threadless(); none != "" {
		lines = append(lines, "Do not drill yet: the metal has room for less thread than a diameter under "+none+".")
	}
	if mates := s.mates(); mates != "" {
		lines = append(lines, "Do not drill yet: "+mates+" (other holes of the same screws or flanges cannot be, see the table). When "+
			"those move, these holes move with them.")
	}
	return lines
}

// remarkStyle is how a remark is lettered: those after the first are warnings.
func remarkStyle(i int) text.Style {
	if i > 0 {
		return paper.BoldLettering(paper.SmallSize, paper.Vermillion)
	}
	return paper.Lettering(paper.SmallSize, paper.Ink)
}

func (s *sheet) remarksHeight() vg.Length {
	n := 0
	for i, l := range s.remarkLines() {
		n += len(paper.Fitted(remarkStyle(i), l, s.inner()))
	}
	return paper.TextHeight(remarkStyle(0), n) + paper.Gap
}

// remarks writes them at the top of the room, and gives where they end.
func (s *sheet) remarks(room draw.Canvas) vg.Length {
	at := room.Max.Y
	for i, l := range s.remarkLines() {
		sty := remarkStyle(i)
		at -= paper.WriteLines(room, sty, paper.Fitted(sty, l, s.inner()), vg.Point{X: room.Min.X, Y: at})
	}
	return at - paper.Gap
}

// checkMM is the length of the line that tells whether a page was printed at its size, mm.
const checkMM = 50

// checkLine draws it at the foot, to the right.
func (s *sheet) checkLine(c draw.Canvas) {
	to := vg.Point{X: c.Max.X - paper.Margin, Y: c.Min.Y + paper.Margin/2 + paper.SmallSize*0.6}
	from := vg.Point{X: to.X - checkMM*vg.Millimeter, Y: to.Y}
	line := draw.LineStyle{Color: paper.Ink, Width: paper.ThinLine}
	for _, at := range []vg.Point{from, to} {
		c.StrokeLine2(line, at.X, at.Y-4, at.X, at.Y+4)
	}
	c.StrokeLine2(line, from.X, from.Y, to.X, to.Y)
	sty := paper.Lettering(paper.SmallSize, paper.Ink)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YBottom
	c.FillText(sty, vg.Point{X: (from.X + to.X) / 2, Y: from.Y + 2}, strconv.Itoa(checkMM)+" mm on paper")
}
