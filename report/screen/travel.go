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

// flat is the share of a movement or a stiffness below which its change along a path or over a plane is no change that
// anybody could use.
const flat = 0.01

// flatWord says that something does not change.
const flatWord = "flat"

// unseen is a straightness that nobody can measure, µm.
const unseen = 0.01

// Travel writes a screen of how the tip moves along each path and over each plane, for each option of an answer. Tables
// are those that can be asked for.
func Travel(w io.Writer, a answer.Answer, tables []string) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	return fill(w, a.Asks, func(s *sheet) {
		s.Title(wrap.OneLine(a.Machine) + ": the tip along its travel")
		most := s.of(6, 1)
		anything := false
		for i, r := range a.Options {
			if len(r.Travel)+len(r.Maps)+len(r.Straight) == 0 {
				continue
			}
			anything = true
			if i >= most {
				s.Line("")
				s.Say(fmt.Sprintf("%s more: %s NAME.", phrase.Count(len(a.Options)-most, "option"), s.asks.ForOption()))
				break
			}
			s.Heading(wrap.OneLine(r.Name))
			s.paths(r)
			s.softestAlong(r)
			s.straight(r)
			s.planes(r)
		}
		if !anything {
			s.Say("There is no path with a load on the tool tip, so there is nothing to follow. A path is a line of `travel:` in " +
				"the file: `bed: {along: y, from: -100, to: 100, tolerance: 20 um}`.")
		} else {
			s.Heading("How sure")
			over := ""
			if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Sure != nil && len(r.Sure.Over) > 0 }) {
				over = "Over planes, what they do where the axes stand is taken to hold by the same share all over. "
			}
			s.Item("  ", "Nine of ten machines built like this keep their tolerance over the lengths in brackets. "+over+
				"An estimate, not a certified calculation.")
		}
		s.more(tables)
	})
}

// paths is the table of an option's paths under each load.
func (s *sheet) paths(r answer.Result) {
	var rows [][]string
	most := s.of(9, 3)
	for _, t := range r.Travel[:min(len(r.Travel), most)] {
		rows = append(rows, pathRow(r, t))
	}
	if rows == nil {
		return
	}
	s.Table([]table.Column{table.Named("path"), table.Named("load"), table.Named("within its tolerance, mm"),
		table.Named("most"), table.Named("least")}, rows)
	if more := len(r.Travel) - most; more > 0 {
		s.Item("  ", fmt.Sprintf("%d more: %s places.", more, s.asks.ForTables()))
	}
}

// pathRow is a path under a load: where it keeps its tolerance, where the tip moves most and where least.
func pathRow(r answer.Result, t answer.Travel) []string {
	worst, best := 0, 0
	for i := range t.TipUm {
		if number.Exceeds(number.Norm(t.TipUm[i]), number.Norm(t.TipUm[worst])) {
			worst = i
		}
		if number.Exceeds(number.Norm(t.TipUm[best]), number.Norm(t.TipUm[i])) {
			best = i
		}
	}
	most, least := number.Norm(t.TipUm[worst]), number.Norm(t.TipUm[best])
	at := func(i int) string {
		return number.Significant(number.Norm(t.TipUm[i])) + " µm at " + number.Along(t.AtMM[i])
	}
	row := []string{wrap.OneLine(t.Path), wrap.OneLine(t.Load), stretch(r, t), at(worst), at(best)}
	if most-least <= flat*most {
		row[3], row[4] = number.Significant(most)+" µm", flatWord
	}
	if lost := t.LostMotionUm; lost != nil && number.Norm(*lost) >= number.Noise {
		row[3] += fmt.Sprintf(", and %s by play", number.Significant(number.Norm(*lost)))
	}
	return row
}

// stretch says where a path keeps its tolerance, with the range of how long that is where it was drawn.
func stretch(r answer.Result, t answer.Travel) string {
	tolerance := number.Given(t.ToleranceUm) + " µm: "
	whole := math.Abs(t.AtMM[len(t.AtMM)-1] - t.AtMM[0])
	length := 0.0
	if t.WithinMM != nil {
		length = math.Abs(t.WithinMM[1] - t.WithinMM[0])
	}
	drawn := ""
	if of := r.StretchRange(t.Path, t.Load); of != nil {
		low, high := number.Along(of.Low), number.Along(of.High)
		if drawn = fmt.Sprintf(" (%s to %s)", low, high); low == high && low == number.Along(length) {
			drawn = "" // in all of them
		}
	}
	switch {
	case !(t.ToleranceUm > 0):
		return "none given"
	case t.WithinMM == nil:
		return tolerance + "nowhere" + drawn
	case length >= whole:
		return tolerance + "all of " + number.Along(whole) + drawn
	}
	return fmt.Sprintf("%s%s to %s, %s%s of %s", tolerance, number.Along(t.WithinMM[0]), number.Along(t.WithinMM[1]),
		number.Along(length), drawn, number.Along(whole))
}

