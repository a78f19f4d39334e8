package page

import (
	"bytes"
	"html"
	"html/template"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"tiploop/report/wrap"
)

// A note is CommonMark, made harmless before it is set: raw HTML becomes the text that it is, a picture its words, and a
// link to anything but http or https, too. What is left are paragraphs, headings, lists, quotations, code, emphasis and
// links, which goldmark writes with all text escaped. So nothing has to be looked for in what comes out.

// headingsFrom is the level of a note's largest headings: those of sections are of the second.
const headingsFrom = 3

// parsed is a note's tree, made harmless, with the text that it refers to.
func parsed(note string) (tree ast.Node, source []byte) {
	source = []byte(wrap.Harmless(note))
	tree = goldmark.New().Parser().Parse(text.NewReader(source))
	var replaced [][2]ast.Node
	_ = ast.Walk(tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) { // the function fails on nothing
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			n.Level = min(n.Level+headingsFrom-1, headingsFrom+1)
		case *ast.RawHTML:
			replaced = append(replaced, [2]ast.Node{n, words(string(n.Segments.Value(source)))})
		case *ast.HTMLBlock:
			p := ast.NewParagraph()
			raw := string(n.Lines().Value(source))
			if n.HasClosure() {
				raw += string(n.ClosureLine.Value(source))
			}
			p.AppendChild(p, words(strings.TrimSpace(raw)))
			replaced = append(replaced, [2]ast.Node{n, p})
		case *ast.Image:
			replaced = append(replaced, [2]ast.Node{n, words(plain(n, source))})
			return ast.WalkSkipChildren, nil
		case *ast.Link:
			if !outward(n.Destination) {
				replaced = append(replaced, [2]ast.Node{n, words(plain(n, source))})
				return ast.WalkSkipChildren, nil
			}
			n.Title = nil
			n.SetAttributeString("rel", []byte("noopener noreferrer nofollow"))
		case *ast.AutoLink:
			if !outward(n.URL(source)) {
				replaced = append(replaced, [2]ast.Node{n, words(string(n.Label(source)))})
			} else {
				n.SetAttributeString("rel", []byte("noopener noreferrer nofollow"))
			}
		}
		return ast.WalkContinue, nil
	})
	for _, r := range replaced {
		if parent := r[0].Parent(); parent != nil {
			parent.ReplaceChild(parent, r[0], r[1])
		}
	}
	return tree, source
}

// words is a piece of text that stands for itself.
func words(s string) ast.Node {
	n := ast.NewString([]byte(s))
	n.SetRaw(false)
	return n
}

// outward tells whether a link leads to a page of the web.
func outward(destination []byte) bool {
	lower := strings.ToLower(string(destination))
	return strings.HasPrefix(lower, "https://") || strings.HasPrefix(lower, "http://")
}

// plain is the text below a node, without its marks.
func plain(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n := n.(type) {
			case *ast.Text:
				b.WriteString(unescaped(n.Segment.Value(source)))
				if n.SoftLineBreak() || n.HardLineBreak() {
					b.WriteByte(' ')
				}
			case *ast.String:
				b.WriteString(unescaped(n.Value))
			}
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// unescaped is what a piece of Markdown text means: entities taken for their letters, and letters behind a backslash for
// themselves.
func unescaped(text []byte) string {
	var b strings.Builder
	from := 0
	for i := 0; i+1 < len(text); i++ {
		if text[i] == '\\' && util.IsPunct(text[i+1]) {
			b.WriteString(html.UnescapeString(string(text[from:i])))
			b.WriteByte(text[i+1])
			i++
			from = i + 1
		}
	}
	b.WriteString(html.UnescapeString(string(text[from:])))
	return b.String()
}

// plainCode is the code of a span as it stands.
func plainCode(n ast.Node, source []byte) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			b.WriteString(strings.ReplaceAll(string(t.Segment.Value(source)), "\n", " "))
		}
	}
	return b.String()
}

// padded escapes a text and keeps the spaces at its ends, which part it from its neighbours.
func padded(s string) string {
	words := escape(s)
	if words == "" {
		if s != "" {
			return " "
		}
		return ""
	}
	if strings.TrimLeft(s, " \t\n") != s {
		words = " " + words
	}
	if strings.TrimRight(s, " \t\n") != s {
		words += " "
	}
	return words
}

// noteHTML is a note as HTML.
func noteHTML(note string) (template.HTML, error) {
	tree, source := parsed(note)
	var b bytes.Buffer
	if err := goldmark.New().Renderer().Render(&b, source, tree); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil // see above
}
