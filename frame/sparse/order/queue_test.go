package order

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestQueueAgainstSearch(t *testing.T) {
	const n = 40
	rapid.Check(t, func(t *rapid.T) {
		q := queue{place: make([]int32, n)}
		gain, turn := map[int32]int32{}, map[int32]int{}
		for step := range rapid.IntRange(1, 200).Draw(t, "steps") {
			v := rapid.Int32Range(0, n-1).Draw(t, "vertex")
			g := rapid.Int32Range(-5, 5).Draw(t, "gain")
			if _, ok := gain[v]; !ok {
				q.push(v, g)
				gain[v], turn[v] = g, step
			} else if rapid.Bool().Draw(t, "remove") {
				q.remove(v)
				delete(gain, v)
			} else {
				q.change(v, g)
				gain[v] = g
			}
			require.Len(t, q.heap, len(gain))
			if len(gain) == 0 {
				continue
			}
			best := int32(-1)
			for u := range gain {
				if best < 0 || gain[u] > gain[best] || gain[u] == gain[best] && turn[u] < turn[best] {
					best = u
				}
			}
			require.Equal(t, best, q.heap[0].vertex)
			require.Equal(t, gain[best], q.heap[0].gain())
		}
		q.clear()
		require.Equal(t, make([]int32, n), q.place)
	})
}
