package report

import (
	"slices"

	"tiploop/frame/machine"
)

// loadShares are the shares of one load.
type loadShares struct {
	load   string
	shares []machine.Share
}

// sharesByLoad sorts the shares of an option by load, both in the order they came in.
func sharesByLoad(r machine.Result) []loadShares {
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

// largest keeps the n largest shares in the order they came in, and sums up the rest. A single one left over is kept
// as well: its line costs no more than that of the sum.
func largest(shares []machine.Share, n int) (kept []machine.Share, rest float64, restCount int) {
	if len(shares) <= n+1 {
		return shares, 0, 0
	}
	rank := make([]int, len(shares))
	for i := range rank {
		rank[i] = i
	}
	slices.SortStableFunc(rank, func(a, b int) int {
		switch {
		case shares[a].Percent > shares[b].Percent:
			return -1
		case shares[a].Percent < shares[b].Percent:
			return 1
		}
		return 0
	})
	large := make([]bool, len(shares))
	for _, i := range rank[:n] {
		large[i] = true
	}
	for i, s := range shares {
		if large[i] {
			kept = append(kept, s)
		} else {
			rest += s.Percent
			restCount++
		}
	}
	return kept, rest, restCount
}
