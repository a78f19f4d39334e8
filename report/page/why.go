package page

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
	"tiploop/report/screen"
	"tiploop/report/wrap"
)

// asNothing tells whether an error is that there is nothing to draw.
func asNothing(err error, nothing *paper.NothingToDraw) bool { return errors.As(err, nothing) }

// The bars of what gives way: of how many loads, and into how many pieces each is cut.
const (
	mostBars   = 6
	mostPieces = 5
)

// shares is who gives way: one bar for each load, the load that moves the tip farthest first.
func shares(c Content) (Section, error) {
	r := c.result()
	culprits := report.CulpritsOf(r, mostPieces)
	if len(culprits) == 0 {
		return Section{}, nil
	}
	slices.SortStableFunc(culprits, func(a, b report.Culprits) int {
		return cmp.Compare(moved(r, b.Load), moved(r, a.Load))
	})
	var bars []Bar
	for _, o := range culprits[:min(len(culprits), mostBars)] {
		bar := Bar{Load: o.Load}
		for _, s := range o.Kept {
			bar.Parts = append(bar.Parts, BarPart{sourceInWords(s.Source), s.Percent})
		}
		if o.Count > 0 {
			bar.Parts = append(bar.Parts, BarPart{phrase.Count(o.Count, "other"), o.Rest})
		}
		bars = append(bars, bar)
	}
	s := Section{Heading: whoGivesWay(culprits)}
	picture, err := report.SharesPicture(answer.Answer{Machine: c.Answer.Machine, Detail: r.Detail, Options: []answer.Result{r}})
	if err != nil {
		return s, err
	}
	more, err := c.tipTables("shares")
	s.Blocks = append([]Block{{Bars: &Bars{bars, Figure{Name: "shares", Picture: picture,
		Words: "Shares of the movement under each load. " + s.Heading}}}}, folded("The shares of each load", more)...)
	return s, err
}

// whoGivesWay names the largest of the first load, and of the next load in which that is another.
func whoGivesWay(culprits []report.Culprits) string {
	first := culprits[0].Kept[0]
	gives := "gives"
	if first.Source == spindleSource {
		gives = "give"
	}
	says := fmt.Sprintf("%s %s way most under %s: %s %%", phrase.Capital(withArticle(first.Source)), gives,
		phrase.Quoted(culprits[0].Load), number.Digits(first.Percent, 2))
	for _, o := range culprits[1:] {
		if second := o.Kept[0]; second.Source != first.Source {
			return says + fmt.Sprintf("; under %s %s: %s %%", phrase.Quoted(o.Load), withArticle(second.Source),
				number.Digits(second.Percent, 2))
		}
	}
	return says
}

// The sources that go by other words than their own.
const (
	toolSource    = "tool"
	spindleSource = "spindle"
)

// withArticle is what a source is called in a sentence.
func withArticle(source string) string {
	switch word, _, _ := strings.Cut(source, " "); word {
	case "ground", "guide", "drive":
		return sourceInWords(source)
	}
	return "the " + sourceInWords(source)
}

// sourceInWords is what a source is called in a list.
func sourceInWords(source string) string {
	switch word, rest, _ := strings.Cut(source, " "); {
	case source == toolSource:
		return "cutter"
	case source == spindleSource:
		return "spindle bearings"
	case word == "part":
		return wrap.OneLine(rest)
	}
	return wrap.OneLine(source)
}

// moved is how far a load moves the tip, or without a tool whatever point moves farthest, µm.
func moved(r answer.Result, load string) (um float64) {
	for _, l := range r.Loads {
		if l.Name != load {
			continue
		}
		if l.TipUm != nil {
			return number.AsWritten(number.Norm(*l.TipUm))
		}
		for _, v := range l.PointsUm {
			um = max(um, number.AsWritten(number.Norm(v)))
		}
	}
	return um
}

// next is what to change next.
func next(c Content) (Section, error) {
	list, known := screen.ChangesOf(c.result())
	if !known {
		return Section{}, nil
	}
	blocks, err := c.part(screen.Next)
	if err != nil {
		return Section{}, err
	}
	s := Section{Heading: screen.NothingGains}
	if len(list) > 0 {
		s.Heading = "Most gains: " + list[0]
	}
	more, err := c.tipTables("next")
	s.Blocks = append(blocks, folded("What more of each thing gains and costs", more)...)
	return s, err
}
