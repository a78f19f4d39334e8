package sparse

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// randomCouplings are small nets of groups, in log scale.
func randomCouplings(r *rand.Rand) couplings {
	groups := 1 + int(math.Exp(3*r.Float64()))
	c := couplings{sizes: make([]int, groups)}
	largest := 1 + int(math.Exp(3.2*r.Float64()*r.Float64()))
	for g := range c.sizes {
		c.sizes[g] = r.IntN(largest + 1)
	}
	for range r.IntN(2 * groups) {
		clique := make([]int, r.IntN(5))
		for i := range clique {
			clique[i] = r.IntN(groups)
		}
		c.coupled = append(c.coupled, clique)
	}
	return c
}

// randomMatrix sums up random elements: k = G·Gᵀ of each clique, or with entries of either sign.
func (c couplings) randomMatrix(r *rand.Rand, definite kind) *Matrix {
	m := NewPattern(c.sizes, c.coupled).NewMatrix()
	for _, members := range c.cliques() {
		g := make([]float64, len(members))
		for i, u := range members {
			if definite == positive {
				g[i] = r.NormFloat64()
				m.Add(u, u, 1)
			}
			for j, v := range members[:i+1] {
				if definite == positive {
					m.Add(u, v, g[i]*g[j])
				} else {
					m.Add(u, v, r.NormFloat64())
				}
			}
		}
	}
	return m
}

type kind int

const (
	positive kind = iota
	anySign
)

// Against gonum's dense Cholesky factorisation: solutions of one and of many right-hand sides, halves and compliances.
func TestThousandsOfMatricesAgainstDenseCholesky(t *testing.T) {
	worst := 0.0
	for seed := range uint64(4000) {
		r := rand.New(rand.NewPCG(seed, 1))
		c := randomCouplings(r)
		m := c.randomMatrix(r, positive)
		n := c.unknowns()
		if n == 0 {
			continue
		}
		f, err := m.Factorize()
		require.NoError(t, err)
		var chol mat.Cholesky
		require.True(t, chol.Factorize(dense(m)))
		columns := r.IntN(4)
		if seed%16 == 0 {
			columns = columnsAtOnce + 1
		}
		b, x, h := make([]float64, n*columns), make([]float64, n*columns), make([]float64, n*columns)
		terms := make([][]Term, columns)
		for j := range columns {
			for range 1 + r.IntN(3) {
				term := Term{r.IntN(n), r.NormFloat64()}
				terms[j] = append(terms[j], term)
				b[j*n+term.Unknown] += term.Factor
			}
		}
		f.SolveManyTo(x, b, columns)
		f.HalfManyTo(h, b, columns)
		compliance := make([]float64, columns*columns)
		f.ComplianceTo(compliance, terms)
		one, half := make([]float64, n), make([]float64, n)
		for j := range columns {
			bj := b[j*n : (j+1)*n]
			f.SolveTo(one, bj)
			f.HalfTo(half, bj)
			var want mat.VecDense
			require.NoError(t, chol.SolveVecTo(&want, mat.NewVecDense(n, bj)))
			scale := mat.Norm(&want, math.Inf(1))
			for i := range n {
				e := math.Max(math.Abs(one[i]-want.AtVec(i)), math.Abs(x[j*n+i]-want.AtVec(i))) / scale
				worst = math.Max(worst, e)
				if !(e <= solveTolerance) {
					t.Fatalf("seed %d, column %d, unknown %d: got %g and %g, want %g", seed, j, i, one[i], x[j*n+i], want.AtVec(i))
				}
				if !(math.Abs(half[i]-h[j*n+i]) <= solveTolerance*scale) {
					t.Fatalf("seed %d, column %d, place %d: halves %g and %g", seed, j, i, half[i], h[j*n+i])
				}
			}
			for k := range columns {
				product := mat.Dot(&want, mat.NewVecDense(n, b[k*n:(k+1)*n]))
				halves := mat.Dot(mat.NewVecDense(n, h[j*n:(j+1)*n]), mat.NewVecDense(n, h[k*n:(k+1)*n]))
				for _, got := range []float64{halves, compliance[j*columns+k], compliance[k*columns+j]} {
					if !(math.Abs(got-product) <= solveTolerance*scale*float64(n)) {
						t.Fatalf("seed %d, columns %d and %d: compliance %g, want %g", seed, j, k, got, product)
					}
				}
			}
		}
	}
	t.Logf("worst error of a solution: %.1e", worst)
}

// A residual of this part of its terms is asked of solutions of indefinite matrices.
const indefiniteTolerance = 1e-8

// Against gonum's dense eigenvalues, and by multiplying back.
func TestThousandsOfIndefiniteMatrices(t *testing.T) {
	stable, all, worst := 0, 0, 0.0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 2))
		c := randomCouplings(r)
		m := c.randomMatrix(r, anySign)
		n := c.unknowns()
		if n == 0 {
			continue
		}
		if seed%2 == 0 { // no diagonal at all: only pivots of two columns to begin with
			for i := range n {
				m.Add(i, i, -m.At(i, i))
			}
		}
		all++
		f, err := m.FactorizeIndefinite()
		if err != nil {
			require.ErrorIs(t, err, ErrUnstable)
			continue
		}
		stable++
		negative, zero, positive := f.Inertia()
		require.Equal(t, n, negative+zero+positive)
		var eigen mat.EigenSym
		require.True(t, eigen.Factorize(dense(m), false))
		values := eigen.Values(nil)
		below, above := 0, 0
		for _, v := range values {
			if margin := eigenTolerance * mat.Norm(dense(m), 2); v < -margin {
				below++
			} else if v > margin {
				above++
			}
		}
		require.LessOrEqual(t, below, negative, "seed %d", seed)
		require.LessOrEqual(t, above, positive, "seed %d", seed)
		b, x, back := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range b {
			b[i] = r.NormFloat64()
		}
		if err := f.SolveTo(x, b); err != nil {
			require.Less(t, below+above, n, "seed %d: %v", seed, err)
			continue
		}
		m.MulTo(back, x)
		for i := range n {
			size := 0.0
			for j := range n {
				size += math.Abs(m.At(i, j) * x[j])
			}
			e := math.Abs(back[i]-b[i]) / (size + mat.Norm(mat.NewVecDense(n, b), math.Inf(1)))
			worst = math.Max(worst, e)
			if !(e <= indefiniteTolerance) {
				t.Fatalf("seed %d, row %d: residual %g", seed, i, e)
			}
		}
	}
	t.Logf("%d of %d factors were stable; worst residual %.1e", stable, all, worst)
	require.Greater(t, stable, all*9/10)
}

// An eigenvalue this close to zero, relative to the largest, may be counted on either side.
const eigenTolerance = 1e-9
