// Package manual writes pages of a manual in the man(7) language of groff and mandoc.
//
//	err := manual.Page{Name: "tiploop", Section: 1, About: "how stiff is it?"}.Write(w)
//
// Text is taken as it is: nothing in it is markup. Pages have no date, so that they have the same bytes on every run.
package manual

import (
	"fmt"
	"io"
	"strings"
)

// Page is one page of a manual.
type Page struct {
	Name     string // "tiploop-tip"
	Section  int    // 1 for commands, 5 for files
	About    string // one line
	Source   string // program and version, for the foot
	Chapters []Chapter
}

// Chapter is what stands under one head. All its parts may be empty; they follow one another as listed.
type Chapter struct {
	Head       string   // "OPTIONS"
	Paragraphs []string // broken where they are printed
	Lines      []string // kept as they are
	Items      []Item
}

// Item is a term with what there is to say of it; one without a text is a head among items.
type Item struct{ Term, Text string }

// Write writes the page. The error is that of w.
func (p Page) Write(w io.Writer) error {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line(".TH %s %d \"\" %s", quoted(strings.ToUpper(p.Name)), p.Section, quoted(p.Source))
	line(".SH NAME\n%s \\- %s", escaped(p.Name), escaped(p.About))
	for _, c := range p.Chapters {
		line(".SH %s", quoted(c.Head))
		for i, text := range c.Paragraphs {
			if i > 0 {
				line(".PP")
			}
			line("%s", escaped(strings.Join(strings.Fields(text), " ")))
		}
		if len(c.Lines) > 0 {
			if len(c.Paragraphs) > 0 {
				line(".PP")
			}
			line(".nf")
			for _, text := range c.Lines {
				line("%s", escaped(text))
			}
			line(".fi")
		}
		for _, i := range c.Items {
			if i.Text == "" {
				line(".SS %s", quoted(i.Term))
				continue
			}
			line(".TP\n.B %s\n%s", quoted(i.Term), escaped(strings.Join(strings.Fields(i.Text), " ")))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// marks are the letters that mean something to groff, as it prints them: a plain hyphen is another letter there, which
// cannot be copied into a shell.
var marks = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", "\\`", "^", `\(ha`, "~", `\(ti`)

// escaped is a text that stands on a line by itself, of which nothing is a request.
func escaped(text string) string {
	text = marks.Replace(text)
	if strings.HasPrefix(text, ".") {
		text = `\&` + text
	}
	return text
}

// quoted is a text as one argument of a request.
func quoted(text string) string {
	return `"` + strings.ReplaceAll(marks.Replace(text), `"`, `\(dq`) + `"`
}
