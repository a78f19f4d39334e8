package paper

import (
	"image/color"
	"strings"

	xfont "golang.org/x/image/font"
	_ "gonum.org/v1/plot" // puts the Liberation fonts into the cache of fonts
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/wrap"
)

// The sizes of letters, in points: at the picture's own width the least of them is 12 pixels high.
const (
	TitleSize = vg.Length(15)   // of the picture's title
	PanelSize = vg.Length(11.5) // of the title of one of its charts
	LabelSize = vg.Length(10)   // of names and values
	SmallSize = vg.Length(9)    // of ticks and remarks
)

// leading is the height of a line over the size of its letters.
const leading = 1.25

// Lettering gives the style of plain text, standing on its lower left corner.
func Lettering(size vg.Length, c color.Color) text.Style {
	return text.Style{
		Color: c, Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign: draw.XLeft, YAlign: draw.YBottom, Handler: text.Plain{Fonts: font.DefaultCache},
	}
}

// BoldLettering is Lettering in bold.
func BoldLettering(size vg.Length, c color.Color) text.Style {
	s := Lettering(size, c)
	s.Font.Weight = xfont.WeightBold
	return s
}

// Fitted breaks s into lines no wider than width, between words where it can and within a word where it must; a number
// keeps its unit.
func Fitted(sty text.Style, s string, width vg.Length) []string {
	var lines []string
	current := ""
	for _, word := range wrap.Words(s) {
		if current != "" && sty.Width(current+" "+word) <= width {
			current += " " + word
			continue
		}
		if current != "" {
			lines = append(lines, current)
		}
		for sty.Width(word) > width {
			cut := longestFit(sty, word, width)
			lines = append(lines, word[:cut])
			word = word[cut:]
		}
		current = word
	}
	return append(lines, current)
}

// longestFit is where to cut a word that is wider than width: behind its last joint that fits, or its last letter.
func longestFit(sty text.Style, word string, width vg.Length) int {
	atLetter, atJoint := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if sty.Width(word[:end]) > width && atLetter > 0 {
			break
		}
		atLetter = end
		if strings.ContainsRune("_-/.", r) {
			atJoint = end
		}
	}
	if atJoint > 0 {
		return atJoint
	}
	return atLetter
}

// TextHeight is the height of n lines, in points.
func TextHeight(sty text.Style, n int) vg.Length { return vg.Length(n) * sty.Font.Size * leading }

// WriteLines writes lines downward from the top left corner at, and gives the height they took, which is that of
// TextHeight.
func WriteLines(c draw.Canvas, sty text.Style, lines []string, at vg.Point) vg.Length {
	sty.YAlign = draw.YCenter
	step := TextHeight(sty, 1)
	for i, l := range lines {
		c.FillText(sty, vg.Point{X: at.X, Y: at.Y - step*(vg.Length(i)+0.5)}, l)
	}
	return TextHeight(sty, len(lines))
}
