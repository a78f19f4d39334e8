package sparse

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// path couples n groups in a row, numbered so that neighbours stand far apart.
func path(n int) (coupled [][]int) {
	number := func(i int) int { return i * 7 % n } // n is never a multiple of 7
	for i := range n - 1 {
		coupled = append(coupled, []int{number(i), number(i + 1)})
	}
	return coupled
}

// grid couples the groups of a wide × deep grid along its lines.
func grid(wide, deep int) (coupled [][]int) {
	for i := range wide {
		for j := range deep {
			if i+1 < wide {
				coupled = append(coupled, []int{i*deep + j, (i+1)*deep + j})
			}
			if j+1 < deep {
				coupled = append(coupled, []int{i*deep + j, i*deep + j + 1})
			}
		}
	}
	return coupled
}

func even(groups, size int) []int { return slices.Repeat([]int{size}, groups) }

// Any order must hold every unknown once, keep a group together and have room for every coupled pair.
func TestOrderIsAPermutationThatKeepsGroups(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCouplings(t)
		p := NewPattern(c.sizes, c.coupled)
		require.Equal(t, c.unknowns(), p.Order())
		require.Len(t, p.place, p.Order())
		for k, at := range slices.Sorted(slices.Values(p.place)) {
			require.EqualValues(t, k, at)
		}
		offset := c.offsets()
		for g, size := range c.sizes {
			for u := range max(size-1, 0) {
				require.Equal(t, p.place[offset[g]+u]+1, p.place[offset[g]+u+1])
			}
		}
		m := p.NewMatrix()
		for _, pair := range c.pairs() {
			m.Add(pair[0], pair[1], 1) // panics outside the pattern
		}
	})
}

// Disconnected pieces share no entry, and groups without unknowns take no room.
func TestPiecesStandApart(t *testing.T) {
	p := NewPattern([]int{2, 0, 3, 1, 0}, [][]int{{0, 1}, {2, 3}, {4}})
	require.Equal(t, 6, p.Order())
	require.Equal(t, 3+10, p.Entries())
	empty := NewPattern(nil, nil)
	require.Equal(t, 0, empty.Order())
	require.Equal(t, 0, empty.Entries())
	require.Equal(t, 0, NewPattern([]int{0, 0}, [][]int{{0, 1}}).Entries())
}

func TestPatternRefusesWhatIsNoPattern(t *testing.T) {
	require.PanicsWithValue(t, "sparse: group of -1 unknowns", func() { NewPattern([]int{1, -1}, nil) })
	require.PanicsWithValue(t, "sparse: group 2 of 2", func() { NewPattern([]int{1, 1}, [][]int{{0, 2}}) })
	require.PanicsWithValue(t, "sparse: group -1 of 2", func() { NewPattern([]int{1, 1}, [][]int{{-1}}) })
}
