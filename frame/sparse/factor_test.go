package sparse

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The drawn matrices, scales taken out, have conditions of up to some thousand.
const solveTolerance = 1e-11

// Against gonum's dense Cholesky factorisation of the same matrix, scaled so that it is well-conditioned.
func TestSolvesAsDenseCholeskyDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, scale := drawDefinite(t)
		n := c.unknowns()
		f, err := m.sparse.Factorize()
		require.NoError(t, err)
		if n == 0 {
			f.SolveTo(nil, nil)
			return
		}
		level := mat.NewSymDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				level.SetSym(i, j, m.dense.At(i, j)/(scale[i]*scale[j]))
			}
		}
		var chol mat.Cholesky
		require.True(t, chol.Factorize(level))

		// b and x in level terms: K = S·level·S, so K·x = S·b has x = S⁻¹·level⁻¹·b.
		b := drawVector(t, n)
		var want mat.VecDense
		require.NoError(t, chol.SolveVecTo(&want, mat.NewVecDense(n, b)))
		scaled := make([]float64, n)
		floats.MulTo(scaled, b, scale)
		got := make([]float64, n)
		f.SolveTo(got, scaled)
		for i := range n {
			if e := math.Abs(got[i]*scale[i] - want.AtVec(i)); !(e <= solveTolerance*mat.Norm(&want, math.Inf(1))) {
				t.Fatalf("unknown %d: got %g, want %g", i, got[i]*scale[i], want.AtVec(i))
			}
		}

		// dst may be b itself.
		inPlace := slices.Clone(scaled)
		f.SolveTo(inPlace, inPlace)
		require.Equal(t, got, inPlace)

		// Halves: bᵀ·K⁻¹·c, also for a c that begins with zeros.
		other := drawVector(t, n)
		for i := range rapid.IntRange(0, n).Draw(t, "zeros") {
			other[i] = 0
		}
		floats.Mul(other, scale)
		hb, hc := make([]float64, n), make([]float64, n)
		f.HalfTo(hb, scaled)
		f.HalfTo(hc, other)
		product := floats.Dot(got, other)
		size := floats.Norm(hb, 2) * floats.Norm(hc, 2)
		if e := math.Abs(floats.Dot(hb, hc) - product); !(e <= solveTolerance*size) {
			t.Fatalf("product of halves %g, want %g", floats.Dot(hb, hc), product)
		}
	})
}

// A matrix of one pattern may be filled and factored anew; a factor keeps its own numbers.
func TestFactorKeepsItsNumbers(t *testing.T) {
	m := NewPattern([]int{2}, nil).NewMatrix()
	m.Add(0, 0, 2)
	m.Add(1, 1, 4)
	f, err := m.Factorize()
	require.NoError(t, err)
	m.Add(0, 0, 100)
	dst := make([]float64, 2)
	f.SolveTo(dst, []float64{2, 4})
	require.InDeltaSlice(t, []float64{1, 1}, dst, 1e-15)
	require.Equal(t, 102.0, m.At(0, 0))
}

// Of every connected piece the motion in which all unknowns follow their scales costs nothing: the matrix is the sum of
// k·(x_i/s_i − x_j/s_j)² over pairs.
func TestLooseMatrixShowsItsMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCouplings(t)
		n := c.unknowns()
		if n == 0 {
			t.Skip("nothing to move")
		}
		scale := make([]float64, n)
		for i := range scale {
			scale[i] = math.Pow(10, rapid.Float64Range(-2, 2).Draw(t, "log of scale"))
		}
		m := NewPattern(c.sizes, c.coupled).NewMatrix()
		for _, pair := range c.pairs() {
			i, j := pair[0], pair[1]
			if i == j {
				continue
			}
			k := rapid.Float64Range(0.1, 10).Draw(t, "stiffness")
			m.Add(i, i, k/(scale[i]*scale[i]))
			m.Add(j, j, k/(scale[j]*scale[j]))
			m.Add(i, j, -k/(scale[i]*scale[j]))
		}
		_, err := m.Factorize()
		var loose *LooseError
		require.ErrorAs(t, err, &loose)
		require.EqualError(t, err, fmt.Sprintf("sparse: unknown %d moves without resistance", loose.Unknown))
		require.Equal(t, 1.0, loose.Motion[loose.Unknown])
		force := make([]float64, n)
		m.MulTo(force, loose.Motion)
		for i, v := range force {
			size := 0.0
			for j := range n {
				size += math.Abs(m.At(i, j) * loose.Motion[j])
			}
			// The pieces are chains and nets of springs that differ by at most a hundredfold.
			if !(math.Abs(v) <= 1e-9*size) {
				t.Fatalf("force %g on unknown %d of terms of size %g", v, i, size)
			}
		}
	})
}

