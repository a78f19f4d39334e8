package order

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDistancesInALattice(t *testing.T) {
	l := levelOf(lattice(7, 5, 1, 1))
	depth, queue := make([]int32, 35), make([]int32, 35)
	require.Equal(t, int32(34), l.distances(0, depth, queue))
	for i := range 7 {
		for j := range 5 {
			require.Equal(t, int32(i+j), depth[i*5+j])
		}
	}
}

func TestRenumberKeepsTheNet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := levelOf(anyGraph(t))
		fresh, old := l.renumber()
		require.Len(t, old, l.vertices())
		seen := make([]bool, l.vertices())
		for k := range int32(fresh.vertices()) {
			v := old[k]
			require.False(t, seen[v])
			seen[v] = true
			require.Equal(t, l.weight[v], fresh.weight[k])
			var near []int32
			for _, u := range fresh.of(k) {
				near = append(near, old[u])
			}
			require.Equal(t, append([]int32(nil), l.of(v)...), near)
		}
	})
}
