package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// farFromYield is the margin from which on its number says nothing more than that yield is far.
const farFromYield = 1000

// yields is the margin below which a part does yield.
const yields = 1

// worstOfParts gives the worst stress of each part, the first of equals, those with the least margin to yield first,
// then those of materials that state no yield, the most stressed first, last those without stress. Stresses that are
// written alike keep the order they came in, so that the two of a mirrored pair stand as they stand in the model.
func worstOfParts(all []answer.Stress) []answer.Stress {
	var worst []answer.Stress
	for _, s := range all {
		i := slices.IndexFunc(worst, func(o answer.Stress) bool { return o.Part == s.Part })
		switch {
		case i < 0:
			worst = append(worst, s)
		case number.Exceeds(s.MPa, worst[i].MPa):
			worst[i] = s
		}
	}
	slices.SortStableFunc(worst, func(a, b answer.Stress) int {
		return cmp.Or(cmp.Compare(stressClass(a), stressClass(b)), cmp.Compare(sortedBy(a), sortedBy(b)))
	})
	return worst
}

// The classes of parts in a table of stresses, in its order.
const (
	withMargin = iota
	withoutYield
	unstressed
)

func stressClass(s answer.Stress) int {
	switch {
	case s.MPa < number.Noise:
		return unstressed
	case s.TimesYield != nil:
		return withMargin
	}
	return withoutYield
}

// sortedBy is what the stresses of one class are sorted by, as it is written: the margin, or else the stress from the
// largest down.
func sortedBy(s answer.Stress) float64 {
	switch stressClass(s) {
	case withMargin:
		return number.AsWritten(*s.TimesYield)
	case withoutYield:
		return -number.AsWritten(s.MPa)
	}
	return 0
}

// writtenMargin says by what the load may grow before the part yields.
func writtenMargin(s answer.Stress) string {
	switch {
	case s.TimesYield == nil:
		return absent
	case *s.TimesYield >= farFromYield:
		return fmt.Sprintf("over %d", farFromYield)
	case *s.TimesYield < yields && number.AsWritten(*s.TimesYield) >= yields:
		return "just below 1"
	}
	return number.Significant(*s.TimesYield)
}

// atEdges says whether any stress comes from a solid body, which alone has one at the edge of a contact.
func atEdges(all []answer.Stress) bool {
	return slices.ContainsFunc(all, func(s answer.Stress) bool { return s.EdgeMPa != nil })
}

// yielding says which parts would yield under which load; nothing when none does.
func (p *page) yielding(all []answer.Stress) {
	var says []string
	for _, s := range worstOfParts(all) {
		if stressClass(s) == withMargin && *s.TimesYield < yields {
			words := fmt.Sprintf("part %s under %s", wrap.OneLine(s.Part), phrase.Quoted(s.Load))
			if s.YieldMPa != nil {
				words += fmt.Sprintf(" (%s MPa, and its material yields at %s MPa)", number.Significant(s.MPa),
					number.Given(*s.YieldMPa))
			}
			says = append(says, words)
		}
	}
	if len(says) == 0 {
		return
	}
	if more := len(says) - mostSources; more > 0 {
		says = append(says[:mostSources], phrase.Count(more, "more part"))
	}
	p.Say("WOULD YIELD: " + phrase.List(says) + ". A part that yields stays bent; what is said of that load here holds only " +
		"below its yield.")
}

