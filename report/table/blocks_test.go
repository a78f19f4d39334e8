package table

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// On blocks a page hands over what it is meant to say, and lays nothing out: no lines are broken, no spaces put in.
func TestBlocks(t *testing.T) {
	var b Blocks
	p := New(&b)
	long := "a sentence that is far longer than any line of a page that letters stand on, and that stays in one piece for " +
		"whoever sets it"
	p.Title("Mill")
	p.Line("")
	p.Heading("Screws")
	p.Say(long)
	p.Item("  - ", "one")
	p.Item("  drilling  ", "column 27")
	p.Alarm("  ", "it slips")
	columns := []Column{Named("joint"), Measured("N")}
	cells := [][]string{{"base/arm", "12"}}
	p.Table(columns, cells)
	p.List(columns, cells)
	require.NoError(t, p.Close())
	require.Equal(t, []Block{
		{Kind: Title, Text: "Mill"},
		{Kind: Heading, Text: "Screws"},
		{Kind: Paragraph, Text: long},
		{Kind: Item, Text: "one"},
		{Kind: Item, Mark: "drilling", Text: "column 27"},
		{Kind: Alarm, Text: "it slips"},
		{Kind: Rows, Columns: columns, Cells: cells},
		{Kind: Rows, Columns: columns, Cells: cells},
	}, b.List)
	require.Positive(t, p.Lines(), "so that it can be told whether anything was said")
	_, err := fmt.Fprint(&b, "past the page\n")
	require.NoError(t, err)
	require.Equal(t, Block{Kind: Paragraph, Text: "past the page"}, b.List[len(b.List)-1])
}
