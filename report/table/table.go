package table

import (
	"strings"

	"tiploop/report/wrap"
)

// widestCell is where a cell of words is wrapped even where there is room: two such columns and four of numbers still
// fit a wide terminal.
const widestCell = 44

// longWord is what a column of words has room for at least; words longer than that may be cut.
const longWord = 16

// Column is the head of a table's column. Numbers stand to the right, words to the left.
type Column struct {
	Head  string
	Words bool
}

// Named is a column of words, Measured one of numbers with its unit in the head.
func Named(head string) Column { return Column{head, true} }

// Measured is a column of numbers.
func Measured(head string) Column { return Column{head, false} }

// Gap stands between two columns, and before the first.
const Gap = "  "

// Table writes columns with a rule under their heads, set in by two spaces.
func (p *Page) Table(columns []Column, rows [][]string) {
	if p.taken(Block{Kind: Rows, Columns: columns, Cells: rows}) {
		return
	}
	least := make([]int, len(columns))
	for i := range columns {
		least[i] = leastWidthOf(columns, rows, i)
	}
	for from := 1; ; {
		to, total := from, len(Gap)+least[0]
		for to < len(columns) && (to == from || total+len(Gap)+least[to] <= p.width) {
			total += len(Gap) + least[to]
			to++
		}
		if from > 1 {
			p.Line("")
		}
		chosen := []int{0}
		for i := from; i < to; i++ {
			chosen = append(chosen, i)
		}
		p.block(picked(columns, chosen), eachPicked(rows, chosen), picked(least, chosen))
		if from = to; from >= len(columns) {
			return
		}
	}
}

// List writes rows without heads, under each other like those of a table. The last column takes what room is left.
func (p *Page) List(columns []Column, rows [][]string) {
	if p.taken(Block{Kind: Rows, Columns: columns, Cells: rows}) {
		return
	}
	last := len(columns) - 1
	widths := make([]int, len(columns))
	left := p.width
	for i := range columns {
		for _, row := range rows {
			widths[i] = max(widths[i], wrap.Letters(row[i]))
		}
		if i < last {
			left -= len(Gap) + widths[i]
		}
	}
	if widths[last] = left - len(Gap); widths[last] < longWord { // names as long as a line: no columns
		for _, row := range rows {
			p.Item(Gap, strings.Join(row, Gap))
		}
		return
	}
	for _, row := range rows {
		cells := make([][]string, len(columns))
		for i := range columns {
			cells[i] = broken(row[i], widths[i])
		}
		p.row(columns, widths, cells)
	}
}

func picked[T any](all []T, chosen []int) (some []T) {
	for _, i := range chosen {
		some = append(some, all[i])
	}
	return some
}

func eachPicked(rows [][]string, chosen []int) (some [][]string) {
	for _, row := range rows {
		some = append(some, picked(row, chosen))
	}
	return some
}

// leastWidthOf is how narrow a column may get: as its longest number, and as its longest word up to longWord.
func leastWidthOf(columns []Column, rows [][]string, i int) (least int) {
	for _, word := range wrap.Words(columns[i].Head) {
		least = max(least, min(wrap.Letters(word), longWord))
	}
	for _, row := range rows {
		if !columns[i].Words {
			least = max(least, wrap.Letters(row[i]))
			continue
		}
		for _, word := range wrap.Words(row[i]) {
			least = max(least, min(wrap.Letters(word), longWord))
		}
	}
	return least
}

// block writes a table whose columns fit the page at their least widths, or a single column beside the first.
func (p *Page) block(columns []Column, rows [][]string, least []int) {
	widths := p.widths(columns, rows, least)
	head := make([][]string, len(columns))
	for i, c := range columns {
		head[i] = broken(c.Head, widths[i])
	}
	p.rowFromBelow(columns, widths, head)
	rule := ""
	for _, w := range widths {
		rule += Gap + strings.Repeat("-", w)
	}
	p.Line(rule)
	for _, row := range rows {
		cells := make([][]string, len(columns))
		for i := range columns {
			cells[i] = broken(row[i], widths[i])
		}
		p.row(columns, widths, cells)
	}
}

// widths are those of the columns: as wide as they like, or as far narrower as the page asks for, where that
// takes the fewest lines, the widest first.
func (p *Page) widths(columns []Column, rows [][]string, least []int) []int {
	widths, total := make([]int, len(columns)), 0
	for i, c := range columns {
		widths[i] = wrap.Letters(c.Head)
		for _, row := range rows {
			if c.Words {
				for _, l := range wrap.Lines(row[i], widestCell) {
					widths[i] = max(widths[i], wrap.Letters(l))
				}
			} else {
				widths[i] = max(widths[i], wrap.Letters(row[i]))
			}
		}
		total += len(Gap) + widths[i]
	}
	for _, floor := range [][]int{floors(columns, rows, least, widths), least} { // first the heads, then the cells
		for ; total > p.width; total-- {
			cheapest, cost := -1, 0
			for i := range widths {
				if widths[i] <= floor[i] {
					continue
				}
				c := moreLines(rows, i, widths[i])
				if cheapest < 0 || c < cost || c == cost && widths[i] > widths[cheapest] {
					cheapest, cost = i, c
				}
			}
			if cheapest < 0 {
				break
			}
			widths[cheapest]--
		}
	}
	return widths
}

// moreLines is how many lines more the cells of a column take when it gets narrower by a letter.
func moreLines(rows [][]string, i, width int) (n int) {
	for _, row := range rows {
		if wrap.Letters(row[i]) >= width {
			n += len(broken(row[i], width-1)) - len(broken(row[i], width))
		}
	}
	return n
}

// floors are how narrow columns get by wrapping their heads alone.
func floors(columns []Column, rows [][]string, least, widths []int) []int {
	list := make([]int, len(columns))
	for i := range columns {
		list[i] = least[i]
		for _, row := range rows {
			list[i] = max(list[i], min(wrap.Letters(row[i]), widths[i]))
		}
	}
	return list
}

// rowFromBelow writes the heads, those of fewer lines at the rule.
func (p *Page) rowFromBelow(columns []Column, widths []int, cells [][]string) {
	most := 0
	for _, c := range cells {
		most = max(most, len(c))
	}
	for i, c := range cells {
		cells[i] = append(make([]string, most-len(c)), c...)
	}
	p.row(columns, widths, cells)
}

// row writes one row of a table, over as many lines as its longest cell has.
func (p *Page) row(columns []Column, widths []int, cells [][]string) {
	for k, more := 0, true; more; k++ {
		more = false
		var b strings.Builder
		for i, c := range columns {
			text := ""
			if k < len(cells[i]) {
				text = cells[i][k]
			}
			more = more || k+1 < len(cells[i])
			space := strings.Repeat(" ", max(0, widths[i]-wrap.Letters(text)))
			b.WriteString(Gap)
			if c.Words {
				b.WriteString(text + space)
			} else {
				b.WriteString(space + text)
			}
		}
		p.Line(b.String())
	}
}

// Spread picks at most most of n indices, evenly, with both ends.
func Spread(n, most int) (some []int) {
	most = min(n, most)
	for i := range most {
		at := 0
		if most > 1 {
			at = (i*(n-1) + (most-1)/2) / (most - 1)
		}
		some = append(some, at)
	}
	return some
}
