package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/wrap"
)

// What a screen holds.
const (
	compareLines  = 40
	compareColumn = 80
)

// TestCompareScreens: what compare answers on a screen of every example is what stands in the golden files, to be read
// as a builder would, and fits the screen.
func TestCompareScreens(t *testing.T) {
	t.Parallel()
	examples, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, examples)
	folder := filepath.Join("..", "..", "report", "screen", "testdata")
	for _, path := range examples {
		name := "compare-" + strings.TrimSuffix(filepath.Base(path), ".yaml") + ".txt"
		if slow(name) {
			continue
		}
		text := outputOf(t, "compare", path)
		lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
		require.LessOrEqual(t, len(lines), compareLines, name)
		for _, l := range lines {
			require.LessOrEqual(t, wrap.Letters(l), compareColumn, "%s: %s", name, l)
		}
		golden := filepath.Join(folder, name)
		if *update {
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(golden, text, 0o644))
			continue
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		require.Equal(t, string(want), string(text), "%s: run the tests with -update", name)
	}
}

// TestCompareAnswers: each question of README's table that compare answers is answered within its screen.
func TestCompareAnswers(t *testing.T) {
	for name, answers := range map[string][]string{
		"bed-layouts":          {`Steadiest: `, `Most for a kilogram: `},
		"gussets":              {`Most for an hour of holes: D, \d`, `A is beaten by B`},
		"tube-frame":           {`Steadiest: B`, `Most for a kilogram: C`},
		"belt-engraver":        {`“narrow belt” is beaten by “steel cords”`},
		"one-plate-frame":      {`Steadiest: B`, `Beaten in everything by another, too: C`},
		"motor-mount":          {`Steadiest: C`, `Most for a kilogram: B`},
		"moving-gantry-router": {`Steadiest: B`, `tip under “cut away`, `A is beaten by B`},
		"fixed-gantry-mill":    {`Steadiest: C`, `D`, `lost to play under “cut to the right”, µm`, `tip under “`},
	} {
		text, err := os.ReadFile(filepath.Join("..", "..", "report", "screen", "testdata", "compare-"+name+".txt"))
		require.NoError(t, err)
		running := strings.Join(strings.Fields(string(text)), " ")
		for _, a := range answers {
			require.Regexp(t, a, running, name)
		}
	}
}
