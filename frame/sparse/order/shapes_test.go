package order

import (
	"math/rand/v2"
	"slices"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// graphOf couples every two vertices that share a list.
func graphOf(weights []int, coupled [][]int) *Graph {
	near := make([][]int, len(weights))
	for _, list := range coupled {
		for _, u := range list {
			for _, v := range list {
				if u != v {
					near[u] = append(near[u], v)
				}
			}
		}
	}
	g := &Graph{Start: []int{0}, Weight: weights}
	for v := range near {
		slices.Sort(near[v])
		g.Near = append(g.Near, slices.Compact(near[v])...)
		g.Start = append(g.Start, len(g.Near))
	}
	return g
}

// equal is n vertices of the same weight.
func equal(n, weight int) []int { return slices.Repeat([]int{weight}, n) }

// lattice couples the nodes of a box of nodes along its axes.
func lattice(nx, ny, nz, weight int) *Graph {
	var coupled [][]int
	at := func(i, j, k int) int { return (i*ny+j)*nz + k }
	for i := range nx {
		for j := range ny {
			for k := range nz {
				if i > 0 {
					coupled = append(coupled, []int{at(i-1, j, k), at(i, j, k)})
				}
				if j > 0 {
					coupled = append(coupled, []int{at(i, j-1, k), at(i, j, k)})
				}
				if k > 0 {
					coupled = append(coupled, []int{at(i, j, k-1), at(i, j, k)})
				}
			}
		}
	}
	return graphOf(equal(nx*ny*nz, weight), coupled)
}

// bricks couples the nodes of a box of nodes within each cell of eight, 3 unknowns a node.
func bricks(nx, ny, nz int) *Graph {
	var coupled [][]int
	at := func(i, j, k int) int { return (i*ny+j)*nz + k }
	for i := range nx - 1 {
		for j := range ny - 1 {
			for k := range nz - 1 {
				coupled = append(coupled, []int{at(i, j, k), at(i, j, k+1), at(i, j+1, k), at(i, j+1, k+1),
					at(i+1, j, k), at(i+1, j, k+1), at(i+1, j+1, k), at(i+1, j+1, k+1)})
			}
		}
	}
	return graphOf(equal(nx*ny*nz, 3), coupled)
}

// hexahedra couples the nodes of a box of elements with 20 nodes each, at corners and middles of edges, 3 unknowns a
// node. Nodes are numbered along the axes of the grid of half edges.
func hexahedra(ex, ey, ez int) *Graph {
	number := map[[3]int]int{}
	for i := range 2*ex + 1 {
		for j := range 2*ey + 1 {
			for k := range 2*ez + 1 {
				if i%2+j%2+k%2 <= 1 {
					number[[3]int{i, j, k}] = len(number)
				}
			}
		}
	}
	var coupled [][]int
	for i := range ex {
		for j := range ey {
			for k := range ez {
				var list []int
				for p := range 27 {
					if v, ok := number[[3]int{2*i + p/9, 2*j + p/3%3, 2*k + p%3}]; ok {
						list = append(list, v)
					}
				}
				coupled = append(coupled, list)
			}
		}
	}
	return graphOf(equal(len(number), 3), coupled)
}

// shuffled numbers the vertices of a graph anew.
func shuffled(g *Graph, seed uint64) *Graph {
	n := len(g.Weight)
	number := rand.New(rand.NewPCG(seed, 1)).Perm(n)
	weights := make([]int, n)
	var coupled [][]int
	for v, w := range g.Weight {
		weights[number[v]] = w
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if u > v {
				coupled = append(coupled, []int{number[v], number[u]})
			}
		}
	}
	return graphOf(weights, coupled)
}

// A shape is a graph of the kind and size the orders are for.
type shape struct {
	name  string
	large bool // left out of short runs
	graph func() *Graph
}

