package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/graph"
	"tiploop/report/number"
	"tiploop/report/paper"
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

// sharesAlone and sharesBeside are how many sources of a load are drawn one by one, for a single option and for
// several of them; the rest is summed up in a bar of its own.
const (
	sharesAlone  = 12
	sharesBeside = 7
)

// mostShared is of how many loads shares are drawn: more make a sheet that nobody reads.
const mostShared = 3

// sharesScale is how far the scale of shares reaches at least, in percent, lest a loop of many equal parts look like
// one in which a single part gives way.
const sharesScale = 25

// SharesPicture shows who gives way: for each load, what percentage of the movement each source causes. Of several
// options, each source has a bar for each.
func SharesPicture(a answer.Answer) (*paper.Picture, error) {
	if err := number.CheckFinite(a); err != nil {
		return nil, err
	}
	b := graph.Bars{Sheet: paper.Sheet{Title: a.Machine + ": who gives way", Subtitle: "Share of each part, joint, " +
		"guide, drive and ground, and of the tool, in the movement"}}
	if len(a.Options) == 1 {
		b.Subtitle += ". Option: " + a.Options[0].Name
	}
	addDetail(&b.Sheet, a)
	for _, r := range a.Options {
		b.Series = append(b.Series, r.Name)
	}
	most := float64(sharesScale)
	all := shareLoads(a.Options)
	loads := worstLoads(a.Options, all, mostShared)
	b.Subtitle += worstOf(len(loads), len(all))
	for _, load := range loads {
		p := graph.Panel{Title: load, Axis: "share of the movement, %", Rows: shareRows(a.Options, load)}
		for _, r := range p.Rows {
			for _, v := range r.Bars {
				most = max(most, v.Value)
			}
		}
		b.Panels = append(b.Panels, p)
	}
	if len(b.Panels) == 0 {
		return nil, paper.NothingToDraw("no load moves the machine, so nothing gives way")
	}
	for i := range b.Panels {
		b.Panels[i].Least = most
	}
	return b.Picture(), nil
}

// shareLoads gives the loads that have shares, in the order they first come.
func shareLoads(options []answer.Result) []string {
	var loads []string
	for _, r := range options {
		for _, s := range r.Shares {
			if !slices.Contains(loads, s.Load) {
				loads = append(loads, s.Load)
			}
		}
	}
	return loads
}

// mostShares gives each source of a load with the most that any of the options has of it.
func mostShares(options []answer.Result, load string) []answer.Share {
	var sources []answer.Share
	for _, r := range options {
		for _, s := range r.Shares {
			if s.Load != load {
				continue
			}
			i := slices.IndexFunc(sources, func(o answer.Share) bool { return o.Source == s.Source })
			if i < 0 {
				sources = append(sources, s)
			} else {
				sources[i].Percent = max(sources[i].Percent, s.Percent)
			}
		}
	}
	return sources
}

// shareRows gives a row for each large source of a load. Which are large is decided by the most that any of the
// options has of each.
func shareRows(options []answer.Result, load string) []graph.Row {
	sources := mostShares(options, load)
	most := sharesAlone
	if len(options) > 1 {
		most = sharesBeside
	}
	kept, _, restCount := largest(sources, most)
	var rows []graph.Row
	for _, source := range kept {
		row := graph.Row{Label: source.Source}
		for _, r := range options {
			row.Bars = append(row.Bars, shareBar(r, load, source.Source))
		}
		rows = append(rows, row)
	}
	if restCount > 0 {
		row := graph.Row{Label: fmt.Sprintf("all others (%d)", restCount)}
		for _, r := range options {
			sum := 0.0
			for _, s := range r.Shares {
				isKept := slices.ContainsFunc(kept, func(o answer.Share) bool { return o.Source == s.Source })
				if s.Load == load && !isKept {
					sum += s.Percent
				}
			}
			row.Bars = append(row.Bars, graph.Bar{Value: sum, Words: number.Percent(sum) + " %"})
		}
		rows = append(rows, row)
	}
	return rows
}

// shareBar is a source's bar in an option.
func shareBar(r answer.Result, load, source string) graph.Bar {
	i := slices.IndexFunc(r.Shares, func(s answer.Share) bool { return s.Load == load && s.Source == source })
	if i < 0 {
		return graph.Bar{Absent: true, Words: "not there"}
	}
	return graph.Bar{Value: r.Shares[i].Percent, Words: number.Percent(r.Shares[i].Percent) + " %"}
}
