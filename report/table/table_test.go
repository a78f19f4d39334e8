package table

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/report/wrap"
)

func onPage(t require.TestingT, width int, write func(*Page)) string {
	var b bytes.Buffer
	p := New(Medium{Writer: &b, Width: width})
	write(p)
	require.NoError(t, p.Close())
	return b.String()
}

func TestTable(t *testing.T) {
	columns := []Column{Named("part"), Named("made of"), Measured("stiffness of one, N/µm")}
	rows := [][]string{{"rib", "aluminium as it comes", "1.40"}, {"base", "steel", "12.6"}}
	write := func(p *Page) { p.Table(columns, rows) }
	require.Equal(t, `  part  made of                stiffness of one, N/µm
  ----  ---------------------  ----------------------
  rib   aluminium as it comes                    1.40
  base  steel                                    12.6
`, onPage(t, 80, write))
	require.Equal(t, `                               stiffness
                                 of one,
  part  made of                     N/µm
  ----  ---------------------  ---------
  rib   aluminium as it comes       1.40
  base  steel                       12.6
`, onPage(t, 40, write), "heads are wrapped before words")
}

// A table that is too wide however it is wrapped is cut; each part begins with the first column.
func TestWideTableIsCut(t *testing.T) {
	columns, row := []Column{Named("part")}, []string{"rib"}
	for range 6 {
		columns, row = append(columns, Measured("µm")), append(row, "123456789")
	}
	text := onPage(t, 40, func(p *Page) { p.Table(columns, [][]string{row}) })
	require.Equal(t, 2, strings.Count(text, "\n  rib "), text)
	require.Contains(t, text, "\n\n  part")
}

// Without a Medium a line has a hundred letters; a narrow one is laid out for forty.
func TestWidths(t *testing.T) {
	var b bytes.Buffer
	require.Equal(t, 100, New(&b).width)
	require.Equal(t, 100, New(Medium{Writer: &b}).width)
	require.Equal(t, 40, New(Medium{Writer: &b, Width: 7}).width)
	p := New(Medium{Writer: &b, Width: 120})
	p.Narrow(80)
	require.Equal(t, 80, p.width)
}

func TestItemsAndColours(t *testing.T) {
	write := func(p *Page) {
		p.Title("A title")
		p.Heading("Next")
		p.Item("  - ", "words and more words that do not fit on it")
		p.Alarm("  - ", "look here")
	}
	require.Equal(t, "A title\n\nNext\n  - words and more words that do not fit\n    on it\n  - look here\n", onPage(t, 40, write))
	var b bytes.Buffer
	p := New(Medium{Writer: &b, Width: 40, Colour: true})
	write(p)
	require.NoError(t, p.Close())
	require.Equal(t, "\x1b[1mA title\x1b[0m\n\n\x1b[1mNext\x1b[0m\n  - words and more words that do not fit\n    on it\n"+
		"\x1b[1;31m  - look here\x1b[0m\n", b.String())
}

// No line is longer than the page, and no letter of a cell is lost.
func TestNothingIsWiderThanThePage(t *testing.T) {
	word := rapid.StringMatching(`[a-zäö木]{0,12}( [a-zäö]{1,40}){0,5}`)
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(40, 130).Draw(t, "width")
		columns, row := []Column{Named("first")}, []string{word.Draw(t, "name")}
		for i := range rapid.IntRange(0, 7).Draw(t, "columns") {
			if i%2 == 0 {
				columns, row = append(columns, Measured(word.Draw(t, "head"))), append(row, "123.4")
			} else {
				columns, row = append(columns, Named(word.Draw(t, "head"))), append(row, word.Draw(t, "cell"))
			}
		}
		text := onPage(t, width, func(p *Page) {
			p.Table(columns, [][]string{row})
			p.List(columns, [][]string{row})
			p.Item("  - ", word.Draw(t, "text"))
		})
		for line := range strings.SplitSeq(text, "\n") {
			require.LessOrEqual(t, wrap.Letters(line), width, line)
		}
		letters := func(s string) int { return strings.Count(s, "木") }
		for _, cell := range row {
			require.GreaterOrEqual(t, letters(text), letters(cell))
		}
	})
}
