package phrase

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
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
