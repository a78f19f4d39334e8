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

// sameWithin is the relative change below which two values count as the same: far below what the joints' scatter
// lets anyone tell, and just above what is lost in printing.
const sameWithin = 0.005

// notable is the part of the farthest movement below which a point's movement is left out of the words; it stands in
// the table all the same.
const notable = 0.1

// differs says whether b is another value than a, by more than sameWithin of the larger.
func differs(a, b float64) bool {
	return math.Abs(b-a) > max(sameWithin*max(math.Abs(a), math.Abs(b)), number.Noise)
}

// changes is what an option brings against the first one.
type changes struct {
	gains, costs, same []string
}

// file puts words under gains or costs by the sign of gain, or what under same when there is none.
func (c *changes) file(gain float64, words, what string) {
	switch {
	case gain > 0:
		c.gains = append(c.gains, words)
	case gain < 0:
		c.costs = append(c.costs, words)
	default:
		c.same = append(c.same, what)
	}
}

// difference writes what option r gains and costs against first.
func (p *page) difference(first, r answer.Result) {
	c := compared(first, r)
	p.Line("  " + wrap.OneLine(r.Name))
	if len(c.gains) == 0 && len(c.costs) == 0 {
		p.Item("    ", "no difference in anything compared here")
		return
	}
	for _, part := range []struct {
		mark  string
		words []string
	}{{"    gains  ", c.gains}, {"    costs  ", c.costs}} {
		if len(part.words) == 0 {
			part.words = []string{"nothing"}
		}
		p.Item(part.mark, strings.Join(part.words, "; "))
	}
	if len(c.same) > 0 {
		p.Item("    same   ", strings.Join(c.same, "; "))
	}
}

// compared sets an option against the first.
func compared(first, r answer.Result) changes {
	var c changes
	if first.Tip != nil && r.Tip != nil {
		c.compareStiffness(first, r)
	}
	c.compareCuts(first, r)
	both := []answer.Result{first, r}
	for _, t := range tolerated(both) {
		a, okA := t.within(first)
		b, okB := t.within(r)
		if okA && okB {
			c.file(gained(a, b), fmt.Sprintf("%s mm %s of %s", number.Length(math.Abs(b-a)), phrase.MoreOrLess(b-a),
				t.words()), t.words())
		}
	}
	farthest := farthestMovement(both)
	for _, at := range pointLoads(both) {
		a, okA := pointSize(first, at)
		b, okB := pointSize(r, at)
		if okA && okB && max(a, b) >= notable*farthest && differs(a, b) {
			ratio, coarse := ratioInWords(a, b, "more", "less", "far")
			words := fmt.Sprintf("point %s moves %s under %s", wrap.OneLine(at.point), ratio, phrase.Quoted(at.load))
			if coarse {
				words += against(a, b, "µm")
			}
			c.file(a-b, words, "")
		}
	}
	c.compareMisfits(first, r)
	cost := priceOf(first, r)
	c.file(-cost.kg, phrase.MoreMass(cost.kg), "mass")
	operations := operationsInWords(cost.operations)
	if minutes := r.Holes.Minutes - first.Holes.Minutes; minutes != 0 {
		operations += fmt.Sprintf(" (about %s %s)", phrase.Duration(math.Abs(minutes)), phrase.MoreOrLess(minutes))
	}
	c.file(-cost.operations, operations, "holes")
	return c
}

