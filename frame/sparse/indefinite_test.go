package sparse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// laplacian is the matrix of springs of stiffness 1 between the nodes of a grid and to a fixed frame around it.
func laplacian(sides ...int) *Matrix {
	n := 1
	for _, s := range sides {
		n *= s
	}
	var pairs [][]int
	for i := range n {
		step := 1
		for _, s := range sides {
			if i/step%s+1 < s {
				pairs = append(pairs, []int{i, i + step})
			}
			step *= s
		}
	}
	m := NewPattern(even(n, 1), pairs).NewMatrix()
	for i := range n {
		m.Add(i, i, 2*float64(len(sides)))
	}
	for _, p := range pairs {
		m.Add(p[0], p[1], -1)
	}
	return m
}

// laplacianValues are its eigenvalues: sums over the sides of 2 − 2·cos(k·π/(s+1)).
func laplacianValues(sides ...int) []float64 {
	values := []float64{0}
	for _, s := range sides {
		var next []float64
		for _, v := range values {
			for k := 1; k <= s; k++ {
				next = append(next, v+2-2*math.Cos(float64(k)*math.Pi/float64(s+1)))
			}
		}
		values = next
	}
	return values
}

func TestInertiaOfGrids(t *testing.T) {
	const source = "eigenvalues of the model problem, Demmel, Applied Numerical Linear Algebra, SIAM 1997, sections 6.3.1 to 6.3.3; Sylvester's law"
	for _, tt := range []struct {
		name, source string
		sides        []int
	}{
		{"line", source, []int{200}},
		{"square", source, []int{30, 30}},
		{"oblong", source, []int{70, 13}},
		{"cube", source, []int{11, 11, 11}},
		{"slab", source, []int{20, 17, 4}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			m := laplacian(tt.sides...)
			values := laplacianValues(tt.sides...)
			n := len(values)
			r := rand.New(rand.NewPCG(7, uint64(n)))
			shift, stable := 0.0, 0
			for range 40 {
				next := r.Float64() * 4 * float64(len(tt.sides))
				for i := range n {
					m.Add(i, i, shift-next)
				}
				shift = next
				below := 0
				for _, v := range values {
					if v < shift {
						below++
					}
				}
				f, err := m.FactorizeIndefinite()
				if err != nil {
					require.ErrorIs(t, err, ErrUnstable)
					continue
				}
				stable++
				negative, zero, positive := f.Inertia()
				require.Equal(t, []int{below, 0, n - below}, []int{negative, zero, positive}, "shift %g", shift)
			}
			t.Logf("%d of 40 shifts had a stable factor", stable)
			require.GreaterOrEqual(t, stable, 36)
		})
	}
}

// Against gonum's dense eigenvalues: structures' matrices with their eigenvalues shifted across zero.
func TestInertiaOfShapes(t *testing.T) {
	for _, s := range []shape{
		{"frame 4x4x4", [3]int{4, 4, 4}, 6, alongAxes},
		{"bricks 8x6x3", [3]int{8, 6, 3}, 3, allAround},
		{"twenty-node bricks 3x2x2", [3]int{3, 2, 2}, 3, serendip},
	} {
		t.Run(s.name, func(t *testing.T) {
			p, m := s.built()
			var eigen mat.EigenSym
			require.True(t, eigen.Factorize(dense(m), false))
			values := eigen.Values(nil)
			shift, worst := 0.0, 0.0
			for _, next := range []float64{1, 5, 20, 40, 60, 80, 100, 150, 200, 300, 500} {
				for i := range p.n {
					m.Add(i, i, shift-next)
				}
				shift = next
				f, err := m.FactorizeIndefinite()
				require.NoError(t, err)
				below, _ := slices.BinarySearch(values, shift)
				negative, zero, positive := f.Inertia()
				require.Equal(t, []int{below, 0, p.n - below}, []int{negative, zero, positive}, "shift %g", shift)
				worst = math.Max(worst, f.largestRow())
			}
			t.Logf("diagonals of L·Lᵀ grew up to %.0f", worst)
		})
	}
}

// A piece of its own whose matrix is singular.
func TestZeroEigenvaluesAreCounted(t *testing.T) {
	m := NewPattern([]int{2, 1}, nil).NewMatrix()
	m.Add(0, 0, 1)
	m.Add(1, 1, 1)
	m.Add(0, 1, 1)
	m.Add(2, 2, -3)
	f, err := m.FactorizeIndefinite()
	require.NoError(t, err)
	negative, zero, positive := f.Inertia()
	require.Equal(t, []int{1, 1, 1}, []int{negative, zero, positive})
	x := make([]float64, 3)
	require.NoError(t, f.SolveTo(x, []float64{2, 2, 3}))
	require.InDelta(t, 2, x[0]+x[1], 1e-15)
	require.InDelta(t, -1, x[2], 1e-15)
	require.ErrorContains(t, f.SolveTo(x, []float64{2, 1, 3}), "too nearly singular")
}

func TestIndefiniteFactorRefusesWhatIsNoNumber(t *testing.T) {
	m := NewPattern([]int{1}, nil).NewMatrix()
	m.Add(0, 0, math.NaN())
	_, err := m.FactorizeIndefinite()
	require.EqualError(t, err, "sparse: entry NaN in the matrix")
}

// The scaling by powers of two makes a matrix of unknowns of very different size behave as one of equal ones.
func TestScaleDoesNotMatterToIndefiniteMatrices(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	m := laplacian(12, 9)
	n := m.pattern.n
	for i := range n {
		m.Add(i, i, -2.3)
	}
	scaled := m.pattern.NewMatrix()
	scale := make([]float64, n)
	for i := range scale {
		scale[i] = math.Ldexp(1, r.IntN(80)-40)
	}
	for i := range n {
		for j := range i + 1 {
			if v := m.At(i, j); v != 0 {
				scaled.Add(i, j, v*scale[i]*scale[j])
			}
		}
	}
	f, err := m.FactorizeIndefinite()
	require.NoError(t, err)
	g, err := scaled.FactorizeIndefinite()
	require.NoError(t, err)
	a, _, c := f.Inertia()
	b, _, d := g.Inertia()
	require.Equal(t, []int{a, c}, []int{b, d})
	want, got, rhs := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range want {
		want[i] = r.NormFloat64()
		rhs[i] = want[i] * scale[i]
	}
	require.NoError(t, f.SolveTo(want, want))
	require.NoError(t, g.SolveTo(got, rhs))
	for i := range got {
		require.InDelta(t, want[i], got[i]*scale[i], 1e-11)
	}
}
