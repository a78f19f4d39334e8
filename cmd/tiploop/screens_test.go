package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/wrap"
)

// What a screen holds.
const (
	screenLines  = 40
	screenColumn = 80
)

// screened are the commands of the examples that answer on a screen, by the name of their golden file: every one of
// README's table, and tip and show of every example.
func screened(t *testing.T) map[string][]string {
	t.Helper()
	commands := map[string][]string{}
	examples, err := filepath.Glob(filepath.Join(top, "examples", "*.yaml"))
	require.NoError(t, err)
	for _, path := range examples {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		commands["tip-"+name] = []string{"tip", path}
		commands["show-"+name] = []string{"show", path}
	}
	for _, name := range []string{"bed-layouts", "fixed-gantry-mill"} {
		commands["travel-"+name] = []string{"travel", filepath.Join(top, "examples", name+".yaml")}
	}
	commands["tip-fixed-gantry-mill-play"] = []string{"tip", filepath.Join(top, "examples", "fixed-gantry-mill.yaml"),
		"--option", "nuts with play"}
	commands["sweep-gussets"] = []string{"sweep", filepath.Join(top, "examples", "gussets.yaml"), "--value", "leg=40..140"}
	commands["sweep-gussets-two"] = []string{"sweep", filepath.Join(top, "examples", "gussets.yaml"), "--value", "leg=40..140",
		"--value", "gusset_thickness=10..20", "--steps", "5", "--detail", sectionDetail}
	return commands
}

// TestScreens: what the examples answer on a screen is what stands in the golden files, to be read as a builder would,
// and fits it.
func TestScreens(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(top, "report", "screen", "testdata")
	for name, args := range screened(t) {
		if slow(name) {
			continue
		}
		var out, errs bytes.Buffer
		require.Zero(t, runWith(context.Background(), args, streams{out: &out, err: &errs}), "%s: %s", name, errs.String())
		lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
		require.LessOrEqual(t, len(lines), screenLines, name)
		for _, l := range lines {
			require.LessOrEqual(t, wrap.Letters(l), screenColumn, "%s: %s", name, l)
		}
		golden := filepath.Join(folder, name+".txt")
		if *update {
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(golden, out.Bytes(), 0o644))
			continue
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		require.Equal(t, string(want), out.String(), "%s: run the tests with -update", name)
	}
}

// TestScreensAnswer: each question of README's table that a screen answers is answered on it.
func TestScreensAnswer(t *testing.T) {
	for name, answers := range map[string][]string{
		"tip-bed-layouts": {`drilling +\d+ µm \(\d+ to \d+\)  up`, `drilling +parts \d+: column \d+`},
		"tip-gussets": {`What to change next`, `nearest is opening of base/pillar`,
			`simpler model \(beams\) comes out \d`},
		"sweep-gussets": {`“cutter sideways” it makes next to no difference, less than 3 % in all`,
			`“drilling” it pays about as much`},
		"show-gussets":               {`9\.\d+ kg`, `19 through holes and 19 tapped holes`, `pillar/shelf +4 × M6 +90 × 30`},
		"tip-fixed-gantry-mill":      {`guides \d+: x \d+`, `lasts over 100000 km`},
		"tip-fixed-gantry-mill-play": {`cut to the right .* by play`},
		"travel-fixed-gantry-mill":   {`within 35 µm on \d+ %`, `Straight under its own weight: x .* µm in y`},
		"tip-cut-that-goes-wrong":    {`slot in brass: the tip moves up to \d+ µm`, `up to 0\.\d+ mm \(.*\) deep`},
	} {
		text, err := os.ReadFile(filepath.Join(top, "report", "screen", "testdata", name+".txt"))
		require.NoError(t, err)
		running := strings.Join(strings.Fields(string(text)), " ")
		for _, a := range answers {
			require.True(t, regexp.MustCompile(a).Match(text) || regexp.MustCompile(a).MatchString(running), "%s: %s\n%s", name,
				a, text)
		}
	}
}