// softestAlong says where along each axis that runs the tip is softest.
func (s *sheet) softestAlong(r answer.Result) {
	var words, axes []string
	for _, t := range r.Travel {
		if t.SoftestNPerUm == nil || slices.Contains(axes, t.Axis+"\n"+t.Path) {
			continue
		}
		axes = append(axes, t.Axis+"\n"+t.Path)
		least, most := 0, 0
		for i, k := range t.SoftestNPerUm {
			if number.Exceeds(t.SoftestNPerUm[least], k) {
				least = i
			}
			if number.Exceeds(k, t.SoftestNPerUm[most]) {
				most = i
			}
		}
		soft, stiff := t.SoftestNPerUm[least], t.SoftestNPerUm[most]
		word := fmt.Sprintf("along %[1]s %[2]s N/µm at %[1]s %[3]s mm", wrap.OneLine(t.Axis), number.Significant(soft),
			number.Along(t.AtMM[least]))
		if stiff-soft <= flat*stiff {
			word = fmt.Sprintf("along %s %s, %s N/µm", wrap.OneLine(t.Axis), flatWord, number.Significant(soft))
		}
		words = append(words, word)
	}
	if words != nil {
		s.Item("  ", "Softest "+strings.Join(words, "; ")+".")
	}
}

// straight says how straight each axis runs under the machine's own weight.
func (s *sheet) straight(r answer.Result) {
	var axes []string
	words := map[string][]string{}
	for _, k := range r.Straight {
		name := fmt.Sprintf("%s from %s to %s", wrap.OneLine(k.Axis), number.Along(k.AtMM[0]),
			number.Along(k.AtMM[len(k.AtMM)-1]))
		if !slices.Contains(axes, name) {
			axes = append(axes, name)
		}
		if k.Um >= unseen {
			words[name] = append(words[name], fmt.Sprintf("%s µm in %s", number.Significant(k.Um), k.Across))
		}
	}
	for i, name := range axes {
		if words[name] == nil {
			axes[i] = name + ": " + flatWord
		} else {
			axes[i] = name + ": " + strings.Join(words[name], ", ")
		}
	}
	if axes != nil {
		s.Item("  ", "Straight under its own weight: "+strings.Join(axes, "; ")+".")
	}
}

// planes says what the tip does over each plane.
func (s *sheet) planes(r answer.Result) {
	most := s.of(6, 2)
	n := 0
	for _, m := range r.Maps {
		if n++; n > most {
			break
		}
		name := fmt.Sprintf("Over %s and %s: ", wrap.OneLine(m.Axes[0]), wrap.OneLine(m.Axes[1]))
		if !anyWork(m) {
			s.Item("  ", name+"nowhere is work under the tool.")
			continue
		}
		words := []string{"stiffness " + overPlane(m, m.Softest.AtMM, "softest ",
			overRanged(m.Softest.Value, "N/µm", r.OverRange(m.Name, "")), isFlat(stiffnessesOf(m)))}
		for _, l := range m.Loads {
			if n++; n > most {
				break
			}
			of := r.OverRange(m.Name, l.Load)
			word := wrap.OneLine(l.Load) + " " + overPlane(m, l.Worst.AtMM, "most ", overRanged(l.Worst.Value, "µm", of),
				isFlat(sizesOf(l)))
			if l.WithinPercent != nil {
				word += fmt.Sprintf(", within %s µm on %s %%%s of it", number.Given(m.ToleranceUm),
					phrase.Share(*l.WithinPercent), keptEnds(of))
			}
			words = append(words, word)
		}
		s.Item("  ", name+strings.Join(words, "; ")+".")
	}
}

// overRanged writes the worst number over a plane: with two digits and its range where that was drawn.
func overRanged(value float64, unit string, of *answer.OverRange) string {
	if of == nil {
		return number.Significant(value) + " " + unit
	}
	ends := phrase.Span(answer.Range{Low: of.Worst90[0], High: of.Worst90[1]})
	return fmt.Sprintf("%s (%s) %s", number.Digits(value, phrase.RangedDigits), ends, unit)
}

// keptEnds is the range of the share of a plane that keeps its tolerance, in brackets; nothing where there is none.
func keptEnds(of *answer.OverRange) string {
	if of == nil || of.WithinPercent90 == nil || of.WithinPercent90[0] == of.WithinPercent90[1] {
		return ""
	}
	ends := of.WithinPercent90
	return fmt.Sprintf(" (%s to %s)", phrase.Share(ends[0]), phrase.Share(ends[1]))
}

// overPlane says where over a plane a number is at its worst, or that it is flat.
func overPlane(m answer.Map, at [2]float64, how, value string, isFlat bool) string {
	if isFlat {
		return flatWord + ", " + value
	}
	return fmt.Sprintf("%s%s at %s %s, %s %s mm", how, value, wrap.OneLine(m.Axes[0]), number.Along(at[0]),
		wrap.OneLine(m.Axes[1]), number.Along(at[1]))
}

// anyWork tells whether work is under the tool anywhere on a plane.
func anyWork(m answer.Map) bool { return len(stiffnessesOf(m)) > 0 }

// stiffnessesOf are those at all positions with work under the tool.
func stiffnessesOf(m answer.Map) (list []float64) {
	for _, row := range m.SoftestNPerUm {
		for _, k := range row {
			if k != nil {
				list = append(list, *k)
			}
		}
	}
	return list
}

// sizesOf are those of a load's movements at all positions with work under the tool.
func sizesOf(l answer.MapLoad) (list []float64) {
	for _, row := range l.TipUm {
		for _, um := range row {
			if um != nil {
				list = append(list, number.Norm(*um))
			}
		}
	}
	return list
}

// isFlat tells whether numbers change by next to nothing.
func isFlat(list []float64) bool {
	return len(list) == 0 || slices.Max(list)-slices.Min(list) <= flat*slices.Max(list)
}
