package sparse

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// couplings are random groups and which of them hang together: what NewPattern is given.
type couplings struct {
	sizes   []int
	coupled [][]int
}

// drawCouplings draws none to many groups, of no, one, six (a node's) or more unknowns; some hang together in cliques,
// others stay apart.
func drawCouplings(t *rapid.T) couplings {
	groups := int(math.Exp(rapid.Float64Range(0, 3.5).Draw(t, "log of groups"))) - rapid.IntRange(0, 1).Draw(t,
		"one fewer")
	c := couplings{sizes: make([]int, groups)}
	for g := range c.sizes {
		c.sizes[g] = rapid.SampledFrom([]int{0, 1, 1, 2, 5, 6, 7, 13}).Draw(t, "size")
	}
	if groups == 0 {
		return c
	}
	for range rapid.IntRange(0, 2*groups).Draw(t, "cliques") {
		c.coupled = append(c.coupled, rapid.SliceOfN(rapid.IntRange(0, groups-1), 0, 4).Draw(t, "clique"))
	}
	return c
}

func (c couplings) offsets() []int {
	offset := make([]int, len(c.sizes)+1)
	for g, s := range c.sizes {
		offset[g+1] = offset[g] + s
	}
	return offset
}

func (c couplings) unknowns() int { return c.offsets()[len(c.sizes)] }

// members lists the unknowns of a clique; every group is a clique of its own.
func (c couplings) members(clique []int) (list []int) {
	offset := c.offsets()
	seen := map[int]bool{}
	for _, g := range clique {
		if seen[g] {
			continue
		}
		seen[g] = true
		for u := offset[g]; u < offset[g+1]; u++ {
			list = append(list, u)
		}
	}
	return list
}

// pairs lists all coupled pairs of unknowns, with repeats.
func (c couplings) pairs() (list [][2]int) {
	for _, clique := range c.cliques() {
		for i, u := range clique {
			for _, v := range clique[:i+1] {
				list = append(list, [2]int{u, v})
			}
		}
	}
	return list
}

// cliques are the coupled unknowns, clique by clique.
func (c couplings) cliques() (list [][]int) {
	for g := range c.sizes {
		list = append(list, c.members([]int{g}))
	}
	for _, groups := range c.coupled {
		list = append(list, c.members(groups))
	}
	return list
}

// both is one matrix in both shapes.
type both struct {
	sparse *Matrix
	dense  *mat.SymDense // nil when there are no unknowns
}

// fill adds up G·Gᵀ over the cliques, G of the given number of random columns: a positive semi-definite matrix. Unknown
// i is scaled by scale[i].
func (c couplings) fill(t *rapid.T, columns int, scale []float64) both {
	n := c.unknowns()
	b := both{sparse: NewPattern(c.sizes, c.coupled).NewMatrix()}
	if n > 0 {
		b.dense = mat.NewSymDense(n, nil)
	}
	number := rapid.Float64Range(-1, 1)
	for _, clique := range c.cliques() {
		g := make([][]float64, len(clique))
		for i := range g {
			g[i] = rapid.SliceOfN(number, columns, columns).Draw(t, "row")
		}
		for i, u := range clique {
			for j, v := range clique[:i+1] {
				sum := 0.0
				for k := range columns {
					sum += g[i][k] * g[j][k]
				}
				b.add(u, v, sum*scale[u]*scale[v])
			}
		}
	}
	return b
}

func (b both) add(i, j int, v float64) {
	b.sparse.Add(i, j, v)
	b.dense.SetSym(i, j, b.dense.At(i, j)+v)
}

// drawScales draws one factor for each unknown; their squares reach over sixteen decades.
func (c couplings) drawScales(t *rapid.T) []float64 {
	scale := make([]float64, c.unknowns())
	for i := range scale {
		scale[i] = math.Pow(10, rapid.Float64Range(-4, 4).Draw(t, "log of scale"))
	}
	return scale
}

func drawVector(t *rapid.T, n int) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(-1, 1), n, n).Draw(t, "vector")
}

// drawDefinite draws a positive definite matrix whose condition, but for the scales, is moderate: on the diagonal of
// every unknown stands at least its scale squared.
func drawDefinite(t *rapid.T) (couplings, both, []float64) {
	c := drawCouplings(t)
	scale := c.drawScales(t)
	b := c.fill(t, 2, scale)
	for i, s := range scale {
		b.add(i, i, s*s)
	}
	return c, b, scale
}
