package screen

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// Sweep writes a screen of what the machine does as values run over ranges, and where more of them stops paying. Tables
// are those that can be asked for.
func Sweep(w io.Writer, a answer.Sweep, tables []string) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	return fill(w, a.Asks, func(s *sheet) {
		var over []string
		for _, v := range a.Values {
			over = append(over, fmt.Sprintf("%s from %s to %s", wrap.OneLine(v.Name), number.Given(v.At[0]),
				phrase.WithUnit(number.Given(v.At[len(v.At)-1]), v.Unit)))
		}
		s.Title(wrap.OneLine(a.Machine) + ": " + wrap.OneLine(a.Option) + ": " + phrase.List(over))
		s.knees(a)
		if len(a.Values) == 1 {
			s.places(a)
		} else {
			s.grid(a)
		}
		s.leftOut(a)
		s.more(tables)
	})
}

// knees says of each value where more of it stops paying: by the stiffness, and by the movement under each load; those
// that say the same together.
func (s *sheet) knees(a answer.Sweep) {
	if len(a.Knees) == 0 {
		s.Say("There is no tool, so there is no tip that gets steadier.")
		return
	}
	most := s.of(6, 1)
	for _, v := range a.Values {
		var says []string
		by, alike := map[string][]string{}, map[string][]answer.Knee{}
		n := 0
		for _, k := range a.Knees {
			if k.Along != v.Name {
				continue
			}
			if n++; n > most {
				break
			}
			of, words := "the stiffness", knee(v, k)
			if k.Load != nil {
				of = phrase.Quoted(*k.Load)
			}
			if by[words] == nil {
				says = append(says, words)
			}
			by[words], alike[words] = append(by[words], of), append(alike[words], k)
		}
		for i, words := range says {
			says[i] = "by " + phrase.List(by[words]) + " it " + words
			if chance := phrase.KneeChance(alike[words]...); chance != "" {
				says[i] += " (" + chance + ")"
			}
		}
		s.Item("", "More "+wrap.OneLine(v.Name)+withOther(a, v)+": "+strings.Join(says, "; ")+".")
	}
	for _, words := range []string{phrase.DrawnOutside(a), phrase.NotSwept(a), phrase.Idle(a)} {
		if words != "" {
			s.Item("", words)
		}
	}
}

// withOther says where the other of two values stands.
func withOther(a answer.Sweep, v answer.SweptValue) string {
	for _, k := range a.Knees {
		for _, o := range a.Values {
			if k.Along == v.Name && k.AtOther != nil && o.Name != v.Name {
				return fmt.Sprintf(" with %s %s", wrap.OneLine(o.Name), phrase.WithUnit(given(*k.AtOther), o.Unit))
			}
		}
	}
	return ""
}

// knee says how a curve goes as there is more of a value.
func knee(v answer.SweptValue, k answer.Knee) string {
	at := ""
	if k.At != nil {
		at = phrase.WithUnit(given(*k.At), v.Unit)
	}
	less := k.Toward == "less"
	switch k.Kind {
	case answer.LevelsOff:
		words := fmt.Sprintf("stops paying at %s, where a step gains %s %% of one before", at,
			number.Digits(100*k.Beyond/k.Before, phrase.RangedDigits))
		if less {
			return "is worse, and less " + words
		}
		return words
	case answer.BestInside:
		return "is best at " + at + ", worse on both sides"
	case answer.WorstInside:
		return "is worst at " + at + ", better on both sides"
	case answer.Rising:
		if less {
			return "is worse, and less pays the more the farther it goes"
		}
		return "pays the more the farther it goes"
	case answer.Steady:
		if less {
			return "is worse, about as much at the end as at the beginning"
		}
		return "pays about as much at the end as at the beginning"
	case answer.Unmoved:
		return "makes next to no difference, less than 3 % in all"
	}
	return "has too few places to say"
}

// given writes a value of a range: as it is when that is short.
func given(at float64) string {
	if short := number.Given(at); len(short) <= len("-1234.5") {
		return short
	}
	return number.Significant(at)
}

