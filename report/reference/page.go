package reference

import (
	"io"
	"slices"
	"strings"

	"tiploop/report/table"
)

// page is what tables are written on. Where a number is from stands below its table, and only where that is asked for:
// it takes more room than the numbers.
type page struct {
	*table.Page
	sources bool
}

// named is a column of words, measured one of numbers.
var named, measured = table.Named, table.Measured

func newPage(w io.Writer, sources bool) *page { return &page{table.New(w), sources} }

// sourceHead begins the head of a column of sources.
const sourceHead = "source"

// Table writes a table without its columns of sources, and these below it.
func (p *page) Table(columns []table.Column, rows [][]string) {
	var shown []table.Column
	var cells = make([][]string, len(rows))
	for i, c := range columns {
		if strings.HasPrefix(c.Head, sourceHead) {
			continue
		}
		shown = append(shown, c)
		for r, row := range rows {
			cells[r] = append(cells[r], row[i])
		}
	}
	p.Page.Table(shown, cells)
	if !p.sources {
		return
	}
	for i, c := range columns {
		if strings.HasPrefix(c.Head, sourceHead) {
			p.listSources(c.Head, rows, i)
		}
	}
}

// listSources writes the sources of a table's column i, each once behind what it is the source of.
func (p *page) listSources(head string, rows [][]string, i int) {
	var sources []string
	of := map[string][]string{}
	for _, row := range rows {
		source := row[i]
		if source == "" {
			continue
		}
		if of[source] == nil {
			sources = append(sources, source)
		}
		if !slices.Contains(of[source], row[0]) {
			of[source] = append(of[source], row[0])
		}
	}
	p.Line("  " + strings.Replace(head, sourceHead, "sources", 1) + ":")
	for _, s := range sources {
		p.Item("    ", strings.Join(of[s], ", ")+": "+s)
	}
}
