package report

import (
	"fmt"
	"math"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// measure is one kind of gain that can be bought.
type measure struct {
	short string                               // in column heads and verdicts
	unit  string                               // of the gain
	what  string                               // its definition
	gain  func(first, r answer.Result) float64 // 0 when the two do not differ
	has   func(r answer.Result) bool           // whether an option has it at all
}

var measures = []measure{
	{
		"stiffness", "N/µm", "stiffness: that of the tip where it is softest, less that of the first option",
		func(first, r answer.Result) float64 {
			return gained(first.Tip.StiffnessNPerUm.Softest, r.Tip.StiffnessNPerUm.Softest)
		},
		func(r answer.Result) bool { return r.Tip != nil },
	},
	{
		"tip steadiness", "µm", "tip steadiness: how much less the tip moves under the load on it that moves it " +
			"farthest, than in the first option",
		func(first, r answer.Result) float64 {
			a, _ := worstOnTip(first)
			b, _ := worstOnTip(r)
			return gained(-a, -b)
		},
		func(r answer.Result) bool { _, ok := worstOnTip(r); return ok },
	},
	{
		"travel", "mm", "travel: the stretch within its tolerance under the worst path and load, less that of the " +
			"first option",
		func(first, r answer.Result) float64 {
			a, _ := worstWithin(first)
			b, _ := worstWithin(r)
			return gained(a, b)
		},
		func(r answer.Result) bool { _, ok := worstWithin(r); return ok },
	},
	{
		"steadiness", "µm", "steadiness: how much less the point that moves farthest moves than in the first option",
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

// price is what an option costs more than the first one.
type price struct{ kg, operations float64 }

// gram is the difference in mass, kg, below which two options weigh the same: less than a screw.
const gram = 0.001

func priceOf(first, r answer.Result) price {
	cost := price{r.MassKg - first.MassKg, float64(r.Holes.Operations - first.Holes.Operations)}
	if math.Abs(cost.kg) < gram {
		cost.kg = 0
	}
	return cost
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

// purchases writes what a kilogram and a drilling operation buy in each option, and which option is the better buy.
func (p *page) purchases(options []answer.Result, heads []string) {
	some := measuresOf(options)
	if len(some) == 0 {
		return
	}
	first := options[0]
	if !anyDifference(options, some) {
		p.Line("")
		words := "The options cost the same in mass and drilling and are equally good, so none is the better buy."
		if misfitsDiffer(options) {
			words = "The options cost the same in mass and drilling and are equally stiff; they differ in what misfits do."
		}
		p.Say(words)
		return
	}
	p.Heading("What a kilogram and a drilling operation buy, against " + wrap.OneLine(first.Name))
	columns := []column{named("")}
	rows := [][]string{{"added mass, kg"}, {"added drilling operations, number"}}
	for _, m := range some {
		rows = append(rows, []string{m.short + " gained, " + m.unit},
			[]string{m.short + " for each added kilogram, " + m.unit},
			[]string{m.short + " for each added operation, " + m.unit})
	}
	for i, r := range options[1:] {
		columns = append(columns, measured(heads[i+1]))
		cost := priceOf(first, r)
		cells := []string{number.Significant(cost.kg), number.Length(cost.operations)}
		for _, m := range some {
			gain := m.gain(first, r)
			cells = append(cells, number.Significant(gain), ratio(gain, cost.kg), ratio(gain, cost.operations))
		}
		for k, cell := range cells {
			rows[k] = append(rows[k], cell)
		}
	}
	p.Table(columns, rows)
	for _, m := range some {
		p.Item("  ", m.what+".")
	}
	p.Item("  ", absent+": nothing gained, or nothing added to pay for it.")
	p.Heading("The better buy")
	for _, r := range options[1:] {
		p.Item("  - ", verdict(first, r, some))
	}
	for _, m := range some {
		p.bestBuy(options, m)
	}
}

// anyDifference says whether any option is better or worse, cheaper or dearer than the first.
func anyDifference(options []answer.Result, some []measure) bool {
	first := options[0]
	for _, r := range options[1:] {
		if priceOf(first, r) != (price{}) {
			return true
		}
		for _, m := range some {
			if m.gain(first, r) != 0 {
				return true
			}
		}
	}
	return false
}

// ratio writes gain per cost where something was gained for something paid.
func ratio(gain, cost float64) string {
	if gain <= 0 || cost <= 0 {
		return absent
	}
	return number.Significant(gain / cost)
}

// verdict says whether option r is worth its price against the first.
func verdict(first, r answer.Result, some []measure) string {
	var better, worse []string
	for _, m := range some {
		switch gain := m.gain(first, r); {
		case gain > 0:
			better = append(better, m.short)
		case gain < 0:
			worse = append(worse, m.short)
		}
	}
	cost := priceOf(first, r)
	dearer, cheaper := cost.kg > 0 || cost.operations > 0, cost.kg < 0 || cost.operations < 0
	name := wrap.OneLine(r.Name) + ": "
	switch {
	case len(better)+len(worse) == 0 && !dearer && !cheaper:
		return name + "no better, no worse, and costs the same."
	case len(better)+len(worse) == 0 && !dearer:
		return name + "as good and cheaper; the better buy."
	case len(better)+len(worse) == 0 && !cheaper:
		return name + "no better and dearer; not worth it."
	case len(worse) == 0 && len(better) > 0 && cheaper && !dearer:
		return name + "better in " + phrase.List(better) + " and cheaper; the better buy in everything measured here."
	case len(worse) == 0 && len(better) > 0 && !dearer:
		return name + "better in " + phrase.List(better) + " at the same mass and drilling; cost does not decide, so the " +
			"better buy."
	case len(better) == 0 && len(worse) > 0 && dearer && !cheaper:
		return name + "worse in " + phrase.List(worse) + " and dearer; not worth it."
	case len(better) == 0 && len(worse) > 0 && !cheaper:
		return name + "worse in " + phrase.List(worse) + " at the same mass and drilling; cost does not decide, so " +
			"not worth it."
	}
	var says []string
	if len(better) > 0 {
		says = append(says, "better in "+phrase.List(better))
	}
	if len(worse) > 0 {
		says = append(says, "worse in "+phrase.List(worse))
	}
	says = append(says, massInWords(cost.kg)+" and "+operationsInWords(cost.operations))
	return name + strings.Join(says, ", ") + "."
}

// bestBuy names the option that gives most of a measure for each unit of cost.
func (p *page) bestBuy(options []answer.Result, m measure) {
	first := options[0]
	for _, unit := range []struct {
		name string
		of   func(price) float64
	}{
		{"kilogram", func(c price) float64 { return c.kg }},
		{"drilling operation", func(c price) float64 { return c.operations }},
	} {
		best, bestRate := -1, 0.0
		for i, r := range options[1:] {
			gain, cost := m.gain(first, r), unit.of(priceOf(first, r))
			if gain > 0 && cost > 0 && gain/cost > bestRate*(1+sameWithin) {
				best, bestRate = i+1, gain/cost
			}
		}
		if best < 0 {
			continue
		}
		p.Item("  - ", fmt.Sprintf("Most %s for each added %s: %s, %s %s.", m.short, unit.name,
			wrap.OneLine(options[best].Name), number.Significant(bestRate), m.unit))
	}
}
