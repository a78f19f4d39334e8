package page

import (
	"fmt"
	"io"
	"math"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/screen"
	"tiploop/report/table"
	verdictof "tiploop/report/verdict"
	"tiploop/report/wrap"
)

// screws is what is near a limit.
func screws(c Content) (Section, error) {
	blocks, err := c.part(screen.Limits)
	if err != nil {
		return Section{}, err
	}
	list, alarms := screen.LimitsOf(c.result()), answer.LargeNotes(c.result().Loads)
	s := Section{Heading: screen.NothingNear(list)}
	switch {
	case len(alarms) > 0:
		s.Heading = sentence(alarms[0])
	case len(list) > 0 && list[0].Near():
		s.Heading = phrase.Capital(list[0].InWords())
	}
	if len(blocks) == 1 && len(blocks[0].Items) > 0 { // the heading has the first
		blocks = []Block{{Items: blocks[0].Items[1:]}}
	}
	more, err := c.tipTables("screws", "guides", "drives", "motors", "ratings", "misfits", "stress")
	s.Blocks = append(blocks, folded("Screws, guides, drives and stress in full", more)...)
	return s, err
}

// check is what a dial should read once the machine stands.
func check(c Content) (Section, error) {
	blocks, err := c.part(screen.Check)
	if err != nil || len(blocks) == 0 {
		return Section{}, err
	}
	first := c.result().Check[0]
	s := Section{Heading: fmt.Sprintf("Push with %s N %s: the dial should read %s hundredths of a mm", number.Given(first.ForceN),
		phrase.ShortWay(first.Direction), number.Digits(first.ReadingUm/phrase.HundredthUm, 2))}
	more, err := c.tipTables("check")
	s.Blocks = append(append(blocks, Block{Text: "Spindle off and unplugged while you push."}),
		folded("Where, how hard and no harder", more)...)
	return s, err
}

// sure is what is not known, and what would settle it.
func sure(c Content) (Section, error) {
	blocks, err := c.part(screen.Sure)
	if err != nil {
		return Section{}, err
	}
	s := Section{Heading: "A joint is hardly known within a factor of two", Blocks: blocks}
	r := c.result()
	if r.Sure == nil || len(r.Sure.Culprits) == 0 {
		return s, nil
	}
	if first, ok := screen.FirstCulprit(r); ok {
		says := fmt.Sprintf("Most of the doubt, %s %%, is %s",
			number.Given(min(100, math.Round(first.Percent))), wrap.OneLine(first.What))
		if first.Settle != "" {
			says += ": " + wrap.OneLine(first.Settle)
		}
		s.Heading = sentence(says)
	}
	words := map[string]string{}
	for _, q := range verdictof.Quantities(c.Answer.Options) {
		words[q.Key] = q.Words()
	}
	var rows [][]string
	for _, u := range r.Sure.Culprits {
		if of, known := words[u.Quantity]; known {
			rows = append(rows, []string{of, wrap.OneLine(u.What), number.Digits(u.Percent, 2), wrap.OneLine(u.Settle)})
		}
	}
	s.Blocks = append(s.Blocks, folded(fmt.Sprintf("What each range comes from, of %d draws", r.Sure.Draws), []Block{{Table: &Table{
		Columns: []table.Column{table.Named("range of"), table.Named("what is not known"), table.Measured("of its spread, %"),
			table.Named("what would settle it")}, Rows: rows}}})...)
	return s, nil
}

// takenForGranted is what every estimate rests on.
var takenForGranted = []string{
	"Small movements, elastic metal, faces that stay closed, screws that do not slip.",
	"Static: nothing rings or chatters, and there is no friction but a drive's own numbers.",
	"Springs hold both ways: what lifts off or has lost its preload is not followed.",
	"Bearings, couplings, belts and cables weigh nothing.",
	"Tapped holes, pockets and slots, flatness errors, burrs and paint are not seen; the last three can cost half a joint.",
	"Stress is that of smooth parts; holes, threads, fillets and fatigue are not looked at.",
}

// assumptions is what the estimate takes for granted, and what there is to keep in mind of this machine.
func assumptions(c Content) (Section, error) {
	s := Section{Heading: "A linear, static model of smooth parts"}
	blocks := Block{}
	for _, text := range takenForGranted {
		blocks.Items = append(blocks.Items, Item{Text: text})
	}
	notes, err := c.tipTables("notes")
	if err != nil {
		return s, err
	}
	s.Blocks = append([]Block{blocks}, notes...)
	more, err := c.tipTables("beam", "hand")
	s.Blocks = append(s.Blocks, folded("A second model and sums by hand, beside it", more)...)
	return s, err
}

// cautions are those usual in the trade.
func cautions(c Content) (Section, error) {
	blocks, err := blocksOf(func(w io.Writer) error { return report.WriteShow(w, c.inventory(), "cautions") })
	if len(blocks) > 0 && blocks[0].Text != "" {
		blocks = blocks[1:] // its own heading
	}
	return Section{Heading: "An estimate, not a certified calculation", Blocks: blocks}, err
}

// file is the model file itself.
func file(c Content) (Section, error) {
	if c.Source.Text == "" {
		return Section{}, nil
	}
	lines := strings.Count(strings.TrimSuffix(c.Source.Text, "\n"), "\n") + 1
	return Section{Heading: fmt.Sprintf("All of it comes from %s of %s", phrase.Count(lines, "line"), wrap.OneLine(c.Source.Name)),
		Blocks: []Block{{Code: &c.Source}}}, nil
}
