package main

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"tiploop/report/page"
)

// Names that try to get out of HTML, an attribute and a script, and out of SVG and Markdown.
const (
	nastyName = "</script><script>alert(1)</script>\"'><img onerror=alert(2)>"
	wildName  = "`*_[x](javascript:alert(3))|אבג🔩 www.a.bc @b ~~c~~ $d$"
)

// nastyNote is a note of everything that a page must not let in, and of a link that it does.
const nastyNote = "# Words\n\nand <script>alert(4)</script> <b onclick=\"alert(5)\">bold</b> [out](https://example.org/a?b=\"c) " +
	"[in](javascript:alert(6)) [file](file:///etc/passwd) ![pic](https://example.org/pic.png) &lt;script&gt; ]]> <!-- x\n\n" +
	"<iframe src=\"https://example.org\"></iframe>\n\n<style>*{display:none}</style>\n\n" +
	"```\n</code></pre><script>alert(7)</script>\n```\n\n" +
	"    ```\n\n1. one\n2. two\n\n<https://example.org/auto> <javascript:alert(8)>\n"

// nastyModel is a machine with such names, notes, and a text of 10,000 letters.
func nastyModel(t *testing.T) string {
	t.Helper()
	quoted := func(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
	note := "    " + strings.ReplaceAll(strings.TrimSpace(nastyNote), "\n", "\n    ") + "\n"
	long := ">\n" + strings.Repeat("    "+strings.Repeat("l", 2500)+"\n", 4)
	named := strings.NewReplacer("NAME", quoted(nastyName), "WILD", quoted(wildName), "LONG", long, "NOTE", note)
	model := named.Replace(`machine: NAME
about: LONG
date: NAME
notes:
  question: |
NOTE  verdict: |
NOTE  parts: LONG
  file: NAME
parts:
  NAME: {plate: {from: [-80, -120, 0], to: [80, 60, 30]}, material: aluminium-5083}
  WILD: {plate: {from: [-60, -110, 30], to: [60, 30, 45]}, material: aluminium-5083}
  column: {plate: {from: [-30, 30, 30], to: [30, 60, 200]}, material: aluminium-5083}
  arm: {plate: {from: [-20, -50, 150], to: [20, 30, 180]}, material: aluminium-5083}
joints:
  - {between: [NAME, WILD], screws: {size: M6, grid: [2, 2]}}
  - {between: [NAME, column], screws: {size: M6, grid: [2, 1]}}
  - {between: [column, arm], screws: {size: M5, grid: [2, 1]}}
grounds:
  - {part: NAME, face: bottom, feet: [[-70, -110], [70, -110], [-70, 50], [70, 50]], stiffness: 40 N/um}
tool: {part: arm, at: [0, -30, 130], stickout: 20 mm, diameter: 6 mm, material: carbide}
work: {part: WILD}
values: {k: 1}
points:
  WILD: {part: WILD, at: [0, -100, 45]}
loads:
  WILD: {tip: [20, 0, 0]}
travel:
  WILD: {along: y, from: -100, to: 20, tolerance: 20 um}
options:
  NAME: {k: 1}
  WILD: {k: 2}
`)
	path := filepath.Join(t.TempDir(), "nasty.yaml")
	require.NoError(t, os.WriteFile(path, []byte(model), 0o600))
	return path
}

// logged writes the log of a model by the beam model, and gives what is in the folder then.
func logged(t *testing.T, model, name string, more ...string) (folder string, files map[string]string) {
	t.Helper()
	folder = t.TempDir()
	outputOf(t, append([]string{"log", model, "--detail", "section", "--out", filepath.Join(folder, name)}, more...)...)
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	files = map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		require.NoError(t, err)
		files[e.Name()] = string(data)
	}
	return folder, files
}

// tagsOf are the tags of a page as a browser sees them: all text in it has its brackets escaped.
var tagsOf = regexp.MustCompile(`<(/?[a-zA-Z][a-zA-Z0-9]*)([^<>]*)>`)

// harmless requires of a page that it has no other elements than it should, no handlers, and no address but those of
// the web.
func harmless(t *testing.T, page string) {
	t.Helper()
	known := strings.Fields("html head meta title style body a header div span h1 h2 h3 h4 p em strong b ul ol li code pre main " +
		"section figure svg g path text rect circle polygon line table caption thead tbody tr th td details summary footer " +
		"blockquote hr br")
	// The style and the viewer are the page's own, and their hashes are in the policy; what the viewer shows is JSON.
	body := regexp.MustCompile(`(?s)<script[^>]*>.*?</script>`).ReplaceAllStringFunc(page[strings.Index(page, "</style>"):],
		func(script string) string {
			if data, is := strings.CutPrefix(script, `<script type="application/json" id="scene">`); is {
				require.True(t, json.Valid([]byte(strings.TrimSuffix(data, "</script>"))))
				require.NotContains(t, strings.TrimSuffix(data, "</script>"), "<")
			} else {
				text := strings.TrimSuffix(strings.TrimPrefix(script, "<script>"), "</script>")
				sum := sha256.Sum256([]byte(text))
				require.Contains(t, policyOf(page), base64.StdEncoding.EncodeToString(sum[:]))
			}
			return ""
		})
	for _, m := range tagsOf.FindAllStringSubmatch(body, -1) {
		name := strings.ToLower(strings.TrimPrefix(m[1], "/"))
		require.Contains(t, known, name, m[0])
		require.NotRegexp(t, `(?i)\son[a-z]+\s*=`, m[2])
		require.NotRegexp(t, `(?i)\s(style|srcset|src|xlink:href)\s*=`, m[2])
		for _, link := range regexp.MustCompile(`(?i)\shref\s*=\s*"?([^"\s>]*)`).FindAllStringSubmatch(m[2], -1) {
			require.Regexp(t, `^(https?://|#sections$)`, link[1])
			if strings.HasPrefix(link[1], "http") {
				require.Contains(t, m[2], "noopener")
			}
		}
	}
	require.Equal(t, strings.Count(body, "<"), len(tagsOf.FindAllString(body, -1)), "a bracket that ends no tag")
}

