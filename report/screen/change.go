package screen

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

// mostChanges is how many changes are named.
const mostChanges = 3

// The step of a change that is told: a tenth of a number, one more of what counts; and the least gain that is worth a
// line, as a share of the movement. Gains are slopes, told as if they went on as they begin, which holds for a tenth of all but
// thickness.
const (
	tenth     = 0.1
	leastGain = 0.005
)

// change is a step that somebody could take, and what it brings.
type change struct {
	answer.Gain
	step float64 // in the gain's unit, on the way on which the tip gets stiffer
	mean float64 // by what share of its movement the tip moves less, over all loads on the tip
	load string  // that of which most µm go
	um   float64
	of   float64 // what the tip moves under it, µm
}

// changes names what gains most next.
func (s *sheet) changes(r answer.Result) {
	list, known := ChangesOf(r)
	if !known {
		return
	}
	s.Heading("What to change next, about")
	if len(list) == 0 {
		s.Item("  ", NothingGains+".")
		return
	}
	for _, c := range list[:min(len(list), mostChanges)] {
		s.Item("  ", c)
	}
}

// nextOf is what could be made stiffer: of the beam model where that was asked beside the meshed one.
func nextOf(r answer.Result) *answer.Next {
	if r.Next == nil && r.Section != nil {
		return r.Section.Next
	}
	return r.Next
}

// NothingGains says that no change is worth a line.
const NothingGains = "Nothing by itself: a tenth more of anything takes less than a hundredth off the movement"

// ChangesOf lists in words what gains most next, by the mean share of the movement under all loads on the tip: what to
// change, what that gains and costs. It tells whether that was asked for; none is worth a line where the list is empty.
func ChangesOf(r answer.Result) (words []string, known bool) {
	n := nextOf(r)
	if n == nil {
		return nil, false
	}
	var list []change
	for _, g := range n.Gains {
		if c := changeOf(g, r); c.mean >= leastGain {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, b change) int {
		return cmp.Compare(number.AsWritten(b.mean), number.AsWritten(a.mean))
	})
	for _, c := range list {
		words = append(words, c.inWords())
	}
	return words, true
}

// changeOf is the step of a gain and what it brings.
func changeOf(g answer.Gain, r answer.Result) change {
	c := change{Gain: g, step: tenth * math.Abs(g.At)}
	switch {
	case g.Whole || g.At == 0:
		c.step = 1
	case g.Room != nil:
		c.step = min(c.step, *g.Room)
	}
	if g.StiffnessNPerUm < 0 {
		c.step = -c.step
	}
	told := r.Loads // of the model whose slopes they are: what it gives more, it gains more
	if r.Next == nil && r.Section != nil {
		told = r.Section.Loads
	}
	n := 0
	for _, l := range g.Loads {
		is := func(o answer.LoadResult) bool { return o.Name == l.Load }
		i, k := slices.IndexFunc(r.Loads, is), slices.IndexFunc(told, is)
		if i < 0 || k < 0 || reach(r.Loads[i]) < number.Noise || reach(told[k]) < number.Noise {
			continue
		}
		share := c.step * l.Um / reach(told[k])
		if g.Kind == answer.OfThickness {
			share = byPower(share, c.step/g.At)
		}
		less, of := share*reach(r.Loads[i]), reach(r.Loads[i])
		c.mean += share
		n++
		if c.load == "" || less > c.um {
			c.load, c.um, c.of = l.Load, less, of
		}
	}
	if n > 0 {
		c.mean /= float64(n)
	}
	return c
}

// byPower is the share that goes where thickness grows by a part of itself, from that by its slope: give goes with a power of
// thickness, and with no higher one than the bending of plates does (Timoshenko & Woinowsky-Krieger: D = E·h³/(12·(1 − ν²))).
func byPower(share, grows float64) float64 {
	const bending = 3
	return 1 - math.Pow(1+grows, -min(share/grows, bending))
}

// inWords says what to change, from what to what, what that gains and what it costs.
func (c change) inWords() string {
	words := c.stepInWords()
	if c.um > 0 {
		words += fmt.Sprintf(": %s %s µm less (%s %%)", wrap.OneLine(c.load), number.Digits(c.um, phrase.RangedDigits),
			percent(100*c.um/c.of))
	}
	if kg := c.step * c.MassKg; math.Abs(kg) >= leastMass {
		words += fmt.Sprintf(", %s kg %s", number.Digits(math.Abs(kg), phrase.RangedDigits), phrase.MoreOrLess(kg))
	}
	if n := int(c.step) * c.Operations; c.Whole && n > 0 {
		words += ", " + phrase.Count(n, "hole operation") + " more"
	}
	return words
}

// percent writes a share of which only the size counts, in whole percent from one on.
func percent(v float64) string {
	if v < 1 {
		return number.Digits(v, 1)
	}
	return number.Given(math.Round(v))
}

// leastMass is the mass, kg, that is worth a word.
const leastMass = 0.01

// stepInWords says what to change: "column 30 to 33 mm thick".
func (c change) stepInWords() string {
	what := wrap.OneLine(c.What)
	fromTo := fmt.Sprintf("%s to %s", tidy(c.At), phrase.WithUnit(tidy(c.At+c.step), c.Unit))
	switch c.Kind {
	case answer.OfThickness:
		return fmt.Sprintf("%s %s thick", what, fromTo)
	case answer.OfScrews:
		return "one more row of screws in " + what
	case answer.OfSpacing:
		axis, _, _ := strings.Cut(what, ":")
		return fmt.Sprintf("carriages of axis %s %s %s", axis, phrase.WithUnit(tidy(math.Abs(c.step)), c.Unit),
			pick(c.step, "farther apart", "closer together"))
	case answer.OfTool:
		return fmt.Sprintf("cutter's %s %s", what, fromTo)
	}
	return what + " " + fromTo
}

func pick(v float64, more, less string) string {
	if v < 0 {
		return less
	}
	return more
}

// tidy writes a measure as a person would set it: three digits, without zeros behind the point.
func tidy(v float64) string { return number.Given(number.AsWritten(v)) }
