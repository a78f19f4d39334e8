package page

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report"
	"tiploop/report/drawing"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/screen"
	"tiploop/report/wrap"
)

// verdict is what the page is for: it stands at the top. Its first block says how sure it is.
func verdict(c Content) (Section, error) {
	says, known := report.Headline(c.Answer)
	s := Section{Heading: says, Blocks: []Block{{Text: known}}}
	if clash := clashes(c.inventory()); clash != "" {
		s.Blocks = append(s.Blocks, Block{Items: []Item{{Text: clash + ".", Alarm: true}}})
	}
	for _, name := range []string{screen.Cuts, screen.Limits} {
		blocks, err := c.part(name)
		if err != nil {
			return s, err
		}
		if alarms := slices.DeleteFunc(items(blocks), func(i Item) bool { return !i.Alarm }); len(alarms) > 0 {
			s.Blocks = append(s.Blocks, Block{Items: alarms})
		}
	}
	if !c.several() {
		return s, nil
	}
	blocks, err := blocksOf(func(w io.Writer) error { return report.WriteCompareTables(w, c.Answer, "verdict") })
	if err != nil {
		return s, err
	}
	blocks = slices.DeleteFunc(blocks, func(b Block) bool { return b.Text == whichToBuild })
	s.Blocks = append(s.Blocks, folded("Against each of the others", blocks)...)
	return s, nil
}

// whichToBuild is the heading of the verdict's table, which the page's own takes the place of.
const whichToBuild = "Which to build"

// drawn is the machine.
func drawn(c Content) (Section, error) {
	m, inv := c.machine(), c.inventory()
	picture, err := drawing.Picture(m, inv)
	if err != nil {
		return Section{}, err
	}
	size := [3]float64{}
	for k := range size {
		size[k] = inv.ExtentToMM[k] - inv.ExtentFromMM[k]
	}
	says := fmt.Sprintf("%s, %s, %s kg, %s mm", phrase.Count(len(inv.Parts), "part"), phrase.Count(len(inv.Joints), "joint"),
		number.Significant(inv.MassKg), number.Sizes(size))
	s := Section{Heading: says}
	views := Block{Figure: &Figure{Name: "drawing", Picture: picture,
		Words: fmt.Sprintf("%s from the front, the right and above%s: %s. Its parts stand in the table of parts.",
			wrap.OneLine(m.Name), c.of(), says)}}
	shape := c.Drawn[c.picked()].Shape
	if shape == nil {
		s.Blocks = []Block{views}
		return s, nil
	}
	load := c.farthest(shape)
	bent, err := drawing.Isometric(wrap.OneLine(m.Name), shape, load)
	if err != nil {
		return s, err
	}
	under := ""
	if load != drawing.AtRest {
		under = ", bent by " + phrase.Quoted(shape.Loads[load])
	}
	s.Blocks = append([]Block{{Figure: &Figure{Name: "machine", Picture: bent,
		Words: wrap.OneLine(m.Name) + c.of() + " from the front right and above" + under + "."}}},
		folded("Front, right and above, with sizes", []Block{views})...)
	return s, nil
}

// farthest is the number of the load that moves the tip farthest, or a point where there is no tool.
func (c Content) farthest(shape *answer.Shape) int {
	r := c.result()
	best, most := drawing.AtRest, 0.0
	for i, name := range shape.Loads {
		if um := moved(r, name); um > most {
			best, most = i, um
		}
	}
	return best
}

// of names the option that the page is about where there are several.
func (c Content) of() string {
	if !c.several() {
		return ""
	}
	return " with " + phrase.Quoted(c.result().Name)
}

// The table of what to saw, which takes the place of that of parts where there is one.
const (
	partsTable   = "parts"
	cutListTable = "cut-list"
)

// parts is what there is to buy, saw and drill. What to saw stands open, all else of it behind a line.
func parts(c Content) (Section, error) {
	inv := c.inventory()
	s := Section{Heading: "Nothing to drill"}
	drilling := ""
	if drilled := phrase.Drilled(inv.Holes); drilled != "" {
		drilling = fmt.Sprintf("%s to drill, about %s at a drill press", drilled, phrase.Duration(inv.Holes.Minutes))
		s.Heading = drilling
	}
	clash := clashes(inv)
	elsewhere := []string{"stress", "notes", "cautions"} // of the tables that show knows
	names := slices.DeleteFunc(report.ShowTablesOf(inv), func(n string) bool { return slices.Contains(elsewhere, n) })
	open := partsTable
	if slices.Contains(names, cutListTable) {
		open = cutListTable
	}
	tables := func(names ...string) ([]Block, error) {
		if len(names) == 0 {
			return nil, nil
		}
		return blocksOf(func(w io.Writer) error { return report.WriteShow(w, inv, names...) })
	}
	hidden := slices.DeleteFunc(names, func(n string) bool { return n == open })
	var err error
	if s.Blocks, err = tables(open); err != nil {
		return s, err
	}
	if clash != "" {
		s.Heading = clash
		s.Blocks = append([]Block{{Text: "Move their screws first, or let them share a hole: the table of holes says which they are. " +
			drilling + "."}}, s.Blocks...)
	}
	more, err := tables(hidden...)
	s.Blocks = append(s.Blocks, folded(phrase.Capital(strings.ReplaceAll(phrase.List(hidden), "-", " ")), more)...)
	return s, err
}

// mostClashing is how many parts are named in which holes run into each other.
const mostClashing = 3

// clashes says how many pairs of holes run into each other, and in which parts; "" where none do.
func clashes(inv answer.Inventory) string {
	met := 0
	var parts []string
	for _, h := range inv.HoleList {
		if met += len(h.Meets); len(h.Meets) > 0 && !slices.Contains(parts, wrap.OneLine(h.Part)) {
			parts = append(parts, wrap.OneLine(h.Part))
		}
	}
	if met == 0 {
		return ""
	}
	if n := len(parts) - mostClashing; n > 0 {
		parts = append(parts[:mostClashing:mostClashing], phrase.Count(n, "other part"))
	}
	pairs, run := phrase.Count(met/2, "pair"), "run"
	if met/2 == 1 {
		run = "runs"
	}
	return fmt.Sprintf("Do not drill yet: %s of holes %s into each other, in %s", pairs, run, phrase.List(parts))
}
