package scene

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
)

// solved keeps the options of files that several tests look at.
var solved = struct {
	sync.Mutex
	options map[string][]Option
}{options: map[string][]Option{}}

// optionsOf are the options of a model file, by the beam model, at all positions.
func optionsOf(t testing.TB, path string) []Option {
	t.Helper()
	solved.Lock()
	defer solved.Unlock()
	if list, ok := solved.options[path]; ok {
		return list
	}
	doc, err := modelfile.Read(filepath.Join("../..", path))
	require.NoError(t, err)
	names := doc.OptionNames()
	if names == nil {
		names = []string{""}
	}
	var list []Option
	for _, name := range names {
		m, err := doc.Machine(name)
		require.NoError(t, err)
		b := &structure.Builder{Detail: structure.Section}
		result, err := b.Answer(context.Background(), m, structure.TipOnly)
		require.NoError(t, err)
		shapes, err := b.Shapes(context.Background(), m)
		require.NoError(t, err)
		list = append(list, Option{Name: result.Name, Shapes: shapes, Result: result})
	}
	solved.options[path] = list
	return list
}

// The page of the tests: what a page with the viewer has to have and no more. Its policy is the one that a page of the
// project has: nothing is asked for, scripts and styles by their hashes.
func page(data []byte, extra string) string {
	digest := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	style := "body{margin:1rem;font-family:sans-serif;background:#fff;color:#202020}" +
		"@media (prefers-color-scheme: dark){body{background:#181a1b;color:#e8e6e3}}" + Style()
	policy := fmt.Sprintf("default-src 'none'; script-src %s; style-src %s", digest(Script()), digest(style))
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!doctype html><html lang=en><head><meta charset=utf-8><title>machine</title>"+
		"<meta name=viewport content='width=device-width,initial-scale=1'>"+
		"<meta http-equiv=Content-Security-Policy content=%q><style>%s</style></head><body>",
		html.UnescapeString(policy), style)
	fmt.Fprintf(&b, "<div id=machine><p id=still>still drawing</p></div>"+
		"<script type='application/json' id=scene>%s</script>%s<script>%s</script></body></html>", data, extra, Script())
	return b.String()
}

// written puts a page into a file and gives its address.
func written(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return "file://" + path
}
