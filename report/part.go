package report

import (
	"io"
	"slices"
)

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
