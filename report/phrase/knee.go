package phrase

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// KneeChance says in how many of 100 draws knees of one kind at one place come out so, the fewest and the most of them:
// "in 93 to 97 of 100 draws within a step of it"; "" where any was not drawn.
func KneeChance(knees ...answer.Knee) string {
	least, most, placed := 100.0, 0.0, false
	for _, k := range knees {
		if k.SamePercent == nil {
			return ""
		}
		least, most, placed = min(least, *k.SamePercent), max(most, *k.SamePercent), placed || k.At != nil
	}
	words := "in " + Chance(most) + " draws"
	if math.Round(least) != math.Round(most) {
		words = fmt.Sprintf("in %.0f to %s draws", math.Round(least), Chance(most))
	}
	if placed {
		words += " within a step of it"
	}
	return words
}

// NotSwept says why nothing of a sweep was drawn; "" where it was, or where there is nothing to draw.
func NotSwept(s answer.Sweep) string {
	if s.Sure != nil || len(s.Values) != 2 || len(s.Knees) == 0 {
		return ""
	}
	return "Typical numbers: over two values nothing is drawn. A sweep of one of them says how sure it is."
}

// DrawnOutside says which values of a sweep are drawn outside of the range that they ran over, so that no place of it is the
// machine as it stands; "" where none is.
func DrawnOutside(s answer.Sweep) string {
	var list []string
	for _, v := range s.Values {
		if number.Exceeds(v.At[0], v.Drawn) || number.Exceeds(v.Drawn, v.At[len(v.At)-1]) {
			list = append(list, wrap.OneLine(v.Name)+" is "+WithUnit(number.Given(v.Drawn), v.Unit))
		}
	}
	if list == nil {
		return ""
	}
	return "As drawn " + List(list) + ", outside of what is tried here."
}

// Idle says that a sweep moved nothing whatever, so that its value is not what draws the machine; "" where it did.
func Idle(s answer.Sweep) string {
	if len(s.Values) != 1 || len(s.Places) < 2 {
		return ""
	}
	same := func(a, b answer.SweptStep) bool {
		return a.MassKg == b.MassKg && a.Holes == b.Holes && (a.Tip == nil) == (b.Tip == nil) &&
			(a.Tip == nil || a.Tip.StiffnessNPerUm == b.Tip.StiffnessNPerUm) &&
			slices.EqualFunc(a.Loads, b.Loads, func(x, y answer.SweptLoad) bool { return maps.Equal(x.PointsUm, y.PointsUm) })
	}
	for _, p := range s.Places[1:] {
		if !same(s.Places[0], p) {
			return ""
		}
	}
	return "All places are the same machine: nothing drawn here uses " + wrap.OneLine(s.Values[0].Name) + "."
}
