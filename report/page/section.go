package page

import (
	"slices"

	"tiploop/report/paper"
	"tiploop/report/table"
)

// Section is one part of a page: what was found, and what shows it.
type Section struct {
	Name    string // one of Names
	Heading string // says the finding
	Blocks  []Block
}

// Block is one thing in a section: exactly one of its fields is set.
type Block struct {
	Text   string  // a paragraph
	Items  []Item  // a list
	Table  *Table  // of numbers
	Figure *Figure // a picture
	Bars   *Bars   // what gives way
	More   *More   // what few ask for
	Note   string  // the builder's own words, Markdown
	Code   *Source // the model file
}

// Item is one of a list.
type Item struct {
	Mark  string // what it is about; "" of most
	Text  string
	Alarm bool // it must not be missed
}

// Table is a table of words and numbers.
type Table struct {
	Caption string // "" where the heading before it says it
	Columns []table.Column
	Rows    [][]string
}

// Figure is a picture.
type Figure struct {
	Name    string // of its file beside a Markdown text: "drawing"
	Words   string // what it shows, for those who do not see it
	Picture *paper.Picture
}

// Bars are what gives way, a bar for each load.
type Bars struct {
	List    []Bar
	Picture Figure // the same as a file, beside a Markdown text
}

// Bar is what gives way under one load.
type Bar struct {
	Load  string
	Parts []BarPart // the largest first
}

// BarPart is a piece of a bar.
type BarPart struct {
	Words   string
	Percent float64
}

// More is what stands behind a line that opens it.
type More struct {
	Summary string
	Blocks  []Block
}

// makers make the sections, in the order of the page; one without anything to tell has no blocks.
var makers = []struct {
	name string
	make func(Content) (Section, error)
}{
	{"verdict", verdict},
	{"drawing", drawn},
	{"loads", loads},
	{"cuts", cuts},
	{"options", options},
	{"places", places},
	{"shares", shares},
	{"next", next},
	{"screws", screws},
	{"parts", parts},
	{"check", check},
	{"sure", sure},
	{"assumptions", assumptions},
	{"cautions", cautions},
	{"file", file},
}

// Names are the names of the sections, in the order of the page.
func Names() (names []string) {
	for _, m := range makers {
		names = append(names, m.name)
	}
	return names
}

// sections makes those of some names that have something to tell; no names are all.
func (c Content) sections(names ...string) (list []Section, err error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	for _, m := range makers {
		if len(names) > 0 && !slices.Contains(names, m.name) {
			continue
		}
		s, err := m.make(c)
		if err != nil {
			return nil, err
		}
		if note := c.note(m.name); note != "" {
			at := 0
			if m.name == headSection {
				at = 1 // below how sure it is
			}
			s.Blocks = slices.Insert(s.Blocks, at, Block{Note: note})
		}
		if s.Name = m.name; len(s.Blocks) > 0 {
			list = append(list, s)
		}
	}
	return list, nil
}
