package screen

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

// sure says how sure the numbers are, what to measure first, and what a second model and the meshes say.
func (s *sheet) sure(r answer.Result) {
	s.Heading("How sure")
	var words []string
	if r.Sure == nil {
		words = append(words, "Typical values; a joint's stiffness is hardly known within a factor of two.")
	} else {
		words = append(words, "Nine of ten machines built like this lie in the ranges in brackets.")
		if !r.Sure.Settled {
			words = append(words, fmt.Sprintf("Their ends may still be off by %s %%.", number.Digits(r.Sure.SettledPercent,
				phrase.RangedDigits)))
		}
	}
	words = append(words, phrase.Opinions(s.asks, r)...)
	s.Item("  ", strings.Join(words, " "))
	s.measureFirst(r)
	s.Item("  ", "An estimate, not a certified calculation. Test pushes: spindle unplugged.")
}

// measureFirst names the unknowns from which most of the spread comes.
func (s *sheet) measureFirst(r answer.Result) {
	if r.Sure == nil {
		return
	}
	var words []string
	culprits, of := culpritsOf(r)
	for _, c := range culprits {
		word := fmt.Sprintf("%s (%s %%)", wrap.OneLine(c.What), number.Given(min(100, math.Round(c.Percent))))
		if c.Settle != "" && words == nil {
			word += ": " + wrap.OneLine(c.Settle)
		}
		words = append(words, word)
		if len(words) == mostCulprits {
			break
		}
	}
	if words != nil {
		s.Item("  ", "Measure or improve first"+of+": "+strings.Join(words, "; ")+".")
	}
}

// culpritsOf are the unknowns of the movement under the load that moves the tip farthest; where nothing was drawn of it,
// those of the quantity that comes first. Of says whose they are.
func culpritsOf(r answer.Result) (list []answer.UnknownShare, of string) {
	if len(r.Sure.Culprits) == 0 {
		return nil, ""
	}
	quantity := r.Sure.Culprits[0].Quantity
	most := -1.0
	for _, l := range r.Loads {
		key := answer.MovementKey(l.Name, "")
		known := slices.ContainsFunc(r.Sure.Culprits, func(c answer.UnknownShare) bool { return c.Quantity == key })
		if known && number.Exceeds(reach(l), most) {
			quantity, most, of = key, reach(l), " for "+phrase.Quoted(l.Name)
		}
	}
	for _, c := range r.Sure.Culprits {
		if c.Quantity == quantity {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, b answer.UnknownShare) int {
		return int(math.Round(b.Percent)) - int(math.Round(a.Percent))
	})
	return list, of
}

// FirstCulprit is the unknown that "measure or improve first" begins with: that from which most of the spread comes of the
// movement under the load that moves the tip farthest. False where nothing was drawn.
func FirstCulprit(r answer.Result) (c answer.UnknownShare, ok bool) {
	if r.Sure == nil {
		return c, false
	}
	list, _ := culpritsOf(r)
	if len(list) == 0 {
		return c, false
	}
	return list[0], true
}
