package table

import (
	"bufio"
	"io"
	"strings"

	"tiploop/report/wrap"
)

// usualWidth is how many letters a line has at most where nobody says otherwise, and running text everywhere: longer
// lines are hard to read.
const usualWidth = 100

// leastWidth is the least that a page is laid out for: a narrower terminal breaks the lines by itself.
const leastWidth = 40

// Medium is what a page is written on, where more is known of it than that it can be written on.
type Medium struct {
	io.Writer
	Width  int  // in letters; 0: not known
	Colour bool // it shows bold letters and colours
}

// How a terminal is told to change its letters (ECMA-48, select graphic rendition).
const (
	bold     = "\x1b[1m"
	alarming = "\x1b[1;31m"
	plain    = "\x1b[0m"
)

// Page collects text and keeps the first error, so that a report is written without a check at every line.
type Page struct {
	w      *bufio.Writer
	err    error
	width  int
	colour bool
	lines  int
	blocks *Blocks // nil: the page is laid out in lines
}

// New makes a page on w. On Blocks it hands over what stands on it instead of laying it out. Where w is a Medium, no line is
// longer than it is wide and headings stand out in colour where it has them; elsewhere lines have 100 letters at most.
func New(w io.Writer) *Page {
	p := &Page{w: bufio.NewWriter(w), width: usualWidth}
	p.blocks, _ = w.(*Blocks)
	if m, ok := w.(Medium); ok {
		p.colour = m.Colour
		if m.Width > 0 {
			p.width = max(m.Width, leastWidth)
		}
	}
	return p
}

// Narrow keeps lines to so many letters on a page that is wider.
func (p *Page) Narrow(width int) { p.width = min(p.width, width) }

// Width is how many letters a line has at most.
func (p *Page) Width() int { return p.width }

// Lines is how many lines were written.
func (p *Page) Lines() int { return p.lines }

// Line writes one line as it is, save for spaces at its end.
func (p *Page) Line(s string) {
	if p.taken(Block{Kind: Paragraph, Text: s}) {
		return
	}
	p.lines++
	if p.err == nil {
		_, p.err = p.w.WriteString(strings.TrimRight(s, " ") + "\n")
	}
}

// taken hands a block over where the page is not laid out, and tells whether it did.
func (p *Page) taken(b Block) bool {
	if p.blocks == nil {
		return false
	}
	p.lines++
	p.blocks.add(b)
	return true
}

// Say writes running text, wrapped between words.
func (p *Page) Say(s string) { p.item(Paragraph, "", s, "") }

// Item writes running text behind a mark; the lines that follow are set in as far as the mark is wide.
func (p *Page) Item(mark, s string) { p.item(Item, mark, s, "") }

// Alarm writes an item that must not be missed, in colour where there is any.
func (p *Page) Alarm(mark, s string) { p.item(Alarm, mark, s, alarming) }

// Heading writes a blank line and a title.
func (p *Page) Heading(s string) {
	p.Line("")
	p.item(Heading, "", s, bold)
}

// Title writes a title without a line before it.
func (p *Page) Title(s string) { p.item(Title, "", s, bold) }

func (p *Page) item(kind BlockKind, mark, s, colour string) {
	if p.taken(Block{Kind: kind, Mark: mark, Text: s}) {
		return
	}
	wide := wrap.Letters(mark)
	for i, l := range broken(s, min(p.width, usualWidth)-wide) {
		if i > 0 {
			mark = strings.Repeat(" ", wide)
		}
		p.Line(p.coloured(mark+l, colour))
	}
}

func (p *Page) coloured(s, colour string) string {
	if !p.colour || colour == "" {
		return s
	}
	return colour + s + plain
}

// broken breaks a text into lines, and words that are longer than a line, too.
func broken(s string, width int) (lines []string) {
	width = max(width, 1)
	for _, l := range wrap.Lines(s, width) {
		for wrap.Letters(l) > width {
			cut := 0
			for i := range l {
				if i > 0 && wrap.Letters(l[:i]) > width {
					break
				}
				cut = i
			}
			if cut == 0 {
				break // a letter wider than the line
			}
			lines, l = append(lines, l[:cut]), strings.TrimLeft(l[cut:], " ")
		}
		lines = append(lines, l)
	}
	return lines
}

// Close hands over what was collected and gives the first error met.
func (p *Page) Close() error {
	if p.err != nil {
		return p.err
	}
	return p.w.Flush()
}
