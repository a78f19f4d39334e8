package sparse

import (
	"fmt"

	"tiploop/frame/sparse/order"
)

// cliqueGraph is the graph in which the members of every clique are neighbours of one another. at gives a group's
// vertex; a group without unknowns has none, -1.
//
// Every vertex walks the cliques it is in and marks whom it has met, so the work is the sum of the cliques' squares and
// no list is sorted: writing the lists down a second time by the neighbour turns them into ascending ones, for the
// graph is symmetric.
func cliqueGraph(sizes []int, coupled [][]int) (g *order.Graph, at []int32) {
	at = make([]int32, len(sizes))
	g = &order.Graph{}
	for i, s := range sizes {
		at[i] = -1
		if s > 0 {
			at[i] = int32(len(g.Weight))
			g.Weight = append(g.Weight, s)
		}
	}
	n := len(g.Weight)
	start, cliques := cliquesOf(n, at, coupled)
	mark := make([]int32, n)
	for v := range mark {
		mark[v] = -1
	}
	met := make([]int32, 0, 2*len(cliques))
	g.Start = make([]int, n+1)
	for v := range n {
		mark[v] = int32(v)
		for _, c := range cliques[start[v]:start[v+1]] {
			for _, i := range coupled[c] {
				if u := at[i]; u >= 0 && mark[u] != int32(v) {
					mark[u] = int32(v)
					met = append(met, u)
				}
			}
		}
		g.Start[v+1] = len(met)
	}
	g.Near = make([]int, len(met))
	next := mark
	for v := range n {
		next[v] = int32(g.Start[v])
	}
	for v := range n {
		for _, u := range met[g.Start[v]:g.Start[v+1]] {
			g.Near[next[u]] = v
			next[u]++
		}
	}
	return g, at
}

// cliquesOf lists the cliques that each of n vertices is in, ascending: those of v begin at start[v] and end where
// those of v+1 begin. It panics at a group that does not exist.
func cliquesOf(n int, at []int32, coupled [][]int) (start, cliques []int32) {
	start = make([]int32, n+1)
	for _, groups := range coupled {
		for _, i := range groups {
			if i < 0 || i >= len(at) {
				panic(fmt.Sprintf("sparse: group %d of %d", i, len(at)))
			}
			if at[i] >= 0 {
				start[at[i]]++
			}
		}
	}
	end := int32(0)
	for v, count := range start {
		end += count
		start[v] = end
	}
	// Each start is where the next one's begin: written backwards, it comes to be where its own do.
	cliques = make([]int32, end)
	for c := len(coupled) - 1; c >= 0; c-- {
		for _, i := range coupled[c] {
			if v := at[i]; v >= 0 {
				start[v]--
				cliques[start[v]] = int32(c)
			}
		}
	}
	return start, cliques
}