// A pivot that is small by nature is not one that was lost: the test is against the unknown's own diagonal entry.
func TestSmallPivotsAreNotLoose(t *testing.T) {
	m := NewPattern([]int{1, 1}, [][]int{{0, 1}}).NewMatrix()
	m.Add(0, 0, 1e8)
	m.Add(1, 1, 1e-8)
	f, err := m.Factorize()
	require.NoError(t, err)
	dst := make([]float64, 2)
	f.SolveTo(dst, []float64{1e8, 1e-8})
	require.InDeltaSlice(t, []float64{1, 1}, dst, 1e-15)

	// Two unknowns tied by 1e8 and held by 1e-2: ten digits of a pivot are lost, six are left.
	m = NewPattern([]int{2}, nil).NewMatrix()
	m.Add(0, 0, 1e8+1e-2)
	m.Add(1, 1, 1e8)
	m.Add(0, 1, -1e8)
	f, err = m.Factorize()
	require.NoError(t, err)
	f.SolveTo(dst, []float64{1, 0})
	require.InEpsilon(t, 100, dst[0], 1e-5)
}

// What is no stiffness at all, negative or not a number, counts as loose too.
func TestIndefiniteMatrixIsLoose(t *testing.T) {
	for _, v := range []float64{0, -1, math.NaN()} {
		m := NewPattern([]int{1}, nil).NewMatrix()
		m.Add(0, 0, v)
		_, err := m.Factorize()
		var loose *LooseError
		require.ErrorAs(t, err, &loose, "%g", v)
	}
}

func TestFactorRefusesWrongLengths(t *testing.T) {
	m := NewPattern([]int{2}, nil).NewMatrix()
	m.Add(0, 0, 1)
	m.Add(1, 1, 1)
	f, err := m.Factorize()
	require.NoError(t, err)
	const message = "sparse: vectors of 2 and 1 for a factor of order 2"
	require.PanicsWithValue(t, message, func() { f.SolveTo(make([]float64, 2), make([]float64, 1)) })
	require.PanicsWithValue(t, message, func() { f.HalfTo(make([]float64, 2), make([]float64, 1)) })
}

// gridMatrix is a grid of springs, six unknowns a group, every unknown tied to those of its neighbours and to ground.
func gridMatrix(wide, deep int) *Matrix {
	const size = 6
	coupled := grid(wide, deep)
	m := NewPattern(even(wide*deep, size), coupled).NewMatrix()
	for _, pair := range coupled {
		for u := range size {
			for v := range size {
				k := 1 / float64(1+u+v)
				i, j := pair[0]*size+u, pair[1]*size+v
				m.Add(i, i, k)
				m.Add(j, j, k)
				m.Add(i, j, -k)
			}
		}
	}
	for i := range m.pattern.Order() {
		m.Add(i, i, 1)
	}
	return m
}

func TestGridMatrixOfTheBenchmarksIsSolved(t *testing.T) {
	m := gridMatrix(5, 4)
	f, err := m.Factorize()
	require.NoError(t, err)
	var chol mat.Cholesky
	require.True(t, chol.Factorize(dense(m)))
	n := m.pattern.Order()
	b := make([]float64, n)
	for i := range b {
		b[i] = float64(i%7 - 3)
	}
	var want mat.VecDense
	require.NoError(t, chol.SolveVecTo(&want, mat.NewVecDense(n, slices.Clone(b))))
	f.SolveTo(b, b)
	require.InDeltaSlice(t, want.RawVector().Data, b, solveTolerance)
}
