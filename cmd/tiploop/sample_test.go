package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
)

// sample is the machine of the design: a bed of two lengths, with gussets. The reader of model files is tested with it
// too.
var sample = filepath.Join("..", "..", "testdata", "models", "clock-plate-mill.yaml")

// modelCommands are those that take a model.
var modelCommands = []string{"show", "tip", "compare", "travel"}

// TestSampleRuns runs every command on the sample in every form, each with another picture, and in one form under every
// option; unless tests are thorough show and tip without options, since scripts run compare and travel in every form on a
// smaller machine. JSON is that of TestFormOfDesign.
func TestSampleRuns(t *testing.T) {
	t.Parallel()
	options := [][]string{nil}
	if thorough() {
		options = append(options, []string{structure.AsDrawn},
			[]string{"short bed held all along"}, []string{"long bed held in the middle"})
	}
	for _, command := range modelCommands {
		for _, chosen := range options {
			run := []string{command, sample}
			for _, o := range chosen {
				run = append(run, "--option", o)
			}
			forms := oneForm[command]
			switch {
			case !thorough() && command == "tip":
			case command == "show" || thorough() && chosen == nil:
				forms = pictured
			case !thorough():
				continue
			}
			t.Run(strings.Join(append([]string{command}, chosen...), " "), func(t *testing.T) { inForms(t, run, forms) })
		}
	}
}

// pictured are the forms of an answer, each with a picture in another format; oneForm is the one in which a command that
// solves runs where not all of them are tried.
var (
	pictured = map[string]string{"": "svg", "--json": "png", "--csv": "pdf"}
	oneForm  = map[string]map[string]string{"tip": {"": "svg"}, "compare": {"--csv": "pdf"}, "travel": {"": "png"}}
)

// inForms runs a command in some forms, each with a picture, and gives the JSON.
func inForms(t *testing.T, run []string, forms map[string]string) (asJSON []byte) {
	t.Helper()
	for form, extension := range forms {
		picture := filepath.Join(t.TempDir(), "picture."+extension)
		asked := with(run, "--out", picture)
		if form != "" {
			asked = with(asked, form)
		}
		out := outputOf(t, asked...)
		require.NotEmpty(t, out)
		require.NotRegexp(t, `NaN|Inf`, string(out))
		drawn, err := os.ReadFile(picture)
		require.NoError(t, err)
		require.NotEmpty(t, drawn)
		if form == "--json" {
			asJSON = out
		}
	}
	return asJSON
}

// with adds to a run.
func with(run []string, more ...string) []string { return append(run[:len(run):len(run)], more...) }

// design is the form of the design page, with one of each: a number stands for a number, a text for a text, a list of
// three numbers for a list of three, a list of objects for one or more such objects.
const design = `{"tiploop": 1, "machine": "…", "detail": "section",
 "options": [{
   "name": "…",
   "mass_kg": 0, "holes": {"through": 0, "tapped": 0, "operations": 0},
   "tip": {"compliance_um_per_n": [[0,0,0],[0,0,0],[0,0,0]],
           "stiffness_n_per_um": {"x": 0, "y": 0, "z": 0, "softest": 0, "softest_direction": [0,0,0]}},
   "loads": [{"name": "…", "tip_um": [0,0,0], "tip_size_um": 0,
              "points_um": {"bed end": [0,0,0]}, "reaction_n": [0,0,0], "residual": 0}],
   "shares": [{"load": "…", "source": "joint upright/head", "percent": 0}],
   "travel": [{"path": "bed", "load": "…", "tolerance_um": 20, "within_mm": [0, 0],
               "at_mm": [0], "tip_um": [[0,0,0]]}]
 }]}`

// growing are the lists of the form with one entry for each place of a path.
var growing = map[string]bool{"at_mm": true, "travel/tip_um": true}