// places is the table of a value's places: stiffness, movements of the loads on the tip, mass and drilling.
func (s *sheet) places(a answer.Sweep) {
	v := a.Values[0]
	columns := []table.Column{table.Measured(phrase.SweptHead(v))}
	tool := a.Places[0].Tip != nil
	if tool {
		columns = append(columns, table.Measured("softest, N/µm"))
	}
	loads := sweptLoads(a, s.of(3, 1))
	for _, l := range loads {
		columns = append(columns, table.Measured(wrap.OneLine(l)+", µm"))
	}
	columns = append(columns, table.Measured("kg"), table.Measured("hole operations"), table.Named(""))
	var rows [][]string
	for _, i := range table.Spread(len(a.Places), s.of(16, 6)) {
		p := a.Places[i]
		row := []string{given(p.At[0])}
		if tool {
			row = append(row, number.Significant(p.Tip.StiffnessNPerUm.Softest))
		}
		for _, name := range loads {
			cell := number.Absent
			if l := p.Load(name); l != nil && l.TipSizeUm != nil {
				cell = number.Significant(*l.TipSizeUm)
			}
			row = append(row, cell)
		}
		mark := ""
		if p.At[0] == v.Drawn {
			mark = "as drawn"
		}
		rows = append(rows, append(row, number.Significant(p.MassKg), fmt.Sprint(p.Holes.Operations), mark))
	}
	s.Line("")
	s.Table(columns, rows)
}

// sweptLoads are the loads on the tip, at most so many, those that move it farthest at the first place.
func sweptLoads(a answer.Sweep, most int) (names []string) {
	loads := slices.Clone(a.Places[0].Loads)
	loads = slices.DeleteFunc(loads, func(l answer.SweptLoad) bool { return l.TipSizeUm == nil })
	slices.SortStableFunc(loads, func(x, y answer.SweptLoad) int {
		return cmp.Or(cmp.Compare(behind(x), behind(y)), cmp.Compare(number.AsWritten(*y.TipSizeUm),
			number.AsWritten(*x.TipSizeUm)))
	})
	for _, l := range loads[:min(len(loads), most)] {
		names = append(names, l.Name)
	}
	return names
}

// behind puts loads that do not push the tip behind those that do.
func behind(l answer.SweptLoad) int {
	if l.OnTip {
		return 0
	}
	return 1
}

// grid is the least stiffness over two values: the first downwards, the second across.
func (s *sheet) grid(a answer.Sweep) {
	down, across := a.Values[0], a.Values[1]
	what, cell := "Stiffness where the tip is softest, N/µm",
		func(p answer.SweptStep) string { return number.Significant(p.Tip.StiffnessNPerUm.Softest) }
	if a.Places[0].Tip == nil {
		what, cell = "Mass, kg", func(p answer.SweptStep) string { return number.Significant(p.MassKg) }
	}
	s.Heading(what)
	columns := []table.Column{table.Measured(phrase.SweptHead(down) + " \\ " + phrase.SweptHead(across))}
	some := table.Spread(len(across.At), mostAcross)
	for _, i := range some {
		columns = append(columns, table.Measured(given(across.At[i])))
	}
	var rows [][]string
	for _, i := range table.Spread(len(down.At), s.of(16, 6)) {
		row := []string{given(down.At[i])}
		for _, k := range some {
			text := number.Absent
			for _, p := range a.Places {
				if p.At[0] == down.At[i] && p.At[1] == across.At[k] {
					text = cell(p)
				}
			}
			row = append(row, text)
		}
		rows = append(rows, row)
	}
	s.Table(columns, rows)
}

// mostAcross is how many places of a second value stand beside each other.
const mostAcross = 7

// leftOut says at how many places the values make no machine, and why at the first.
func (s *sheet) leftOut(a answer.Sweep) {
	if len(a.LeftOut) == 0 {
		return
	}
	l := a.LeftOut[0]
	var at []string
	for k, v := range a.Values {
		at = append(at, wrap.OneLine(v.Name)+" "+phrase.WithUnit(given(l.At[k]), v.Unit))
	}
	s.Line("")
	s.Say(fmt.Sprintf("Left out: %s, the first %s: %s", phrase.Count(len(a.LeftOut), "place"), strings.Join(at, ", "),
		wrap.OneLine(l.Why)))
}
