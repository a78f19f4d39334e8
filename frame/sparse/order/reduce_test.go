package order

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestReduceMergesClosedNeighbourhoods(t *testing.T) {
	// Two layers of nodes, coupled throughout within a cell: the two on top of one another have the same neighbours.
	r := reduce(bricks(5, 4, 2))
	require.Equal(t, 5*4, r.core.vertices())
	for v := range int32(5 * 4) {
		require.Equal(t, int32(6), r.core.weight[v])
		require.Equal(t, []int32{2 * v, 2*v + 1}, r.members(nil, v))
	}
}

func TestReduceKeepsUnknownsAndPairs(t *testing.T) {
	g := hexahedra(3, 2, 1)
	r := reduce(g)
	c := &r.core
	total := int32(0)
	for v := range int32(c.vertices()) {
		total += c.weight[v]
		for _, u := range c.of(v) {
			require.NotEqual(t, v, u)
			require.Contains(t, c.of(u), v)
		}
	}
	require.Equal(t, 3*len(g.Weight), int(total))
}

func TestReduceTakesTreesApart(t *testing.T) {
	r := reduce(lattice(1, 40, 1, 6))
	require.Zero(t, r.core.vertices())
	require.Len(t, r.first, 40)
}

func TestReducePostponesDenseVertices(t *testing.T) {
	// A ring of 1000 with a hub: the hub has 1000 neighbours, more than 10·√1001.
	var coupled [][]int
	for v := range 1000 {
		coupled = append(coupled, []int{v, (v + 1) % 1000}, []int{v, 1000})
	}
	r := reduce(graphOf(equal(1001, 1), coupled))
	require.Equal(t, []int32{1000}, r.last)
	require.Equal(t, 1000, r.core.vertices())
}
