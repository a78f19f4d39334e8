package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
	"tiploop/testdata/checks"
)

// top is the project's top folder, seen from this package.
var top = filepath.Join("..", "..")

// tableRows are the rows of README's table of checks: which bounds they cover, by the kinds of a room, and what these
// were held against.
var tableRows = []struct{ room, kinds, what, against string }{
	{"beam", "section", "sections: area, second moments, torsion, shear centre, shear coefficient",
		"Timoshenko & Goodier; Roark; Gere & Timoshenko; Cowper 1966; own two-sided solutions for rolled shapes"},
	{"beam", "beam", "one member, by closed form and by assembling members",
		"Gere & Timoshenko; Roark; Hetényi; Timoshenko 1925"},
	{"beam", "modal", "mass of a member: first frequencies", "Blevins; Timoshenko's beam equation"},
	{"frame", "beam", "beams through the frame solver", "the same"},
	{"frame", "frame", "portals, grillages, space frames, rings through the frame solver",
		"Kleinlogel; Timoshenko, Strength of Materials; unit-load theorem"},
	{"frame", "plate", "wide strips as plates (degree eight across)", "Timoshenko & Woinowsky-Krieger; Mindlin"},
	{"solid", "plate", "solid elements: thin, thick, round and skew plates, membranes, straight and twisted beams",
		"Timoshenko & Woinowsky-Krieger; Morley; MacNeal & Harder; Cook; NAFEMS; Mindlin"},
	{"joint", "joint", "screws, preload, patterns, contact", "ISO 724 and 898-1; VDI 2230; Shigley; Johnson"},
	{"joint", "slip", "rings and rows of screws: slip, opening, what is left of a preload",
		"Shigley; Gere & Timoshenko; Howe & Cutkosky 1996; VDI 2230"},
	{"joint", "hole", "through holes and the play they leave", "ISO 273; smallest circle round the screws"},
	{"joint", "thread", "torques to proof and breaking, stripping", "VDI 2230; ISO 898-1; Bickford"},
	{"joint", "contact", "the two laws of contact and their log mean", "Ito; Persson 2007"},
	{"commandline", "beam frame slip hole contact", "beams, frames, rings, holes, contact of a model, through the command line",
		"as above"},
	{"commandline", "misfit", "misfits and shims of a model, through the command line",
		"rigid bodies on springs; Gere & Timoshenko"},
	{"commandline", "reading", "dials on a pushed plate, through the command line", "a rigid body on springs"},
	{"guide", "joint", "carriages on rails under a rigid table", "a rigid body on springs"},
	{"guide", "guide", "life and static safety of ball carriages", "ISO 14728-1 and -2; rows of balls after Hertz"},
	{"drive", "joint", "ball-screw shafts, drives with nut and bearing in a row", "ISO 3408-4; springs in series"},
	{"drive", "play", "chains with play, preloaded pairs", "springs in series; Johnson, Contact Mechanics"},
	{"drive", "reading", "readings of a dial, pushed and pulled", "least squares"},
	{"cutting", "cutting", "specific force, power, milling, drilling",
		"Kienzle; Tschaetsch; Altintas; a worked number of a trade page"},
	{"chance", "range", "draws of what is known as a range: points, comparisons, coverage",
		"log-normal and binomial distributions; Clopper & Pearson 1934"},
}

func worstErrors(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("| what | cases | held against | worst error |\n|---|---|---|---|\n")
	covered := map[string]bool{}
	for _, row := range tableRows {
		bounds, err := checks.Bounds(row.room)
		require.NoError(t, err)
		n, worst, id, kinds := 0, 0.0, "", strings.Fields(row.kinds)
		for _, c := range bounds {
			if slices.Contains(kinds, c.Kind) {
				n++
				if c.Error > worst {
					worst, id = c.Error, c.ID
				}
			}
		}
		for _, kind := range kinds {
			require.True(t, slices.ContainsFunc(bounds, func(c checks.Bound) bool { return c.Kind == kind }),
				"%s has no checks of kind %s", row.room, kind)
			covered[row.room+" "+kind] = true
		}
		fmt.Fprintf(&b, "| %s | %d | %s | %.0e (%s) |\n", row.what, n, row.against, worst, id)
	}
	for _, room := range []string{"beam", "frame", "solid", "commandline", "joint", "guide", "drive", "cutting",
		"chance"} {
		bounds, err := checks.Bounds(room)
		require.NoError(t, err)
		for _, c := range bounds {
			require.True(t, covered[room+" "+c.Kind], "README's table has no row for %s of %s", c.Kind, room)
		}
	}
	return b.String()
}

// What README shows is what the program and the tests say today.
func TestReadme(t *testing.T) {
	path := filepath.Join(top, "README.md")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	want := string(text)
	golden := func(name string) string {
		table, err := os.ReadFile(filepath.Join(top, "frame", "structure", "testdata", name))
		require.NoError(t, err)
		return string(table)
	}
	for mark, table := range map[string]string{
		"worst errors": worstErrors(t),
		"accuracy":     golden("accuracy-summary.golden"),
	} {
		block := regexp.MustCompile(`(?s)(<!-- ` + mark + `: written by the tests -->\n).*?(<!-- end -->)`)
		require.Regexp(t, block, want)
		want = block.ReplaceAllString(want, "${1}"+strings.ReplaceAll(table, "$", "$$")+"${2}")
	}
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
		return
	}
	require.Equal(t, want, string(text), "run the tests with -update")
	require.LessOrEqual(t, strings.Count(want, "\n"), longestReadme)
	for _, k := range modelfile.Model().Keys {
		require.Regexp(t, `\b`+k.Name+`\b`, want, "a key of the model file that README does not name")
	}
}

