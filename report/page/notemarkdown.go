package page

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// noteMarkdown is a note as Markdown again, of nothing but what parsed leaves in it.
func noteMarkdown(note string) string {
	tree, source := parsed(note)
	return strings.Join(blocksBelow(tree, source), "\n\n")
}

// blocksBelow are the blocks below a node.
func blocksBelow(n ast.Node, source []byte) (list []string) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if text := blockText(c, source); text != "" {
			list = append(list, text)
		}
	}
	return list
}

// blockText is one block.
func blockText(n ast.Node, source []byte) string {
	switch n := n.(type) {
	case *ast.Heading:
		return strings.Repeat("#", n.Level) + " " + strings.ReplaceAll(spans(n, source), "\n", " ")
	case *ast.Paragraph, *ast.TextBlock:
		return spans(n, source)
	case *ast.ThematicBreak:
		return "---"
	case *ast.FencedCodeBlock, *ast.CodeBlock:
		return fenced(strings.TrimRight(string(n.Lines().Value(source)), "\n"), "")
	case *ast.Blockquote:
		return indented(strings.Join(blocksBelow(n, source), "\n\n"), "> ", "> ")
	case *ast.List:
		return listText(n, source)
	}
	return escape(plain(n, source))
}

// listText is a list.
func listText(n *ast.List, source []byte) string {
	var list []string
	number := n.Start
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		mark := "- "
		if n.IsOrdered() {
			mark = fmt.Sprintf("%d. ", number)
			number++
		}
		between := "\n\n"
		if n.IsTight {
			between = "\n"
		}
		list = append(list, indented(strings.Join(blocksBelow(c, source), between), mark, strings.Repeat(" ", len(mark))))
	}
	if n.IsTight {
		return strings.Join(list, "\n")
	}
	return strings.Join(list, "\n\n")
}

// indented puts something before the first line and before each of the others.
func indented(text, first, others string) string {
	return first + strings.ReplaceAll(text, "\n", "\n"+others)
}

// spans is the running text below a node.
func spans(n ast.Node, source []byte) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		b.WriteString(spanText(c, source))
	}
	return b.String()
}

// spanText is a piece of running text.
func spanText(n ast.Node, source []byte) string {
	switch n := n.(type) {
	case *ast.Text:
		words := padded(unescaped(n.Segment.Value(source)))
		switch {
		case n.HardLineBreak():
			return words + "\\\n"
		case n.SoftLineBreak():
			return words + "\n"
		}
		return words
	case *ast.String:
		return padded(unescaped(n.Value))
	case *ast.CodeSpan:
		code := plainCode(n, source)
		fence := "`"
		for strings.Contains(code, fence) {
			fence += "`"
		}
		return fence + " " + code + " " + fence
	case *ast.Emphasis:
		mark := strings.Repeat("*", n.Level)
		return mark + spans(n, source) + mark
	case *ast.Link:
		return "[" + spans(n, source) + "](<" + address(string(n.Destination)) + ">)"
	case *ast.AutoLink:
		return "<" + address(string(n.URL(source))) + ">"
	}
	return escape(plain(n, source))
}

// address is a link's destination without what would end it.
func address(url string) string {
	return strings.NewReplacer("<", "%3C", ">", "%3E", " ", "%20", "\n", "", `\`, "%5C").Replace(url)
}
