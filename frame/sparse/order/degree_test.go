package order

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// byDegree orders by minimum degree whatever the size.
func byDegree(g *Graph) []int {
	r := reduce(g)
	return r.expand(minimumDegree(&r.core))
}

func TestMinimumDegreeIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		requirePermutation(t, byDegree(g), len(g.Weight))
	})
}

// A tree eliminated from its ends has no fill (Parter 1961): each edge and each vertex is a block of the factor.
func TestTreesHaveNoFill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 2000).Draw(t, "vertices")
		reach := rapid.SampledFrom([]int{1, 3, 50, 2000}).Draw(t, "reach")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		number := rng.Perm(n)
		var coupled [][]int
		for v := 1; v < n; v++ {
			coupled = append(coupled, []int{number[v], number[max(0, v-1-rng.IntN(reach))]})
		}
		g := graphOf(equal(n, 6), coupled)
		require.Equal(t, 21*n+36*(n-1), fillOf(g, byDegree(g)))
		require.Equal(t, 21*n+36*(n-1), fillOf(g, byDissection(g)))
		require.Equal(t, 21*n+36*(n-1), fillOf(g, Elimination(g)))
	})
}

// ring couples n vertices in a circle.
func ring(n int) *Graph {
	var coupled [][]int
	for v := range n {
		coupled = append(coupled, []int{v, (v + 1) % n})
	}
	return graphOf(equal(n, 1), coupled)
}

// Every order of a ring that takes it apart one neighbour after the other adds n−3 edges, and none adds fewer: a ring
// filled is a polygon cut into triangles (Rose 1970, J. Math. Anal. Appl. 32).
func TestRingIsCutIntoTriangles(t *testing.T) {
	for _, n := range []int{3, 4, 5, 17, 1000} {
		require.Equal(t, n+n+n-3, fillOf(ring(n), byDegree(ring(n))))
	}
}

// Amestoy, Davis & Duff (1996, section 4) prove that the degree kept is never below the true one and is the true one
// where a variable of the front is in two elements at most. The truth is found by eliminating.
func TestDegreesBoundTheTrueOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		for v := range g.Weight {
			g.Weight[v] = max(1, g.Weight[v])
		}
		n := len(g.Weight)
		near := make([]map[int32]bool, n)
		free := n - rapid.IntRange(0, n/2).Draw(t, "halo")
		var q quotient
		q.reset(n, len(g.Near), free)
		for v := range n {
			near[v] = map[int32]bool{}
			for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
				near[v][int32(u)] = true
				q.list = append(q.list, int32(u))
			}
			q.add(int32(g.Weight[v]))
		}
		q.open()
		var order []int32
		for q.waiting > 0 {
			from := len(order)
			order = q.step(order)
			for _, v := range order[from:] {
				for u := range near[v] {
					delete(near[u], v)
					for x := range near[v] {
						if x != u {
							near[u][x] = true
						}
					}
				}
			}
			p := order[from]
			for v := range q.free {
				if q.elements[v] < 0 {
					continue
				}
				var own []int32
				for u := v; u >= 0; u = q.member[u] {
					own = append(own, u)
				}
				degree := 0
				for u := range near[v] {
					degree += g.Weight[u]
				}
				for _, u := range own[1:] {
					require.Contains(t, near[v], u, "one variable is one clique")
					degree -= g.Weight[u]
				}
				require.GreaterOrEqual(t, int(q.degree[v]), degree)
				if q.elements[v] > 0 && q.elements[v] <= 2 && q.list[q.at[v]] == p {
					require.Equal(t, degree, int(q.degree[v]))
				}
			}
		}
		require.Len(t, order, free)
	})
}
