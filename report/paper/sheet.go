package paper

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Footnote is the caution at the foot of every picture.
const Footnote = "An estimate from a linear model with uncertain joints, not a certified calculation."

// Sheet is what every picture has in common: a title, a line below it, a key to the series, and the caution at its
// foot. What is between them is drawn by the picture itself.
type Sheet struct {
	Title    string
	Subtitle string     // "" leaves the line out
	Key      []KeyEntry // in the order in which it is read; none leaves the key out

	page string // which of several it is; "": the only one
}

// HeadHeight is the room for title, line and key, in points.
func (s Sheet) HeadHeight(width vg.Length) vg.Length {
	inner := width - 2*Margin
	h := Margin
	h += TextHeight(BoldLettering(TitleSize, Ink), len(Fitted(BoldLettering(TitleSize, Ink), s.Title, inner)))
	if s.Subtitle != "" {
		h += 2 + TextHeight(Lettering(LabelSize, FaintInk),
			len(Fitted(Lettering(LabelSize, FaintInk), s.Subtitle, inner)))
	}
	if len(s.Key) > 0 {
		_, keyHeight := KeyLayout(s.Key, inner)
		h += Gap + keyHeight
	}
	return h + Gap
}

// FootHeight is the room for the caution, in points.
func (s Sheet) FootHeight() vg.Length { return TextHeight(Lettering(SmallSize, FaintInk), 1) + Margin }

// Draw paints the paper, the head and the foot, and gives the room between them, within the margins. The canvas must be
// higher than HeadHeight and FootHeight together.
func (s Sheet) Draw(c draw.Canvas) draw.Canvas {
	c.FillPolygon(White, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
	width := c.Max.X - c.Min.X
	inner := width - 2*Margin
	at := vg.Point{X: c.Min.X + Margin, Y: c.Max.Y - Margin}
	sty := BoldLettering(TitleSize, Ink)
	at.Y -= WriteLines(c, sty, Fitted(sty, s.Title, inner), at)
	if s.Subtitle != "" {
		sty = Lettering(LabelSize, FaintInk)
		at.Y -= 2
		at.Y -= WriteLines(c, sty, Fitted(sty, s.Subtitle, inner), at)
	}
	if len(s.Key) > 0 {
		at.Y -= Gap
		places, _ := KeyLayout(s.Key, inner)
		for _, p := range places {
			DrawKeyEntry(c, s.Key[p.Entry], p.Lines, vg.Point{X: at.X + p.Left, Y: at.Y - p.Top})
		}
	}
	foot := Lettering(SmallSize, FaintInk)
	at.Y = c.Min.Y + Margin/2 + TextHeight(foot, 1)
	WriteLines(c, foot, []string{Footnote}, at)
	WriteLines(c, foot, []string{s.page}, vg.Point{X: c.Max.X - Margin - foot.Width(s.page), Y: at.Y})
	return draw.Crop(c, Margin, -Margin, s.FootHeight(), -s.HeadHeight(width))
}
