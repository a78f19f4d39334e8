package answer

import (
	"slices"

	"tiploop/frame/chance"
)

// The verdicts of a duel.
const (
	Better         = "better"
	ProbablyBetter = "probably better"
	NoDifference   = "no real difference"
	ProbablyWorse  = "probably worse"
	Worse          = "worse"
	TheSame        = "the same"
)

// Duels holds every option against each before it, draw by draw, in every quantity that was drawn for both: they were
// drawn under the same luck, so that what is unknown of both does not count. Options that were not drawn have none.
func Duels(options []Result) (list []Duel) {
	for i := range options {
		for k := range options[:i] {
			if options[i].Sure != nil && options[k].Sure != nil {
				list = append(list, duels(&options[i], &options[k])...)
			}
		}
	}
	return list
}

// duels are those of one option against another.
func duels(a, b *Result) (list []Duel) {
	for _, of := range a.Sure.Columns {
		k := slices.IndexFunc(b.Sure.Columns, func(c Column) bool { return c.Quantity == of.Quantity })
		if k < 0 {
			continue
		}
		n := min(len(of.Values), len(b.Sure.Columns[k].Values))
		v := chance.Beats(of.Values[:n], b.Sure.Columns[k].Values[:n])
		d := Duel{Quantity: of.Quantity, Option: a.Name, Against: b.Name, BetterPercent: 100 * v.Better,
			Ratio: Range{v.Ratio.Low, v.Ratio.Median, v.Ratio.High}}
		if !of.MoreIsBetter {
			d.BetterPercent = 100 - d.BetterPercent
		}
		d.Verdict = verdict(v.Sureness(), d.BetterPercent > 50)
		list = append(list, d)
	}
	return list
}

// verdict words how sure it is that an option is the better or the worse one.
func verdict(sure chance.Sureness, better bool) string {
	switch {
	case sure == chance.TheSame:
		return TheSame
	case sure == chance.Surely && better:
		return Better
	case sure == chance.Surely:
		return Worse
	case sure == chance.Probably && better:
		return ProbablyBetter
	case sure == chance.Probably:
		return ProbablyWorse
	}
	return NoDifference
}
