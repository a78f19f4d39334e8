package order

import (
	"fmt"
	"math"
)

// Graph is an undirected graph: the neighbours of vertex v are Near[Start[v]:Start[v+1]], ascending, without v itself,
// and each pair stands both ways.
type Graph struct {
	Start  []int // one more than there are vertices
	Near   []int // neighbours of all vertices
	Weight []int // unknowns of each vertex, 0 or more
}

// mostUnknowns bounds the unknowns of a graph, so that costs of cuts, squares of them, fit into 64 bits.
const mostUnknowns = 1 << 30

// check panics unless the lists fit together. That each pair stands both ways is trusted.
func (g *Graph) check() {
	n := len(g.Weight)
	if len(g.Start) != n+1 || g.Start[0] != 0 || g.Start[n] != len(g.Near) {
		panic(fmt.Sprintf("order: %d starts, %d vertices, %d neighbours", len(g.Start), n, len(g.Near)))
	}
	if len(g.Near) > math.MaxInt32 {
		panic(fmt.Sprintf("order: %d neighbours", len(g.Near)))
	}
	unknowns := 0
	for v, w := range g.Weight {
		unknowns += w
		if w < 0 || w > mostUnknowns || unknowns > mostUnknowns {
			panic(fmt.Sprintf("order: %d unknowns at vertex %d, %d in all", w, v, unknowns))
		}
		if g.Start[v] > g.Start[v+1] || g.Start[v+1] > len(g.Near) {
			panic(fmt.Sprintf("order: neighbours %d to %d of vertex %d, of %d", g.Start[v], g.Start[v+1], v, len(g.Near)))
		}
		before := -1
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if u <= before || u == v || u >= n {
				panic(fmt.Sprintf("order: neighbour %d of vertex %d after %d, of %d vertices", u, v, before, n))
			}
			before = u
		}
	}
}

// net is a Graph in the form the work is done on; every weight is positive.
type net struct {
	start  []int32
	near   []int32
	weight []int32
}

// vertices is the number of vertices.
func (n *net) vertices() int { return len(n.weight) }

// of lists the neighbours of a vertex.
func (n *net) of(v int32) []int32 { return n.near[n.start[v]:n.start[v+1]] }
