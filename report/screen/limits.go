package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// nearLimit is the share of a limit from which something is near it. Friction and preload are each known to a third at
// best, so half of a limit is already near it.
const nearLimit = 0.5

// leastSafety is the static safety below which a carriage or a nut is near its limit: what is asked for with shocks.
const leastSafety = 3

// Limit is something on its way to what it bears.
type Limit struct {
	Share float64 // 1: it is there
	What  string  // "slip of joint column/arm"
	Under string  // "“drilling”"
}

// Near tells whether it is near what it bears.
func (l Limit) Near() bool { return l.Share >= nearLimit }

// InWords says how near: "slip of joint column/arm under “drilling”: 60 % of what it bears".
func (l Limit) InWords() string {
	return fmt.Sprintf("%s under %s: %s %% of what it bears", l.What, l.Under, number.Digits(100*l.Share, phrase.RangedDigits))
}

// LimitsOf lists what is on its way to what it bears, the nearest first; what is hardly on its way is left out.
func LimitsOf(r answer.Result) []Limit {
	list := ofGuides(ofStress(ofScrews(nil, r.Screws, ""), r.Stress), r)
	if m := r.Misfits; m != nil {
		list = ofLocked(ofScrews(list, m.Together.Screws, "all misfits"), *m.Together)
	}
	list = slices.DeleteFunc(list, func(l Limit) bool { return l.Share < noShare })
	slices.SortStableFunc(list, func(a, b Limit) int { return cmp.Compare(number.AsWritten(b.Share), number.AsWritten(a.Share)) })
	return list
}

// limits says what is near a limit, or that nothing is and what is nearest; and how likely something fails.
func (s *sheet) limits(r answer.Result) {
	s.limited(LimitsOf(r), answer.LargeNotes(r.Loads), risks(r))
	s.misfits(r)
	s.wear(r)
}

// limited writes the limits that are near, the nearest first, behind alarms.
func (s *sheet) limited(list []Limit, alarms, risks []string) {
	s.Heading("What is near a limit")
	for _, a := range alarms {
		s.Alarm("  ", a)
	}
	near := slices.IndexFunc(list, func(l Limit) bool { return !l.Near() })
	if near < 0 {
		near = len(list)
	}
	most := s.of(5, 1)
	for _, l := range list[:min(near, most)] {
		words := phrase.Capital(l.InWords()) + "."
		if l.Share >= 1 {
			s.Alarm("  ", words)
		} else {
			s.Item("  ", words)
		}
	}
	if near > most {
		s.Item("  ", phrase.Verb(near-most, "%d more %s near one.", "is", "are"))
	}
	switch {
	case near > 0:
	case len(list) == 0:
		s.Item("  ", "Nothing: no joint is on its way to slip or open, no part to yield.")
	default:
		s.Item("  ", fmt.Sprintf("Nothing; nearest is %s.", list[0].nearest()))
	}
	for _, r := range risks {
		s.Item("  ", r)
	}
}

// nearest says how near what is not near a limit is: "slip of joint column/arm under “drilling”, 23 %".
func (l Limit) nearest() string {
	return fmt.Sprintf("%s under %s, %s %%", l.What, l.Under, number.Digits(100*l.Share, phrase.RangedDigits))
}

// NothingNear says of what is nearest to a limit that it is not near, of none that there is nothing.
func NothingNear(list []Limit) string {
	if len(list) == 0 {
		return "Nothing is near a limit: no joint is on its way to slip or open, no part to yield"
	}
	return "Nothing is near a limit; nearest is " + list[0].nearest()
}

// noShare is a share of a limit too small to be written.
const noShare = 0.0005

// worse keeps of each thing the load under which it is nearest to its limit, the first of equals.
func worse(list []Limit, l Limit) []Limit {
	i := slices.IndexFunc(list, func(o Limit) bool { return o.What == l.What })
	switch {
	case i < 0:
		return append(list, l)
	case number.Exceeds(l.Share, list[i].Share):
		list[i] = l
	}
	return list
}

// ofScrews are the worst slip and opening of each joint.
func ofScrews(list []Limit, screws []answer.ScrewLoad, by string) []Limit {
	for _, s := range screws {
		under := phrase.Quoted(s.Load)
		if by != "" {
			under = by
		}
		joint := wrap.OneLine(s.Joint)
		list = worse(list, Limit{s.SlipPercent / 100, "slip of " + joint, under})
		list = worse(list, Limit{s.OpenPercent / 100, "opening of " + joint, under})
	}
	return list
}

// yieldOf begins what a part on its way to yield is called.
const yieldOf = "yield of "

// ofStress are the worst stress of each part.
func ofStress(list []Limit, stress []answer.Stress) []Limit {
	for _, s := range stress {
		if s.TimesYield != nil && *s.TimesYield > 0 {
			list = worse(list, Limit{1 / *s.TimesYield, yieldOf + wrap.OneLine(s.Part), phrase.Quoted(s.Load)})
		}
	}
	return list
}

