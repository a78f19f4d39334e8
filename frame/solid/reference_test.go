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

// bonds are the ties of parts wherever faces meet: blocks on their faces, gussets on the two sides along their legs.
func bonds(parts []Part) []Tie {
	var ties []Tie
	for i := range parts {
		for j := range i {
			alo, ahi := parts[j].Box()
			blo, bhi := parts[i].Box()
			for n := range 3 {
				var at float64
				switch {
				case ahi[n] == blo[n]:
					at = ahi[n]
				case bhi[n] == alo[n]:
					at = bhi[n]
				default:
					continue
				}
				if !square(&parts[i], n, at) || !square(&parts[j], n, at) {
					continue
				}
				t := Tie{A: j, B: i, Normal: n}
				u, v := across(n)
				t.Lo[n], t.Hi[n] = at, at
				for _, k := range []int{u, v} {
					t.Lo[k], t.Hi[k] = max(alo[k], blo[k]), min(ahi[k], bhi[k])
				}
				if t.Lo[u] < t.Hi[u] && t.Lo[v] < t.Hi[v] {
					ties = append(ties, t)
				}
			}
		}
	}
	return ties
}

// square reports whether a part has a whole rectangular face there: a gusset has one at its corner only.
func square(p *Part, normal int, at float64) bool {
	if p.Gusset == nil || axisOf(p.Gusset.Thickness) == normal {
		return true
	}
	return components(p.Gusset.Corner)[normal] == at
}

func (c solidCase) parts() []Part {
	metal := beam.Material{Key: "reference", E: 70000, Nu: 0.33, Density: 2.7e-9}
	var parts []Part
	for i, s := range c.Blocks {
		parts = append(parts, Part{Name: fmt.Sprintf("block%d", i+1), Made: metal, Block: &Block{vector(s.From),
			vector(s.To)}})
	}
	for i, g := range c.Gussets {
		parts = append(parts, Part{Name: fmt.Sprintf("gusset%d", i+1), Made: metal, Gusset: &Gusset{
			Corner: r3.Vec{X: g.X[0], Y: g.Corner[0], Z: g.Corner[1]}, Legs: [2]r3.Vec{{Y: g.LegY[0] - g.Corner[0]},
				{Z: g.LegZ[1] - g.Corner[1]}}, Thickness: r3.Vec{X: g.X[1] - g.X[0]},
		}})
	}
	return parts
}

// body is the case as one body: parts bonded, patches as zones, fixed faces held.
func (c solidCase) body(t testing.TB) *Body {
	t.Helper()
	b := &Body{Parts: c.parts()}
	b.Ties = bonds(b.Parts)
	if c.Spots != nil {
		var spots []Tie
		for _, tie := range b.Ties {
			for _, s := range c.Spots {
				if s.normal() == tie.Normal && within(s.From, tie.Lo, tie.Hi, 0) && within(s.To, tie.Lo, tie.Hi, 0) {
					spots = append(spots, Tie{tie.A, tie.B, tie.Normal, s.From, s.To})
				}
			}
		}
		b.Ties = spots
	}
	owner := func(s span) int {
		for i := range b.Parts {
			if lo, hi := b.Parts[i].Box(); b.Parts[i].Block != nil && within(s.From, lo, hi, 0) && within(s.To, lo, hi, 0) {
				return i
			}
		}
		t.Fatalf("%s: no part at %v", c.ID, s)
		return -1
	}
	for _, f := range c.Fixed {
		b.Held = append(b.Held, Region{owner(f), f.normal(), f.From, f.To, f.middle()})
	}
	for _, s := range c.patches() {
		u, v := across(s.normal())
		b.Zones = append(b.Zones, Zone{Part: owner(s), At: s.middle(), Normal: s.normal(), Aligned: true,
			Polygon: rectangle([2]float64{s.From[u], s.From[v]}, [2]float64{s.To[u], s.To[v]})})
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
var referenceMeshes = []struct{ mesh, most float64 }{{1, 0.03}, {0.4, 0.01}}

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
		if all {
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

// Source: testdata/solid-reference.yaml, own 20-node hexahedra by another program, see its head. The golden file is the
// table of convergence: unknowns and errors at the default mesh and at 0.4 of its cells, beside the reference's own
// doubt.
func TestSolidReference(t *testing.T) {
	meshes := map[string]int{"solid-M1_6mm": 1, "solid-M1_12mm": 1, "solid-G1": 1}
	if !testing.Short() {
		meshes = map[string]int{
			"solid-S1": 1, "solid-S2": 1, "solid-G1": 1, "solid-G2": 1, "solid-F1": 1, "solid-M1_6mm": 2, "solid-M1_12mm": 2,
		}
	}
	holdAgainst(t, "solid-reference.yaml", 7, 2, meshes)
}

// Source: testdata/solid-heldout.yaml, bodies by which the mesh rule was not tuned.
func TestSolidHeldOut(t *testing.T) {
	if testing.Short() {
		t.Skip("six more bodies")
	}
	holdAgainst(t, "solid-heldout.yaml", 6, 1, map[string]int{"solid-H3": 1, "solid-H4": 1, "solid-H6": 1})
}

// Source: testdata/solid-spots.yaml, parts bonded on small squares only: all give lies in the ends of the bonds, where
// stress is as at the tip of a crack.
func TestSolidSpots(t *testing.T) {
	if testing.Short() {
		t.Skip("four more bodies")
	}
	holdAgainst(t, "solid-spots.yaml", 4, 1, map[string]int{"solid-P2": 1, "solid-P3": 1})
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
