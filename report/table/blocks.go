package table

import (
	"strings"

	"tiploop/report/wrap"
)

// BlockKind tells what a block of a page is.
type BlockKind int

// The kinds.
const (
	Title BlockKind = iota
	Heading
	Paragraph
	Item  // one of a list
	Alarm // an item that must not be missed
	Rows  // a table
)

// Block is one thing that stands on a page, before it is laid out in lines.
type Block struct {
	Kind    BlockKind
	Mark    string     // of an item: what it stands behind, but for a dash
	Text    string     // on one line; of Rows none
	Columns []Column   // of Rows
	Cells   [][]string // of Rows: row by row, each as long as Columns
}

// Blocks takes a page as it is meant and lays nothing out, for whoever sets it otherwise than in lines of letters: a page
// that New makes on it hands over every title, paragraph, item and table.
type Blocks struct{ List []Block }

// Write takes what is written past the page, as one paragraph.
func (b *Blocks) Write(text []byte) (int, error) {
	b.add(Block{Kind: Paragraph, Text: string(text)})
	return len(text), nil
}

// add takes a block; an empty line says nothing where nothing is laid out.
func (b *Blocks) add(one Block) {
	one.Mark = strings.Trim(wrap.OneLine(one.Mark), "- ")
	if one.Text = wrap.OneLine(one.Text); one.Text != "" || one.Kind == Rows {
		b.List = append(b.List, one)
	}
}