// compareStiffness files the directions of the tip under what changed: all at once when all change alike, and those
// that change by a factor each with its values.
func (c *changes) compareStiffness(first, r answer.Result) {
	var slight, great changes
	lines := stiffnessLines()
	ratios := make([]string, len(lines))
	for i, l := range lines {
		a, _ := l.value(first)
		b, _ := l.value(r)
		var coarse bool
		ratios[i], coarse = ratioInWords(a, b, "stiffer", "softer", "stiff")
		where := strings.TrimPrefix(l.what, stiffnessOf)
		words := ratios[i] + " " + where
		if coarse {
			great.file(gained(a, b), "the tip is "+words+against(a, b, l.unit), where)
		} else {
			slight.file(gained(a, b), words, where)
		}
	}
	for _, part := range []struct {
		slight, great []string
		to            *[]string
	}{{slight.gains, great.gains, &c.gains}, {slight.costs, great.costs, &c.costs}} {
		if len(part.slight)+len(part.great) == len(lines) && len(slices.Compact(slices.Clone(ratios))) == 1 {
			words := "the tip is " + ratios[0] + " in every direction"
			if len(part.great) > 0 {
				a, b := first.Tip.StiffnessNPerUm.Softest, r.Tip.StiffnessNPerUm.Softest
				words += against(a, b, "N/µm") + " where it is softest"
			}
			*part.to = append(*part.to, words)
			continue
		}
		*part.to = append(*part.to, part.great...)
		if len(part.slight) > 0 {
			*part.to = append(*part.to, "the tip is "+phrase.List(part.slight))
		}
	}
	if len(slight.same) == len(lines) {
		c.same = append(c.same, "stiffness of the tip")
	} else if len(slight.same) > 0 {
		c.same = append(c.same, "stiffness of the tip "+phrase.List(slight.same))
	}
}

// compareMisfits files what misfits do in two options; an option that names none has nothing out of place.
func (c *changes) compareMisfits(first, r answer.Result) {
	if first.Misfits == nil && r.Misfits == nil {
		return
	}
	for _, l := range misfitLines() {
		a, okA := l.value(first)
		b, okB := l.value(r)
		switch {
		case okA && okB || okA && r.Misfits == nil || okB && first.Misfits == nil:
		default:
			continue
		}
		if !differs(a, b) {
			c.same = append(c.same, l.what)
			continue
		}
		c.file(a-b, fmt.Sprintf("%s %s %s instead of %s", l.what, l.write(b), l.unit, l.write(a)), "")
	}
}

// misfitsDiffer tells whether misfits do something else in one of the options than in the first.
func misfitsDiffer(options []answer.Result) bool {
	return slices.ContainsFunc(options[1:], func(r answer.Result) bool {
		var c changes
		c.compareMisfits(options[0], r)
		return len(c.gains)+len(c.costs) > 0
	})
}

// operationsInWords says how much more or less there is to drill.
func operationsInWords(operations float64) string {
	switch operations {
	case 0:
		return "no more holes"
	case 1, -1:
		return fmt.Sprintf("1 hole operation %s", phrase.MoreOrLess(operations))
	}
	return fmt.Sprintf("%s hole operations %s", number.Length(math.Abs(operations)), phrase.MoreOrLess(operations))
}

// fractions are the words for a loss of more than half, the least first.
var fractions = []struct {
	of    float64
	words string
}{{0.1, "a tenth"}, {0.25, "a quarter"}, {1.0 / 3, "a third"}, {0.5, "half"}}

// ratioInWords says how b stands to a: "12 % softer", "2.3 times as stiff", "less than half as stiff". From nothing
// there is no ratio. Both values should be named where the ratio is a coarse one.
func ratioInWords(a, b float64, up, down, as string) (words string, coarse bool) {
	if a < number.Noise {
		return up + " than none", false
	}
	if times, ok := phrase.Times(b / a); ok {
		return times + " times as " + as, true
	}
	if b > a {
		return number.Significant(100*(b/a-1)) + " % " + up, false
	}
	for _, f := range fractions {
		if b < f.of*a {
			return "less than " + f.words + " as " + as, true
		}
	}
	return number.Significant(100*(1-b/a)) + " % " + down, false
}

// against names the two values of a ratio, the new one first.
func against(a, b float64, unit string) string {
	return ": " + number.Significant(b) + " against " + number.Significant(a) + " " + unit
}

// farthestMovement is the largest movement of a point in any of the options, µm.
func farthestMovement(options []answer.Result) float64 {
	most := 0.0
	for _, at := range pointLoads(options) {
		for _, r := range options {
			if v, ok := pointSize(r, at); ok {
				most = max(most, v)
			}
		}
	}
	return most
}

// worstWithin is the shortest stretch that keeps its tolerance, over all paths and loads of an option, mm; false when
// no path has a tolerance.
func worstWithin(r answer.Result) (float64, bool) {
	all := tolerated([]answer.Result{r})
	if len(all) == 0 {
		return 0, false
	}
	lengths := make([]float64, len(all))
	for i, t := range all {
		lengths[i], _ = t.within(r)
	}
	return slices.Min(lengths), true
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
