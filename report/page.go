package report

import (
	"io"
	"slices"

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

// part is a table of an answer by the name that asks for it.
type part[T any] struct {
	name  string
	write func(*page, T)
}

// namesOf are the names of tables.
func namesOf[T any](tables []part[T]) (names []string) {
	for _, t := range tables {
		names = append(names, t.name)
	}
	return names
}

// chosen writes the tables of some names, in their own order, and says which of them have nothing to tell.
func chosen[T any](p *page, tables []part[T], names []string, of T) {
	for _, t := range tables {
		if !slices.Contains(names, t.name) {
			continue
		}
		before := p.Lines()
		if t.write(p, of); p.Lines() == before {
			p.Say("Nothing to tell of " + t.name + ".")
		}
	}
}

// told are the names of the tables that have something to tell.
func told[T any](tables []part[T], of T) (names []string) {
	for _, t := range tables {
		p := newPage(io.Discard)
		if t.write(p, of); p.Lines() > 0 {
			names = append(names, t.name)
		}
	}
	return names
}
