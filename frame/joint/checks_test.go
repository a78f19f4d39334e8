package joint_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
)

// checkCase is one entry of the project's table of check values.
type checkCase struct {
	ID           string         `yaml:"id"`
	Inputs       map[string]any `yaml:"inputs"`
	Expected     map[string]any `yaml:"expected"`
	ToleranceRel float64        `yaml:"tolerance_rel"`
	Source       string         `yaml:"source"`
}

// loadCheck reads the case with that id and fails if there is none, or none with a source.
func loadCheck(t *testing.T, id string) checkCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "checks.yaml"))
	require.NoError(t, err)
	var table struct {
		Cases []checkCase `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(data, &table))
	for _, c := range table.Cases {
		if c.ID == id {
			require.NotEmpty(t, c.Source, id)
			require.Greater(t, c.ToleranceRel, 0.0, id)
			return c
		}
	}
	t.Fatalf("check case %s is missing", id)
	return checkCase{}
}

// in returns a number among the inputs; ins, places and text return a list, points and a word.
func (c checkCase) in(t *testing.T, key string) float64 {
	t.Helper()
	v, err := flatten(c.Inputs[key])
	require.NoError(t, err, key)
	require.Len(t, v, 1, key)
	return v[0]
}

func (c checkCase) ins(t *testing.T, key string) []float64 {
	t.Helper()
	v, err := flatten(c.Inputs[key])
	require.NoError(t, err, key)
	return v
}

func (c checkCase) places(t *testing.T, key string) [][2]float64 {
	t.Helper()
	v := c.ins(t, key)
	require.Zero(t, len(v)%2, key)
	var points [][2]float64
	for i := 0; i < len(v); i += 2 {
		points = append(points, [2]float64{v[i], v[i+1]})
	}
	return points
}

func (c checkCase) text(t *testing.T, key string) string {
	t.Helper()
	s, ok := c.Inputs[key].(string)
	require.True(t, ok, key)
	return s
}

// rounded lists expected values that are printed, rounded figures, with the tolerance that takes.
type rounded map[string]float64

// compare holds every expected value against what was computed; none may be left over on
// either side.
func (c checkCase) compare(t *testing.T, got map[string][]float64, loose rounded) {
	t.Helper()
	worst := 0.0
	for key, raw := range c.Expected {
		want, err := flatten(raw)
		require.NoError(t, err, key)
		require.Contains(t, got, key)
		require.Len(t, got[key], len(want), key)
		tol := c.ToleranceRel
		if wide, ok := loose[key]; ok {
			tol = wide
		}
		for i := range want {
			e := rel(got[key][i], want[i])
			worst = math.Max(worst, e/tol)
			if !(e <= tol) {
				t.Errorf("%s %s[%d]: got %.9g, want %.9g (%s), off by %.2g", c.ID, key, i, got[key][i], want[i], c.Source, e)
			}
		}
	}
	for key := range got {
		require.Contains(t, c.Expected, key)
	}
	t.Logf("%s: worst error %.2g of the tolerance", c.ID, worst)
}

// rel returns the relative error, or the absolute one where nothing is wanted.
func rel(got, want float64) float64 {
	if want == 0 {
		return math.Abs(got)
	}
	return math.Abs(got-want) / math.Abs(want)
}

// flatten turns a number or nested lists of numbers into one list.
func flatten(v any) ([]float64, error) {
	switch x := v.(type) {
	case float64:
		return []float64{x}, nil
	case uint64:
		return []float64{float64(x)}, nil
	case int64:
		return []float64{float64(x)}, nil
	case []any:
		var list []float64
		for _, e := range x {
			part, err := flatten(e)
			if err != nil {
				return nil, err
			}
			list = append(list, part...)
		}
		return list, nil
	}
	return nil, fmt.Errorf("%v (%T) is not a number", v, v)
}

// sourcedRow is one row of a test table: a value from outside the project.
type sourcedRow struct {
	name, source string
	got, want    float64
	tol          float64 // relative
}

// checkRows compares rows; a row without a source fails.
func checkRows(t *testing.T, rows []sourcedRow) {
	t.Helper()
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			require.NotEmpty(t, r.source)
			e := rel(r.got, r.want)
			if !(e <= r.tol) {
				t.Errorf("got %.9g, want %.9g (%s), off by %.2g", r.got, r.want, r.source, e)
			}
			t.Logf("error %.2g of %.2g allowed", e, r.tol)
		})
	}
}
