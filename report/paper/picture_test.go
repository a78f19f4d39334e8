package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg/draw"
)

// titled is a picture of nothing but a sheet.
func titled(title string) *Picture {
	s := Sheet{Title: title}
	return &Picture{Width, s.HeadHeight(Width) + s.FootHeight(), func(c draw.Canvas) { s.Draw(c) }}
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
