package beam

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// areaRule is a place in a triangle, in area coordinates, and its part of the area.
type areaRule struct {
	l      [3]float64
	weight float64
}

// dunavant4 is exact to degree 4 (Dunavant, Int. J. Numer. Methods Eng. 21 (1985) 1129, p = 4).
var dunavant4 = func() (rule [6]areaRule) {
	const (
		a, wa = 0.445948490915965, 0.223381589678011
		b, wb = 0.091576213509771, 0.109951743655322
	)
	for i := range 3 {
		rule[i] = areaRule{[3]float64{a, a, a}, wa}
		rule[i].l[i] = 1 - 2*a
		rule[3+i] = areaRule{[3]float64{b, b, b}, wb}
		rule[3+i].l[i] = 1 - 2*b
	}
	return rule
}()

// shapeFunctions returns the six quadratic functions of a straight triangle and their gradients.
func shapeFunctions(p0, p1, p2 point, l [3]float64) (n [6]float64, grad [6]point) {
	a2 := cross(p0, p1, p2)
	dl := [3]point{
		{(p1[1] - p2[1]) / a2, (p2[0] - p1[0]) / a2},
		{(p2[1] - p0[1]) / a2, (p0[0] - p2[0]) / a2},
		{(p0[1] - p1[1]) / a2, (p1[0] - p0[0]) / a2},
	}
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		n[i] = l[i] * (2*l[i] - 1)
		n[3+i] = 4 * l[j] * l[k]
		for c := range 2 {
			grad[i][c] = (4*l[i] - 1) * dl[i][c]
			grad[3+i][c] = 4 * (l[j]*dl[k][c] + l[k]*dl[j][c])
		}
	}
	return n, grad
}

// newQuadratic adds a node in the middle of each side; nodes below len(m.points) are its corners.
func newQuadratic(m *mesh) *quadratic {
	q := &quadratic{
		nodes: len(m.points),
		elems: make([][6]int, len(m.tris)),
		laps:  make([][6][6]float64, len(m.tris)),
	}
	for t := range m.tris {
		tr := &m.tris[t]
		for i := range 3 {
			q.elems[t][i] = tr.v[i]
			if o := tr.n[i]; o != noNeighbour && o < t {
				q.elems[t][3+i] = q.elems[o][3+m.sideOf(o, t)]
				continue
			}
			q.elems[t][3+i] = q.nodes
			q.nodes++
		}
		p0, p1, p2 := m.points[tr.v[0]], m.points[tr.v[1]], m.points[tr.v[2]]
		for k := range 3 { // the middles of the sides integrate degree 2 exactly
			l := [3]float64{0.5, 0.5, 0.5}
			l[k] = 0
			_, grad := shapeFunctions(p0, p1, p2, l)
			w := cross(p0, p1, p2) / 6
			for i := range 6 {
				for j := range 6 {
					q.laps[t][i][j] += w * (grad[i][0]*grad[j][0] + grad[i][1]*grad[j][1])
				}
			}
		}
	}
	return q
}

// apply returns K·f, where K sums weight·∫∇N·∇N over the elements.
func (q *quadratic) apply(weights []float64, f []float64) []float64 {
	out := make([]float64, len(f))
	for t, el := range q.elems {
		for i, a := range el {
			for j, b := range el {
				out[a] += weights[t] * q.laps[t][i][j] * f[b]
			}
		}
	}
	return out
}

// narrowOrder returns the place of each node in an order that keeps neighbours close: reverse
// Cuthill–McKee from a node at the far end (George & Liu, Computer Solution of Large Sparse
// Positive Definite Systems, 1981, ch. 4).
func (q *quadratic) narrowOrder() []int {
	near := make([][]int, q.nodes)
	for _, el := range q.elems {
		for _, a := range el {
			near[a] = append(near[a], el[:]...)
		}
	}
	for a := range near {
		slices.Sort(near[a])
		near[a] = slices.Compact(near[a])
	}
	var walk []int
	start := 0
	for depth := -1; ; {
		seq, d := breadthFirst(near, start)
		if d <= depth {
			break
		}
		walk, depth, start = seq, d, seq[len(seq)-1]
	}
	place := make([]int, q.nodes)
	for i, a := range walk {
		place[a] = len(walk) - 1 - i
	}
	return place
}

// breadthFirst returns the nodes in the order met from start, fewest neighbours first within a
// level, and the number of levels.
func breadthFirst(near [][]int, start int) (seq []int, depth int) {
	met := make([]bool, len(near))
	seq = append(seq, start)
	met[start] = true
	for from := 0; from < len(seq); depth++ {
		to := len(seq)
		for ; from < to; from++ {
			first := len(seq)
			for _, b := range near[seq[from]] {
				if !met[b] {
					met[b] = true
					seq = append(seq, b)
				}
			}
			slices.SortStableFunc(seq[first:], func(a, b int) int { return len(near[a]) - len(near[b]) })
		}
	}
	return seq, depth
}

// solve returns the f for each right side with K·f = rhs where a node is not held and f = 0 where
// it is; order gives each node's place in the band.
func (q *quadratic) solve(weights []float64, order []int, held []bool, rhs ...[]float64) ([][]float64, bool) {
	n := q.nodes
	width := 0
	for _, el := range q.elems {
		for _, a := range el {
			for _, b := range el {
				width = max(width, order[a]-order[b])
			}
		}
	}
	band := mat.NewSymBandDense(n, width, nil)
	raw := band.RawSymBand()
	for t, el := range q.elems {
		for i, a := range el {
			for j, b := range el {
				if held[a] || held[b] || order[b] < order[a] {
					continue
				}
				raw.Data[order[a]*raw.Stride+order[b]-order[a]] += weights[t] * q.laps[t][i][j]
			}
		}
	}
	for a := range n {
		if held[a] {
			raw.Data[order[a]*raw.Stride] = 1
		}
	}
	var chol mat.BandCholesky
	if !chol.Factorize(band) {
		return nil, false
	}
	right := mat.NewDense(n, len(rhs), nil)
	for c, f := range rhs {
		for a := range n {
			if !held[a] {
				right.Set(order[a], c, f[a])
			}
		}
	}
	var left mat.Dense
	if err := chol.SolveTo(&left, right); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			return nil, false
		}
	}
	fields := make([][]float64, len(rhs))
	for c := range rhs {
		fields[c] = make([]float64, n)
		for a := range n {
			fields[c][a] = left.At(order[a], c)
		}
	}
	return fields, true
}
