package report

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// besideEach sets for each option the beam model beside solid bodies, and says whether the two rank the options alike;
// nothing when no option has both.
func (p *page) besideEach(options []answer.Result, heads []string) {
	var solid, beam []answer.Result
	var names []string
	var rows [][]string
	for i, r := range options {
		if r.Section == nil {
			continue
		}
		solid, beam, names = append(solid, r), append(beam, *r.Section), append(names, heads[i])
		if heads[i] == wrap.OneLine(r.Name) {
			names[len(names)-1] = phrase.Quoted(r.Name)
		}
		for _, l := range decidingLines(r) {
			rows = append(rows, append([]string{heads[i]}, besideRow(l, r)...))
		}
	}
	if len(rows) == 0 {
		return
	}
	p.Heading(besideHeading)
	p.Table([]column{named("option"), named(""), measured(beamHead), measured(solidHead), measured(offHead)}, rows)
	p.Say(whyOff(solid) + ".")
	for _, s := range rankInWords(names, beam, solid) {
		p.Say(s)
	}
}

// decidingLines are what options are chosen by: the stiffness where the tip is softest and its movement under the load
// on it that is worst, or the point that moves farthest where there is no tool.
func decidingLines(r answer.Result) []comparedLine {
	var lines []comparedLine
	if r.Tip != nil {
		all := stiffnessLines()
		lines = append(lines, all[len(all)-1])
	}
	if load := worstTipLoad(r.Loads); load != "" {
		return append(lines, tipLine(load))
	}
	if at, moved := farthestPoint(r); r.Tip == nil && number.Norm(moved) > 0 {
		lines = append(lines, pointLine(at))
	}
	return lines
}

// worstTipLoad is the load that moves the tip farthest: of those on the tip, and of all where none is on it.
func worstTipLoad(loads []answer.LoadResult) string {
	var onTip []answer.LoadResult
	for _, l := range loads {
		if l.OnTip {
			onTip = append(onTip, l)
		}
	}
	for _, some := range [][]answer.LoadResult{onTip, loads} {
		if l := worstLoad(some); l != nil {
			return l.Name
		}
	}
	return ""
}

// rankInWords says whether two models of the same options, in the same order, rank them alike, by everything that
// options can be ranked by; nothing of a single option.
func rankInWords(names []string, beam, solid []answer.Result) []string {
	if len(names) < 2 {
		return nil
	}
	var alike []string
	var orders []string                // of the measures by which the two differ, each once
	differing := map[string][]string{} // the measures of each of orders
	for _, m := range measuresOf(slices.Concat(beam, solid)) {
		if rankedAlike(m, beam, solid) {
			alike = append(alike, m.short)
			continue
		}
		order := "by the beam model " + inOrder(m, names, beam) + "; by solid bodies " + inOrder(m, names, solid)
		if differing[order] == nil {
			orders = append(orders, order)
		}
		differing[order] = append(differing[order], m.short)
	}
	var says []string
	if len(alike) > 0 {
		both := "Both models rank the options alike in " + phrase.List(alike)
		if len(orders) == 0 {
			both += ": to choose between them the beam model is enough"
		}
		says = append(says, both+".")
	}
	for _, order := range orders {
		says = append(says, "The two models rank the options differently in "+phrase.List(differing[order])+
			", best first: "+order+". There, go by solid bodies.")
	}
	return says
}

// rankedAlike says whether of every two options both models find the same one better, or neither.
func rankedAlike(m measure, beam, solid []answer.Result) bool {
	for i := range beam {
		for j := range i {
			byBeam, bySolid := m.gain(beam[j], beam[i]), m.gain(solid[j], solid[i])
			if cmp.Compare(byBeam, 0) != cmp.Compare(bySolid, 0) {
				return false
			}
		}
	}
	return true
}

// inOrder lists the options from the best to the worst, with an equals sign between those that count as the same.
func inOrder(m measure, names []string, options []answer.Result) string {
	order := make([]int, len(options))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.gain(options[a], options[b]), 0) })
	says := names[order[0]]
	for i, k := range order[1:] {
		if m.gain(options[order[i]], options[k]) == 0 {
			says += " = " + names[k]
		} else {
			says += ", " + names[k]
		}
	}
	return says
}

// measure is one thing that two models of the same options are ranked by.
type measure struct {
	short string                               // in sentences
	gain  func(first, r answer.Result) float64 // 0 when the two do not differ
	has   func(r answer.Result) bool           // whether an option has it at all
}

var measures = []measure{
	{
		"stiffness",
		func(first, r answer.Result) float64 {
			return gained(first.Tip.StiffnessNPerUm.Softest, r.Tip.StiffnessNPerUm.Softest)
		},
		func(r answer.Result) bool { return r.Tip != nil },
	},
	{
		"tip steadiness",
		func(first, r answer.Result) float64 {
			a, _ := worstOnTip(first)
			b, _ := worstOnTip(r)
			return gained(-a, -b)
		},
		func(r answer.Result) bool { _, ok := worstOnTip(r); return ok },
	},
	{
		"travel",
		func(first, r answer.Result) float64 {
			a, _ := worstWithin(first)
			b, _ := worstWithin(r)
			return gained(a, b)
		},
		func(r answer.Result) bool { _, ok := worstWithin(r); return ok },
	},
	{
		"steadiness",
		func(first, r answer.Result) float64 {
			return gained(-farthestMovement([]answer.Result{first}), -farthestMovement([]answer.Result{r}))
		},
		func(r answer.Result) bool { return r.Tip == nil && len(pointLoads([]answer.Result{r})) > 0 },
	},
}

// worstOnTip is the farthest movement of the tip, µm, under the loads that push it against the work.
func worstOnTip(r answer.Result) (um float64, ok bool) {
	for _, l := range r.Loads {
		if l.OnTip && l.TipSizeUm != nil {
			um, ok = math.Max(um, *l.TipSizeUm), true
		}
	}
	return um, ok
}

// gained is b − a, or 0 when the two count as the same.
func gained(a, b float64) float64 {
	if !differs(a, b) {
		return 0
	}
	return b - a
}

// measuresOf gives the measures that all options have.
func measuresOf(options []answer.Result) []measure {
	var some []measure
	for _, m := range measures {
		everywhere := true
		for _, r := range options {
			everywhere = everywhere && m.has(r)
		}
		if everywhere {
			some = append(some, m)
		}
	}
	return some
}
