package sparse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse/order"
)

// eliminated eliminates places one after another by the definition: the neighbours of each that are left become
// neighbours of one another. It returns the lower triangle of L that holds an entry.
func eliminated(m *Matrix) [][]bool {
	n := m.pattern.n
	b := &m.pattern.blocks
	l := make([][]bool, n)
	for i := range l {
		l[i] = make([]bool, n)
	}
	for j := range n {
		for i := j; i < n; i++ {
			l[i][j] = b.find(b.of[i], b.of[j]) >= 0
		}
	}
	for j := range n {
		for i := j + 1; i < n; i++ {
			for k := j + 1; k <= i; k++ {
				l[i][k] = l[i][k] || l[i][j] && l[k][j]
			}
		}
	}
	return l
}

// Every entry of L has a place in its supernode, whose rows are all needed by some column of it, and the columns
// counted before anything is merged are those of L.
func TestSupernodesHoldTheFactor(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 5))
		c := randomCouplings(r)
		p := NewPattern(c.sizes, c.coupled)
		l := eliminated(p.NewMatrix())
		s := p.factors
		entries, rows := 0, 0
		for k := range s.len() {
			first, end := int(s.first[k]), int(s.first[k+1])
			require.LessOrEqual(t, int(s.descendant[k]), k)
			width, below := end-first, 0
			at := end
			holds := make([]bool, p.n)
			for _, run := range s.runsOf(k) {
				require.GreaterOrEqual(t, int(run.at), at)
				at = int(run.at + run.length)
				below += int(run.length)
				for i := run.at; i < run.at+run.length; i++ {
					holds[i] = true
				}
			}
			require.EqualValues(t, s.below[k], below)
			if below > 0 {
				parent := int(s.parent[k])
				lowest := int(s.runsOf(k)[0].at)
				require.True(t, int(s.first[parent]) <= lowest && lowest < int(s.first[parent+1]), "seed %d", seed)
			} else {
				require.EqualValues(t, -1, s.parent[k])
			}
			for i := end; i < p.n; i++ {
				needed := false
				for j := first; j < end; j++ {
					needed = needed || l[i][j]
				}
				require.Equal(t, needed, holds[i], "seed %d, supernode %d, row %d", seed, k, i)
			}
			entries += triangle(width) + width*below
			rows += below
		}
		require.Equal(t, p.n, int(s.first[s.len()]))
		require.Equal(t, entries, p.Entries())

		// The counts, on the tree as it was before merging.
		graph, _ := cliqueGraph(c.sizes, c.coupled)
		tree := newTree(graph, order.Elimination(graph))
		q := plainPattern(graph, tree)
		exact := eliminated(q.NewMatrix())
		for k := range tree.vertex {
			count := 0
			j := q.blocks.begin[k]
			for i := int(j); i < q.n; i++ {
				if exact[i][j] {
					count++
				}
			}
			require.EqualValues(t, count, tree.count[k], "seed %d, column %d", seed, k)
			if parent := tree.parent[k]; parent >= 0 {
				require.Greater(t, int(parent), k)
			}
		}
	}
}

// plainPattern has the blocks of a matrix in the order of a tree and no supernodes.
func plainPattern(g *order.Graph, t *tree) *Pattern {
	begin := make([]int32, len(t.vertex)+1)
	for k, v := range t.vertex {
		begin[k+1] = begin[k] + int32(g.Weight[v])
	}
	return &Pattern{n: int(begin[len(t.vertex)]), blocks: newBlocks(g, t, begin, nil)}
}

// A path, however it is numbered, needs no fill: two blocks a group. Merging may add zeros up to its limit.
func TestPathNeedsNoFill(t *testing.T) {
	for _, n := range []int{1, 2, 3, 10, 101} {
		for _, size := range []int{1, 2, 6} {
			graph, _ := cliqueGraph(even(n, size), path(n))
			tree := newTree(graph, order.Elimination(graph))
			sum := 0
			for _, c := range tree.count {
				sum += size*int(c) - size*(size-1)/2
			}
			require.Equal(t, n*size*(size+1)/2+(n-1)*size*size, sum)
			require.LessOrEqual(t, float64(sum), float64(NewPattern(even(n, size), path(n)).Entries()))
			require.LessOrEqual(t, (1-relaxations[0].zeros)*float64(NewPattern(even(n, size), path(n)).Entries()), float64(sum))
		}
	}
}

// A column and the next one up the tree are one supernode only if the next one's rows are its own less its diagonal.
// Groups of different size hide that: here the first group's column has as many rows as if the second were of the
// first's size. The solution is held against gonum's dense one.
func TestGroupsOfUnevenSizeAreNotMistakenForOneSupernode(t *testing.T) {
	const unit = 20
	for _, sizes := range [][]int{{3 * unit, unit, 2 * unit}, {5 * unit, 2 * unit, 3 * unit}, {unit, 3 * unit, 2 * unit}} {
		m := NewPattern(sizes, [][]int{{0, 1}, {1, 2}}).NewMatrix()
		n := m.pattern.Order()
		group := func(i int) int {
			for g, s := range sizes {
				if i < s {
					return g
				}
				i -= s
			}
			return -1
		}
		for i := range n {
			for j := range i {
				if group(i)-group(j) < 2 {
					m.Add(i, j, math.Sin(float64(7*i+3*j)))
				}
			}
			m.Add(i, i, float64(2*n))
		}
		f, err := m.Factorize()
		require.NoError(t, err)
		var chol mat.Cholesky
		require.True(t, chol.Factorize(dense(m)))
		b := make([]float64, n)
		for i := range b {
			b[i] = float64(i%7 - 3)
		}
		var want mat.VecDense
		require.NoError(t, chol.SolveVecTo(&want, mat.NewVecDense(n, slices.Clone(b))))
		f.SolveTo(b, b)
		require.InDeltaSlice(t, want.RawVector().Data, b, solveTolerance)
	}
}
