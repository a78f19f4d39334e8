package report

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

// mostPlaces is how many places along a path a text lists.
const mostPlaces = 11

// travelTables are the tables of an option's travel, in the order in which all of them are written.
var travelTables = []part[answer.Result]{
	{"places", (*page).travels},
	{"straightness", (*page).straightness},
	{"maps", (*page).maps},
}

// TravelTables are the names of the tables that WriteTravel writes.
func TravelTables() []string { return namesOf(travelTables) }

// TravelTablesOf are those that have something to tell of an option.
func TravelTablesOf(r answer.Result) []string { return told(travelTables, r) }

// WriteTravel writes for a person how the tip moves with the work spot along each path, along each axis and over each
// plane of two, and where it stays within the tolerance: everything, or the tables of some names.
func WriteTravel(w io.Writer, a answer.Answer, tables ...string) error {
	if err := CheckTravels(a); err != nil {
		return err
	}
	if len(tables) > 0 {
		return writeTables(w, a, func(p *page, r answer.Result) { chosen(p, travelTables, tables, r) })
	}
	p := newPage(w)
	p.asks = a.Asks
	p.Title(wrap.OneLine(a.Machine) + ": movement of the tool tip along the travel")
	p.detail(a)
	anything := false
	for _, r := range a.Options {
		anything = anything || len(r.Travel)+len(r.Straight)+len(r.Maps) > 0
		for _, t := range travelTables {
			t.write(p, r)
		}
	}
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return len(r.Straight) > 0 }) {
		p.Line("")
		p.Say(howStraight)
	}
	if !anything {
		p.Line("")
		p.Say("There is no path with a load on the tool tip, so there is nothing to follow.")
	}
	if slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Section != nil }) && anything {
		p.Line("")
		p.Say(whyOff(a.Options) + ".")
	}
	if anything && slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Beam != nil }) {
		p.Line("")
		p.opinions(a.Options...)
	}
	p.allNotes(a.Options)
	p.caution()
	return p.Close()
}

// travels writes what an option does along each path and axis under each load.
func (p *page) travels(r answer.Result) {
	for k, t := range r.Travel {
		p.Heading(travelHeading(r, t))
		p.Say(travelInWords(t))
		p.playAlong(t)
		if firstOfPath(r, k) {
			p.stiffnessAlong(t)
			p.leftOutAlong(t)
		}
		p.places(t)
		p.travelBeside(r, t)
	}
}

// CheckTravels says what keeps a travel from being shown: numbers that are none, or lists that do not fit together.
func CheckTravels(a answer.Answer) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	for _, r := range eachDetail(a.Options) {
		for _, t := range r.Travel {
			if len(t.AtMM) == 0 || len(t.AtMM) != len(t.TipUm) {
				return fmt.Errorf("report: travel %q under %q of option %q has %d places and %d movements",
					t.Path, t.Load, r.Name, len(t.AtMM), len(t.TipUm))
			}
			if t.SoftestNPerUm != nil && len(t.SoftestNPerUm) != len(t.AtMM) {
				return fmt.Errorf("report: travel %q under %q of option %q has %d places and %d stiffnesses",
					t.Path, t.Load, r.Name, len(t.AtMM), len(t.SoftestNPerUm))
			}
		}
		for _, s := range r.Straight {
			if len(s.AtMM) == 0 || len(s.AtMM) != len(s.OffUm) || len(s.Across) != 1 ||
				!strings.Contains("xyz", s.Across) {
				return fmt.Errorf("report: straightness of axis %q across %q of option %q has %d places and "+
					"%d movements", s.Axis, s.Across, r.Name, len(s.AtMM), len(s.OffUm))
			}
		}
		for _, m := range r.Maps {
			if err := checkMap(m); err != nil {
				return fmt.Errorf("report: option %q: %w", r.Name, err)
			}
		}
	}
	return nil
}

