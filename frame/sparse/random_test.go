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

// randomMatrix sums up random elements: k = G·Gᵀ + 1 of each clique.
func (c couplings) randomMatrix(r *rand.Rand) *Matrix {
	m := NewPattern(c.sizes, c.coupled).NewMatrix()
	for _, members := range c.cliques() {
		g := make([]float64, len(members))
		for i, u := range members {
			g[i] = r.NormFloat64()
			m.Add(u, u, 1)
			for j, v := range members[:i+1] {
				m.Add(u, v, g[i]*g[j])
			}
		}
	}
	return m
}

// Against gonum's dense Cholesky factorisation: solutions of one and of many right-hand sides, halves and compliances.
func TestThousandsOfMatricesAgainstDenseCholesky(t *testing.T) {
	worst := 0.0
	for seed := range uint64(4000) {
		r := rand.New(rand.NewPCG(seed, 1))
		c := randomCouplings(r)
		m := c.randomMatrix(r)
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
		compliance := make([]float64, columns*columns)
		f.ComplianceTo(compliance, terms)
		one := make([]float64, n)
		for j := range columns {
			bj := b[j*n : (j+1)*n]
			f.SolveTo(one, bj)
			f.HalfTo(h[j*n:(j+1)*n], bj)
			var want mat.VecDense
			require.NoError(t, chol.SolveVecTo(&want, mat.NewVecDense(n, bj)))
			scale := mat.Norm(&want, math.Inf(1))
			for i := range n {
				e := math.Max(math.Abs(one[i]-want.AtVec(i)), math.Abs(x[j*n+i]-want.AtVec(i))) / scale
				worst = math.Max(worst, e)
				if !(e <= solveTolerance) {
					t.Fatalf("seed %d, column %d, unknown %d: got %g and %g, want %g", seed, j, i, one[i], x[j*n+i], want.AtVec(i))
				}
			}
			for k := range j + 1 {
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
