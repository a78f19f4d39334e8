package sparse

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// blockEdges are sizes on both sides of every block edge.
var blockEdges = []int{
	1, 2, 3, 4, 5, triangleStep - 1, triangleStep, triangleStep + 1, 31, 32, 33,
	panelWidth - 1, panelWidth, panelWidth + 1, 2*panelWidth - 1, 2 * panelWidth, 2*panelWidth + 1, 3*panelWidth + 2, 200,
}

// product is L·S·Lᵀ of a factor, by place.
func (f *Factor) product() [][]float64 {
	n := f.pattern.n
	l := make([][]float64, n)
	for i := range l {
		l[i] = make([]float64, n)
	}
	s := f.supernodes()
	for k := range s.len() {
		for _, p := range s.panelsOf(k) {
			row := f.store[p.at:]
			take := func(i int32, count int) {
				copy(l[i][p.first:], row[:count])
				row = row[p.width:]
			}
			for i := range p.width {
				take(p.first+i, int(i)+1)
			}
			for i := p.first + p.width; i < s.first[k+1]; i++ {
				take(i, int(p.width))
			}
			for _, r := range s.runsOf(k) {
				for i := range r.length {
					take(r.at+i, int(p.width))
				}
			}
		}
	}
	product := make([][]float64, n)
	for i := range product {
		product[i] = make([]float64, n)
		for j := range n {
			for m := range min(i, j) + 1 {
				product[i][j] += l[i][m] * l[j][m]
			}
		}
	}
	return product
}

// Two groups of every pair of sizes, the second hanging on the first: multiplied back.
func TestFactorsOfAllSizesMultiplyBack(t *testing.T) {
	worst := 0.0
	for _, a := range blockEdges {
		for _, b := range []int{0, 1, 3, 4, 5, panelWidth, panelWidth + 1} {
			r := rand.New(rand.NewPCG(uint64(a), uint64(b)))
			m := NewPattern([]int{a, b}, [][]int{{0, 1}}).NewMatrix()
			n := a + b
			k := make([]float64, n*n)
			for i := range n {
				for j := range i + 1 {
					k[i*n+j] = r.Float64() - 0.5
					k[j*n+i] = k[i*n+j]
				}
				k[i*n+i] += float64(n)
			}
			m.AddBlock([]int{0, 1}, k)
			f, err := m.Factorize()
			require.NoError(t, err)
			product := f.product()
			place := m.pattern.place
			for i := range n {
				for j := range n {
					e := math.Abs(product[place[i]][place[j]]-k[i*n+j]) / float64(n)
					worst = math.Max(worst, e)
					if !(e <= productTolerance) {
						t.Fatalf("groups of %d and %d, (%d, %d): got %g, want %g", a, b, i, j, product[place[i]][place[j]], k[i*n+j])
					}
				}
			}
			rhs, x, back := make([]float64, n), make([]float64, n), make([]float64, n)
			for i := range rhs {
				rhs[i] = r.NormFloat64()
			}
			f.SolveTo(x, rhs)
			m.MulTo(back, x)
			require.InDeltaSlice(t, rhs, back, solveTolerance)
		}
	}
	t.Logf("worst: %.1e of the diagonal", worst)
}

func TestSolvingAllocatesOnlyItsRoom(t *testing.T) {
	m := gridMatrix(8, 8)
	f, err := m.Factorize()
	require.NoError(t, err)
	x, y := make([]float64, m.pattern.n), make([]float64, m.pattern.n)
	require.LessOrEqual(t, testing.AllocsPerRun(10, func() { f.SolveTo(x, y) }), 1.0)
	require.LessOrEqual(t, testing.AllocsPerRun(10, func() { f.HalfTo(x, y) }), 1.0)
}
