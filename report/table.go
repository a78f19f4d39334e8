package report

import (
	"bufio"
	"io"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/wrap"
)

// widestCell is where a cell of words is wrapped: two such columns and four of numbers still fit a wide terminal.
const widestCell = 44

// paragraphWidth is where running text is wrapped, in letters.
const paragraphWidth = 100

// column is the head of a table's column. Numbers stand to the right, words to the left.
type column struct {
	head  string
	words bool
}

// named is a column of words, measured one of numbers with its unit in the head.
func named(head string) column    { return column{head, true} }
func measured(head string) column { return column{head, false} }

// page collects text and keeps the first error, so that a report is written without a check at every line.
type page struct {
	w    *bufio.Writer
	err  error
	asks answer.Asks // by which words the reader asks for more

	width, cell int // letters of running text, and of a cell of words
}

func newPage(w io.Writer) *page {
	return &page{w: bufio.NewWriter(w), width: paragraphWidth, cell: widestCell}
}

// line writes one line as it is, save for spaces at its end.
func (p *page) line(s string) {
	if p.err == nil {
		_, p.err = p.w.WriteString(strings.TrimRight(s, " ") + "\n")
	}
}

// say writes running text, wrapped between words.
func (p *page) say(s string) { p.item("", s) }

// item writes running text behind a mark; the lines that follow are set in as far as the mark is wide.
func (p *page) item(mark, s string) {
	width := p.width - wrap.Letters(mark)
	for i, l := range wrap.Lines(s, width) {
		if i == 0 {
			p.line(mark + l)
		} else {
			p.line(strings.Repeat(" ", wrap.Letters(mark)) + l)
		}
	}
}

// heading writes a blank line and a title.
func (p *page) heading(s string) {
	p.line("")
	p.line(s)
}

// columnGap stands between two columns, and before the first.
const columnGap = "  "

// table writes columns with a rule under their heads, set in by two spaces. Long words are wrapped within their cell.
func (p *page) table(columns []column, rows [][]string) {
	widths := make([]int, len(columns))
	head := make([][]string, len(columns))
	for i, c := range columns {
		head[i] = []string{c.head}
		widths[i] = wrap.Letters(c.head)
	}
	cells := make([][][]string, len(rows))
	for r, row := range rows {
		cells[r] = make([][]string, len(columns))
		for i := range columns {
			cells[r][i] = wrap.Lines(row[i], p.cell)
			for _, l := range cells[r][i] {
				widths[i] = max(widths[i], wrap.Letters(l))
			}
		}
	}
	p.row(columns, widths, head)
	rule := ""
	for _, w := range widths {
		rule += columnGap + strings.Repeat("-", w)
	}
	p.line(rule)
	for _, c := range cells {
		p.row(columns, widths, c)
	}
}

// row writes one row of a table, over as many lines as its longest cell has.
func (p *page) row(columns []column, widths []int, cells [][]string) {
	for k, more := 0, true; more; k++ {
		more = false
		var b strings.Builder
		for i, c := range columns {
			text := ""
			if k < len(cells[i]) {
				text = cells[i][k]
			}
			more = more || k+1 < len(cells[i])
			space := strings.Repeat(" ", widths[i]-wrap.Letters(text))
			b.WriteString(columnGap)
			if c.words {
				b.WriteString(text + space)
			} else {
				b.WriteString(space + text)
			}
		}
		p.line(b.String())
	}
}

// caution ends a report.
func (p *page) caution() {
	p.line("")
	p.say(shortCaution)
}

// close hands over what was collected and gives the first error met.
func (p *page) close() error {
	if p.err != nil {
		return p.err
	}
	return p.w.Flush()
}
