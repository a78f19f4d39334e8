package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// titled is a picture of nothing but a sheet.
func titled(title string) *Picture {
	s := Sheet{Title: title}
	return &Picture{Width: Width, Height: s.HeadHeight(Width) + s.FootHeight(), Paint: func(c draw.Canvas) { s.Draw(c) }}
}

func TestSave(t *testing.T) {
	p := titled("as drawn")
	dir := t.TempDir()
	for name, head := range map[string]string{"a.svg": "<?xml", "a.PNG": "\x89PNG", "a.pdf": "%PDF"} {
		path := filepath.Join(dir, name)
		require.NoError(t, p.Save(path))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.True(t, bytes.HasPrefix(data, []byte(head)), name)
	}
	require.NoError(t, p.Save(filepath.Join(dir, "a.svg")), "over itself")
	for _, name := range []string{"a.jpg", "a", "svg", "a.svg.gz"} {
		err := p.Save(filepath.Join(dir, name))
		require.ErrorContains(t, err, ".svg, .png or .pdf")
		require.NoFileExists(t, filepath.Join(dir, name))
	}
	require.Panics(t, func() { _ = p.Encode(&bytes.Buffer{}, "gif") })
}

func TestSheetSaysWhatItIs(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, titled("Größe µ − Ω").Encode(&b, SVG))
	require.Contains(t, b.String(), "Größe µ − Ω")
	require.Contains(t, b.String(), Footnote)
	require.Equal(t, strings.Count(b.String(), "font-family"), strings.Count(b.String(), svgFamilies))
}

func TestPDFText(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, titled("Größe µ − Ω").Encode(&b, PDF))
	require.NotEmpty(t, b.Bytes())
}

// TestPageOfPDF: a PDF is one page of A4, 595.28 x 841.89 points by ISO 216, upright or lying, and what is drawn keeps a
// quarter of an inch from the edges of Letter, 612 x 792 points, too.
func TestPageOfPDF(t *testing.T) {
	for _, tt := range []struct {
		height vg.Length
		box    string
	}{
		{300, "/MediaBox [0 0 841.89 595.28]"}, {3000, "/MediaBox [0 0 595.28 841.89]"},
	} {
		p := &Picture{Width: Width, Height: tt.height, Paint: func(c draw.Canvas) {}}
		var b bytes.Buffer
		require.NoError(t, p.Encode(&b, PDF))
		require.Contains(t, b.String(), tt.box)
		_, room := p.page()
		require.LessOrEqual(t, max(room.X, room.Y), vg.Length(792-2*18))
		require.LessOrEqual(t, min(room.X, room.Y), vg.Length(595.28-2*18))
	}
}
