package report

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// mostGridPlaces is how many positions of each axis of a plane a text lists; CSV and JSON have them all.
const mostGridPlaces = 5

// planeInWords names the two axes of a plane, and its path where that has another name.
func planeInWords(m answer.Map) string {
	axes := fmt.Sprintf("axes %s and %s", wrap.OneLine(m.Axes[0]), wrap.OneLine(m.Axes[1]))
	if m.Name == m.Axes[0]+", "+m.Axes[1] {
		return axes
	}
	return fmt.Sprintf("%s, path %s", axes, phrase.Quoted(m.Name))
}

// checkMap says what keeps a map from being shown.
func checkMap(m answer.Map) error {
	fits := func(what string, rows int, row func(int) int) error {
		if rows != len(m.AtMM[0]) {
			return fmt.Errorf("map %q has %d positions of %s and %d rows of %s", m.Name, len(m.AtMM[0]), m.Axes[0],
				rows, what)
		}
		for i := range rows {
			if row(i) != len(m.AtMM[1]) {
				return fmt.Errorf("map %q has %d positions of %s and %d values of %s in a row", m.Name, len(m.AtMM[1]),
					m.Axes[1], row(i), what)
			}
		}
		return nil
	}
	for k, at := range m.AtMM {
		if len(at) < 2 || !slices.IsSorted(at) || !(at[len(at)-1] > at[0]) {
			return fmt.Errorf("map %q goes nowhere along %s", m.Name, m.Axes[k])
		}
	}
	if err := fits("stiffness", len(m.SoftestNPerUm), func(i int) int { return len(m.SoftestNPerUm[i]) }); err != nil {
		return err
	}
	for _, l := range m.Loads {
		if err := fits("movement", len(l.TipUm), func(i int) int { return len(l.TipUm[i]) }); err != nil {
			return err
		}
	}
	return nil
}

// positionIn names a position of two axes: "x 40 mm, y -20 mm".
func positionIn(m answer.Map, at [2]float64) string {
	return fmt.Sprintf("%s %s mm, %s %s mm", wrap.OneLine(m.Axes[0]), number.Along(at[0]), wrap.OneLine(m.Axes[1]),
		number.Along(at[1]))
}

// overPlanes says what the ranges over planes stand on.
const overPlanes = "nine of ten such machines, drawn with the axes where they stand and taken to differ by the same share " +
	"all over a plane"

// maps writes what the tip does over each plane of an option.
func (p *page) maps(r answer.Result) {
	for _, m := range r.Maps {
		p.Heading(wrap.OneLine(r.Name) + ": " + planeInWords(m))
		places := len(m.AtMM[0]) * len(m.AtMM[1])
		missing := withoutWork(m)
		if len(missing) == places {
			p.Say("Nowhere is work under the tool.")
			continue
		}
		p.Say(stiffnessOver(m, r.OverRange(m.Name, "")))
		for _, l := range m.Loads {
			p.Say(movementOver(m, l, r.OverRange(m.Name, l.Load)))
		}
		if len(missing) > 0 {
			p.Say(fmt.Sprintf("At %d of %d positions no work is under the tool: %s. They are left out.", len(missing),
				places, extentIn(m, missing)))
		}
		if r.OverRange(m.Name, "") != nil {
			p.Say("In brackets: " + overPlanes + ".")
		}
		if hardest := hardestLoad(m); hardest != nil && !sameAllOver(m, *hardest) {
			p.mapTable(m, *hardest)
		}
		p.mapBeside(r, m)
	}
}

// stiffnessOver says where over a plane the tip is softest.
func stiffnessOver(m answer.Map, of *answer.OverRange) string {
	_, most, _ := softestOf(m).Span()
	value := number.Significant(m.Softest.Value) + " N/µm" + endsOver(of)
	if most-m.Softest.Value < alike*most {
		return fmt.Sprintf("The tip is about as stiff all over: %s in its softest direction.", value)
	}
	return fmt.Sprintf("In its softest direction the tip is least stiff at %s: %s.", positionIn(m, m.Softest.AtMM), value)
}

