package modelfile

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// A stiffness may carry its range: "8 N/um +- 40 %", or "5..12 N/um", in which the first number has the unit of the
// second. Nine of ten are meant to lie in it; of two ends the typical one is their geometric mean, of which half are.

// spreadSigns are the ways to write give or take.
var spreadSigns = []string{"+/-", "+-", "±"}

const betweenSign = ".."

// mostOff is by how much a stiffness may be off either way, percent.
const mostOff = 99

// cutRange parts the text of a range at its sign; "" where there is none.
func cutRange(text string) (left, sign, right string) {
	for _, sign := range append([]string{betweenSign}, spreadSigns...) {
		if left, right, is := strings.Cut(text, sign); is {
			return left, sign, right
		}
	}
	return text, "", ""
}

// isRange tells whether a text is meant as a range; a plus before a minus alone is a sum.
func isRange(text string) bool {
	_, sign, right := cutRange(text)
	return sign != "" && (sign != "+-" || strings.Contains(right, "%"))
}

// stiff is the type of a stiffness that may carry its range.
func stiff(m measure) Type {
	t := sized(m)
	t.Ranged = true
	return t
}

// noRange reports a range where one number belongs.
func (d *decoder) noRange(n *source.Node, m measure) bool {
	if n.Kind != source.Scalar || !isRange(n.Text) {
		return false
	}
	d.fault(n.Pos, fmt.Sprintf("%s is a range, and %s takes none", machine.Quote(n.Text), m.withArticle()),
		"write one number; only stiffnesses may carry a range")
	return true
}

// unsure gives the stiffness at n, which must be above zero, and adds to a list how far it may be off, if the file
// gives it a range; what says of what, as is its name in the list.
func (d *decoder) unsure(list *[]machine.Unsure, n *source.Node, m measure, what, as string) (float64, bool) {
	if n.Kind != source.Scalar {
		return d.positive(n, m, what)
	}
	left, sign, right := cutRange(n.Text)
	if sign == "" {
		return d.positive(n, m, what)
	}
	first, second := n.Part(0, left), n.Part(len(left)+len(sign), right)
	band, ok := constant.Band{}, false
	if sign == betweenSign {
		band, ok = d.between(n, first, second, m, what)
	} else {
		band, ok = d.spread(first, second, m, what)
	}
	if ok {
		*list = append(*list, machine.Unsure{What: as, Band: band})
	}
	return band.Typical, ok
}

// between reads a range of two ends.
func (d *decoder) between(n, from, to *source.Node, m measure, what string) (b constant.Band, ok bool) {
	high, ok := d.positive(to, m, what)
	if !ok {
		return b, false
	}
	lendUnit(from, to)
	low, ok := d.positive(from, m, what)
	switch {
	case !ok:
		return b, false
	case low == high:
		d.misfit(n.Pos, fmt.Sprintf("the range of %s has no width: %s", what, m.show(low)),
			"write one number for one that is known")
		return b, false
	case low > high:
		d.misfit(n.Pos, fmt.Sprintf("the range of %s runs backwards: from %s to %s", what, m.show(low), m.show(high)),
			"write the lesser end first")
		return b, false
	}
	if high > machine.WidestRange*low {
		d.misfit(n.Pos, fmt.Sprintf("the range of %s, %s to %s, says nothing: at most %d times from end to end", what,
			m.show(low), m.show(high), machine.WidestRange), "look for a wrong unit")
		return b, false
	}
	return constant.Between(low, math.Sqrt(low)*math.Sqrt(high), high), true
}

// spread reads a number with what it may be off by, a share.
func (d *decoder) spread(typical, share *source.Node, m measure, what string) (b constant.Band, ok bool) {
	x, ok := d.positive(typical, m, what)
	percent, isShare := strings.CutSuffix(share.Text, "%")
	if !isShare {
		d.fault(share.Pos, fmt.Sprintf("%s may be off by a share of it, in %%, not by %s", what, machine.Quote(share.Text)),
			"write +- 40 %, or both ends: 5..12 N/um")
		return b, false
	}
	off, read := d.number(share.Part(0, percent), aNumber)
	switch {
	case !ok || !read:
		return b, false
	case !(off > 0):
		d.misfit(share.Pos, fmt.Sprintf("%s must be off by more than nothing, not by %g %%", what, off),
			"leave it out for one that is known")
		return b, false
	case off > mostOff:
		d.misfit(share.Pos, fmt.Sprintf("%s that may be off by %g %% may be nothing: at most %d %%", what, off, mostOff),
			"write both ends: 2..20 N/um")
		return b, false
	}
	return constant.Between(x*(1-off/100), x, x*(1+off/100)), true
}

// numberThenUnit parts a lone number from its unit.
var numberThenUnit = regexp.MustCompile(`^(\d*\.?\d*(?:[eE][+-]?\d+)?) *(.*)$`)

// unitOf is the unit of a text that is one number; is: it is one, with a unit or without.
func unitOf(n *source.Node) (unit string, is bool) {
	e, bad := parseExpression(n.Text)
	if bad != nil || len(e.literals) != 1 || e.literals[0].text != strings.TrimSpace(n.Text) {
		return "", false
	}
	return numberThenUnit.FindStringSubmatch(e.literals[0].text)[2], true
}