// matches checks that got has every key of want with the same type.
func matches(t *testing.T, want, got any, path string) {
	t.Helper()
	switch w := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		require.True(t, ok, "%s is %T, want an object", path, got)
		for key := range w {
			require.Contains(t, g, key, path)
			matches(t, w[key], g[key], path+"/"+key)
		}
	case []any:
		if got == nil && strings.HasSuffix(path, "/within_mm") {
			return // no part of the path is within the tolerance
		}
		g, ok := got.([]any)
		require.True(t, ok, "%s is %T, want a list", path, got)
		require.NotEmpty(t, g, path)
		_, ofObjects := w[0].(map[string]any)
		if !ofObjects && !growing[lastOf(path, 1)] && !growing[lastOf(path, 2)] {
			require.Len(t, g, len(w), path)
		}
		for _, item := range g {
			matches(t, w[0], item, path)
		}
	default:
		require.IsType(t, want, got, path)
	}
}

// lastOf gives the last n words of a path.
func lastOf(path string, n int) string {
	words := strings.Split(path, "/")
	return strings.Join(words[max(0, len(words)-n):], "/")
}

// TestFormOfDesign holds the JSON of compare and travel against the design, key by key, and against the types that a Go
// program reads it into, which must know every key.
func TestFormOfDesign(t *testing.T) {
	starterPath := filepath.Join(t.TempDir(), "stand.yaml")
	require.NoError(t, os.WriteFile(starterPath, starter, 0o644))
	var want any
	require.NoError(t, json.Unmarshal([]byte(design), &want))
	for _, command := range []string{"compare", "travel"} {
		out := outputOf(t, command, sample, "--json")
		var got any
		require.NoError(t, json.Unmarshal(out, &got))
		matches(t, want, got, command)
		require.Equal(t, 1.0, pick(t, got, "tiploop"))
		require.Equal(t, "Clock-plate mill", pick(t, got, "machine"))
		require.Equal(t, "solid", pick(t, got, "detail"))
		require.Len(t, pick(t, got, "options"), 2)
		for _, l := range pick(t, got, "options/0/loads").([]any) {
			require.Less(t, pick(t, l, "residual"), 1e-6, "the largest residual that the design lets pass")
		}
		strictly(t, out, &answer.Answer{})
		if command == "compare" || thorough() {
			strictly(t, outputOf(t, command, starterPath, "--json"), &answer.Answer{})
		}
	}
	strictly(t, outputOf(t, "tip", sample, "--json"), &answer.Answer{})
	strictly(t, outputOf(t, "show", sample, "--json"), &answer.Inventory{})
}

// strictly reads JSON into a value that must know all its keys.
func strictly(t *testing.T, data []byte, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(string(data)))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(into))
	require.False(t, d.More(), "more than one value")
}

// TestWithoutTool: tip, tip_um and travel are null, and the rest of the form stands.
func TestWithoutTool(t *testing.T) {
	for _, command := range []string{"tip", "compare", "travel"} {
		var got any
		require.NoError(t, json.Unmarshal(outputOf(t, command, filepath.Join("testdata", "checks", "beam-ss-central.yaml"),
			"--json"), &got))
		option := pick(t, got, "options/0").(map[string]any)
		for _, key := range []string{"tip", "travel"} {
			require.Contains(t, option, key)
			require.Nil(t, option[key])
		}
		load := pick(t, option, "loads/0").(map[string]any)
		for _, key := range []string{"tip_um", "tip_size_um"} {
			require.Contains(t, load, key)
			require.Nil(t, load[key])
		}
		require.Equal(t, structure.AsDrawn, option["name"])
		require.Len(t, pick(t, load, "points_um/middle"), 3)
		require.Len(t, load["reaction_n"], 3)
		require.NotEmpty(t, option["shares"])
	}
}

// TestAgain: all commands give the same bytes on every run. The scripts hold that for a smaller machine, in processes
// of their own; in one process, as here, something might be kept from the run before. Unless tests are thorough, travel.
func TestAgain(t *testing.T) {
	commands, forms := []string{"travel"}, map[string]string{"--json": "svg"}
	if thorough() {
		commands, forms = modelCommands, pictured
	}
	for _, command := range commands {
		for form, extension := range forms {
			picture := filepath.Join(t.TempDir(), "picture."+extension)
			run := with(strings.Fields(form), "--out", picture)
			var before []byte
			for range 2 {
				found := outputOf(t, with([]string{command, sample}, run...)...)
				drawn, err := os.ReadFile(picture)
				require.NoError(t, err)
				found = append(found, drawn...)
				if before != nil {
					require.True(t, bytes.Equal(before, found), "%s %s %s", command, form, extension)
				}
				before = found
			}
		}
	}
}
