package order

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCountIsThatOfElimination(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		order := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 1)).Perm(len(g.Weight))
		require.Equal(t, eliminated(g, order), fillOf(g, order))
	})
}
