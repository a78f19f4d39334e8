package verdict

import (
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// The bounds between what differs and what does not.
const (
	alike    = 0.01 // as a share: what differs by less, typically and in nine draws of ten, is the same
	nearly   = 90   // percent of the draws: nine in ten
	probably = 80   // percent of the draws from which on an option is the better one
	wide     = 0.1  // as a share: a range of ratios that reaches so far to both sides of 1 leaves the order open
)

// outcome is how an option comes off against another.
type outcome int

const (
	same outcome = iota
	better
	worse
	open
)

// match is an option against another in a quantity.
type match struct {
	outcome outcome
	claim   answer.Claim
	turns   bool // the order turns on what is not known
}

// pairing is an option against another: what was drawn of the two.
type pairing struct {
	option, against *answer.Result
	duels           map[string]answer.Duel // by quantity
}

// pairings set every option against each before it.
func pairings(a answer.Answer) (list []pairing) {
	type sides struct{ option, against string }
	duels := map[sides]map[string]answer.Duel{}
	for _, d := range a.Duels {
		s := sides{d.Option, d.Against}
		if duels[s] == nil {
			duels[s] = map[string]answer.Duel{}
		}
		duels[s][d.Quantity] = d
	}
	for i := range a.Options {
		for k := range i {
			o, against := &a.Options[i], &a.Options[k]
			list = append(list, pairing{o, against, duels[sides{o.Name, against.Name}]})
		}
	}
	return list
}

// in is how the two compare in a quantity; false where one of them has no number for it.
func (p pairing) in(q Quantity) (m match, ok bool) {
	a, okA := q.Value(*p.option)
	b, okB := q.Value(*p.against)
	if !okA || !okB {
		return m, false
	}
	a, b = number.WithoutRounding(a, number.Noise), number.WithoutRounding(b, number.Noise)
	m.claim.Quantity = q.Key
	if b > 0 {
		m.claim.Ratio = new(a / b)
	}
	if a == 0 && b == 0 {
		return m, true
	}
	bound := max(alike*max(a, b), q.bound(*p.option, *p.against))
	level := math.Abs(a-b) < bound
	d, drawn := p.duels[q.Key]
	if !drawn {
		switch {
		case level:
		case a > b == q.MoreIsBetter:
			m.outcome = better
		default:
			m.outcome = worse
		}
		return m, true
	}
	m.claim.BetterPercent = new(d.BetterPercent)
	m.claim.WinsPercent, m.claim.LossesPercent = new(d.WinsPercent), new(d.LossesPercent)
	switch {
	case level && within(d, b, bound+p.drawError()*max(a, b)):
		return m, true
	case level:
		m.outcome = open
	case d.WinsPercent >= probably:
		m.outcome = better
	case d.LossesPercent >= probably:
		m.outcome = worse
	default:
		m.outcome = open
	}
	either := d.WinsPercent > 0 && d.LossesPercent > 0
	apart := d.Ratio != nil && d.Ratio.Low <= 1-wide && d.Ratio.High >= 1+wide
	m.turns = either && (m.outcome == open && !level || apart)
	return m, true
}

// drawError is by how much the numbers of two options may differ in a draw and be one number, as a share: each is drawn on a
// basis of its own, which holds back up to its error. Typical numbers are whole solutions.
func (p pairing) drawError() float64 {
	percent := 0.0
	for _, o := range []*answer.Result{p.option, p.against} {
		if o.Sure != nil {
			percent += o.Sure.ErrorPercent
		}
	}
	return percent / 100
}

// within tells whether nine draws in ten differ by less than a bound from against, the other's typical number.
func within(d answer.Duel, against, bound float64) bool {
	if d.Ratio == nil {
		return d.TiesPercent >= nearly
	}
	return against*max(1-d.Ratio.Low, d.Ratio.High-1) < bound
}

// cost is what the first option of a pairing takes more than the other.
func (p pairing) cost() (kg, hours float64) {
	return costOf(p.option, p.against)
}

// gram and minute are the differences below which two options cost the same.
const (
	gram   = 0.001 // kg
	minute = 1.0 / 60
)

// costOf is what an option takes more than another, in kg and in hours at the drill press.
func costOf(a, b *answer.Result) (kg, hours float64) {
	return number.WithoutRounding(a.MassKg-b.MassKg, gram),
		number.WithoutRounding((a.Holes.Minutes-b.Holes.Minutes)/60, minute)
}
