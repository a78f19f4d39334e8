package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// mostGains is how many things to stiffen a text lists.
const mostGains = 12

// The least gains that are worth a line, as shares of the stiffness: of ten percent more, and of one more of what
// counts.
const (
	tenPercent = 0.1
	leastGain  = 0.001
)

// next lists what to stiffen next, the best buy first.
func (p *page) next(r answer.Result) {
	n := r.Next
	if n == nil && r.Section != nil {
		n = r.Section.Next
	}
	if n == nil {
		return
	}
	gains := worthALine(n.Gains, stiffnessGained(r))
	if len(gains) == 0 {
		return
	}
	shown := gains[:min(len(gains), mostGains)]
	p.Heading(nextHeading)
	p.Say(nextInWords(n, gains))
	var rows [][]string
	for _, g := range shown {
		rows = append(rows, gainCells(g))
	}
	p.Table([]column{named("what"), named("a step"), measured("stiffer, N/µm"), measured("moves less, µm"),
		named("under"), measured("kg"), measured("N/µm per kg"), measured("N/µm per hole operation")}, rows)
	if more := len(gains) - mostGains; more > 0 {
		p.Say(fmt.Sprintf("%d more gain less; %s has them all.", more, p.asks.ForAll()))
	}
	by := ""
	if r.Detail == answer.SolidDetail {
		by = " by the beam model"
	}
	p.Say("Gains for one step" + by + ", as if they went on as they begin. A thickness is that of the metal alone: " +
		"what touches the part stays where it is.")
	if slices.ContainsFunc(shown, func(g answer.Gain) bool { return sideInWords(g) != "" }) {
		p.Say("* The model bends at this very number: the gain is that on its other side.")
	}
	p.limitsOfNext(n, shown)
}

// gainCells are the row of one gain: what, by which step, and what that gives and costs.
func gainCells(g answer.Gain) []string {
	most, um := "", 0.0
	for _, l := range g.Loads {
		if math.Abs(l.Um) > math.Abs(um) {
			most, um = l.Load, l.Um
		}
	}
	return []string{gainWords(g), stepInWords(g) + sideInWords(g), number.Significant(step(g) * g.StiffnessNPerUm),
		number.Significant(step(g) * um), most, number.Significant(step(g) * g.MassKg), perhapsSignificant(g.PerKg),
		perhapsSignificant(g.PerOperation)}
}

// limitsOfNext says how far the gains shown may go, and of what no gain can be told.
func (p *page) limitsOfNext(n *answer.Next, shown []answer.Gain) {
	for _, g := range shown {
		if g.Room != nil {
			p.Item("  - ", fmt.Sprintf("%s: room for %s %s, then %s", gainWords(g),
				phrase.WithUnit(number.Length(*g.Room), g.Unit), stiffeningWay(g), wrap.OneLine(g.Bound)))
		}
	}
	for _, w := range n.Without {
		switch w.Kind {
		case answer.OfThickness:
			p.Item("  - ", fmt.Sprintf("%s thicker: no gain can be told, %s; a value as its thickness can be swept",
				wrap.OneLine(w.What), wrap.OneLine(w.Why)))
		case answer.OfValue:
			p.Item("  - ", fmt.Sprintf("%s: no gain can be told, %s", wrap.OneLine(w.What), wrap.OneLine(w.Why)))
		case answer.OfSpacing:
			p.Item("  - ", fmt.Sprintf("carriages of guide %s: no gain can be told, %s", wrap.OneLine(w.What),
				wrap.OneLine(w.Why)))
		}
	}
}

const nextHeading = "What to stiffen next"

// stiffnessGained is the stiffness that gains are shares of: the beam model's, which found them.
func stiffnessGained(r answer.Result) float64 {
	if r.Next == nil && r.Section != nil {
		r = *r.Section
	}
	return r.Tip.StiffnessNPerUm.Softest
}

// worthALine are the gains that are more than next to nothing.
func worthALine(all []answer.Gain, stiffness float64) (some []answer.Gain) {
	for _, g := range all {
		more := tenPercent * math.Abs(g.At)
		if g.Whole || g.At == 0 {
			more = 1
		}
		if math.Abs(g.StiffnessNPerUm)*more >= leastGain*stiffness {
			some = append(some, g)
		}
	}
	return some
}

