package manual

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// hostile is a page whose text looks like requests and escapes.
var hostile = Page{
	Name: "x-y", Section: 1, About: `back\slash - and "quotes"`, Source: "x 1",
	Chapters: []Chapter{
		{Head: "DESCRIPTION", Paragraphs: []string{".so /etc/passwd", "'br", `a \fBbold\fR "b"`, "5 µm\n.br"}},
		{Head: "EXAMPLES", Lines: []string{"  x --at x=20,y=-1.5in 'as drawn'", ".fi"}},
		{Head: "OPTIONS", Items: []Item{{Term: "one"}, {Term: `--all "q"`, Text: ".all of it"}}},
	},
}

// TestWrite: of a text nothing is a request, and nothing is lost. By groff's man(7) and roff(7): a request begins a line with
// a dot or a quote, a backslash begins an escape, \e prints one.
func TestWrite(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, hostile.Write(&b))
	require.Equal(t, `.TH "X\-Y" 1 "" "x 1"
.SH NAME
x\-y \- back\eslash \- and "quotes"
.SH "DESCRIPTION"
\&.so /etc/passwd
.PP
\(aqbr
.PP
a \efBbold\efR "b"
.PP
5 µm .br
.SH "EXAMPLES"
.nf
  x \-\-at x=20,y=\-1.5in \(aqas drawn\(aq
\&.fi
.fi
.SH "OPTIONS"
.SS "one"
.TP
.B "\-\-all \(dqq\(dq"
\&.all of it
`, b.String())
}

// TestPrinted: groff prints the text as it was, where there is one.
func TestPrinted(t *testing.T) {
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("there is no groff")
	}
	var page, printed, said bytes.Buffer
	require.NoError(t, hostile.Write(&page))
	cmd := exec.Command(groff, "-K", "utf8", "-T", "utf8", "-m", "man", "-P", "-c", "-ww")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &page, &printed, &said
	require.NoError(t, cmd.Run())
	require.Empty(t, said.String())
	for _, text := range []string{`back\slash - and "quotes"`, ".so /etc/passwd", "'br", `a \fBbold\fR "b"`, "5 µm .br",
		"x --at x=20,y=-1.5in 'as drawn'", ".fi", ".all of it"} {
		require.Contains(t, strings.ReplaceAll(printed.String(), "\u2010", "-"), text)
	}
}
