package page

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"tiploop/report/paper"
	"tiploop/report/wrap"
)

// Markdown gives the page as text for a forum, in GitHub's dialect for its tables, with its pictures as SVG files beside
// it: first the text, as stem.md, then the pictures, as stem-drawing.svg and so on. What stands behind a line on the page
// is left out, but for pictures.
func Markdown(c Content, stem string) ([]paper.File, error) {
	v, err := c.view(Live{})
	if err != nil {
		return nil, err
	}
	m := &manuscript{stem: stem}
	m.line("# " + escape(v.Title))
	if v.Date != "" {
		m.line(escape(v.Date))
	}
	if v.QuestionNote != "" {
		m.line(noteMarkdown(v.QuestionNote))
	} else {
		m.line("*" + escape(v.Question) + "*")
	}
	m.line("**" + escape(v.Verdict.Heading) + "**")
	for _, b := range v.Verdict.Blocks {
		if err := m.block(b); err != nil {
			return nil, err
		}
	}
	for _, s := range v.Sections {
		m.line("## " + escape(s.Heading))
		for _, b := range s.Blocks {
			if err := m.block(b); err != nil {
				return nil, err
			}
		}
	}
	m.line(fmt.Sprintf("*Made by tiploop %s, detail %s. An estimate from a simple linear model with uncertain joints, not a "+
		"certified calculation.*", escape(v.Version), escape(v.Detail)))
	text := paper.File{Path: stem + ".md", Data: []byte(strings.Join(m.text, "\n\n") + "\n")}
	return append([]paper.File{text}, m.pictures...), nil
}

// manuscript is a text in the making.
type manuscript struct {
	stem     string
	text     []string // blocks, between which blank lines stand
	pictures []paper.File
}

func (m *manuscript) line(s string) { m.text = append(m.text, strings.TrimRight(s, "\n")) }

// block writes one block.
func (m *manuscript) block(b Block) error {
	switch {
	case b.Text != "":
		m.line(escape(b.Text))
	case b.Items != nil:
		var list []string
		for _, i := range b.Items {
			words := escape(i.Text)
			if i.Alarm {
				words = "**" + words + "**"
			}
			if i.Mark != "" {
				words = "**" + escape(i.Mark) + "** " + words
			}
			list = append(list, "- "+words)
		}
		m.line(strings.Join(list, "\n"))
	case b.Table != nil:
		m.table(b.Table)
	case b.Figure != nil:
		return m.figure(b.Figure.Name, b.Figure.Words, b.Figure.Picture)
	case b.Bars != nil:
		if err := m.figure(b.Bars.Picture.Name, b.Bars.Picture.Words, b.Bars.Picture.Picture); err != nil {
			return err
		}
		for _, bar := range b.Bars.List {
			var words []string
			for _, p := range bar.Parts {
				words = append(words, fmt.Sprintf("%s %.0f %%", escape(p.Words), p.Percent))
			}
			m.line("**" + escape(bar.Load) + "**: " + strings.Join(words, ", "))
		}
	case b.More != nil:
		for _, one := range b.More.Blocks {
			if one.Figure != nil {
				if err := m.block(one); err != nil {
					return err
				}
			}
		}
	case b.Note != "":
		m.line(noteMarkdown(b.Note))
	case b.Code != nil:
		m.line(fenced(strings.TrimRight(wrap.Harmless(b.Code.Text), "\n"), "yaml"))
	}
	return nil
}

// figure writes a picture beside the text and shows it.
func (m *manuscript) figure(name, words string, p *paper.Picture) error {
	var b bytes.Buffer
	if err := p.Encode(&b, paper.SVG); err != nil {
		return err
	}
	file := m.stem + "-" + name + ".svg"
	m.pictures = append(m.pictures, paper.File{Path: file, Data: b.Bytes()})
	m.line(fmt.Sprintf("![%s](<%s>)", escape(words), strings.NewReplacer("<", "%3C", ">", "%3E", `\`, "%5C", "\n", "%0A",
		"\r", "%0D").Replace(strings.ReplaceAll(file, "%", "%25"))))
	return nil
}

// table writes a table.
func (m *manuscript) table(t *Table) {
	if t.Caption != "" {
		m.line("**" + escape(t.Caption) + "**")
	}
	var heads, rules, lines []string
	for _, c := range t.Columns {
		heads = append(heads, escape(c.Head))
		rule := "---:"
		if c.Words {
			rule = "---"
		}
		rules = append(rules, rule)
	}
	row := func(cells []string) { lines = append(lines, "| "+strings.Join(cells, " | ")+" |") }
	row(heads)
	row(rules)
	for _, cells := range t.Rows {
		var escaped []string
		for _, cell := range cells {
			escaped = append(escaped, escape(cell))
		}
		row(escaped)
	}
	m.line(strings.Join(lines, "\n"))
}

// fenced is a text as it stands, within a fence longer than any of its own.
func fenced(text, language string) string {
	fence := "```"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	return fence + language + "\n" + text + "\n" + fence
}

// special are the letters that mean something to some dialect of Markdown wherever they stand.
const special = "\\`*_[]<>|~#&!$@"

// escape is a text of one line that means itself in Markdown: nothing in it is emphasis, a link, an address, HTML or
// the beginning of a list.
func escape(s string) string {
	var b strings.Builder
	s = wrap.OneLine(s)
	for i, r := range s {
		rest := s[i:]
		switch {
		case strings.ContainsRune(special, r), i == 0 && strings.ContainsRune("-+=", r), strings.HasPrefix(rest, "://"),
			r == '.' && strings.HasSuffix(strings.ToLower(s[:i]), "www"),
			(r == '.' || r == ')') && numbered(s[:i]) && (len(rest) == 1 || rest[1] == ' '):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// numbered tells whether a text is a number and nothing else, behind which a stop begins a list.
func numbered(s string) bool {
	return s != "" && strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) }) < 0 && utf8.RuneCountInString(s) < 10
}
