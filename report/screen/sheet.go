package screen

import (
	"bytes"
	"io"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/table"
)

// A screen has so many lines of so many letters.
const (
	mostLines = 40
	width     = 80
)

// sheet is one screen in the making.
type sheet struct {
	*table.Page
	asks  answer.Asks // by which words the reader asks for more
	tight int         // how much is left out to fit: 0 is nothing, up to tightest; then blank lines, then one more of each
}

// tightest leaves out the most of what is told.
const tightest = 6

// of gives how many of something the sheet has room for, as many as it likes at first.
func (s *sheet) of(likes, least int) int {
	if s.tight > tightest+1 {
		return max(1, least-1)
	}
	return max(least, likes-(likes-least)*min(s.tight, tightest)/tightest)
}

// Heading writes a title with a blank line before it, as long as there is room for blank lines.
func (s *sheet) Heading(title string) {
	if s.tight <= tightest {
		s.Line("")
	}
	s.Title(title)
}

// fill writes a screen, leaving out as little as makes it fit.
func fill(w io.Writer, asks answer.Asks, write func(*sheet)) error {
	var b bytes.Buffer
	var on io.Writer = &b
	if m, ok := w.(table.Medium); ok {
		m.Writer = &b
		on = m
	}
	for tight := 0; tight <= tightest+2; tight++ {
		b.Reset()
		s := &sheet{Page: table.New(on), asks: asks, tight: tight}
		s.Narrow(width)
		write(s)
		if err := s.Close(); err != nil {
			return err
		}
		if s.Lines() <= mostLines {
			break
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// more says where the rest is.
func (s *sheet) more(tables []string) {
	words := []string{s.asks.ForEverything() + " prints everything"}
	if len(tables) > 0 {
		words = append(words, s.asks.ForTables()+" one or more of: "+strings.Join(tables, ", "))
	}
	s.Heading("More")
	s.Item("  ", strings.Join(words, "; ")+".")
}
