package order

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// byDissection orders by nested dissection whatever the size.
func byDissection(g *Graph) []int {
	r := reduce(g)
	return r.expand(dissect(&r.core))
}

func TestDissectionIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		requirePermutation(t, byDissection(g), len(g.Weight))
	})
}

// The dissection by hand of an n x n grid of square elements with four nodes has 31/4·n²·log2 n + O(n²) nonzeros
// (George 1973, SIAM J. Numer. Anal. 10; the constant from memory of George & Liu 1981, chapter 8): to double n adds
// 31/4 to the nonzeros of a node.
func TestDissectionOfGridsGrowsAsGeorges(t *testing.T) {
	last := math.NaN()
	sizes := []int{32, 64, 128, 256}
	if testing.Short() {
		sizes = sizes[:3]
	}
	for _, n := range sizes {
		g := bricks(n, n, 2) // each pair of nodes is one vertex
		for v := range g.Weight {
			g.Weight[v] = v % 2
		}
		column := float64(fillOf(g, byDissection(g))) / float64(n*n)
		if n > 32 && !(column-last <= 31.0/4) {
			t.Errorf("%d x %d: %.2f nonzeros a node after %.2f", n, n, column, last)
		}
		last = column
	}
}

// The halves of a dissection come one after the other and touch only in what comes after both.
func TestDissectionKeepsHalvesApart(t *testing.T) {
	g := lattice(40, 40, 1, 1)
	order := byDissection(g)
	c := net{start: narrow(g.Start), near: narrow(g.Near), weight: narrow(g.Weight)}
	place := make([]int32, len(order))
	for k, v := range order {
		place[v] = int32(k)
	}
	parent := c.eliminationTree(narrow(order), place)
	size := make([]int, len(order)) // of subtrees
	widest := 0
	for k, p := range parent {
		size[k]++
		if p >= 0 {
			size[p] += size[k]
		}
	}
	for k := range parent {
		if size[k] <= 3*len(order)/4 {
			widest = max(widest, size[k])
		}
	}
	top := 0 // columns above every subtree of at most three quarters
	for k := range parent {
		if size[k] > 3*len(order)/4 {
			top++
		}
	}
	require.LessOrEqual(t, top, 60, "a separator of a 40 x 40 lattice and little more")
	require.Greater(t, widest, len(order)/4)
}
