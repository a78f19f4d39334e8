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

type accuracyDetail struct {
	name string
	by   *Builder
	most map[string]float64
}

// accuracyAt are the details that are held against three-dimensional elasticity, and the most that each may be off in
// each set, beyond the reference's own doubt; 0: measured only. The fine mesh is for thorough runs. Measured on the
// mills at worst: beams 45 % (G, front of the bed in x), usual mesh 7.8 % (the same in z), mesh 1 4.6 % (X, corner of
// the bed in z; 4 to 5 % on all meshes from 3 to 0.8, so not for want of elements; cause not found).
var accuracyAt = []accuracyDetail{
	{"beams", beams(), map[string]float64{"solid-machines": 0.50}},
	{"usual mesh", &Builder{Detail: Solid}, map[string]float64{
		"solid-reference": 0.08, "solid-heldout": 0.08, "solid-spots": 0.08, "solid-machines": 0.08,
	}},
	{"mesh 1", &Builder{Detail: Solid, Mesh: 1}, map[string]float64{
		"solid-reference": 0.03, "solid-heldout": 0.03, "solid-spots": 0.08, "solid-machines": 0.05,
	}},
}

// heldCase is a body or a machine that is held against its reference.
type heldCase interface {
	rows(t *testing.T, by *Builder) []heldRow
}

// heldRow is by how much a patch moves too far in x, y and z, as shares.
type heldRow struct {
	body, patch string
	off         [3]float64
	left        [3]bool // out: zero, mostly by symmetry, and found to be so
}

// bySymmetry is the share of the largest movement that passes for none where the reference has none: the meshes of two
// halves are not quite mirrored.
const bySymmetry = 1e-3

// held compares movements with the reference's; the errors are shares of sizes, above zero where one goes too far.
func held(body, patch string, got, want, sizes [3]float64) heldRow {
	r := heldRow{body: body, patch: patch}
	for k := range got {
		r.off[k] = (got[k] - want[k]) / math.Copysign(sizes[k], want[k])
		r.left[k] = want[k] == 0 && math.Abs(r.off[k]) < bySymmetry
	}
	return r
}

// accuracySets are the files of bodies; why says what each is. Of those with quick ones only these are measured in runs
// that are not thorough.
var accuracySets = []struct {
	name  string
	cases int
	why   string
	quick []string
}{
	{"solid-reference", 7, "bodies by which the rules were found", nil},
	{"solid-heldout", 6, "bodies made after the rules, not used to find them", nil},
	{"solid-spots", 4, "parts bonded on small squares only", nil},
	{"solid-outlines", 6, "plates sawn to an outline", nil},
	{"solid-machines", 8, "whole mills, bonded all over; made after the rules, not used to find them",
		[]string{"machine-G", "machine-T", "machine-M"}},
}

// heldCases are those of a set, all of them or the quick ones.
func heldCases(t *testing.T, set int, all bool) (cases []heldCase) {
	t.Helper()
	s := accuracySets[set]
	if s.name == "solid-machines" {
		for _, c := range readMachineCases(t, s.name+".yaml", s.cases) {
			if all || slices.Contains(s.quick, c.Body.ID) {
				cases = append(cases, c)
			}
		}
		require.NotEmpty(t, cases, "of %v", s.quick)
		return cases
	}
	for _, c := range readSolidCases(t, s.name+".yaml", s.cases) {
		cases = append(cases, c)
	}
	return cases
}

// leftByReference is the largest error_rel in the files of bodies; solid-machines.yaml has up to 0.0094, in some sags
// that are far within the bars.
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
	for i, set := range accuracySets {
		sizes := make([][]float64, len(details))
		fmt.Fprintf(&rows, "\n## %s.yaml: %s\n\n%s", set.name, set.why, accuracyHead())
		for _, c := range heldCases(t, i, all) {
			for _, row := range accuracyRows(t, c, details, set.name, sizes) {
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

// accuracyRows are a case's rows of the table, for all details; the errors' sizes are added to those of its set.
func accuracyRows(t *testing.T, c heldCase, details []accuracyDetail, set string, sizes [][]float64) (lines []string) {
	t.Helper()
	for i, d := range details {
		for n, r := range c.rows(t, d.by) {
			if i == 0 {
				lines = append(lines, fmt.Sprintf("| %s | %s |", r.body, r.patch))
			}
			for k, e := range r.off {
				if r.left[k] {
					lines[n] += " |"
					continue
				}
				sizes[i] = append(sizes[i], math.Abs(e))
				lines[n] += fmt.Sprintf(" %+.1f |", 100*e)
				if most := d.most[set]; most > 0 && !(math.Abs(e) <= most+leftByReference) {
					t.Errorf("%s, %s %c, %s: off by %+.2f %%", r.body, r.patch, "xyz"[k], d.name, 100*e)
				}
			}
		}
	}
	return lines
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
	return `# How right the details are

Written by ` + "`TIPLOOP_THOROUGH=1 go test ./frame/structure -run Accuracy -update`" + `. Movement of a patch under a
load spread over it against three-dimensional elasticity, percent; + moves too far. Of a mill also how the tool moves
against the work under a force between them: along it (x, y, z), across it (yz: in y under a force in z) as a share of
the largest of these movements, and the sag under own weight as a share of its largest component. Nothing stands where
there is no movement, mostly by symmetry, and none was found. Sources and methods of the references are in the heads of
the files.

Median / nine of ten / worst, without sign:

` + summary + `
On spots mesh 1 has the worse tail, on the stiff side: a square of 16 mm is one piece at the usual mesh, to which what
coarse cells hold back is added, and four pieces at mesh 1, to which nothing is added (pieces side by side need no dents
where they lie in a wide bond; these do). With it added to the four the worst of P1 to P3 is 6.1 % too soft instead of
8.4 too stiff, as one piece 9.4 too soft: what mean movements tie is softer than metal.
` + rows
}
