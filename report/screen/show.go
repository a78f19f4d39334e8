package screen

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// Show writes a screen of what is in a machine: what it weighs and takes to drill, its parts, and the joints that were
// found. Parts and joints that differ by nothing but their names share a line. Tables are those that can be asked for.
func Show(w io.Writer, inv answer.Inventory, tables []string) error {
	if err := number.CheckFinite(inv); err != nil {
		return err
	}
	return fill(w, inv.Asks, func(s *sheet) {
		title := wrap.OneLine(inv.Machine)
		if inv.Option != "" {
			title += ": " + wrap.OneLine(inv.Option)
		}
		s.Title(title)
		s.inAll(inv)
		s.parts(inv)
		s.joints(inv)
		s.standsAndRuns(inv)
		s.yields(inv)
		s.more(tables)
	})
}

// inAll says what the machine weighs, how large it is and what there is to drill.
func (s *sheet) inAll(inv answer.Inventory) {
	var size [3]float64
	for k := range size {
		size[k] = math.Abs(inv.ExtentToMM[k] - inv.ExtentFromMM[k])
	}
	mass := number.Significant(inv.MassKg) + " kg"
	if inv.AxesKg > 0 {
		mass += fmt.Sprintf(", and %s kg of rails and carriages", number.Significant(inv.AxesKg))
	}
	s.Say(fmt.Sprintf("%s, %s and %s; %s; %s mm overall.", phrase.Count(len(inv.Parts), "part"),
		phrase.Count(len(inv.Joints), "joint"), phrase.Count(len(inv.Grounds), "ground"), mass, number.Sizes(size)))
	drilled := phrase.Drilled(inv.Holes)
	if drilled == "" {
		s.Say("Nothing to drill.")
		return
	}
	s.Say(fmt.Sprintf("To drill: %s, about %s at a drill press.", drilled, phrase.Duration(inv.Holes.Minutes)))
	drills, bores, taps := phrase.Drills(inv.HoleList)
	lengths := func(list []float64) string {
		var words []string
		for _, mm := range list {
			words = append(words, number.Length(mm))
		}
		return phrase.List(words) + " mm"
	}
	var tools []string
	if drills != nil {
		tools = append(tools, "drills "+lengths(drills))
	}
	if taps != nil {
		tools = append(tools, "taps "+phrase.List(taps))
	}
	if bores != nil {
		tools = append(tools, "bores "+lengths(bores))
	}
	if words := strings.Join(tools, ", "); words != "" {
		s.Say(phrase.Capital(words) + ".")
	}
	var open []string
	for _, o := range inv.HolesOpen {
		if !slices.Contains(open, o.What) {
			open = append(open, o.What)
		}
	}
	if open != nil {
		s.Say("Not counted (the table of holes says why): " + phrase.List(open) + ".")
	}
}

// alike is what some things have in common, and their names.
type alike struct {
	cells []string
	names []string
}

// gather puts things with the same cells together, in the order in which they first come.
func gather(list []alike, name string, cells ...string) []alike {
	i := slices.IndexFunc(list, func(a alike) bool { return slices.Equal(a.cells, cells) })
	if i < 0 {
		return append(list, alike{cells: cells, names: []string{wrap.OneLine(name)}})
	}
	list[i].names = append(list[i].names, wrap.OneLine(name))
	return list
}

// rows are the things, a line for those that are alike, at most so many; the last line says how many more there are.
func (s *sheet) rows(list []alike, most int, what, table string) (rows [][]string) {
	left := 0
	for i, a := range list {
		if i >= most {
			left += len(a.names)
			continue
		}
		rows = append(rows, append([]string{strings.Join(a.names, ", ")}, a.cells...))
	}
	if left > 0 {
		last := make([]string, len(rows[0]))
		last[0] = fmt.Sprintf("%s more: %s %s", phrase.Count(left, what), s.asks.ForTables(), table)
		rows = append(rows, last)
	}
	return rows
}

