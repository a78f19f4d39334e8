package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// A screen has so many lines of so many letters.
const (
	screenLines = 40
	screenWidth = 80
)

// shortCount leaves out the names of what was counted.
const shortCount = 4

// tightest leaves out the most of a screen to make it fit; beyond it blank lines go.
const tightest = 12

// comparison is one screen of options side by side in the making.
type comparison struct {
	*page
	options []answer.Result
	heads   []string
	judge   judge
	tight   int // how much is left out to fit: 0 is nothing, up to beyond tightest
}

// of gives how many of something the screen has room for, as many as it likes at first.
func (c *comparison) of(likes, least int) int {
	return max(least, likes-(likes-least)*min(c.tight, tightest)/tightest)
}

// heading writes a title with a blank line before it, as long as there is room for blank lines.
func (c *comparison) heading(title string) {
	if c.tight <= tightest {
		c.Line("")
	}
	c.Line(title)
}

// WriteCompareScreen writes one screen of 40 lines and 80 columns: what each option does in what they differ in, which
// to build for which purpose, how sure that is and where more is. More options or longer names than there is room for
// get fewer numbers, the largest differences first.
func WriteCompareScreen(w io.Writer, a answer.Answer) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	if len(a.Options) == 0 {
		return WriteCompare(w, a)
	}
	var b bytes.Buffer
	for tight := 0; tight <= tightest+1; tight++ {
		b.Reset()
		c := &comparison{page: newPage(&b), options: a.Options, tight: tight}
		c.asks = a.Asks
		c.Narrow(screenWidth)
		c.write(a)
		if err := c.Close(); err != nil {
			return err
		}
		if bytes.Count(b.Bytes(), []byte("\n")) <= screenLines {
			break
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// write writes the screen as tight as it is.
func (c *comparison) write(a answer.Answer) {
	c.Line(wrap.OneLine(a.Machine) + ": " + phrase.Count(len(a.Options), "option"))
	c.shortHeads()
	if len(c.options) > 1 {
		c.judge = judgeOf(a, c.heads, c.of(2, 1))
	}
	c.whatEachDoes()
	if len(c.options) == 1 {
		c.Line("")
		c.Say("There is only one option, so there is nothing to compare it with.")
	} else {
		c.whichToBuild()
	}
	c.howSure()
	c.heading("More")
	c.Item("  ", fmt.Sprintf("%s prints everything; %s has every pair with its chances.", c.asks.ForEverything(),
		c.asks.ForAll()))
}

// widestHead is how many letters an option's name may have as the head of a column and in a sentence.
const widestHead = 14

// shortHeads gives the options their heads: their names where those are short, else letters, which are listed.
func (c *comparison) shortHeads() {
	short := true
	for _, r := range c.options {
		c.heads = append(c.heads, wrap.OneLine(r.Name))
		short = short && wrap.Letters(wrap.OneLine(r.Name)) <= widestHead
	}
	if short {
		return
	}
	for i, name := range c.heads {
		c.heads[i] = optionLetter(i)
		c.Item("  "+c.heads[i]+"  ", name)
	}
}

// screenRow is a row of the table of what each option does.
type screenRow struct {
	label  string
	cells  []string // with their ranges
	short  []string // without
	spread float64  // the largest of the numbers over the least, as a logarithm
}

// whatEachDoes is the table of what the options differ in.
func (c *comparison) whatEachDoes() {
	rows := c.rows()
	if len(rows) == 0 {
		return
	}
	ranged := slices.ContainsFunc(rows, func(r screenRow) bool { return !slices.Equal(r.cells, r.short) })
	cells := func(r screenRow) []string { return r.cells }
	across := c.across(rows, cells)
	if across < len(c.options) {
		ranged = false
		cells = func(r screenRow) []string { return r.short }
		across = c.across(rows, cells)
	}
	heading := "What each does"
	if len(c.options) > 1 {
		heading += ", where they differ"
	}
	if ranged {
		heading += " (nine of ten such machines lie between)"
	}
	c.heading(heading)
	most := c.of(14, 5)
	left := len(rows) - most
	rows = largestSpread(rows, most)
	for from := 0; from < len(c.options); from += across {
		c.sheetOf(rows, cells, from, min(from+across, len(c.options)))
	}
	if left > 0 {
		c.Item("  ", fmt.Sprintf("%s more differ less: %s.", phrase.Count(left, "number"), c.asks.ForEverything()))
	}
}

// leastLabel is what a row's label needs of the width.
const leastLabel = 24

// across is how many options' columns stand beside each other.
func (c *comparison) across(rows []screenRow, cells func(screenRow) []string) int {
	room := screenWidth - leastLabel - len(table.Gap)
	for i, head := range c.heads {
		wide := wrap.Letters(head)
		for _, r := range rows {
			wide = max(wide, wrap.Letters(cells(r)[i]))
		}
		if room -= wide + len(table.Gap); room < 0 {
			return max(1, i)
		}
	}
	return len(c.heads)
}

// sheetOf writes the table of some of the options, in one sheet.
func (c *comparison) sheetOf(rows []screenRow, cells func(screenRow) []string, from, to int) {
	columns := []column{named("")}
	room := screenWidth - len(table.Gap)
	for i := from; i < to; i++ {
		columns = append(columns, measured(c.heads[i]))
		wide := wrap.Letters(c.heads[i])
		for _, r := range rows {
			wide = max(wide, wrap.Letters(cells(r)[i]))
		}
		room -= wide + len(table.Gap)
	}
	var lines [][]string
	for _, r := range rows {
		lines = append(lines, append([]string{r.label}, cells(r)[from:to]...))
	}
	c.Table(columns, lines)
}

// largestSpread keeps the rows that differ most, in their order.
func largestSpread(rows []screenRow, most int) []screenRow {
	if len(rows) <= most {
		return rows
	}
	order := slices.Clone(rows)
	slices.SortStableFunc(order, func(a, b screenRow) int { return cmp.Compare(b.spread, a.spread) })
	least := order[most-1].spread
	n := 0
	return slices.DeleteFunc(rows, func(r screenRow) bool {
		keep := n < most && r.spread >= least
		if keep {
			n++
		}
		return !keep
	})
}

// rows are what the options differ in, of one option all it does: what is counted, then what misfits do and what it
// costs.
func (c *comparison) rows() (rows []screenRow) {
	for _, q := range verdict.Quantities(c.options) {
		if len(c.options) == 1 || slices.Contains(c.judge.Counted, q.Key) {
			rows = append(rows, c.quantityRow(q))
		}
	}
	lines := append(misfitLines(), comparedLine{"mass", "kg", func(r answer.Result) (float64, bool) {
		return r.MassKg, true
	}, number.Significant, nil}, comparedLine{"holes, at the drill press", "hours", func(r answer.Result) (float64, bool) {
		return r.Holes.Minutes / 60, true
	}, func(hours float64) string { return number.Digits(hours, rangedDigits) }, nil})
	for _, l := range present(lines, c.options) {
		row := screenRow{label: l.what + ", " + l.unit}
		values := []float64{}
		for _, r := range c.options {
			row.cells = append(row.cells, l.cell(r))
			v, _ := l.value(r)
			values = append(values, v)
		}
		row.short, row.spread = row.cells, math.Inf(1)
		if len(c.options) == 1 || differs(slices.Min(values), slices.Max(values)) {
			rows = append(rows, row)
		}
	}
	return rows
}

// rangedDigits are those of a number that is known with its range.
const rangedDigits = 2

// quantityRow is the row of something that is counted.
func (c *comparison) quantityRow(q verdict.Quantity) screenRow {
	row := screenRow{label: q.Words() + ", " + q.Unit}
	least, most := math.Inf(1), 0.0
	for _, r := range c.options {
		v, ok := q.Value(r)
		if !ok {
			row.cells, row.short = append(row.cells, absent), append(row.short, absent)
			continue
		}
		least, most = math.Min(least, v), math.Max(most, v)
		short := number.Significant(v)
		cell := short
		if known := q.Range(r); known != nil {
			cell = withEnds(v, known.Low, known.High)
		}
		row.cells, row.short = append(row.cells, cell), append(row.short, short)
	}
	row.spread = math.Log(max(most, number.Noise) / max(least, number.Noise))
	return row
}

// withEnds writes a number and what nine of ten machines lie between.
func withEnds(v, low, high float64) string {
	return fmt.Sprintf("%s (%s-%s)", number.Digits(v, rangedDigits), number.Digits(low, rangedDigits),
		number.Digits(high, rangedDigits))
}

// whichToBuild are the sentences of the verdict.
func (c *comparison) whichToBuild() {
	c.heading("Which to build")
	for i, s := range c.judge.steadiest() {
		mark := "  "
		if i > 0 {
			mark = "    "
			if i > c.of(len(c.options), 2) {
				continue
			}
		}
		c.Item(mark, s)
	}
	for _, s := range append(c.judge.purchases(), c.judge.beaten(c.of(len(c.options), 1))...) {
		c.Item("  ", s)
	}
	if len(c.judge.Counted) == 0 && misfitsDiffer(c.options) {
		c.Item("  ", "They differ in what misfits do.")
	}
	if c.tight < shortCount {
		c.Item("  ", c.judge.counted())
	} else {
		c.Item("  ", fmt.Sprintf("Counted: all %d loads, directions, points, paths and cuts that differ.",
			len(c.judge.Counted)))
	}
}

// howSure says what the numbers are known by and what would settle what is open.
func (c *comparison) howSure() {
	c.heading("How sure")
	var words []string
	if r := c.options[0]; r.Sure == nil {
		words = append(words, "Typical numbers; a joint's stiffness is hardly known within a factor of two.")
	} else {
		words = append(words, fmt.Sprintf("Chances are of %d draws of what is not known, the same for all options.",
			r.Sure.Draws))
		if slices.ContainsFunc(c.options, func(r answer.Result) bool { return r.Sure != nil && !r.Sure.Settled }) {
			words = append(words, "The ends of some ranges may still be off by a few percent.")
		}
	}
	c.Item("  ", strings.Join(words, " "))
	for _, s := range c.opinionsOf(c.options...) {
		c.Item("  ", s)
	}
	if len(c.options) > 1 {
		for _, s := range c.judge.settled(c.of(3, 1)) {
			c.Item("  ", s)
		}
	}
	c.Item("  ", "An estimate, not a certified calculation. Test pushes: spindle unplugged.")
}
