package sparse

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// Sums of up to some hundred products of like size: a few hundred roundings of 1.1e-16 each.
const productTolerance = 1e-13

func TestEntriesAndProductsAreThoseOfTheDenseMatrix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, _ := drawDefinite(t)
		n := c.unknowns()
		x, got := drawVector(t, n), make([]float64, n)
		m.sparse.MulTo(got, x)
		for i := range n {
			want, size := 0.0, 0.0
			for j := range n {
				require.Equal(t, m.dense.At(i, j), m.sparse.At(i, j))
				want += m.dense.At(i, j) * x[j]
				size += math.Abs(m.dense.At(i, j) * x[j])
			}
			if e := math.Abs(got[i] - want); !(e <= productTolerance*size) {
				t.Fatalf("row %d: got %g, want %g", i, got[i], want)
			}
		}
	})
}

func TestMatrixOfOneUnknown(t *testing.T) {
	m := NewPattern([]int{1}, nil).NewMatrix()
	m.Add(0, 0, 3)
	m.Add(0, 0, 1)
	dst := make([]float64, 1)
	m.MulTo(dst, []float64{2})
	require.Equal(t, []float64{8}, dst)
}

func TestEntriesOutsideThePatternAreZeroAndCannotBeSet(t *testing.T) {
	m := NewPattern([]int{1, 1, 1}, [][]int{{0, 1}}).NewMatrix()
	require.Zero(t, m.At(0, 2))
	require.PanicsWithValue(t, "sparse: entry (0, 2) outside the pattern", func() { m.Add(0, 2, 1) })
	require.Panics(t, func() { m.Add(0, 3, 1) })
	require.PanicsWithValue(t, "sparse: vectors of 2 and 3 for a matrix of order 3",
		func() { m.MulTo(make([]float64, 2), make([]float64, 3)) })
}

// An outer product is the one that gonum adds to a dense matrix.
func TestOuterProductsAreThoseOfTheDenseMatrix(t *testing.T) {
	sizes := []int{3, 2, 0, 4, 1}
	m := NewPattern(sizes, [][]int{{0, 1, 3}, {3, 4}}).NewMatrix()
	want := mat.NewSymDense(10, nil)
	for _, add := range []struct {
		weight   float64
		unknowns []int
		factors  []float64
	}{
		{2, []int{0, 2, 3, 4, 6, 8}, []float64{1, -2, 0.5, 3, -1, 4}},
		{-3, []int{5, 7, 9}, []float64{2, 1, -5}},
		{1, []int{7, 5, 1}, []float64{3, 1, 2}},
		{5, nil, nil},
	} {
		m.AddOuter(add.weight, add.unknowns, add.factors)
		whole := mat.NewVecDense(10, nil)
		for i, u := range add.unknowns {
			whole.SetVec(u, add.factors[i])
		}
		want.SymRankOne(want, add.weight, whole)
	}
	require.Equal(t, want, dense(m))
	require.PanicsWithValue(t, "sparse: unknowns [0 9] are not all coupled",
		func() { m.AddOuter(1, []int{0, 9}, []float64{1, 1}) })
	require.PanicsWithValue(t, "sparse: 1 factors of 2 unknowns", func() { m.AddOuter(1, []int{0, 1}, []float64{1}) })
}

// dense returns the matrix in gonum's shape.
func dense(m *Matrix) *mat.SymDense {
	n := m.pattern.Order()
	d := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			d.SetSym(i, j, m.At(i, j))
		}
	}
	return d
}

// AddBlock does what Add does entry by entry, whatever the order of the groups.
func TestBlocksAreAddedLikeEntries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCouplings(t)
		p := NewPattern(c.sizes, c.coupled)
		one, other := p.NewMatrix(), p.NewMatrix()
		for _, clique := range c.coupled {
			groups := rapid.Permutation(slices.Compact(slices.Sorted(slices.Values(clique)))).Draw(t, "groups")
			members := c.members(groups)
			n := len(members)
			k := make([]float64, n*n)
			for i, u := range members {
				for j, v := range members[:i+1] {
					k[i*n+j] = rapid.Float64Range(-1, 1).Draw(t, "entry")
					k[j*n+i] = k[i*n+j]
					one.Add(u, v, k[i*n+j])
				}
			}
			other.AddBlock(groups, k)
		}
		for i := range p.n {
			for j := range p.n {
				require.Equal(t, one.At(i, j), other.At(i, j))
			}
		}
	})
}

func TestBlocksOutsideThePatternAreRefused(t *testing.T) {
	m := NewPattern([]int{1, 1, 1}, [][]int{{0, 1}}).NewMatrix()
	require.PanicsWithValue(t, "sparse: groups 2 and 0 are not coupled",
		func() { m.AddBlock([]int{0, 2}, make([]float64, 4)) })
	require.PanicsWithValue(t, "sparse: group 1 twice in a block", func() { m.AddBlock([]int{1, 1}, make([]float64, 4)) })
	require.PanicsWithValue(t, "sparse: block of 3 numbers for groups of 2 unknowns",
		func() { m.AddBlock([]int{0, 1}, make([]float64, 3)) })
}
