package paper

import (
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// imageCanvas hands text to the canvas of an image as it is to be seen: that canvas sets letter after letter from left to
// right, and leaves out those that its font lacks. A reader of SVG does both by itself.
type imageCanvas struct{ *vgimg.Canvas }

// FillString writes text, with a box for each letter that the font lacks.
func (c imageCanvas) FillString(f font.Face, at vg.Point, text string) {
	c.Canvas.FillString(f, at, drawable(f, inOrderOfSight(text)))
}

// noLetter stands for a letter that a font lacks.
const noLetter = '□'

// drawable is the text with letters that the font has.
func drawable(f font.Face, text string) string {
	var b sfnt.Buffer
	var out []rune
	for _, r := range text {
		if unicode.In(r, unicode.Cf, unicode.Mn, unicode.Me) {
			continue // joins letters or stands on one
		}
		if n, err := f.Face.GlyphIndex(&b, r); err != nil || n == 0 {
			r = noLetter
		}
		out = append(out, r)
	}
	return string(out)
}

// inOrderOfSight puts letters that are read from right to left in the order in which they stand from left to right, by the
// bidirectional algorithm of Unicode (UAX 9), whose runs stay in the order in which they are written: a number behind such
// words stands behind them.
func inOrderOfSight(text string) string {
	var p bidi.Paragraph
	if _, err := p.SetString(text, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		return text
	}
	order, err := p.Order()
	if err != nil {
		return text
	}
	out := ""
	for i := range order.NumRuns() {
		run := order.Run(i)
		if words := run.String(); run.Direction() == bidi.RightToLeft {
			inner := strings.TrimRightFunc(words, func(r rune) bool { return !fromTheRight(r) })
			out += bidi.ReverseString(inner) + words[len(inner):]
		} else {
			out += words
		}
	}
	return out
}

// fromTheRight tells whether a letter is of a script that is read from right to left.
func fromTheRight(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}
