package page

import (
	"io"

	"tiploop/report/table"
)

// blocksOf are the blocks of what is written on a page of lines: titles are left out, and so is what says that there is
// nothing to tell. A heading becomes the caption of the table that follows, or a paragraph.
func blocksOf(write func(io.Writer) error) (blocks []Block, err error) {
	var b table.Blocks
	if err := write(&b); err != nil {
		return nil, err
	}
	heading := ""
	say := func() {
		if heading != "" {
			blocks, heading = append(blocks, Block{Text: heading}), ""
		}
	}
	for _, one := range b.List {
		switch one.Kind {
		case table.Title:
		case table.Heading:
			say()
			heading = one.Text
		case table.Paragraph:
			say()
			blocks = append(blocks, Block{Text: one.Text})
		case table.Item, table.Alarm:
			say()
			item := Item{one.Mark, one.Text, one.Kind == table.Alarm}
			if n := len(blocks); n > 0 && blocks[n-1].Items != nil {
				blocks[n-1].Items = append(blocks[n-1].Items, item)
			} else {
				blocks = append(blocks, Block{Items: []Item{item}})
			}
		case table.Rows:
			if len(one.Cells) > 0 {
				blocks, heading = append(blocks, Block{Table: &Table{heading, one.Columns, one.Cells}}), ""
			}
		}
	}
	say()
	return blocks, nil
}

// folded puts blocks behind a line that opens them; none where there are none.
func folded(summary string, blocks []Block) []Block {
	if len(blocks) == 0 {
		return nil
	}
	return []Block{{More: &More{summary, blocks}}}
}

// items are all items of some blocks.
func items(blocks []Block) (list []Item) {
	for _, b := range blocks {
		list = append(list, b.Items...)
	}
	return list
}
