package report

import (
	"fmt"
	"io"
	"strings"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// showTables are the tables of what is in a machine, in the order in which all of them are written.
var showTables = []part[answer.Inventory]{
	{"parts", (*page).parts},
	{"cut-list", (*page).cutList},
	{"joints", (*page).joints},
	{"screws", (*page).jointScrews},
	{"holes", (*page).holes},
	{"grounds", (*page).grounds},
	{"axes", (*page).axes},
	{"masses", (*page).masses},
	{"stress", func(p *page, inv answer.Inventory) { p.stresses(inv.Stress) }},
	{"notes", func(p *page, inv answer.Inventory) { p.notes(inv.Notes) }},
	{"cautions", func(p *page, inv answer.Inventory) { p.cautions(heaviest(inv)) }},
}

// ShowTables are the names of the tables that WriteShow writes.
func ShowTables() []string { return namesOf(showTables) }

// ShowTablesOf are those that have something to tell of a machine.
func ShowTablesOf(inv answer.Inventory) []string { return told(showTables, inv) }

// WriteShow writes for a person what is in a machine: parts, joints, grounds, drilling and mass; everything, or the
// tables of some names.
func WriteShow(w io.Writer, inv answer.Inventory, tables ...string) error {
	if err := number.CheckFinite(inv); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = inv.Asks
	title := wrap.OneLine(inv.Machine)
	if inv.Option != "" {
		title += ": " + wrap.OneLine(inv.Option)
	}
	p.Title(title)
	if len(tables) > 0 {
		chosen(p, showTables, tables, inv)
		return p.Close()
	}
	if inv.About != "" {
		p.Say(inv.About)
	}
	p.Line("")
	p.Say(fmt.Sprintf("%s, %s and %s; %s mm overall; %s kg with the centre of mass at %s, %s, %s mm.",
		phrase.Count(len(inv.Parts), "part"), phrase.Count(len(inv.Joints), "joint"),
		phrase.Count(len(inv.Grounds), "ground"), number.Sizes(extentOf(inv.ExtentFromMM, inv.ExtentToMM)),
		number.Significant(inv.MassKg), number.Significant(inv.CentreMM[0]), number.Significant(inv.CentreMM[1]),
		number.Significant(inv.CentreMM[2])))
	p.axesWeigh(inv)
	p.Say(drillingInWords(inv.Holes))
	p.yielding(inv.Stress)
	for _, t := range showTables {
		t.write(p, inv)
	}
	return p.Close()
}

// drillingInWords says what there is to drill.
func drillingInWords(h answer.Holes) string {
	drilled := phrase.Drilled(h)
	if drilled == "" {
		return "Nothing to drill."
	}
	return fmt.Sprintf("To drill: %s, %s, about %s at a drill press.", drilled, phrase.Count(h.Operations, "operation"),
		phrase.Duration(h.Minutes))
}

func (p *page) parts(inv answer.Inventory) {
	var rows [][]string
	for i, l := range inv.Parts {
		rows = append(rows, []string{fmt.Sprint(i + 1), l.Name, phrase.Kind(inv, l), number.Length(l.SizeMM[0]),
			number.Length(l.SizeMM[1]), number.Length(l.SizeMM[2]), l.Section, l.Material,
			number.Significant(l.MassKg)})
	}
	if len(rows) > 0 {
		p.Heading("Parts")
		p.Table([]column{measured("no."), named("part"), named("kind"), measured("x, mm"), measured("y, mm"),
			measured("z, mm"), named("section"), named("material"), measured("mass, kg")}, rows)
	}
}

func (p *page) joints(inv answer.Inventory) {
	var rows [][]string
	for _, j := range inv.Joints {
		screws := ""
		if j.Screw != "" {
			screws = fmt.Sprintf("%d × %s", len(j.PlacesMM), j.Screw)
			if j.Class != usualClass {
				screws += " " + j.Class
			}
			if j.Head != joint.Proud.String() {
				screws += ", " + j.Head
			}
		}
		rows = append(rows, []string{j.Name, j.Kind, contact(j), screws, j.ThroughIn, j.TappedIn, j.Surface, j.Shim})
	}
	if len(rows) > 0 {
		p.Heading("Joints")
		p.Table([]column{named("joint"), named("kind"), named("contact, mm"), named("screws"), named("through in"),
			named("tapped in"), named("surface"), named("shim")}, rows)
	}
}

// usualClass is the property class that is not worth a word.
const usualClass = "8.8"

// jointScrews lists what one screw of each screwed joint does.
func (p *page) jointScrews(inv answer.Inventory) {
	var rows [][]string
	for _, j := range inv.Joints {
		if j.Screw != "" {
			rows = append(rows, []string{j.Name, number.Significant(j.PreloadN), number.Significant(j.LeastPreloadN),
				number.Given(j.HoleMM), number.Significant(j.ZoneMM2),
				number.Significant(j.PressMPa), number.Significant(j.NormalNPerUm),
				number.Significant(j.TangentNPerUm)})
		}
	}
	if len(rows) > 0 {
		p.Heading("One screw of each joint (the least zone and stiffness of them)")
		p.Table([]column{named("joint"), measured("preload, N"), measured("at least, N"), measured("hole, mm"),
			measured("zone, mm²"), measured("pressure, MPa"), measured("square to the face, N/µm"),
			measured("along the face, N/µm")}, rows)
	}
}

func (p *page) grounds(inv answer.Inventory) {
	var rows [][]string
	for i, g := range inv.Grounds {
		name := g.Name
		if name == "" {
			name = fmt.Sprint(i + 1)
		}
		rows = append(rows, []string{name, g.Kind, g.Part, groundPlace(g)})
	}
	if len(rows) > 0 {
		p.Heading("Grounds")
		p.Table([]column{named("ground"), named("kind"), named("part"), named("where, mm")}, rows)
	}
}

// groundPlace says where a ground is: at one place, at several in a region, or over a region.
func groundPlace(g answer.GroundLine) string {
	from, to := place(g.FromMM), place(g.ToMM)
	switch {
	case len(g.PlacesMM) == 1:
		return "at " + place(g.PlacesMM[0])
	case from == to:
		return "at " + from
	case len(g.PlacesMM) > 0:
		return phrase.Count(len(g.PlacesMM), "place") + " in " + from + " to " + to
	}
	return from + " to " + to
}

// contact writes where two parts touch, mm: the sides of a face and the axis it looks along, the length of a line, the
// place of a point, or the measures of the box in which one part stands in the other.
func contact(j answer.JointLine) string {
	extent := extentOf(j.FromMM, j.ToMM)
	var sides []string
	var has, lacks machine.Axis
	for a := machine.X; a <= machine.Z; a++ {
		if side := number.Length(extent[a]); side != "0" {
			sides, has = append(sides, side), a
		} else {
			lacks = a
		}
	}
	switch len(sides) {
	case 0:
		return "at a point " + place(j.FromMM)
	case 1:
		return sides[0] + " along " + has.String()
	case 2:
		return strings.Join(sides, " × ") + " facing " + lacks.String()
	}
	return strings.Join(sides, " × ")
}

// place writes a place, mm.
func place(mm [3]float64) string {
	return "(" + number.Length(mm[0]) + ", " + number.Length(mm[1]) + ", " + number.Length(mm[2]) + ")"
}
