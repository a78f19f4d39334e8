package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// WriteAlign writes for a person what parts that do not line up lock in, and what must be aligned.
func WriteAlign(w io.Writer, a answer.Answer) error {
	return writeOptions(w, a, func(p *page, r answer.Result) {
		p.misfits(r)
		if r.Misfits != nil {
			p.lockedIn(*r.Misfits)
		}
		p.aligned(r.Align)
		p.notes(r.Notes)
	})
}

// indicated writes what an indicator shows, a dash of what turns alone.
func indicated(l answer.AlignLine) string {
	if l.IndicatorShare == 0 {
		return absent
	}
	return number.Percent(100 * l.IndicatorShare)
}

// mostAligned is how many things a text ranks; JSON and CSV have all.
const mostAligned = 20

// farReadingUm is beyond what reading of an indicator no number is told, µm: what may be out by so much lines up by
// eye.
const farReadingUm = 1000.0

// aligned ranks what must be aligned, and says in which order to tighten.
func (p *page) aligned(a *answer.Alignment) {
	if a == nil {
		return
	}
	p.Heading("What must be aligned: how far each may be out of place, the most sensitive first")
	if len(a.Lines) == 0 {
		p.Say("Nothing here has a limit: no carriage or nut has a rating, no joint is screwed, and no path " +
			"or cut gives the tip a tolerance.")
		return
	}
	var rows [][]string
	for _, l := range a.Lines[:min(len(a.Lines), mostAligned)] {
		rows = append(rows, []string{l.What, l.How, number.Significant(l.AllowedUm), l.Limit, l.Of,
			indicated(l)})
	}
	p.Table([]column{named("what"), named("out of place"), measured("at most, µm"), named("uses up"), named("of"),
		measured("indicator shows, %")}, rows)
	if more := len(a.Lines) - mostAligned; more > 0 {
		p.Say(fmt.Sprintf("%d more are less sensitive; %s has them all.", more, p.asks.ForAll()))
	}
	p.Say("Each by itself, the rest in line; along the whole travel of its axis, tip and joints where the axes " +
		"stand. The last column is the share of its misfit by which an indicator, standing on what holds it and " +
		"touching what it holds, or the screw beside a nut or a bearing, moves as it is tightened: no movement, no " +
		"misfit. A twist is the angle between the two ends of a rail, over its whole length, said as a rise across it.")
	if slices.ContainsFunc(a.Lines, func(l answer.AlignLine) bool { return strings.HasSuffix(l.What, "nut") }) {
		p.Say("A nut or a bearing is tried beside its line; how far a nut is tilted is not looked at. How far its shaft " +
			"slopes in it, by being bent aside, is in " + p.asks.ForAll() + ", and noted where it is much.")
	}
	p.Heading("In this order")
	for i, s := range a.Order {
		text := s.What + ": " + s.How
		switch {
		case s.ReadingUm == nil:
		case *s.ReadingUm > farReadingUm:
			text += "; an indicator may move more than a millimetre while it is tightened: it hardly matters"
		default:
			text += fmt.Sprintf("; an indicator may move %s µm while it is tightened", number.Significant(*s.ReadingUm))
		}
		p.Item(fmt.Sprintf("%2d. ", i+1), text+".")
	}
	p.Say("What is tightened early is what the rest must fit; what is still loose finds its own place, so of those that " +
		"could come next the most sensitive comes last.")
}

// WriteAlignCSV writes a row for each thing that each misfit locks something into, and for each thing that must be
// aligned.
func WriteAlignCSV(w io.Writer, a answer.Answer) error {
	rows := [][]string{{"option", "what", "name", "at", "where", "force_n", "of_preload_percent", "of_rating_percent",
		"of_slip_percent", "of_opening_percent", "out_of_place", "allowed_um", "limit", "limit_of",
		"indicator_percent", "tip_size_um", "detail"}}
	for _, r := range eachDetail(a.Options) {
		if m := r.Misfits; m != nil {
			for _, f := range append(slices.Clone(m.Each), *m.Together) {
				tip := ""
				if f.Moved.TipUm != nil {
					tip = one(number.Norm(*f.Moved.TipUm))
				}
				for _, l := range lockedThings(f) {
					row := []string{r.Name, "misfit", f.Name, f.At, l.what, one(l.force), shareOf(l.load, l.preload),
						shareOf(l.load, l.dynamic), oneOf(l.slip), oneOf(l.open)}
					rows = append(rows, append(append(append(row, blanks(5)...), tip), r.Detail))
				}
			}
			for _, s := range m.Shims {
				row := []string{r.Name, "shim", s.Name, s.At, s.Layers, one(s.WithN)}
				rows = append(rows, append(append(row, blanks(10)...), r.Detail))
			}
		}
		if r.Align == nil {
			continue
		}
		for _, l := range r.Align.Lines {
			row := append([]string{r.Name, "align", l.What, l.What}, blanks(6)...)
			rows = append(rows, append(row, l.How, one(l.AllowedUm), l.Limit, l.Of, one(100*l.IndicatorShare), "", r.Detail))
		}
	}
	return writeCSV(w, a, rows)
}
