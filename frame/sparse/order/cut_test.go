package order

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// requireBooks fails unless the amounts and the pulls are those of the sides.
func requireBooks(t require.TestingT, c *cut) {
	requireCut(t, c.level, c.side)
	var amount [3]int32
	for v := range int32(c.vertices()) {
		amount[c.side[v]] += c.weight[v]
		if c.side[v] != separator {
			continue
		}
		var pull [3]int32
		for _, u := range c.of(v) {
			pull[c.side[u]] += c.weight[u]
		}
		require.Equal(t, pull[left], c.pull[left][v])
		require.Equal(t, pull[right], c.pull[right][v])
	}
	require.Equal(t, amount, c.amount)
}

func TestMovesKeepTheBooksAndAreUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		n := len(g.Weight)
		if n == 0 {
			return
		}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "moves"), 1))
		c := &cut{level: levelOf(g)}
		c.resize(n)
		c.begin(int32(rng.IntN(n)))
		sides := [][]int8{slices.Clone(c.side)}
		for range 30 {
			var between []int32
			for v := range int32(n) {
				if c.side[v] == separator {
					between = append(between, v)
				}
			}
			if len(between) == 0 {
				break
			}
			c.move(between[rng.IntN(len(between))], int8(rng.IntN(2)))
			requireBooks(t, c)
			sides = append(sides, slices.Clone(c.side))
		}
		for k := len(sides) - 2; k >= 0; k-- {
			c.undo()
			requireBooks(t, c)
			require.Equal(t, sides[k], c.side)
		}
		require.Empty(t, c.moves)
	})
}

func TestRefineNeverMakesWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		for v := range g.Weight {
			g.Weight[v] = max(1, g.Weight[v])
		}
		n := len(g.Weight)
		if n == 0 {
			return
		}
		c := &cut{level: levelOf(g)}
		c.heavy = c.total * heaviestShare / 1000
		c.resize(n)
		c.begin(int32(n / 2))
		before := c.cost()
		for range 3 {
			c.refine(1)
			requireBooks(t, c)
			require.LessOrEqual(t, c.cost(), before)
			before = c.cost()
		}
	})
}

func TestCostPutsBalanceFirst(t *testing.T) {
	c := &cut{level: &level{total: 1000}, heavy: 720}
	cost := func(l, r int32) int64 {
		c.amount = [3]int32{l, r, 1000 - l - r}
		return c.cost()
	}
	require.Less(t, cost(0, 0), cost(721, 279), "all separator, and no separator but too heavy a side")
	require.Less(t, cost(279, 721), cost(0, 1000))
	require.Less(t, cost(495, 495), cost(600, 390))
	require.Less(t, cost(600, 395), cost(495, 495))
	c.total, c.heavy = mostUnknowns, mostUnknowns*heaviestShare/1000
	require.Positive(t, cost(0, mostUnknowns), "no overflow")
}