// stresses is the table of the worst stress of each part; nothing when no stress is known.
func (p *page) stresses(all []answer.Stress) {
	if len(all) == 0 {
		return
	}
	p.Heading("Stress: the largest in each part, under the load that is worst for it")
	worst := worstOfParts(all)
	shown := slices.IndexFunc(worst, func(s answer.Stress) bool { return stressClass(s) == unstressed })
	if shown < 0 {
		shown = len(worst)
	}
	if shown == 0 {
		p.Say("No load stresses any part.")
		return
	}
	shown = min(shown, mostSources)
	edges := atEdges(all)
	columns := []column{named("part"), named("worst under"), measured("stress, MPa"), named("at x, y, z, mm")}
	if edges {
		columns = append(columns, measured("edges included, MPa"))
	}
	columns = append(columns, measured("yield, MPa"), measured("margin to yield, times"))
	var rows [][]string
	for _, s := range worst[:shown] {
		row := []string{s.Part, s.Load, number.Significant(s.MPa), nearPlace(s.AtMM)}
		if edges {
			row = append(row, perhapsSignificant(s.EdgeMPa))
		}
		yield := absent
		if s.YieldMPa != nil {
			yield = number.Given(*s.YieldMPa)
		}
		rows = append(rows, append(row, yield, writtenMargin(s)))
	}
	p.Table(columns, rows)
	if rest := worst[shown:]; len(rest) > 0 {
		p.Say("Not listed: " + restInWords(rest) + ".")
	}
	says := "Margin to yield: by how many times that load, by itself, may grow before the stress named is the " +
		"yield strength"
	if stressClass(worst[shown-1]) == withoutYield {
		says += "; " + absent + ": the material states no yield"
	}
	p.Say(says + ".")
	if edges {
		p.Say("Equivalent stress (von Mises), linear elastic. At the edge of a contact or of a screw's zone and " +
			"in a sharp inner corner a solid body has no finite stress, only more of it the finer the mesh: the " +
			"stress named is the largest away from such edges, the largest with them included stands beside it. " +
			"Fatigue, threads and holes are not looked at.")
	} else {
		p.Say("Equivalent stress (von Mises), linear elastic, of bars and narrow plates only; of wide plates " +
			"and gussets: " + p.asks.ForDetail(answer.SolidDetail) + ". Fatigue, threads, holes and notches are not looked at.")
	}
}

// restInWords sums up the parts that a table of stresses leaves out, in the table's order.
func restInWords(rest []answer.Stress) string {
	var of [unstressed + 1][]answer.Stress
	for _, s := range rest {
		of[stressClass(s)] = append(of[stressClass(s)], s)
	}
	var says []string
	if some := of[withMargin]; len(some) == 1 {
		says = append(says, "1 part with a margin of "+writtenMargin(some[0]))
	} else if len(some) > 1 {
		least := writtenMargin(some[0])
		if *some[0].TimesYield < farFromYield {
			least += " or more"
		}
		says = append(says, phrase.Count(len(some), "part")+" with margins of "+least)
	}
	if some := of[withoutYield]; len(some) > 0 {
		says = append(says, fmt.Sprintf("%s whose material states no yield, %s MPa at most", phrase.Count(len(some), "part"),
			number.Significant(some[0].MPa)))
	}
	if some := of[unstressed]; len(some) > 0 {
		says = append(says, phrase.Count(len(some), "part")+" without stress")
	}
	return strings.Join(says, "; ")
}

// nearPlace writes the place of a stress, mm, no finer than it is known: to the millimetre.
func nearPlace(mm [3]float64) string {
	for i, c := range mm {
		mm[i] = math.Round(c)
	}
	return place(mm)
}

// solidBodies says how finely plates and gussets were meshed; nothing where none was.
func (p *page) solidBodies(r answer.Result) {
	bodies := r.Solid
	if len(bodies) == 0 {
		if r.Section != nil {
			p.Say("No plates and no gussets: there is nothing to mesh, and detail section answers the same.")
		}
		return
	}
	parts, elements, unknowns := 0, 0, 0
	for _, b := range bodies {
		parts += len(b.Parts)
		elements += b.Elements
		unknowns += b.Unknowns
	}
	many := "1 body"
	if len(bodies) > 1 {
		many = fmt.Sprintf("%d bodies", len(bodies))
	}
	if parts > len(bodies) {
		many = phrase.Count(parts, "part") + " in " + many
	}
	p.Say(fmt.Sprintf("Plates and gussets as solid bodies: %s, %s, %s.", many, phrase.Count(elements, "element"),
		phrase.Count(unknowns, "unknown")))
}