// movementOver says of one load where the tip moves most, and how much of the plane keeps the tolerance.
func movementOver(m answer.Map, l answer.MapLoad, of *answer.OverRange) string {
	kept := ""
	if l.WithinPercent != nil {
		kept = " " + keptWithRange(m, *l.WithinPercent, of) + "."
	}
	switch {
	case l.Worst.Value < number.Noise:
		return fmt.Sprintf("Under %s the tip does not move anywhere.%s", phrase.Quoted(l.Load), kept)
	case sameAllOver(m, l):
		return fmt.Sprintf("Under %s the movement is about the same all over: %s µm%s.%s", phrase.Quoted(l.Load),
			number.Significant(l.Worst.Value), endsOver(of), kept)
	}
	return fmt.Sprintf("Under %s the tip moves most at %s: %s µm%s%s.%s", phrase.Quoted(l.Load), positionIn(m, l.Worst.AtMM),
		number.Significant(l.Worst.Value), endsOver(of), wayAt(m, l), kept)
}

// endsOver are the ends of the range at the worst position; nothing where none was drawn.
func endsOver(of *answer.OverRange) string {
	if of == nil {
		return ""
	}
	return " (" + phrase.Span(answer.Range{Low: of.Worst90[0], High: of.Worst90[1]}) + ")"
}

// sameAllOver tells whether a load moves the tip about alike at all positions.
func sameAllOver(m answer.Map, l answer.MapLoad) bool {
	least, most, _ := sizesOf(m, l).Span()
	return most-least < alike*most || most < number.Noise
}

// wayAt says which way the tip moves where it moves most.
func wayAt(m answer.Map, l answer.MapLoad) string {
	i, k := slices.Index(m.AtMM[0], l.Worst.AtMM[0]), slices.Index(m.AtMM[1], l.Worst.AtMM[1])
	if i < 0 || k < 0 || l.TipUm[i][k] == nil {
		return ""
	}
	return ", " + phrase.Way(*l.TipUm[i][k])
}

// keptInWords says how much of a plane keeps its tolerance: "Within 20 µm at 78 % of the positions".
func keptInWords(m answer.Map, percentKept float64) string {
	switch tolerance := number.Given(m.ToleranceUm); {
	case percentKept <= 0:
		return "Nowhere within " + tolerance + " µm"
	case percentKept >= 100:
		return "Within " + tolerance + " µm all over"
	default:
		return fmt.Sprintf("Within %s µm at %s %% of the positions", tolerance, phrase.Share(percentKept))
	}
}

// keptWithRange says the same with the range of it, where that was drawn and is one.
func keptWithRange(m answer.Map, percentKept float64, of *answer.OverRange) string {
	words := keptInWords(m, percentKept)
	if of == nil || of.WithinPercent90 == nil || of.WithinPercent90[0] == of.WithinPercent90[1] {
		return words
	}
	return fmt.Sprintf("%s (%s to %s %%)", words, phrase.Share(of.WithinPercent90[0]), phrase.Share(of.WithinPercent90[1]))
}

// withoutWork are the positions where no work is under the tool.
func withoutWork(m answer.Map) (missing [][2]float64) {
	for i, x := range m.AtMM[0] {
		for k, y := range m.AtMM[1] {
			if m.SoftestNPerUm[i][k] == nil {
				missing = append(missing, [2]float64{x, y})
			}
		}
	}
	return missing
}

// extentIn says where in a plane some positions are: each of a few, or between which bounds.
func extentIn(m answer.Map, at [][2]float64) string {
	const few = 3
	if len(at) <= few {
		var words []string
		for _, a := range at {
			words = append(words, positionIn(m, a))
		}
		return strings.Join(words, "; ")
	}
	lo, hi := at[0], at[0]
	for _, a := range at {
		for k := range a {
			lo[k], hi[k] = min(lo[k], a[k]), max(hi[k], a[k])
		}
	}
	var words []string
	for k, name := range m.Axes {
		if lo[k] == hi[k] {
			words = append(words, fmt.Sprintf("%s at %s mm", wrap.OneLine(name), number.Along(lo[k])))
		} else {
			words = append(words, fmt.Sprintf("%s between %s and %s mm", wrap.OneLine(name), number.Along(lo[k]),
				number.Along(hi[k])))
		}
	}
	return strings.Join(words, ", ")
}