// ofGuides are guides and screws whose static safety is low, and motors and screws near what they hold.
func ofGuides(list []Limit, r answer.Result) []Limit {
	add := func(share float64, what, load string) {
		if share >= nearLimit {
			list = worse(list, Limit{share, what, phrase.Quoted(load)})
		}
	}
	safe := func(safety *float64, what, load string) {
		if safety != nil && *safety > 0 && *safety < leastSafety {
			add(max(1 / *safety, nearLimit), what, load)
		}
	}
	for _, c := range r.Carriages {
		guide := fmt.Sprintf("guide %s, %s", wrap.OneLine(c.Axis), wrap.OneLine(c.Guide))
		safe(c.StaticSafety, "static load of "+guide, c.Load)
		if c.EquivalentN != nil && c.DynamicN != nil && *c.DynamicN > 0 {
			add(*c.EquivalentN / *c.DynamicN, "dynamic load of "+guide, c.Load)
		}
	}
	for _, d := range r.Drives {
		drive := wrap.OneLine(d.Drive)
		safe(d.StaticSafety, "static load of "+drive, d.Load)
		if d.DynamicN != nil && *d.DynamicN > 0 {
			add(math.Abs(d.ForceN) / *d.DynamicN, "dynamic load of "+drive, d.Load)
		}
		if d.TorqueNmm != nil && d.HoldingNmm != nil && *d.HoldingNmm > 0 {
			add(*d.TorqueNmm / *d.HoldingNmm, "the torque that holds the motor of "+drive, d.Load)
		}
		if d.BucklingN != nil && *d.BucklingN > 0 {
			add(math.Abs(d.ForceN) / *d.BucklingN, "buckling of the screw of "+drive, d.Load)
		}
	}
	return list
}

// ofLocked are carriages and nuts into which what does not line up locks more than they are preloaded by: from there on
// they give more than the answer says.
func ofLocked(list []Limit, all answer.Misfit) []Limit {
	add := func(force, preload *float64, what string) {
		if force != nil && preload != nil && *preload > 0 && *force >= nearLimit**preload {
			list = worse(list, Limit{*force / *preload, "preload of " + what, "all misfits"})
		}
	}
	for _, c := range all.Carriages {
		add(c.EquivalentN, c.PreloadN, fmt.Sprintf("guide %s, %s", wrap.OneLine(c.Axis), wrap.OneLine(c.Guide)))
	}
	for _, n := range all.Nuts {
		add(new(number.Norm(n.ForceN)), n.PreloadN, wrap.OneLine(n.What))
	}
	return list
}

// risks are what fails in some of the draws.
func risks(r answer.Result) (words []string) {
	if r.Sure == nil {
		return nil
	}
	for _, k := range r.Sure.Risks {
		if k.Percent < leastRisk || len(words) == mostRisks {
			break
		}
		words = append(words, fmt.Sprintf("%s %s in %s of 100 under %s.", phrase.Capital(wrap.OneLine(k.What)), k.How,
			number.Given(max(1, math.Round(k.Percent))), phrase.Quoted(k.Load)))
	}
	return words
}

// The risks that are told: from how many of 100 on, and how many of them.
const (
	leastRisk = 0.5
	mostRisks = 3
)

// misfits says how far what does not line up puts the tip out of place.
func (s *sheet) misfits(r answer.Result) {
	if r.Misfits == nil || r.Misfits.Together.Moved.TipUm == nil {
		return
	}
	um := number.Norm(*r.Misfits.Together.Moved.TipUm)
	far := phrase.WithUnit(number.Significant(um), "µm")
	if r.Sure != nil && r.Sure.MisfitsUm != nil {
		far = phrase.Ranged(um, r.Sure.MisfitsUm, "µm")
	}
	s.Item("  ", fmt.Sprintf("What does not line up puts the tip %s out of place: %s misfits.", far, s.asks.ForTables()))
}

// wear says which guide or screw lives shortest if its worst load acts all the time.
func (s *sheet) wear(r answer.Result) {
	what, km, h := "", 0.0, (*float64)(nil)
	shorter := func(name, load string, life, hours *float64) {
		if life != nil && (what == "" || number.Exceeds(km, *life)) {
			what, km, h = fmt.Sprintf("%s under %s", wrap.OneLine(name), phrase.Quoted(load)), *life, hours
		}
	}
	for _, c := range r.Carriages {
		shorter("guide "+c.Axis+", "+c.Guide, c.Load, c.LifeKm, c.LifeH)
	}
	for _, d := range r.Drives {
		shorter(d.Drive, d.Load, d.LifeKm, d.LifeH)
	}
	switch {
	case what == "":
		return
	case km > longLife:
		s.Item("  ", fmt.Sprintf("Every guide and screw whose life is known lasts over %s km.", number.Given(longLife)))
		return
	}
	words := fmt.Sprintf("Shortest life: %s, %s km", what, number.Digits(km, phrase.RangedDigits))
	if h != nil {
		words += fmt.Sprintf(" or %s h at its rapid move", number.Digits(*h, phrase.RangedDigits))
	}
	s.Item("  ", words+", an indication.")
}

// longLife is the life, km, from which a number says no more than that something else will end it.
const longLife = 1e5
