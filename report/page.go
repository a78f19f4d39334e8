package report

import (
	"io"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
)

// page is what a report is written on.
type page struct {
	*table.Page
	asks answer.Asks // by which words the reader asks for more
}

func newPage(w io.Writer) *page { return &page{Page: table.New(w)} }

// opinions say how far the beam model of the same machine differs, and what the meshes may hold back.
func (p *page) opinions(options ...answer.Result) {
	for _, s := range phrase.Opinions(p.asks, options...) {
		p.Say(s)
	}
}

// column is the head of a table's column: named is one of words, measured one of numbers.
type column = table.Column

var named, measured = table.Named, table.Measured

// absent stands for a value that there is not.
const absent = number.Absent
