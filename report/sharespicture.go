package report

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
)

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
	b := barChart{Sheet: paper.Sheet{Title: a.Machine + ": who gives way", Subtitle: "Share of each part, joint, " +
		"guide, drive and ground, and of the tool, in the movement"}}
	if len(a.Options) == 1 {
		b.Subtitle += ". Option: " + a.Options[0].Name
	}
	addDetail(&b.Sheet, a)
	for _, r := range a.Options {
		b.series = append(b.series, r.Name)
	}
	most := float64(sharesScale)
	all := shareLoads(a.Options)
	loads := worstLoads(a.Options, all, mostShared)
	b.Subtitle += worstOf(len(loads), len(all))
	for _, load := range loads {
		p := barPanel{title: load, axis: "share of the movement, %", rows: shareRows(a.Options, load)}
		for _, r := range p.rows {
			for _, v := range r.bars {
				most = max(most, v.value)
			}
		}
		b.panels = append(b.panels, p)
	}
	if len(b.panels) == 0 {
		return nil, paper.NothingToDraw("no load moves the machine, so nothing gives way")
	}
	for i := range b.panels {
		b.panels[i].least = most
	}
	return b.picture(), nil
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
func shareRows(options []answer.Result, load string) []barRow {
	sources := mostShares(options, load)
	most := sharesAlone
	if len(options) > 1 {
		most = sharesBeside
	}
	kept, _, restCount := largest(sources, most)
	var rows []barRow
	for _, source := range kept {
		row := barRow{label: source.Source}
		for _, r := range options {
			row.bars = append(row.bars, shareBar(r, load, source.Source))
		}
		rows = append(rows, row)
	}
	if restCount > 0 {
		row := barRow{label: fmt.Sprintf("all others (%d)", restCount)}
		for _, r := range options {
			sum := 0.0
			for _, s := range r.Shares {
				isKept := slices.ContainsFunc(kept, func(o answer.Share) bool { return o.Source == s.Source })
				if s.Load == load && !isKept {
					sum += s.Percent
				}
			}
			row.bars = append(row.bars, bar{value: sum, words: number.Percent(sum) + " %"})
		}
		rows = append(rows, row)
	}
	return rows
}

// shareBar is a source's bar in an option.
func shareBar(r answer.Result, load, source string) bar {
	i := slices.IndexFunc(r.Shares, func(s answer.Share) bool { return s.Load == load && s.Source == source })
	if i < 0 {
		return bar{absent: true, words: "not there"}
	}
	return bar{value: r.Shares[i].Percent, words: number.Percent(r.Shares[i].Percent) + " %"}
}
