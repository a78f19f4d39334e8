package order

import (
	"bufio"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestEliminationIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		requirePermutation(t, Elimination(g), len(g.Weight))
	})
}

func TestEliminationOfSpecialGraphs(t *testing.T) {
	var star [][]int
	clique := make([]int, 500)
	for v := range clique {
		clique[v] = v
		star = append(star, []int{0, v})
	}
	var twoRings [][]int
	for v := range 200 {
		twoRings = append(twoRings, []int{v, (v + 1) % 200}, []int{200 + v, 200 + (v+1)%200})
	}
	for _, tt := range []struct {
		name string
		g    *Graph
		want int // nonzeros of the factor, by hand
	}{
		{"empty", graphOf(nil, nil), 0},
		{"one vertex", graphOf([]int{6}, nil), 21},
		{"no edges", graphOf(equal(1000, 3), nil), 6000},
		{"star", graphOf(equal(500, 1), star), 500 + 499},
		{"clique", graphOf(equal(500, 2), [][]int{clique}), 1000 * 1001 / 2},
		{"clique of nothing", graphOf(equal(500, 0), [][]int{clique}), 0},
		{"two rings", graphOf(equal(400, 1), twoRings), 2 * (200 + 200 + 197)},
		{"hub without unknowns", graphOf(append([]int{0}, equal(499, 3)...), star), 6 * 499},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, f := range []func(*Graph) []int{Elimination, byDegree, byDissection} {
				order := f(tt.g)
				requirePermutation(t, order, len(tt.g.Weight))
				require.Equal(t, tt.want, fillOf(tt.g, order))
			}
		})
	}
}

// mostFill is how many times the nonzeros of the reference an order may have.
const mostFill = 1.15

func TestEliminationAgainstReference(t *testing.T) {
	file, err := os.Open("testdata/reference.tsv")
	require.NoError(t, err)
	defer file.Close()
	reference := map[string]float64{}
	sourced := false
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			sourced = sourced || strings.HasPrefix(lines.Text(), "# Source: ")
			continue
		}
		fields := strings.Split(lines.Text(), "\t")
		require.Len(t, fields, 3)
		nodes, err := strconv.ParseFloat(fields[1], 64)
		require.NoError(t, err)
		unknowns, err := strconv.ParseFloat(fields[2], 64)
		require.NoError(t, err)
		reference[fields[0]] = min(nodes, unknowns)
	}
	require.True(t, sourced)
	require.Len(t, reference, len(shapes))
	for _, s := range shapes {
		t.Run(s.name, func(t *testing.T) {
			require.Contains(t, reference, s.name)
			if testing.Short() && s.large {
				t.Skip("large")
			}
			g := s.graph()
			order := Elimination(g)
			requirePermutation(t, order, len(g.Weight))
			ratio := float64(fillOf(g, order)) / reference[s.name]
			if !(ratio <= mostFill) {
				t.Errorf("%.3f times the reference's nonzeros", ratio)
			}
			t.Logf("%.3f", ratio)
		})
	}
}

func TestEliminationIsTheSameOnAnyNumberOfProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	g := hexahedra(24, 24, 3)
	var first []int
	for _, processors := range []int{1, 2, 5, 5} {
		runtime.GOMAXPROCS(processors)
		order := byDissection(g)
		if first == nil {
			first = order
		}
		require.Equal(t, first, order)
	}
}

// A bar of 4 x 3 nodes in section, numbered along: the natural order keeps to a band, as the shortest cuts are the
// sections. Minimum degree does not find it on a short bar, but comes near.
func TestEliminationOfLongGraphsIsAboutBanded(t *testing.T) {
	for _, long := range []int{10, 100, 1000, 3000} {
		g := bricks(long, 4, 3)
		natural := make([]int, len(g.Weight))
		for v := range natural {
			natural[v] = v
		}
		require.LessOrEqual(t, float64(fillOf(g, Elimination(g))), 1.15*float64(fillOf(g, natural)))
	}
}

func BenchmarkElimination(b *testing.B) {
	small := []shape{
		{"chain 10", false, func() *Graph { return lattice(10, 1, 1, 6) }},
		{"ring 40", false, func() *Graph { return ring(40) }},
	}
	for _, s := range append(small, shapes...) {
		b.Run(strings.ReplaceAll(s.name, " ", "-"), func(b *testing.B) {
			g := s.graph()
			b.ReportAllocs()
			var order []int
			for b.Loop() {
				order = Elimination(g)
			}
			b.ReportMetric(float64(fillOf(g, order)), "nonzeros")
		})
	}
}
