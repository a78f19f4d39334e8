package report

import (
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// loadShares are the shares of one load.
type loadShares struct {
	load   string
	shares []answer.Share
}

// sharesByLoad sorts the shares of an option by load, both in the order they came in.
func sharesByLoad(r answer.Result) []loadShares {
	var groups []loadShares
	for _, s := range r.Shares {
		i := slices.IndexFunc(groups, func(g loadShares) bool { return g.load == s.Load })
		if i < 0 {
			i = len(groups)
			groups = append(groups, loadShares{load: s.Load})
		}
		groups[i].shares = append(groups[i].shares, s)
	}
	return groups
}

// largest keeps the largest shares in the order they came in, at most n of them, and sums up the rest. Shares that are
// written alike are kept together or summed up together, so that the two parts of a mirrored pair are never parted by
// what rounding left over; when that would leave none, the largest are kept however many they are. A single one left
// over is kept as well: its line costs no more than that of the sum.
func largest(shares []answer.Share, n int) (kept []answer.Share, rest float64, restCount int) {
	least := leastKept(shares, n)
	for _, s := range shares {
		if tenths(s) >= least {
			kept = append(kept, s)
		} else {
			rest += s.Percent
			restCount++
		}
	}
	if restCount <= 1 {
		return shares, 0, 0
	}
	return kept, rest, restCount
}

// leastKept is the share, in tenths of a percent, from which the n largest of them are kept.
func leastKept(shares []answer.Share, n int) float64 {
	all := make([]float64, len(shares))
	for i, s := range shares {
		all[i] = tenths(s)
	}
	slices.Sort(all)
	slices.Reverse(all)
	if len(all) <= n || n == 0 {
		return math.Inf(-1)
	}
	least := all[n]
	if i := slices.Index(all, least); i > 0 {
		least = all[i-1]
	}
	return least
}

// tenths is a share as it is written, in tenths of a percent.
func tenths(s answer.Share) float64 { return math.Round(10 * number.RoundedPercent(s.Percent)) }
