package sparse

import (
	"fmt"

	"tiploop/frame/sparse/order"
)

// Pattern says which unknowns are coupled, by groups, and holds all that follows from it: the order of elimination, the
// shape of a matrix and that of its factor. It is made once for any number of matrices and does not change, so that
// several goroutines may use it. Unknowns are numbered group after group.
type Pattern struct {
	n       int
	place   []int32 // where an unknown stands in the order of elimination
	blocks  blocks
	factors *supernodes
}

// NewPattern orders groups of the given sizes for elimination. Every list of coupled groups stands for unknowns that
// are all coupled with one another.
func NewPattern(sizes []int, coupled [][]int) *Pattern {
	offset := make([]int, len(sizes)+1)
	for g, s := range sizes {
		if s < 0 {
			panic(fmt.Sprintf("sparse: group of %d unknowns", s))
		}
		offset[g+1] = offset[g] + s
	}
	graph, vertexOf := cliqueGraph(sizes, coupled)
	t := newTree(graph, order.Elimination(graph))
	r, start := relaxedSupernodes(t, graph.Weight)
	s, vertices := r.number(t, start)

	begin := make([]int32, len(t.vertex)+1)
	for k, v := range t.vertex {
		begin[k+1] = begin[k] + int32(graph.Weight[v])
	}
	s.findRows(graph, t, vertices, begin)
	s.layOut()
	p := &Pattern{n: offset[len(sizes)], place: make([]int32, offset[len(sizes)]), factors: s}
	for g, v := range vertexOf {
		if v < 0 {
			continue
		}
		k := t.at[v]
		vertexOf[g] = k
		for u := offset[g]; u < offset[g+1]; u++ {
			p.place[u] = begin[k] + int32(u-offset[g])
		}
	}
	p.blocks = newBlocks(graph, t, begin, vertexOf)
	return p
}

// Order is the number of unknowns.
func (p *Pattern) Order() int { return p.n }

// Entries is the number of entries on and below the diagonal of a factor, the zeros that are kept for the sake of
// larger blocks included.
func (p *Pattern) Entries() int { return p.factors.nonzeros }
