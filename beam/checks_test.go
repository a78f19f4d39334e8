package beam

import (
	"flag"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) {
	fewDraws()
	os.Exit(checks.Main(m.Run, "beam"))
}

// fewDraws makes property tests draw a third as often as rapid does by itself, so that the tests take seconds; with
// TIPLOOP_THOROUGH set to anything they draw in full. A -rapid.checks on the command line goes before either.
func fewDraws() {
	if os.Getenv("TIPLOOP_THOROUGH") != "" {
		return
	}
	if err := flag.Set("rapid.checks", "30"); err != nil {
		panic(err)
	}
}

// within fails unless got is within abs of want.
func within(t *testing.T, what string, got, want, abs float64) {
	t.Helper()
	if e := math.Abs(got - want); !(e <= abs) {
		t.Errorf("%s: got %.10g, want %.10g, off by %.2g", what, got, want, e)
	}
}

func TestImportsNothingOfTheProject(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, imp := range file.Imports {
			require.False(t, strings.HasPrefix(imp.Path.Value, `"tiploop`), "%s imports %s", name, imp.Path.Value)
		}
	}
}