// way is +1 when more of a thing makes the tip stiffer, −1 when less of it does.
func way(g answer.Gain) float64 {
	if g.StiffnessNPerUm < 0 {
		return -1
	}
	return 1
}

// nextInWords names the best buys.
func nextInWords(n *answer.Next, gains []answer.Gain) string {
	words := "In the softest direction, " + phrase.Line(n.Direction) + ", "
	var free, byMass, byDrilling *answer.Gain
	for i := range gains {
		g := &gains[i]
		switch {
		case g.PerKg != nil:
			if byMass == nil {
				byMass = g
			}
		case g.PerOperation != nil:
			if byDrilling == nil {
				byDrilling = g
			}
		case free == nil:
			free = g
		}
	}
	var buys []string
	if free != nil {
		gains := "gains"
		if free.Kind == answer.OfSpacing {
			gains = "gain"
		}
		buys = append(buys, fmt.Sprintf("%s %s most for no mass (%s N/µm for %s)", gainWords(*free), gains,
			number.Significant(step(*free)*free.StiffnessNPerUm), stepInWords(*free)))
	}
	if byMass != nil {
		buys = append(buys, fmt.Sprintf("a kilogram buys most in %s (%s N/µm per kg)", gainWords(*byMass),
			number.Significant(*byMass.PerKg)))
	}
	if byDrilling != nil {
		buys = append(buys, fmt.Sprintf("a hole operation buys most in %s (%s N/µm)", gainWords(*byDrilling),
			number.Significant(*byDrilling.PerOperation)))
	}
	return words + strings.Join(buys, "; ") + "."
}

// gainWords says what there is more or less of.
func gainWords(g answer.Gain) string {
	more := "more "
	if g.StiffnessNPerUm < 0 {
		more = "less "
	}
	switch g.Kind {
	case answer.OfThickness:
		return "thickness of " + wrap.OneLine(g.What)
	case answer.OfScrews:
		return "screws of " + wrap.OneLine(g.What)
	case answer.OfSpacing:
		return "carriages of guide " + wrap.OneLine(g.What)
	case answer.OfTool:
		return "the cutter's " + wrap.OneLine(g.What)
	}
	return more + wrap.OneLine(g.What)
}

// step is by how much more or less of a thing a line tells, in its unit: a step that somebody could take.
func step(g answer.Gain) float64 {
	size := math.Abs(g.At)
	switch {
	case g.Room != nil:
		return way(g) * math.Min(1, *g.Room)
	case g.Whole:
		return way(g)
	case g.Unit != "mm" && g.Unit != "deg" && size > 0:
		return way(g) * onePercent * size
	case size >= thinFrom || size == 0:
		return way(g)
	case size >= thinFrom/10:
		return way(g) / 10
	}
	return way(g) / 100
}

// The steps of what is no length, and the length from which a step of a millimetre is a small one.
const (
	onePercent = 0.01
	thinFrom   = 5.0
)

// sideInWords says when a step's gain is told from the other side of the present number.
func sideInWords(g answer.Gain) string {
	if upwards := g.StiffnessNPerUm >= 0; !g.Whole && (g.Side == answer.MoreOnly && !upwards ||
		g.Side == answer.LessOnly && upwards) {
		return " *"
	}
	return ""
}

// stepInWords is a step with its unit.
func stepInWords(g answer.Gain) string {
	size := step(g) * way(g)
	words := phrase.WithUnit(number.Given(size), g.Unit)
	switch {
	case g.Kind == answer.OfScrews:
		words = "1 row"
	case g.Whole:
		words = phrase.WithUnit("1", g.Unit)
	case g.Room != nil:
		words = phrase.WithUnit(number.Length(size), g.Unit)
	case g.Unit != "mm" && g.Unit != "deg" && g.At != 0:
		words = "1 %"
	}
	return words + " " + stiffeningWay(g)
}

// stiffeningWay is the way on which the tip gets stiffer.
func stiffeningWay(g answer.Gain) string {
	less := g.StiffnessNPerUm < 0
	switch {
	case g.Kind == answer.OfSpacing && less:
		return "closer together"
	case g.Kind == answer.OfSpacing:
		return "farther apart"
	case less:
		return "less"
	}
	return "more"
}