// Names and notes are text in a page, whatever they hold.
func TestLogHarmless(t *testing.T) {
	_, files := logged(t, nastyModel(t), "page.html")
	harmless(t, files["page.html"])
	require.Contains(t, policyOf(files["page.html"]), "default-src 'none'; style-src 'sha256-")
	head, _, _ := strings.Cut(files["page.html"], "<main") // the model file shows them all as text
	require.Contains(t, head, `<a href="https://example.org/a?b=%22c" rel="noopener noreferrer nofollow">out</a>`)
	require.Contains(t, head, "alert(7)", "the code of a note stays, as text")
	require.NotContains(t, head, "pic.png", "pictures of notes are left out")
}

// The same in Markdown, read as a forum reads it, and in its pictures.
func TestLogMarkdownHarmless(t *testing.T) {
	_, files := logged(t, nastyModel(t), "a <b> c%20.md")
	require.Len(t, files, 5)
	source := []byte(files["a <b> c%20.md"])
	tree := goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser().Parse(text.NewReader(source))
	var links, pictures []string
	headings := 0
	require.NoError(t, ast.Walk(tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.RawHTML, *ast.HTMLBlock:
			t.Errorf("%s in the text", n.Kind())
		case *ast.Link:
			links = append(links, string(n.Destination))
		case *ast.AutoLink:
			links = append(links, string(n.URL(source)))
		case *ast.Image:
			pictures = append(pictures, string(n.Destination))
		case *ast.Heading:
			if n.Level <= 2 {
				headings++
			}
		}
		return ast.WalkContinue, nil
	}))
	slices.Sort(links)
	require.Equal(t, []string{`https://example.org/a?b="c`, "https://example.org/auto"}, slices.Compact(links))
	require.Equal(t, []string{"a %3Cb%3E c%2520-machine.svg", "a %3Cb%3E c%2520-drawing.svg",
		"a %3Cb%3E c%2520-places.svg", "a %3Cb%3E c%2520-shares.svg"}, pictures)
	require.Equal(t, strings.Count(string(source), "\n## ")+1, headings)
	for name, data := range files {
		if strings.HasSuffix(name, ".svg") {
			require.NotRegexp(t, `(?i)<(script|image|img|a|foreignObject|style)\b`, data)
		}
	}
}

// The same bytes every time, unless tests are thorough of a model without options; one section is what it is in the page.
func TestLogAgain(t *testing.T) {
	model := sample
	if !thorough() {
		text, _, _ := strings.Cut(string(starter), "\noptions:")
		model = filepath.Join(t.TempDir(), "stand.yaml")
		require.NoError(t, os.WriteFile(model, []byte(text+"\n"), 0o600))
	}
	_, first := logged(t, model, "page.html")
	_, again := logged(t, model, "page.html")
	require.Equal(t, first, again)
	_, few := logged(t, model, "page.html", "--sections", "shares,check")
	require.Equal(t, []string{"shares", "check"}, sectionsOf(few["page.html"]))
	all := sectionsOf(first["page.html"])
	require.Subset(t, page.Names(), all)
	require.Greater(t, len(all), 8)
}

// sectionsOf are the sections of a page, in its order.
func sectionsOf(page string) (names []string) {
	for _, m := range regexp.MustCompile(`<section id="([a-z]+)"`).FindAllStringSubmatch(page, -1) {
		names = append(names, m[1])
	}
	return names
}

// Question and verdict come first, then what shows them.
func TestLogBegins(t *testing.T) {
	_, files := logged(t, filepath.Join(top, "examples", "bed-layouts.yaml"), "bed.md", "--sections", "options")
	blocks := strings.Split(files["bed.md"], "\n\n")
	require.Equal(t, "# Movement-plate mill", blocks[0])
	require.Contains(t, blocks[1], "?")
	require.Regexp(t, `^\*\*Build “.*”: .* instead of .* as with “.*”, for .*\.\*\*$`, blocks[2])
	require.Regexp(t, `^It typically keeps .* Nine of ten such machines .* [0-9]+ of 100 `, blocks[3])
}

// policyOf is the content security policy of a page.
func policyOf(page string) string {
	return html.UnescapeString(regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(page)[1])
}