func (s *sheet) parts(inv answer.Inventory) {
	var list []alike
	for _, p := range inv.Parts {
		what := phrase.Kind(inv, p)
		if p.Section != "" {
			what = p.Section
		}
		list = gather(list, p.Name, what, number.Sizes(p.SizeMM), p.Material, number.Significant(p.MassKg))
	}
	if list == nil {
		return
	}
	s.Line("")
	s.Table([]table.Column{table.Named("part"), table.Named("kind"), table.Named("x × y × z, mm"), table.Named("material"),
		table.Measured("kg")}, s.rows(list, s.of(14, 6), "part", "parts"))
}

func (s *sheet) joints(inv answer.Inventory) {
	var list []alike
	for _, j := range inv.Joints {
		how := j.Kind
		if j.Screw != "" {
			how = fmt.Sprintf("%d × %s", len(j.PlacesMM), j.Screw)
		}
		if j.Shim != "" {
			how += ", " + j.Shim
		}
		list = gather(list, j.Name, how, contact(j), j.Surface)
	}
	if list == nil {
		return
	}
	s.Line("")
	s.Table([]table.Column{table.Named("joint"), table.Named("held by"), table.Named("touch, mm"), table.Named("faces")},
		s.rows(list, s.of(12, 6), "joint", "joints"))
}

// contact writes where two parts touch: the sides of a face, the length of a line, or that it is a point.
func contact(j answer.JointLine) string {
	var sides []string
	for k := range j.FromMM {
		if side := number.Length(math.Abs(j.ToMM[k] - j.FromMM[k])); side != "0" {
			sides = append(sides, side)
		}
	}
	if sides == nil {
		return "a point"
	}
	return strings.Join(sides, " × ")
}

// standsAndRuns says what the machine stands on and which axes it has.
func (s *sheet) standsAndRuns(inv answer.Inventory) {
	type held struct{ part, kind string }
	var on []held
	counts := map[held]int{}
	for _, g := range inv.Grounds {
		h := held{wrap.OneLine(g.Part), g.Kind}
		if counts[h] == 0 {
			on = append(on, h)
		}
		counts[h] += max(1, len(g.PlacesMM))
	}
	var stands []string
	for _, h := range on {
		words := phrase.Count(counts[h], h.kind)
		if h.kind == "feet" {
			words = fmt.Sprintf("%d %s", counts[h], h.kind)
		}
		stands = append(stands, h.part+" on "+words)
	}
	s.Line("")
	most := s.of(6, 2)
	if more := len(stands) - most; more > 0 {
		stands = append(stands[:most], fmt.Sprintf("%d more", more))
	}
	s.Say("Stands: " + strings.Join(stands, "; ") + ".")
	var runs []string
	for _, a := range inv.Axes {
		of := []string{}
		for _, g := range a.Guides {
			if !slices.Contains(of, g.Kind) {
				of = append(of, g.Kind)
			}
		}
		for _, d := range a.Drives {
			of = append(of, d.Kind)
		}
		runs = append(runs, fmt.Sprintf("%s %s to %s mm (%s)", wrap.OneLine(a.Name), number.Length(a.TravelMM[0]),
			number.Length(a.TravelMM[1]), strings.Join(of, ", ")))
	}
	if runs != nil {
		s.Say("Runs: " + strings.Join(runs, "; ") + ".")
	}
}

// yields says what of the parts is near its yield, and what else there is to know.
func (s *sheet) yields(inv answer.Inventory) {
	for _, l := range ofStress(nil, inv.Stress) {
		if l.Share >= 1 {
			s.Alarm("", fmt.Sprintf("Part %s would yield under %s.", strings.TrimPrefix(l.What, yieldOf), l.Under))
		}
	}
	if n := len(inv.Notes); n > 0 {
		s.Say(fmt.Sprintf("%s to read: %s notes.", phrase.Count(n, "note"), s.asks.ForTables()))
	}
	lift := "Lift heavy plates with help"
	if part, kg, help := phrase.Heavy(inv); help {
		lift = fmt.Sprintf("Lift %s (%s kg) with help", wrap.OneLine(part), number.Significant(kg))
	}
	s.Say(lift + "; clamp work under the drill; the spindle unplugged while you screw.")
}
