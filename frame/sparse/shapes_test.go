package sparse

import (
	"math/rand/v2"
	"slices"
)

// shape is a grid of nodes of a structure.
type shape struct {
	name  string
	nodes [3]int
	size  int  // unknowns a node
	reach near // which nodes are coupled
}

// near says which neighbours of a grid's node it is coupled with.
type near int

const (
	alongAxes near = iota // by members
	allAround             // by hexahedra of eight nodes
	serendip              // by hexahedra of twenty nodes: nodes counts the hexahedra
)

var shapes = []shape{
	{"frame 8x8x8", [3]int{8, 8, 8}, 6, alongAxes},
	{"frame 16x16x16", [3]int{16, 16, 16}, 6, alongAxes},
	{"frame 24x24x24", [3]int{24, 24, 24}, 6, alongAxes},
	{"grillage 60x60", [3]int{60, 60, 1}, 6, alongAxes},
	{"grillage 150x150", [3]int{150, 150, 1}, 6, alongAxes},
	{"bricks 49x51x3", [3]int{49, 51, 3}, 3, allAround},
	{"bricks 80x100x5", [3]int{80, 100, 5}, 3, allAround},
	{"bricks 300x300x2", [3]int{300, 300, 2}, 3, allAround},
	{"twenty-node bricks 24x24x3", [3]int{24, 24, 3}, 3, serendip},
}

// cliques lists the coupled nodes: pairs for members, all nodes of a hexahedron otherwise.
func (s shape) cliques() (nodes int, list [][]int) {
	if s.reach == serendip {
		return s.twentyNodes()
	}
	step := [3]int{s.nodes[1] * s.nodes[2], s.nodes[2], 1}
	n := s.nodes[0] * step[0]
	for i := range n {
		at := [3]int{i / step[0], i / step[1] % s.nodes[1], i % s.nodes[2]}
		clique := []int{i}
		for d := range 3 {
			if at[d]+1 == s.nodes[d] {
				if s.reach == allAround && s.nodes[d] > 1 {
					clique = nil
				}
				continue
			}
			if s.reach == alongAxes {
				list = append(list, []int{i, i + step[d]})
				continue
			}
			for _, j := range clique {
				clique = append(clique, j+step[d])
			}
		}
		if s.reach == allAround && len(clique) > 1 {
			list = append(list, clique)
		}
	}
	return n, list
}

// twentyNodes numbers the nodes of a finer grid that has a node at each corner and at the middle of each edge.
func (s shape) twentyNodes() (nodes int, list [][]int) {
	number := map[[3]int]int{}
	for x := range s.nodes[0] {
		for y := range s.nodes[1] {
			for z := range s.nodes[2] {
				var clique []int
				for i := range 27 {
					d := [3]int{i / 9, i / 3 % 3, i % 3}
					middles := 0
					for _, v := range d {
						middles += v & 1
					}
					if middles > 1 {
						continue
					}
					at := [3]int{2*x + d[0], 2*y + d[1], 2*z + d[2]}
					if _, ok := number[at]; !ok {
						number[at] = len(number)
					}
					clique = append(clique, number[at])
				}
				list = append(list, clique)
			}
		}
	}
	return len(number), list
}

// sizes of the groups.
func (s shape) sizes(nodes int) []int { return slices.Repeat([]int{s.size}, nodes) }

// fill adds for each coupled pair of nodes a random Gram matrix of its 2·size unknowns and 0.01 on the diagonal, so
// that every entry of every block differs from zero and the matrix is positive definite.
func (s shape) fill(m *Matrix, nodes int, cliques [][]int) {
	random := rand.New(rand.NewPCG(1, 1))
	seen := map[[2]int]bool{}
	n := 2 * s.size
	g, k := make([]float64, n*n), make([]float64, n*n)
	for _, clique := range cliques {
		for a, i := range clique {
			for _, j := range clique[:a] {
				pair := [2]int{min(i, j), max(i, j)}
				if s.reach != alongAxes {
					if seen[pair] {
						continue
					}
					seen[pair] = true
				}
				for c := range g {
					g[c] = random.NormFloat64()
				}
				for r := range n {
					for c := range n {
						sum := 0.0
						if r == c {
							sum = 0.01
						}
						for l := range n {
							sum += g[r*n+l] * g[c*n+l]
						}
						k[r*n+c] = sum
					}
				}
				m.AddBlock(pair[:], k)
			}
		}
	}
}

// built is the pattern and the matrix of a shape.
func (s shape) built() (*Pattern, *Matrix) {
	nodes, cliques := s.cliques()
	p := NewPattern(s.sizes(nodes), cliques)
	m := p.NewMatrix()
	s.fill(m, nodes, cliques)
	return p, m
}
