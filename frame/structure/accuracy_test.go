package structure

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// accuracyAt are the details that are held against three-dimensional elasticity, and the most that each may be off in
// each set, beyond the reference's own doubt; 0: measured only. The fine mesh is for thorough runs.
var accuracyAt = []struct {
	name string
	by   *Builder
	most map[string]float64
}{
	{"beams", &Builder{}, nil},
	{"usual mesh", &Builder{Detail: Solid}, map[string]float64{
		"solid-reference": 0.08, "solid-heldout": 0.08, "solid-spots": 0.08,
	}},
	{"mesh 1", &Builder{Detail: Solid, Mesh: 1}, map[string]float64{
		"solid-reference": 0.03, "solid-heldout": 0.03, "solid-spots": 0.08,
	}},
}

// accuracySets are the files of bodies; why says what each is.
var accuracySets = []struct {
	name  string
	cases int
	why   string
}{
	{"solid-reference", 7, "by which the rules were found"},
	{"solid-heldout", 6, "made after the rules, not used to find them"},
	{"solid-spots", 4, "parts bonded on small squares only"},
}

// leftByReference is the largest error_rel in the three files.
const leftByReference = 0.0071

// medianBar is the most that the usual mesh may be off in half of the components of a set.
const medianBar = 0.04

// Every detail against bodies in three-dimensional elasticity (sources in the heads of the files): testdata/accuracy.md
// has all errors, README the summary. Thorough runs and those that rewrite the tables measure all; else the beams and
// the usual mesh are held against their columns of the table.
func TestAccuracy(t *testing.T) {
	t.Parallel()
	all := thorough() || *update
	path := filepath.Join("..", "..", "testdata", "accuracy.md")
	kept, err := os.ReadFile(path)
	if !*update {
		require.NoError(t, err)
	}
	details := accuracyAt
	if !all {
		details = details[:2]
	}
	var rows, summary strings.Builder
	summary.WriteString(summaryHead())
	for _, set := range accuracySets {
		sizes := make([][]float64, len(details))
		fmt.Fprintf(&rows, "\n## %s.yaml: bodies %s\n\n%s", set.name, set.why, accuracyHead())
		for _, c := range readSolidCases(t, set.name+".yaml", set.cases) {
			var off []map[string][3]float64
			for _, d := range details {
				off = append(off, c.off(t, d.by))
			}
			for _, r := range c.Results {
				row := fmt.Sprintf("| %s, %s | %s |", strings.TrimPrefix(c.ID, "solid-"), c.Title,
					strings.ReplaceAll(r.Patch, "_", " "))
				for i, d := range details {
					for k, e := range off[i][c.ID+" "+r.Patch] {
						sizes[i] = append(sizes[i], math.Abs(e))
						row += fmt.Sprintf(" %+.1f |", 100*e)
						if most := d.most[set.name]; most > 0 && !(math.Abs(e) <= most+leftByReference) {
							t.Errorf("%s, %s %c, %s: off by %+.2f %%", c.ID, r.Patch, "xyz"[k], d.name, 100*e)
						}
					}
				}
				rows.WriteString(row + "\n")
				if !all {
					require.Contains(t, string(kept), "\n"+row)
				}
			}
		}
		fmt.Fprintf(&summary, "| %s |", set.name)
		for i := range details {
			slices.Sort(sizes[i])
			n := len(sizes[i])
			fmt.Fprintf(&summary, " %.1f / %.1f / %.1f |", 100*sizes[i][n/2], 100*sizes[i][n*9/10], 100*sizes[i][n-1])
		}
		summary.WriteString("\n")
		require.LessOrEqual(t, sizes[1][len(sizes[1])/2], medianBar, set.name)
	}
	if all {
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(accuracyText(summary.String(), rows.String())), 0o644))
			kept = []byte(accuracyText(summary.String(), rows.String()))
		}
		require.Equal(t, accuracyText(summary.String(), rows.String()), string(kept))
		golden(t, "accuracy-summary.golden", summary.String())
	}
}

func summaryHead() string {
	head, line := "| bodies |", "|---|"
	for _, d := range accuracyAt {
		head += " " + d.name + " |"
		line += "---|"
	}
	return head + "\n" + line + "\n"
}

func accuracyHead() string {
	head, line := "| body | patch |", "|---|---|"
	for _, d := range accuracyAt {
		for _, k := range "xyz" {
			head += fmt.Sprintf(" %s, %c |", d.name, k)
			line += "---|"
		}
	}
	return head + "\n" + line + "\n"
}

func accuracyText(summary, rows string) string {
	return "# How right the details are\n\nWritten by `TIPLOOP_THOROUGH=1 go test ./frame/structure -run Accuracy -update`." +
		" Movement of a patch under a load spread\nover it against three-dimensional elasticity, percent; + moves too far. " +
		"Sources and methods of the references are in\nthe heads of the files.\n\nMedian / nine of ten / worst, without " +
		"sign:\n\n" + summary + rows
}