// longestReadme is how many lines somebody reads before trying.
const longestReadme = 220

func TestReadmePicture(t *testing.T) {
	for picture, args := range map[string][]string{
		"bed-layouts.svg":        {"bed-layouts.yaml"},
		"fixed-gantry-plane.svg": {"fixed-gantry-mill.yaml", "--option", "as bought"},
	} {
		if !thorough() && !*update && picture == "fixed-gantry-plane.svg" {
			continue // whose numbers TestReadmeFixedGantry holds
		}
		shown := filepath.Join(top, "examples", picture)
		fresh := filepath.Join(t.TempDir(), picture)
		if *update {
			fresh = shown
		}
		var out, errs bytes.Buffer
		args[0] = filepath.Join(top, "examples", args[0])
		require.Zero(t, runWith(context.Background(), append(append([]string{"travel"}, args...), "--out", fresh),
			streams{out: &out, err: &errs}), errs.String())
		want, err := os.ReadFile(fresh)
		require.NoError(t, err)
		got, err := os.ReadFile(shown)
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, got), "run the tests with -update")
	}
}

// Every model in README runs under the commands on options; thorough runs want everything
// of every option of the examples. What these answer on a screen is held by TestScreens and TestCompareScreens.
func TestModelsShown(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile(filepath.Join(top, "README.md"))
	require.NoError(t, err)
	folder := t.TempDir()
	models, err := filepath.Glob(filepath.Join(top, "examples", "*.yaml"))
	require.NoError(t, err)
	examples := len(models)
	require.Equal(t, 10, examples)
	for i, block := range regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllSubmatch(readme, -1) {
		path := filepath.Join(folder, fmt.Sprintf("readme%d.yaml", i))
		require.NoError(t, os.WriteFile(path, block[1], 0o644))
		models = append(models, path)
	}
	require.Len(t, models, 11)
	for i, model := range models {
		for _, command := range []string{"show", "tip", "compare"} {
			if i < examples && !thorough() { // which TestScreens and TestCompareScreens hold
				continue
			}
			var out, errs bytes.Buffer
			args := []string{command, model}
			if command == "tip" {
				args = append(args, "--all")
			}
			require.Zero(t, runWith(context.Background(), args, streams{out: &out, err: &errs}), "%s %s: %s",
				command, model, errs.String())
			require.NotEmpty(t, out.String())
		}
	}
}

// The commands of README's table run as they stand, without those that TestScreens and TestCompareScreens run on every
// example; unless tests are thorough, without those on whose models scripts run the same.
func TestReadmeCommands(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join(top, "README.md"))
	require.NoError(t, err)
	folder := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(folder, "examples"), os.DirFS(filepath.Join(top, "examples"))))
	t.Chdir(folder)
	commands := regexp.MustCompile("\\| `tiploop (.*?)`").FindAllSubmatch(readme, -1)
	require.GreaterOrEqual(t, len(commands), 9)
	run := map[string]bool{}
	for _, c := range commands {
		command := string(c[1])
		if run[command] {
			continue // answers two questions of the table
		}
		run[command] = true
		args := strings.Fields(command)
		if len(args) == 2 && (args[0] == "tip" || args[0] == "compare") {
			require.FileExists(t, args[1])
			continue
		}
		if !thorough() {
			switch args[0] {
			case "tip", "compare", "travel", "sweep", "align", "log":
				continue
			}
		}
		code, _, complaint := called(args...)
		require.Zero(t, code, "%s: %s", command, complaint)
	}
}

// README says past which height the machine of its picture leaves its tolerance and how far it moves at the lowest: in
// whole mm and µm what the command it names finds, between two heights along a straight line.
func TestReadmeFixedGantry(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join(top, "README.md"))
	require.NoError(t, err)
	said := regexp.MustCompile(`keeps its (\d+) µm only as long as the head is not lowered past z = (-\d+) mm; ` +
		`at (-\d+) mm it\s+moves (\d+) µm`).FindSubmatch(readme)
	require.NotNil(t, said)
	var out, errs bytes.Buffer
	require.Zero(t, runWith(context.Background(), []string{"travel", filepath.Join(top, "examples",
		"fixed-gantry-mill.yaml"), "--option", "as bought", "--json"}, streams{out: &out, err: &errs}), errs.String())
	var found answer.Answer
	require.NoError(t, json.Unmarshal(out.Bytes(), &found))
	plane := found.Options[0].Maps[0]
	require.Equal(t, [2]string{"x", "z"}, plane.Axes)
	load := plane.Loads[0]
	worst := make([]float64, len(plane.AtMM[1])) // at each height
	for _, column := range load.TipUm {
		for k, u := range column {
			worst[k] = math.Max(worst[k], math.Sqrt(u[0]*u[0]+u[1]*u[1]+u[2]*u[2]))
		}
	}
	past := math.NaN()
	for k := 1; k < len(worst); k++ {
		if a, b := worst[k-1]-plane.ToleranceUm, worst[k]-plane.ToleranceUm; a > 0 && b <= 0 {
			z := plane.AtMM[1]
			past = z[k-1] + (z[k]-z[k-1])*a/(a-b)
		}
	}
	require.Equal(t, fmt.Sprintf("%.0f %.0f %.0f %.0f", plane.ToleranceUm, past, plane.AtMM[1][0], worst[0]),
		string(bytes.Join(said[1:], []byte(" "))))
}
