package report

import (
	"cmp"
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

// Culprits are what gives way most under one load.
type Culprits struct {
	Load  string
	Kept  []answer.Share // the largest first
	Rest  float64        // percent, of all others
	Count int            // how many others
}

// CulpritsOf gives for each load of an option what gives way most: a number of sources, or more where what is left of
// them would be more than the largest.
func CulpritsOf(r answer.Result, most int) (list []Culprits) {
	for _, g := range sharesByLoad(r) {
		kept, rest, count := largest(g.shares, most)
		list = append(list, Culprits{g.load, kept, rest, count})
	}
	return list
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

// largest gives the largest shares, the largest first, n of them or more, and sums up the rest. Shares that are written
// alike keep their order and are kept together or summed up together, so that the two parts of a mirrored pair are never
// parted by what rounding left over. More are kept as long as the rest together is more than the largest: a sum that
// stands above every share says nothing. A single one left over is kept as well: its line costs no more than that of the
// sum.
func largest(shares []answer.Share, n int) (kept []answer.Share, rest float64, restCount int) {
	sorted := slices.Clone(shares)
	slices.SortStableFunc(sorted, func(a, b answer.Share) int { return cmp.Compare(tenths(b), tenths(a)) })
	for ; ; n++ {
		least := leastKept(sorted, n)
		kept, rest, restCount = nil, 0, 0
		for _, s := range sorted {
			if tenths(s) >= least {
				kept = append(kept, s)
			} else {
				rest += s.Percent
				restCount++
			}
		}
		if restCount <= 1 {
			return sorted, 0, 0
		}
		if !number.Exceeds(rest, kept[0].Percent) {
			return kept, rest, restCount
		}
	}
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
