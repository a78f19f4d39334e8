package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// coarse makes the sample's bodies a tenth of their usual unknowns, which is enough where forms are tested and not
// numbers.
var coarse = []string{"--mesh", "4"}

// solidRuns are all commands on the sample with meshed bodies; unless tests are thorough, what shows a body and what
// compares two of them at both details.
func solidRuns() (list [][]string) {
	for _, command := range modelCommands {
		for _, detail := range []string{solidDetail, bothDetails} {
			switch {
			case command == "show" && detail == bothDetails:
			case !thorough() && command != "show" && (command != "compare" || detail == solidDetail):
			default:
				list = append(list, append([]string{command, sample, "--detail", detail}, coarse...))
			}
		}
	}
	return list
}

// TestSampleRunsSolid runs every command on the sample with meshed bodies in every form. The design's JSON keys stand
// at every detail; what stands beside solid bodies is what section detail answers.
func TestSampleRunsSolid(t *testing.T) {
	t.Parallel()
	for _, run := range solidRuns() {
		t.Run(run[0]+" "+run[3], func(t *testing.T) {
			forms := pictured
			if !thorough() && run[0] != "show" {
				forms = map[string]string{"--json": "png"}
			}
			out := inForms(t, run, forms)
			if run[0] == "show" {
				strictly(t, out, &answer.Inventory{})
				return
			}
			holdFormOfDesign(t, run, out)
			if run[3] == bothDetails && run[0] != "tip" { // tip tells what to stiffen next on one side only
				holdSectionBeside(t, run[0], out)
			}
		})
	}
}

// holdFormOfDesign: the design's keys stand in the answer and in the one beside it; a Go program that reads it knows
// every key; and every part of a solid body is in one, and in one only.
func holdFormOfDesign(t *testing.T, run []string, out []byte) {
	t.Helper()
	var want any
	require.NoError(t, json.Unmarshal([]byte(design), &want))
	strictly(t, out, &answer.Answer{})
	var got map[string]any
	require.NoError(t, json.Unmarshal(out, &got))
	if run[0] != "tip" { // which leaves out travel
		matches(t, want, got, run[0])
	}
	require.Equal(t, run[3], got["detail"])
	for _, o := range got["options"].([]any) {
		option := o.(map[string]any)
		require.Equal(t, solidDetail, option["detail"])
		require.NotEmpty(t, option["solid"])
		parts := map[any]bool{}
		for _, body := range option["solid"].([]any) {
			for _, part := range pick(t, body, "parts").([]any) {
				require.False(t, parts[part], "part %s is in two solid bodies", part)
				parts[part] = true
			}
		}
		require.Len(t, parts, 9, "the sample's plates and gussets")
		require.Equal(t, run[3] == bothDetails, option["section"] != nil)
		if beside, ok := option["section"].(map[string]any); ok {
			require.Equal(t, sectionDetail, beside["detail"])
			require.NotContains(t, beside, "section")
			require.Empty(t, beside["solid"])
			if run[0] != "tip" {
				whole := map[string]any{"tiploop": 1.0, "machine": "", "detail": "", "options": []any{beside}}
				matches(t, want, whole, run[0])
			}
		}
		for _, l := range option["loads"].([]any) {
			require.Less(t, pick(t, l, "residual"), 1e-6, "the largest residual that the design lets pass")
		}
	}
}

// holdSectionBeside: what stands beside solid bodies is what section detail answers, to the last digit.
func holdSectionBeside(t *testing.T, command string, out []byte) {
	t.Helper()
	var both, section answer.Answer
	require.NoError(t, json.Unmarshal(out, &both))
	require.NoError(t, json.Unmarshal(outputOf(t, command, sample, "--json", "--detail", sectionDetail), &section))
	require.Len(t, both.Options, len(section.Options))
	for i := range section.Options {
		alone := section.Options[i]
		alone.Sure = nil // beside meshes the beam model is not drawn
		require.Equal(t, alone, *both.Options[i].Section)
	}
}

// TestAgainSolid: meshed bodies give the same bytes on every run, on one processor and on several; of thorough runs one
// is as fine as usual.
func TestAgainSolid(t *testing.T) {
	processors := runtime.GOMAXPROCS(0)
	t.Cleanup(func() { runtime.GOMAXPROCS(processors) })
	const short = "short bed held all along"
	runs := [][]string{with([]string{"travel", sample, "--detail", "both", "--option", short}, coarse...)}
	if thorough() {
		runs = append(runs, with([]string{"show", sample, "--detail", "solid"}, coarse...),
			with([]string{"travel", sample, "--detail", "both"}, coarse...),
			[]string{"tip", sample, "--detail", "solid", "--option", short})
	}
	for _, run := range runs {
		picture := filepath.Join(t.TempDir(), "picture.svg")
		var first string
		for i, n := range []int{1, 2, 2} {
			runtime.GOMAXPROCS(n)
			out := string(outputOf(t, with(run, "--json", "--out", picture)...))
			drawn, err := os.ReadFile(picture)
			require.NoError(t, err)
			out += string(drawn)
			if i == 0 {
				first = out
			}
			require.Equal(t, first, out, "%s, on %d processors", strings.Join(run, " "), n)
		}
	}
}
