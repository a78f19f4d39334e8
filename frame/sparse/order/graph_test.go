package order

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWrongGraphsPanic(t *testing.T) {
	for name, g := range map[string]*Graph{
		"no starts":        {},
		"starts too few":   {Start: []int{0, 0}, Weight: []int{1, 1}},
		"list cut off":     {Start: []int{0, 1, 3}, Near: []int{1, 0}, Weight: []int{1, 1}},
		"own neighbour":    {Start: []int{0, 1}, Near: []int{0}, Weight: []int{1}},
		"no such vertex":   {Start: []int{0, 1}, Near: []int{1}, Weight: []int{1}},
		"not ascending":    {Start: []int{0, 2, 3, 4}, Near: []int{2, 1, 0, 0}, Weight: []int{1, 1, 1}},
		"twice":            {Start: []int{0, 2, 3}, Near: []int{1, 1, 0}, Weight: []int{1, 1}},
		"negative weight":  {Start: []int{0, 0}, Weight: []int{-1}},
		"too many by far":  {Start: []int{0, 0}, Weight: []int{1 << 40}},
		"too many in all":  {Start: []int{0, 0, 0}, Weight: []int{1 << 29, 1<<29 + 1}},
		"starts backwards": {Start: []int{0, 2, 1, 2}, Near: []int{1, 0}, Weight: []int{1, 1, 1}},
	} {
		t.Run(name, func(t *testing.T) {
			require.Panics(t, func() { Elimination(g) })
		})
	}
}
