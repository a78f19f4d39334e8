package graph

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/report/paper"
)

// Words says in words what a chart would show as level lines over much air.
type Words struct {
	Title, Note string
	Lines       []Line
}

// Line says something of some options, told by their places in the answer; of none: of all that there are.
type Line struct {
	Series []int
	Words  string
}

// Add says it of an option, together with others of which the same is said.
func (p *Words) Add(series int, words string) {
	if i := slices.IndexFunc(p.Lines, func(l Line) bool { return l.Words == words }); i >= 0 {
		p.Lines[i].Series = append(p.Lines[i].Series, series)
		return
	}
	p.Lines = append(p.Lines, Line{[]int{series}, words})
}

// Named puts the names of the options behind what is said of them; where the same is said of all of several, none.
func (p *Words) Named(options []string) {
	for i, l := range p.Lines {
		if len(p.Lines) == 1 && len(l.Series) == len(options) && len(options) > 1 {
			p.Lines[i] = Line{Words: l.Words + ", all options"}
			continue
		}
		for _, n := range l.Series {
			p.Lines[i].Words += ", " + options[n]
		}
	}
}

// The measures of such lines, in points.
const (
	flatMark = vg.Length(30) // the width of the mark of an option
	flatStep = vg.Length(2)  // between two lines
)

// marks is the room for the marks of a line.
func (l Line) marks() vg.Length {
	return vg.Length(len(l.Series)) * (flatMark + flatStep)
}

// fitted are the words of a line in a column of that width.
func (l Line) fitted(width vg.Length) []string {
	return paper.Fitted(paper.Lettering(paper.LabelSize, paper.Ink), l.Words, width-l.marks()-paper.Gap)
}

// Height is the room that it takes in a column of that width.
func (p Words) Height(width vg.Length) vg.Length {
	sty, words := paper.BoldLettering(paper.PanelSize, paper.Ink), paper.Lettering(paper.LabelSize, paper.Ink)
	h := paper.TextHeight(sty, len(paper.Fitted(sty, p.Title, width))) + 2*paper.Gap
	if p.Note != "" {
		h += paper.TextHeight(words, 1) + flatStep
	}
	for _, l := range p.Lines {
		h += paper.TextHeight(words, len(l.fitted(width))) + flatStep
	}
	return h
}

// Paint writes the lines below the title.
func (p Words) Paint(c draw.Canvas) {
	sty, words := paper.BoldLettering(paper.PanelSize, paper.Ink), paper.Lettering(paper.LabelSize, paper.Ink)
	at := vg.Point{X: c.Min.X, Y: c.Max.Y}
	width := c.Max.X - c.Min.X
	at.Y -= paper.WriteLines(c, sty, paper.Fitted(sty, p.Title, width), at)
	if p.Note != "" {
		at.Y -= paper.WriteLines(c, paper.Lettering(paper.LabelSize, paper.FaintInk), []string{p.Note}, at) + flatStep
	}
	for _, l := range p.Lines {
		middle := at.Y - paper.TextHeight(words, 1)/2
		for i, n := range l.Series {
			left := at.X + vg.Length(i)*(flatMark+flatStep)
			CurveMark(n)(c, vg.Rectangle{Min: vg.Point{X: left, Y: middle - 1}, Max: vg.Point{X: left + flatMark, Y: middle + 1}})
		}
		beside := vg.Point{X: at.X + l.marks(), Y: at.Y}
		if len(l.Series) > 0 {
			beside.X += paper.Gap
		}
		at.Y -= paper.WriteLines(c, words, l.fitted(width), beside) + flatStep
	}
}
