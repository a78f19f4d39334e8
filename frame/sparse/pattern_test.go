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

// Any order of the profile must hold every unknown once, keep a group together and have room for every coupled pair.
func TestOrderIsAPermutationThatKeepsGroups(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCouplings(t)
		p := NewPattern(c.sizes, c.coupled)
		require.Equal(t, c.unknowns(), p.Order())
		require.Len(t, p.place, p.Order())
		sorted := slices.Sorted(slices.Values(p.place))
		for k, at := range sorted {
			require.Equal(t, k, at)
		}
		offset := c.offsets()
		for g, size := range c.sizes {
			for u := range max(size-1, 0) {
				require.Equal(t, p.place[offset[g]+u]+1, p.place[offset[g]+u+1])
			}
		}
		entries := 0
		for k, first := range p.first {
			require.GreaterOrEqual(t, k, first)
			entries += k - first + 1
		}
		require.Equal(t, entries, p.Entries())
		m := p.NewMatrix()
		for _, pair := range c.pairs() {
			m.Add(pair[0], pair[1], 1) // panics outside the pattern
		}
	})
}

// A path has bandwidth 1 however it is numbered: each group reaches back to the one before.
func TestPathKeepsItsBandwidth(t *testing.T) {
	for _, n := range []int{2, 3, 10, 101} {
		for _, size := range []int{1, 2, 6} {
			p := NewPattern(even(n, size), path(n))
			for k, first := range p.first {
				require.LessOrEqual(t, k-first, 2*size-1, "n = %d, groups of %d", n, size)
			}
			perGroup := size * (size + 1) / 2
			require.Equal(t, n*perGroup+(n-1)*size*size, p.Entries())
		}
	}
}

// The bandwidth of a wide × deep grid is deep, the shorter side (Chvátalová, Discrete Math. 11 (1975) 249; from memory).
// Reverse Cuthill-McKee may overstep it by one in a row, where two children of one group change places. From a corner of
// a square its levels grow and shrink, so that the profile is two thirds of the band.
func TestGridIsNoWiderThanItsBandwidth(t *testing.T) {
	for _, s := range [][2]int{{2, 2}, {5, 3}, {20, 4}, {31, 31}} {
		wide, deep := s[0], s[1]
		p := NewPattern(even(wide*deep, 1), grid(wide, deep))
		for k, first := range p.first {
			require.LessOrEqual(t, k-first, deep+1, "%d x %d", wide, deep)
		}
	}
	const side = 31
	p := NewPattern(even(side*side, 1), grid(side, side))
	require.InEpsilon(t, side*side*side*2./3, p.Entries(), 3./side) // and up to two places a row for its ends
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
