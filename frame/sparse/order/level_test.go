package order

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCoarserKeepsUnknownsAndTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		l := levelOf(g)
		heaviest := rapid.Int32Range(1, 200).Draw(t, "heaviest")
		var a arena
		c := l.coarser(&a, heaviest)
		members := make([]int, c.vertices())
		weight := make([]int32, c.vertices())
		ties := map[[2]int32]int32{}
		for v := range int32(l.vertices()) {
			b := l.coarse[v]
			members[b]++
			weight[b] += l.weight[v]
			for k, u := range l.of(v) {
				if d := l.coarse[u]; d != b {
					ties[[2]int32{b, d}] += l.link[int(l.start[v])+k]
				}
			}
		}
		for b := range int32(c.vertices()) {
			require.True(t, members[b] == 1 || members[b] == 2 && weight[b] <= heaviest)
			require.Equal(t, weight[b], c.weight[b])
			for k, d := range c.of(b) {
				require.Equal(t, ties[[2]int32{b, d}], c.link[int(c.start[b])+k])
				delete(ties, [2]int32{b, d})
			}
		}
		require.Empty(t, ties)
	})
}
