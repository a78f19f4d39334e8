package page

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A note is CommonMark (spec.commonmark.org 0.31) without raw HTML, pictures and any links but those of the web, in both
// forms; read again, the Markdown gives the same HTML.
func TestNotes(t *testing.T) {
	for _, tt := range []struct{ note, html, markdown string }{
		{"plain", "<p>plain</p>\n", "plain"},
		{"*a* and **b** and `c<d`", "<p><em>a</em> and <strong>b</strong> and <code>c&lt;d</code></p>\n", "*a* and **b** and ` c<d `"},
		{"# One\n### Three", "<h3>One</h3>\n<h4>Three</h4>\n", "### One\n\n#### Three"},
		{"- a\n- b\n  1. c", "<ul>\n<li>a</li>\n<li>b\n<ol>\n<li>c</li>\n</ol>\n</li>\n</ul>\n", "- a\n- b\n  1. c"},
		{"> so\n> it is", "<blockquote>\n<p>so\nit is</p>\n</blockquote>\n", "> so\n> it is"},
		{"a <b>c</b>", "<p>a &lt;b&gt;c&lt;/b&gt;</p>\n", `a \<b\>c\</b\>`},
		{"<script>\nx\n</script>", "<p>&lt;script&gt;\nx\n&lt;/script&gt;</p>\n", `\<script\> x \</script\>`},
		{"[a](http://b.c) [d](javascript:e) [f](/g)", "<p><a href=\"http://b.c\" rel=\"noopener noreferrer nofollow\">a</a> d f</p>\n",
			"[a](<http://b.c>) d f"},
		{"![words](https://b.c/d.png)", "<p>words</p>\n", "words"},
		{"~~~\n```\n~~~", "<pre><code>```\n</code></pre>\n", "````\n```\n````"},
		{"1 * 2 \\* 3 &amp; 4", "<p>1 * 2 * 3 &amp; 4</p>\n", `1 \* 2 \* 3 \& 4`},
		{"www.a.b @c #1", "<p>www.a.b @c #1</p>\n", `www\.a.b \@c \#1`},
	} {
		html, err := noteHTML(tt.note)
		require.NoError(t, err)
		require.Equal(t, tt.html, string(html), tt.note)
		require.Equal(t, tt.markdown, noteMarkdown(tt.note), tt.note)
	}
}

// What is escaped means itself: CommonMark gives it back letter by letter.
func TestEscape(t *testing.T) {
	for _, s := range []string{"a_b*c", "1. x", "12) y", "- z", "+ z", "= w", "<b>", "[a](b)", "`c`", "a|b", "#1",
		"& &amp;", "!x", `\`,
		"3.5", "https://a.b", "www.a.b", "a@b.c", "~x~", "$x$"} {
		require.Equal(t, s, plainOf(escape(s)), s)
	}
	require.Equal(t, "3.5 kg", escape("3.5 kg"), "no more than needs be")
	require.Equal(t, "a b", escape("a\nb"))
}

// plainOf is the text of Markdown of one paragraph; what is anything else comes out otherwise.
func plainOf(markdown string) string {
	tree, source := parsed(markdown)
	if tree.ChildCount() != 1 || tree.FirstChild().Kind().String() != "Paragraph" {
		return "no paragraph"
	}
	return plain(tree.FirstChild(), source)
}
