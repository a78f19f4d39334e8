package beam

import (
	"fmt"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
)

// check is one case of the shared check values.
type check struct {
	ID        string         `yaml:"id"`
	Kind      string         `yaml:"kind"`
	Inputs    map[string]any `yaml:"inputs"`
	Expected  map[string]any `yaml:"expected"`
	Tolerance float64        `yaml:"tolerance_rel"`
	Source    string         `yaml:"source"`
}

// runChecks runs the test of every case of a kind; a case without a test and a test without a
// case both fail.
func runChecks(t *testing.T, kind string, tests map[string]func(t *testing.T, c check)) {
	t.Helper()
	known := map[string]bool{}
	for _, c := range loadChecks(t) {
		if c.Kind != kind {
			continue
		}
		known[c.ID] = true
		t.Run(c.ID, func(t *testing.T) {
			require.NotEmpty(t, c.Source, "check without a source")
			run := tests[c.ID]
			require.NotNil(t, run, "no test for this check")
			run(t, c)
		})
	}
	for id := range tests {
		require.True(t, known[id], "check %s is missing from the file", id)
	}
}

func loadChecks(t *testing.T) []check {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", "checks.yaml"))
	require.NoError(t, err)
	var file struct {
		Cases []check `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(text, &file))
	require.NotEmpty(t, file.Cases)
	return file.Cases
}

func findCheck(t *testing.T, id string) check {
	t.Helper()
	for _, c := range loadChecks(t) {
		if c.ID == id {
			require.NotEmpty(t, c.Source)
			return c
		}
	}
	t.Fatalf("check %s is missing from the file", id)
	return check{}
}

func (c check) in(t *testing.T, key string) float64 {
	t.Helper()
	v, ok := c.Inputs[key]
	require.True(t, ok, "input %s is missing", key)
	return toFloat(t, v)
}

func (c check) want(t *testing.T, key string) float64 {
	t.Helper()
	v, ok := c.Expected[key]
	require.True(t, ok, "expected %s is missing", key)
	return toFloat(t, v)
}

func (c check) wantList(t *testing.T, key string) []float64 { return toFloats(t, c.Expected[key]) }

func toFloats(t *testing.T, v any) (out []float64) {
	t.Helper()
	list, ok := v.([]any)
	require.True(t, ok, "not a list: %v", v)
	for _, x := range list {
		out = append(out, toFloat(t, x))
	}
	return out
}

func toFloat(t *testing.T, v any) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(fmt.Sprint(v), 64)
	require.NoError(t, err)
	return f
}

// near fails unless got is within rel of the expected value of that key, and of it in sign.
func (c check) near(t *testing.T, key string, got, rel float64) {
	t.Helper()
	closeTo(t, key, got, c.want(t, key), rel)
}

// printed is the rounding of check values printed with nine digits.
const printed = 1e-8

// closeTo fails unless got is within rel of want, relative to want.
func closeTo(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if e := math.Abs(got - want); !(e <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g, off by %.2g", what, got, want, e/math.Abs(want))
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
		if name == "example_test.go" {
			continue // seen from outside, it imports the package itself
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, imp := range file.Imports {
			require.False(t, strings.HasPrefix(imp.Path.Value, `"tiploop`), "%s imports %s", name, imp.Path.Value)
		}
	}
}
