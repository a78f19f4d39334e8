package sparse

import (
	"slices"

	"tiploop/frame/sparse/order"
)

// blocks is the shape of a matrix's store: the lower triangle in the order of elimination, a panel for each vertex,
// that is, group with unknowns. A panel is as wide as its vertex has unknowns and goes row by row through the rows of
// the vertex itself (a full square, of which the lower triangle is used), then those of its later neighbours:
//
//	D
//	x D
//	  x D
//	x   x D
type blocks struct {
	vertexOf []int32 // of a group, in the order of elimination; -1 without unknowns
	of       []int32 // vertex of a place
	begin    []int32 // first place of a vertex; one more than there are vertices
	start    []int   // where its later neighbours begin; one more
	near     []int32 // later neighbours, ascending
	row      []int32 // and the row of the panel in which each begins
	at       []int   // where the panel begins in the store; one more
}

func newBlocks(g *order.Graph, t *tree, begin, vertexOf []int32) blocks {
	n := len(t.vertex)
	pairs := len(g.Near) / 2
	b := blocks{
		vertexOf: vertexOf, begin: begin, of: make([]int32, begin[n]),
		start: make([]int, n+1), near: make([]int32, pairs), row: make([]int32, pairs), at: make([]int, n+1),
	}
	for k := range n {
		for i := begin[k]; i < begin[k+1]; i++ {
			b.of[i] = int32(k)
		}
		v := t.vertex[k]
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if t.at[u] > int32(k) {
				b.start[k+1]++
			}
		}
		b.start[k+1] += b.start[k]
	}
	// Written down by row, columns get their rows in ascending order.
	next := slices.Clone(b.start[:n])
	for i := range n {
		v := t.vertex[i]
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if k := t.at[u]; k < int32(i) {
				b.near[next[k]] = int32(i)
				next[k]++
			}
		}
	}
	for k := range n {
		width := begin[k+1] - begin[k]
		row := width
		for e := b.start[k]; e < b.start[k+1]; e++ {
			b.row[e] = row
			row += begin[b.near[e]+1] - begin[b.near[e]]
		}
		b.at[k+1] = b.at[k] + int(row)*int(width)
	}
	return b
}

// find returns where the block of row vertex i begins in the panel of vertex k ≤ i, -1 if there is none.
func (b *blocks) find(i, k int32) int {
	if i == k {
		return b.at[k]
	}
	from, to := b.start[k], b.start[k+1]
	for to-from > 8 {
		if middle := (from + to) / 2; b.near[middle] <= i {
			from = middle
		} else {
			to = middle
		}
	}
	for e := from; e < to; e++ {
		if b.near[e] == i {
			return b.at[k] + int(b.row[e])*int(b.begin[k+1]-b.begin[k])
		}
	}
	return -1
}