// extremePlaces are where on a path the tip moves most and where least, the first of equals.
func extremePlaces(t answer.Travel) (worst, best int) {
	for i := range t.TipUm {
		if number.Exceeds(number.Norm(t.TipUm[i]), number.Norm(t.TipUm[worst])) {
			worst = i
		}
		if number.Exceeds(number.Norm(t.TipUm[best]), number.Norm(t.TipUm[i])) {
			best = i
		}
	}
	return worst, best
}

// travelInWords says how much of a path keeps its tolerance and where it is worst.
func travelInWords(t answer.Travel) string {
	first, last := t.AtMM[0], t.AtMM[len(t.AtMM)-1]
	worst, best := extremePlaces(t)
	extremes := extremesInWords(t, worst, best)
	tolerance := number.Given(t.ToleranceUm)
	switch {
	case !(t.ToleranceUm > 0):
		return "No tolerance is given for this path. " + extremes
	case t.WithinMM == nil:
		return fmt.Sprintf("Nowhere within the tolerance of %s µm. %s", tolerance, extremes)
	case within(t) >= math.Abs(last-first):
		return fmt.Sprintf("Within the tolerance of %s µm all along, from %s to %s mm. %s",
			tolerance, placeOn(t, first), placeOn(t, last), extremes)
	}
	return fmt.Sprintf("Within the tolerance of %s µm from %s to %s mm: %s of %s mm. %s",
		tolerance, placeOn(t, t.WithinMM[0]), placeOn(t, t.WithinMM[1]), number.Along(within(t)),
		number.Along(math.Abs(last-first)), extremes)
}

// alike is the relative difference below which the movement counts as the same all along a path: a least place found in
// less is an accident of where the places lie.
const alike = 0.001

// extremesInWords says where on a path the tip moves most and where least, as far as there is a difference.
func extremesInWords(t answer.Travel, worst, best int) string {
	most, least := number.Norm(t.TipUm[worst]), number.Norm(t.TipUm[best])
	switch {
	case most < number.Noise:
		return "The tip does not move anywhere along the path."
	case most-least < alike*most:
		return fmt.Sprintf("The movement is about the same all along: %s µm, %s.", number.Significant(most),
			phrase.Way(t.TipUm[worst]))
	}
	return fmt.Sprintf("Most movement at %s mm: %s µm, %s. Least at %s mm: %s µm.", placeOn(t, t.AtMM[worst]),
		number.Significant(most), phrase.Way(t.TipUm[worst]), placeOn(t, t.AtMM[best]), number.Significant(least))
}

// placeOn writes a place on a path, mm; the path's own ends, which the builder chose, to the tenth.
func placeOn(t answer.Travel, mm float64) string {
	if mm == t.AtMM[0] || mm == t.AtMM[len(t.AtMM)-1] {
		return number.Length(math.Round(10*mm) / 10)
	}
	return number.Along(mm)
}

// within is the length of the stretch that keeps the tolerance, mm.
func within(t answer.Travel) float64 {
	if t.WithinMM == nil {
		return 0
	}
	return math.Abs(t.WithinMM[1] - t.WithinMM[0])
}

// places lists some of the places along a path, the first and the last always among them.
func (p *page) places(t answer.Travel) {
	var rows [][]string
	for _, i := range table.Spread(len(t.AtMM), mostPlaces) {
		c := number.Movement(t.TipUm[i], number.Norm(t.TipUm[i]))
		row := []string{placeOn(t, t.AtMM[i]), c[0], c[1], c[2], number.Significant(number.Norm(t.TipUm[i]))}
		if t.SoftestNPerUm != nil {
			row = append(row, number.Significant(t.SoftestNPerUm[i]))
		}
		if t.ToleranceUm > 0 {
			kept := "yes"
			if number.Norm(t.TipUm[i]) > t.ToleranceUm {
				kept = "no"
			}
			row = append(row, kept)
		}
		rows = append(rows, row)
	}
	columns := []column{measured("at, mm"), measured("x, µm"), measured("y, µm"), measured("z, µm"),
		measured("size, µm")}
	if t.SoftestNPerUm != nil {
		columns = append(columns, measured("softest, N/µm"))
	}
	if t.ToleranceUm > 0 {
		columns = append(columns, named("within"))
	}
	p.Table(columns, rows)
}
