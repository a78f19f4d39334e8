package answer

import (
	"cmp"
	"math"
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
		d := Duel{Quantity: of.Quantity, Option: a.Name, Against: b.Name, BetterPercent: 100 * v.Ahead(),
			WinsPercent: 100 * v.Greater, LossesPercent: 100 * v.Less, TiesPercent: 100 * v.Alike}
		if v.Ratio != nil {
			d.Ratio = &Range{v.Ratio.Low, v.Ratio.Median, v.Ratio.High}
		}
		if !of.MoreIsBetter {
			d.BetterPercent = 100 - d.BetterPercent
			d.WinsPercent, d.LossesPercent = d.LossesPercent, d.WinsPercent
		}
		d.Verdict = verdict(v.Sureness(), d.WinsPercent > d.LossesPercent)
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

// Turns are the unknowns that the order of two options turns on in a quantity, the largest share first: shares of the
// variance of the logarithm of one's number over the other's, draw by draw, so that what moves both alike has none. Where
// a number is zero in some draw it is their difference that is looked at.
func Turns(a, b *Result, quantity string) (list []UnknownShare) {
	if a.Sure == nil || b.Sure == nil {
		return nil
	}
	of := func(r *Result) []float64 {
		k := slices.IndexFunc(r.Sure.Columns, func(c Column) bool { return c.Quantity == quantity })
		if k < 0 {
			return nil
		}
		return r.Sure.Columns[k].Values
	}
	x, y := of(a), of(b)
	n := min(len(x), len(y))
	if n == 0 {
		return nil
	}
	apart := make([]float64, n)
	ratio := slices.Min(x[:n]) > 0 && slices.Min(y[:n]) > 0
	for i := range apart {
		if apart[i] = x[i] - y[i]; ratio {
			apart[i] = math.Log(x[i] / y[i])
		}
	}
	unknowns := slices.Clone(a.Sure.Unknowns)
	for _, u := range b.Sure.Unknowns {
		if !slices.ContainsFunc(unknowns, func(o DrawnUnknown) bool { return o.Key == u.Key }) {
			unknowns = append(unknowns, u)
		}
	}
	logs := make([][]float64, n)
	for i := range logs {
		for _, u := range unknowns {
			logs[i] = append(logs[i], u.Logs[i])
		}
	}
	for k, share := range chance.Shares(logs, apart) {
		if share > 0 {
			list = append(list, UnknownShare{Quantity: quantity, What: unknowns[k].What, Percent: 100 * share,
				Settle: unknowns[k].Settle})
		}
	}
	slices.SortStableFunc(list, func(x, y UnknownShare) int { return cmp.Compare(y.Percent, x.Percent) })
	return list
}