// shapes are those of testdata/reference.tsv.
var shapes = []shape{
	{"space frame 8x8x8", false, func() *Graph { return lattice(8, 8, 8, 6) }},
	{"space frame 16x16x16", false, func() *Graph { return lattice(16, 16, 16, 6) }},
	{"space frame 24x24x24", true, func() *Graph { return lattice(24, 24, 24, 6) }},
	{"grillage 8x5", false, func() *Graph { return lattice(8, 5, 1, 6) }},
	{"grillage 50x40", false, func() *Graph { return lattice(50, 40, 1, 6) }},
	{"grillage 60x60", false, func() *Graph { return lattice(60, 60, 1, 6) }},
	{"grillage 150x150", true, func() *Graph { return lattice(150, 150, 1, 6) }},
	{"grillage 150x150 shuffled", true, func() *Graph { return shuffled(lattice(150, 150, 1, 6), 5) }},
	{"bricks 49x51x3", false, func() *Graph { return bricks(49, 51, 3) }},
	{"bricks 49x51x3 shuffled", false, func() *Graph { return shuffled(bricks(49, 51, 3), 5) }},
	{"bricks 80x100x5", true, func() *Graph { return bricks(80, 100, 5) }},
	{"bricks 300x300x2", true, func() *Graph { return bricks(300, 300, 2) }},
	{"hexahedra 24x24x3", true, func() *Graph { return hexahedra(24, 24, 3) }},
	{"hexahedra 24x24x3 shuffled", true, func() *Graph { return shuffled(hexahedra(24, 24, 3), 5) }},
	{"hexahedra 40x40x2", true, func() *Graph { return hexahedra(40, 40, 2) }},
}

// anyGraph draws a graph of pieces, cliques and loose couplings.
func anyGraph(t *rapid.T) *Graph {
	n := rapid.IntRange(0, 1<<rapid.IntRange(0, 8).Draw(t, "scale")).Draw(t, "vertices")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	most := rapid.SampledFrom([]int{0, 1, 6, 30}).Draw(t, "weight")
	weights := make([]int, n)
	for v := range weights {
		weights[v] = rng.IntN(most + 1)
	}
	var coupled [][]int
	if n > 0 {
		reach := 1 + rng.IntN(n) // partners are at most this far
		for range rapid.IntRange(0, 3*n).Draw(t, "cliques") {
			list := []int{rng.IntN(n)}
			for range 1 + rng.IntN(1+rng.IntN(6)) {
				list = append(list, (list[0]+rng.IntN(reach))%n)
			}
			coupled = append(coupled, list)
		}
	}
	return graphOf(weights, coupled)
}

// requirePermutation fails unless every vertex comes once.
func requirePermutation(t require.TestingT, order []int, n int) {
	require.Len(t, order, n)
	seen := make([]bool, n)
	for _, v := range order {
		require.True(t, v >= 0 && v < n && !seen[v], "vertex %d", v)
		seen[v] = true
	}
}

// fillOf counts the nonzeros of the factor, in unknowns.
func fillOf(g *Graph, order []int) int {
	c := net{start: narrow(g.Start), near: narrow(g.Near), weight: narrow(g.Weight)}
	return c.counted(narrow(order)).nonzeros
}

func narrow(list []int) []int32 {
	short := make([]int32, len(list))
	for i, x := range list {
		short[i] = int32(x)
	}
	return short
}

// eliminated counts the same by eliminating, the slow way.
func eliminated(g *Graph, order []int) int {
	near := make([]map[int]bool, len(g.Weight))
	for v := range near {
		near[v] = map[int]bool{}
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			near[v][u] = true
		}
	}
	total := 0
	for _, v := range order {
		w := g.Weight[v]
		total += w * (w + 1) / 2
		for u := range near[v] {
			total += w * g.Weight[u]
			delete(near[u], v)
			for x := range near[v] {
				if x != u {
					near[u][x] = true
				}
			}
		}
	}
	return total
}
