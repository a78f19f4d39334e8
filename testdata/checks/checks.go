// Package checks gives tests the project's check values, and keeps how far off the worst of them were.
//
// The values stand in testdata/checks.yaml, each with its source. A test that holds something against one calls
// [Case.Near]; the worst error of every case is kept, and [Main] holds it against the bound written down in
// testdata/worst (rewritten with -update). README's table of checks is made of those bounds.
package checks

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
)

// Case is one entry of the table.
type Case struct {
	ID        string         `yaml:"id"`
	Kind      string         `yaml:"kind"`
	Inputs    map[string]any `yaml:"inputs"`
	Expected  map[string]any `yaml:"expected"`
	Tolerance float64        `yaml:"tolerance_rel"` // relative agreement to ask of the same theory
	Source    string         `yaml:"source"`
}

// Printed is the rounding of check values printed with nine digits.
const Printed = 1e-8

// began is where the test began; it may go elsewhere.
var began, _ = os.Getwd()

// folder is the project's testdata, wherever a test runs: beside the go.mod above. Compiled files need not know where they
// came from.
func folder() string {
	for at := began; ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return filepath.Join(at, "testdata")
		}
		if at == filepath.Dir(at) {
			panic("checks: no go.mod above to find testdata from")
		}
	}
}

// Load reads the table.
func Load(t testing.TB) []Case {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder(), "checks.yaml"))
	require.NoError(t, err)
	var table struct {
		Cases []Case `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(text, &table))
	require.NotEmpty(t, table.Cases)
	seen := map[string]bool{}
	for _, c := range table.Cases {
		require.False(t, seen[c.ID], "%s is in the table twice", c.ID)
		seen[c.ID] = true
		require.NotEmpty(t, c.Source, "%s has no source", c.ID)
		require.Positive(t, c.Tolerance, "%s has no tolerance", c.ID)
	}
	return table.Cases
}

// Find is the case with that id.
func Find(t testing.TB, id string) Case {
	t.Helper()
	for _, c := range Load(t) {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("check %s is missing from the table", id)
	return Case{}
}

// Run runs a test for each of the given cases; a test without a case fails.
func Run(t *testing.T, tests map[string]func(t *testing.T, c Case)) {
	t.Helper()
	known := map[string]bool{}
	for _, c := range Load(t) {
		run, ok := tests[c.ID]
		if !ok {
			continue
		}
		known[c.ID] = true
		t.Run(c.ID, func(t *testing.T) {
			t.Log("source:", c.Source)
			run(t, c)
		})
	}
	for id := range tests {
		require.True(t, known[id], "check %s is missing from the table", id)
	}
}

// RunKind is Run for every case of a kind: a case without a test fails too.
func RunKind(t *testing.T, kind string, tests map[string]func(t *testing.T, c Case)) {
	t.Helper()
	for _, c := range Load(t) {
		if c.Kind == kind {
			require.Contains(t, tests, c.ID, "no test for this check")
		}
	}
	Run(t, tests)
}

// In is a number among the inputs; Ins a list of any depth, flattened; Text a word.
func (c Case) In(t testing.TB, key string) float64 {
	t.Helper()
	return single(t, c.Inputs, key)
}

// Ins is a list among the inputs, nested lists flattened.
func (c Case) Ins(t testing.TB, key string) []float64 {
	t.Helper()
	require.Contains(t, c.Inputs, key)
	return flatten(t, c.Inputs[key])
}

// Places are points among the inputs.
func (c Case) Places(t testing.TB, key string) (places [][2]float64) {
	t.Helper()
	v := c.Ins(t, key)
	require.Zero(t, len(v)%2, key)
	for i := 0; i < len(v); i += 2 {
		places = append(places, [2]float64{v[i], v[i+1]})
	}
	return places
}

// Text is a word among the inputs.
func (c Case) Text(t testing.TB, key string) string {
	t.Helper()
	s, ok := c.Inputs[key].(string)
	require.True(t, ok, "input %s is no word", key)
	return s
}

// Want is an expected number.
func (c Case) Want(t testing.TB, key string) float64 {
	t.Helper()
	return single(t, c.Expected, key)
}

// WantList is an expected list.
func (c Case) WantList(t testing.TB, key string) []float64 {
	t.Helper()
	require.Contains(t, c.Expected, key)
	return flatten(t, c.Expected[key])
}

// Near fails unless got is within rel of the expected value of that key, sign included.
func (c Case) Near(t testing.TB, key string, got, rel float64) {
	t.Helper()
	c.NearTo(t, key, got, c.Want(t, key), rel)
}

// NearTo is Near for a value that stands in a list or was derived from the table.
func (c Case) NearTo(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	keep(c, CloseTo(t, what, got, want, rel))
}

// CloseTo fails unless got is within rel of want, relative to want (or, where nothing is wanted, absolutely). It
// returns the error.
func CloseTo(t testing.TB, what string, got, want, rel float64) float64 {
	t.Helper()
	e := Rel(got, want)
	if !(e <= rel) {
		t.Errorf("%s: got %.10g, want %.10g, off by %.2g", what, got, want, e)
	}
	return e
}

// Rel is the relative error, the absolute one where nothing is wanted.
func Rel(got, want float64) float64 {
	if want == 0 {
		return math.Abs(got)
	}
	return math.Abs(got-want) / math.Abs(want)
}

func single(t testing.TB, table map[string]any, key string) float64 {
	t.Helper()
	require.Contains(t, table, key)
	v := flatten(t, table[key])
	require.Len(t, v, 1, key)
	return v[0]
}

func flatten(t testing.TB, v any) (list []float64) {
	t.Helper()
	if many, ok := v.([]any); ok {
		for _, x := range many {
			list = append(list, flatten(t, x)...)
		}
		return list
	}
	f, err := strconv.ParseFloat(fmt.Sprint(v), 64)
	require.NoError(t, err)
	return []float64{f}
}