// hardestLoad is the load that moves the tip most anywhere, the first of equals; nil without loads.
func hardestLoad(m answer.Map) *answer.MapLoad {
	var worst *answer.MapLoad
	for i := range m.Loads {
		if worst == nil || number.Exceeds(m.Loads[i].Worst.Value, worst.Worst.Value) {
			worst = &m.Loads[i]
		}
	}
	return worst
}

// mapTable lists how far the tip moves under a load at some positions, ends and middles among them: the first axis
// downwards, the second across.
func (p *page) mapTable(m answer.Map, l answer.MapLoad) {
	p.Line("")
	p.Say(fmt.Sprintf("Movement of the tip under %s, µm:", phrase.Quoted(l.Load)))
	heads := []column{measured(fmt.Sprintf("%s \\ %s, mm", wrap.OneLine(m.Axes[0]), wrap.OneLine(m.Axes[1])))}
	columns := table.Spread(len(m.AtMM[1]), mostGridPlaces)
	for _, k := range columns {
		heads = append(heads, measured(number.Along(m.AtMM[1][k])))
	}
	beyond, missing := false, false
	var rows [][]string
	for _, i := range table.Spread(len(m.AtMM[0]), mostGridPlaces) {
		row := []string{number.Along(m.AtMM[0][i])}
		for _, k := range columns {
			um := l.TipUm[i][k]
			switch {
			case um == nil:
				row, missing = append(row, absent), true
			case m.ToleranceUm > 0 && number.Norm(*um) > m.ToleranceUm:
				row, beyond = append(row, beyondMark+number.Significant(number.Norm(*um))), true
			default:
				row = append(row, number.Significant(number.Norm(*um)))
			}
		}
		rows = append(rows, row)
	}
	p.Table(heads, rows)
	var notes []string
	if beyond {
		notes = append(notes, fmt.Sprintf("%s more than the tolerance of %s µm", beyondMark,
			number.Given(m.ToleranceUm)))
	}
	if missing {
		notes = append(notes, absent+" no work under the tool")
	}
	if notes != nil {
		p.Item("  ", strings.Join(notes, "; ")+".")
	}
}

// beyondMark stands before a movement that is more than the tolerance.
const beyondMark = "*"

// mapBeside sets the beam model's answer over a plane beside that of solid bodies; nothing when there is none.
func (p *page) mapBeside(r answer.Result, solid answer.Map) {
	if r.Section == nil {
		return
	}
	i := slices.IndexFunc(r.Section.Maps, func(m answer.Map) bool { return m.Name == solid.Name })
	if i < 0 {
		return
	}
	beam := r.Section.Maps[i]
	rows := [][]string{besideCells("least stiffness, N/µm", beam.Softest.Value, solid.Softest.Value)}
	for _, l := range solid.Loads {
		k := slices.IndexFunc(beam.Loads, func(o answer.MapLoad) bool { return o.Load == l.Load })
		if k < 0 {
			continue
		}
		rows = append(rows, besideCells("most movement under "+phrase.Quoted(l.Load)+", µm", beam.Loads[k].Worst.Value,
			l.Worst.Value))
		if b, s := beam.Loads[k].WithinPercent, l.WithinPercent; b != nil && s != nil {
			rows = append(rows, []string{"  within the tolerance, %", number.Percent(*b), number.Percent(*s), ""})
		}
	}
	p.besideTable(rows)
}

// twoDigits writes a number as it is beside its range.
func twoDigits(v float64) string { return number.Digits(v, phrase.RangedDigits) }
