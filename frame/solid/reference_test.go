package solid

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

type span struct{ From, To [3]float64 }

func (s span) middle() r3.Vec { return r3.Scale(0.5, r3.Add(vector(s.From), vector(s.To))) }

func (s span) normal() int {
	for k := range 3 {
		if s.From[k] == s.To[k] {
			return k
		}
	}
	return -1
}

// solidCase is one body of testdata/solid-reference.yaml: 3D linear elasticity, mm per 1000 N.
type solidCase struct {
	ID      string `yaml:"id"`
	Blocks  []span `yaml:"blocks"`
	Gussets []struct {
		Corner [2]float64 `yaml:"corner_yz"`
		LegY   [2]float64 `yaml:"leg_y_to"`
		LegZ   [2]float64 `yaml:"leg_z_to"`
		X      [2]float64 `yaml:"x"`
	} `yaml:"gussets"`
	Fixed   []span `yaml:"fixed"`
	Spots   []span `yaml:"spots"` // where alone the parts are joined; none: all over
	Results []struct {
		Patch  string  `yaml:"patch"`
		At     []span  `yaml:"at"`
		X      float64 `yaml:"x_mm_per_kN"`
		Y      float64 `yaml:"y_mm_per_kN"`
		Z      float64 `yaml:"z_mm_per_kN"`
		XError float64 `yaml:"x_error_rel"`
		YError float64 `yaml:"y_error_rel"`
		ZError float64 `yaml:"z_error_rel"`
	} `yaml:"results"`
	Frequencies []float64 `yaml:"frequencies_Hz"`
}

func readSolidCases(t testing.TB, file string, want int) []solidCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", file))
	require.NoError(t, err)
	var table struct {
		Cases []solidCase `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(data, &table))
	require.Len(t, table.Cases, want)
	return table.Cases
}

// body is a case of one block as a body: patches as zones, fixed faces held.
func (c solidCase) body(t testing.TB) *Body {
	t.Helper()
	require.Len(t, c.Blocks, 1, c.ID)
	metal := beam.Material{Key: "reference", E: 70000, Nu: 0.33, Density: 2.7e-9}
	b := &Body{Part: blockOf("block", metal, vector(c.Blocks[0].From), vector(c.Blocks[0].To))}
	for _, f := range c.Fixed {
		b.Held = append(b.Held, heldOn(f))
	}
	for _, s := range c.patches() {
		z := patchOn(s)
		z.Aligned, z.Lone = true, true
		b.Zones = append(b.Zones, z)
	}
	return b
}

// patches are the different places of all results: two zones on one would be the same.
func (c solidCase) patches() []span {
	var all []span
	for _, r := range c.Results {
		for _, s := range r.At {
			if !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// compliances are the mean movements of each result's patches under 1000 N spread over them, mm, with everything held
// where it is fixed.
func (c solidCase) compliances(t testing.TB, s Settings) (moves [][3]float64, unknowns int) {
	t.Helper()
	r, err := c.body(t).Reduce(context.Background(), s)
	require.NoError(t, err)
	n := 6 * len(r.body.Zones)
	k := r.K.SliceSym(0, n).(*mat.SymDense)
	var chol mat.Cholesky
	require.True(t, chol.Factorize(k))
	for _, res := range c.Results {
		var m [3]float64
		for axis := range 3 {
			f, v := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
			for _, s := range res.At {
				f.SetVec(6*slices.Index(c.patches(), s)+axis, 1000/float64(len(res.At)))
			}
			require.NoError(t, chol.SolveVecTo(v, f))
			m[axis] = mat.Dot(f, v) / 1000
		}
		moves = append(moves, m)
	}
	return moves, r.Unknowns()
}

// Settings.Mesh of the columns of the tables, and the most that a result may be off beyond its reference's own doubt.
var referenceMeshes = []struct{ mesh, most float64 }{{2.5, 0.05}, {1, 0.03}, {0.4, 0.01}}

// measured is the block of a table that belongs to one case, its errors on the first of the meshes.
func (c solidCase) measured(t *testing.T, meshes int) string {
	var b strings.Builder
	var moves [][][3]float64
	fmt.Fprintf(&b, "%s unknowns:", c.ID)
	for _, m := range referenceMeshes[:meshes] {
		moved, unknowns := c.compliances(t, Settings{Mesh: m.mesh})
		moves = append(moves, moved)
		fmt.Fprintf(&b, " %d", unknowns)
	}
	b.WriteString("\n")
	for i, r := range c.Results {
		fmt.Fprintf(&b, "  %-16s", r.Patch)
		for k, q := range [][2]float64{{r.X, r.XError}, {r.Y, r.YError}, {r.Z, r.ZError}} {
			fmt.Fprintf(&b, "   %c (%.2f %%)", "xyz"[k], 100*q[1])
			for f, m := range referenceMeshes[:meshes] {
				e := moves[f][i][k]/q[0] - 1
				fmt.Fprintf(&b, " %+.2f %%", 100*e)
				if !(math.Abs(e)-q[1] <= m.most) {
					t.Errorf("%s, %s along %c, mesh of %g: off by %+.2f %%", c.ID, r.Patch, "xyz"[k], m.mesh, 100*e)
				}
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// holdAgainst holds the cases of a file against their results and the golden table: on as many meshes as meshes says of
// a case, or on the most there are where the environment asks for all.
func holdAgainst(t *testing.T, file string, count, most int, meshes map[string]int) {
	name := strings.TrimSuffix(file, ".yaml") + ".golden"
	var table strings.Builder
	all := thorough() || *update
	for _, c := range readSolidCases(t, file, count) {
		n := meshes[c.ID]
		if all && n > 0 {
			n = most
		}
		if n == 0 {
			continue
		}
		block := c.measured(t, n)
		table.WriteString(block)
		if !all {
			want, err := os.ReadFile(filepath.Join("testdata", name))
			require.NoError(t, err)
			_, after, found := strings.Cut(string(want), c.ID+" ")
			require.True(t, found, "%s has no %s", name, c.ID)
			lines := strings.SplitAfterN(c.ID+" "+after, "\n", strings.Count(block, "\n")+1)
			require.Equal(t, firstMeshes(strings.Join(lines[:len(lines)-1], ""), n), block, name)
		}
	}
	if all {
		golden(t, name, table.String())
	}
}

// firstMeshes leaves the columns of so many meshes in a block.
func firstMeshes(block string, meshes int) string {
	column := regexp.MustCompile(`(unknowns:|%\))(( [-+.0-9]+( %)?)*)`)
	return column.ReplaceAllStringFunc(block, func(s string) string {
		parts := column.FindStringSubmatch(s)
		values := regexp.MustCompile(` [-+.0-9]+( %)?`).FindAllString(parts[2], meshes)
		return parts[1] + strings.Join(values, "")
	})
}

// Source: testdata/solid-reference.yaml, own 20-node hexahedra by another program, see its head: the cases that are one
// block. Those of several parts are in frame/structure (TestSolidDetailReference). The golden file is the table of
// convergence: unknowns and errors on three meshes, beside the reference's own doubt.
func TestSolidReference(t *testing.T) {
	meshes := map[string]int{"solid-S1": 2, "solid-S2": 2}
	if testing.Short() {
		meshes = map[string]int{"solid-S1": 1}
	}
	holdAgainst(t, "solid-reference.yaml", 7, 3, meshes)
}

// update rewrites golden files.
var update = flag.Bool("update", false, "rewrite golden files and the worst errors of the checks")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got, path)
}
