package screen

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// comparison is a screen of options side by side in the making.
type comparison struct {
	*sheet
	options []answer.Result
	heads   []string
	words   *verdict.Words // nil of one option
	beside  []verdict.Quantity
}

// Compare writes a screen for all options of an answer: what each does in what they differ in, which to build for which
// purpose, how sure that is and where more is. Beside are numbers that do not count but are shown where they differ. More
// options or longer names than there is room for get fewer numbers, then fewer options.
func Compare(w io.Writer, a answer.Answer, beside []verdict.Quantity) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	c := comparison{options: a.Options, beside: beside}
	for i, r := range a.Options {
		c.heads = append(c.heads, wrap.OneLine(r.Name))
		if !shortNames(a.Options) {
			c.heads[i] = phrase.Option(i)
		}
	}
	if len(a.Options) > 1 {
		c.words = verdict.InWords(a, c.heads)
	}
	return fill(w, a.Asks, func(s *sheet) {
		c.sheet = s
		s.Title(wrap.OneLine(a.Machine) + ": " + phrase.Count(len(a.Options), "option"))
		if len(a.Options) == 0 {
			s.Say("There is no option to compare.")
			return
		}
		c.names()
		c.whatEachDoes()
		if len(a.Options) == 1 {
			s.Line("")
			s.Say("There is only one option, so there is nothing to compare it with.")
		} else {
			c.whichToBuild()
		}
		c.howSure()
		s.Heading("More")
		s.Item("  ", fmt.Sprintf("%s prints everything; %s has every pair with its chances.", s.asks.ForEverything(),
			s.asks.ForAll()))
	})
}

// widestHead is how many letters an option's name may have as the head of a column and in a sentence.
const widestHead = 14

// shortNames tells whether options go by their names; else by letters.
func shortNames(options []answer.Result) bool {
	return !slices.ContainsFunc(options, func(r answer.Result) bool { return wrap.Letters(wrap.OneLine(r.Name)) > widestHead })
}

// names list what the letters stand for: one on a line, or where room is scarce behind each other and shortened.
func (c *comparison) names() {
	if shortNames(c.options) {
		return
	}
	var all []string
	for i, r := range c.options {
		name := wrap.OneLine(r.Name)
		if c.tight < tightest {
			c.Item("  "+c.heads[i]+"  ", name)
			continue
		}
		if c.tight > tightest {
			name = shortened(name)
		}
		all = append(all, c.heads[i]+" "+name)
	}
	if all != nil {
		c.Item("  ", strings.Join(all, "; "))
	}
}

// shortened keeps the beginning and the end of a name, in which options mostly differ.
func shortened(name string) string {
	const most, end = 24, 9
	letters := []rune(name)
	if len(letters) <= most {
		return name
	}
	return string(letters[:most-end-1]) + "…" + string(letters[len(letters)-end:])
}

// whatEachDoes is the table of what the options differ in.
func (c *comparison) whatEachDoes() {
	rows := c.rows()
	if len(rows) == 0 {
		return
	}
	most := c.of(14, 5)
	left := len(rows) - most
	rows = firstOf(rows, most)
	ranged := slices.ContainsFunc(rows, func(r row) bool { return !slices.Equal(r.cells, r.short) })
	cells := func(r row) []string { return r.cells }
	across := c.across(rows, cells)
	note := ""
	switch {
	case ranged && across < len(c.options):
		cells = func(r row) []string { return r.short }
		across = c.across(rows, cells)
		note = fmt.Sprintf(" (typical; no room for ranges: %s)", c.asks.ForAll())
	case ranged:
		note = " (nine of ten such machines lie between)"
	}
	heading := "What each does"
	if len(c.options) > 1 {
		heading += ", where they differ"
	}
	c.Heading(heading + note)
	c.sheets(rows, cells, across)
	if left > 0 {
		c.Item("  ", phrase.Verb(left, "%d more %s: "+c.asks.ForEverything()+".", "number differs", "numbers differ"))
	}
}

// sheets write the table, in as many sheets as it takes, or the options that were picked and the first ones in as many as
// there is room for.
func (c *comparison) sheets(rows []row, cells func(row) []string, across int) {
	const fewest = 2 // of one alone there is nothing to see
	shown := c.shown(max(fewest, across, c.of(len(c.options), across)))
	for from := 0; from < len(shown); from += across {
		columns := []table.Column{table.Named("")}
		lines := make([][]string, len(rows))
		for n, r := range rows {
			lines[n] = []string{r.label}
		}
		for _, i := range shown[from:min(from+across, len(shown))] {
			columns = append(columns, table.Measured(c.heads[i]))
			for n, r := range rows {
				lines[n] = append(lines[n], cells(r)[i])
			}
		}
		c.Table(columns, lines)
	}
	if left := len(c.options) - len(shown); left > 0 {
		c.Item("  ", phrase.Verb(left, "%d more %s no room: "+c.asks.ForEverything()+".", "option has", "options have"))
	}
}

// shown are the options that have columns, in their order: those that the verdict names first.
func (c *comparison) shown(most int) (list []int) {
	var named []string
	if c.words != nil {
		v := c.words.Verdict
		named = append(slices.Clone(v.Steadiest.Options), v.Kilogram.Option, v.Hour.Option, v.Kilogram.Cheapest, v.Hour.Cheapest)
	}
	place := func(i int) int {
		if at := slices.Index(named, c.options[i].Name); at >= 0 {
			return at
		}
		return len(named) + i
	}
	for i := range c.options {
		list = append(list, i)
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(place(a), place(b)) })
	list = list[:min(most, len(list))]
	slices.Sort(list)
	return list
}

// leastLabel is what a row's label needs of the width: of a screen as wide as they come, and of a narrower one in
// proportion.
const leastLabel = 0.3

// across is how many options' columns stand beside each other.
func (c *comparison) across(rows []row, cells func(row) []string) int {
	room := c.Width() - int(leastLabel*float64(c.Width())) - len(table.Gap)
	for i, head := range c.heads {
		wide := 0
		for _, word := range wrap.Words(head) { // heads are wrapped
			wide = max(wide, wrap.Letters(word))
		}
		for _, r := range rows {
			wide = max(wide, wrap.Letters(cells(r)[i]))
		}
		if room -= wide + len(table.Gap); room < 0 {
			return max(1, i)
		}
	}
	return len(c.heads)
}

// whichToBuild are the sentences of the verdict.
func (c *comparison) whichToBuild() {
	c.Heading("Which to build")
	w := c.words
	if w.Compared() {
		steadiest, against := w.Steadiest(c.of(2, 1))
		c.Item("  ", steadiest)
		for i, s := range against {
			if i < c.of(len(against), 1) && c.tight <= tightest+1 {
				c.Item("    ", s)
			}
		}
		most := c.of(len(c.options), 1)
		if c.tight > tightest+1 {
			most = 0
		}
		for _, s := range append(w.Purchases(), w.Beaten(most)...) {
			c.Item("  ", s)
		}
	}
	if len(w.Verdict.Counted) == 0 {
		for _, s := range c.besideInWords() {
			c.Item("  ", s)
		}
	}
	switch {
	case c.tight < shortCount:
		c.Item("  ", w.Counted())
	case c.tight <= tightest || !w.Compared():
		c.Item("  ", w.CountedInShort())
	}
}

// shortCount leaves out the names of what was counted.
const shortCount = 2

// besideInWords says with which option each number is least that stands beside what is counted; nothing where none differs.
func (c *comparison) besideInWords() (says []string) {
	for _, q := range c.beside {
		r := c.row(q, costDigits)
		least, most := 0, 0
		for i, o := range c.options {
			v, _ := q.Value(o) // none of it is none out of place
			if low, _ := q.Value(c.options[least]); v < low {
				least = i
			}
			if high, _ := q.Value(c.options[most]); v > high {
				most = i
			}
		}
		if r.short[least] != r.short[most] {
			says = append(says, fmt.Sprintf("%s: least with %s, %s instead of up to %s %s.", phrase.Capital(q.Words()),
				c.words.Head(c.options[least].Name), r.short[least], r.short[most], q.Unit))
		}
	}
	return says
}

// howSure says what the numbers are known by and what would settle what is open.
func (c *comparison) howSure() {
	c.Heading("How sure")
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
	for _, s := range phrase.Opinions(c.asks, c.options...) {
		c.Item("  ", s)
	}
	if c.words != nil {
		most := c.of(3, 1)
		if c.tight > tightest+1 {
			most = 0
		}
		for _, s := range c.words.Settled(most) {
			c.Item("  ", s)
		}
	}
	c.Item("  ", "An estimate, not a certified calculation. Test pushes: spindle unplugged.")
}
