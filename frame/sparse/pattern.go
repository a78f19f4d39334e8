package sparse

import (
	"fmt"
	"slices"
)

// Pattern says which unknowns are coupled, by groups, and in which order they are eliminated. Unknowns are numbered
// group after group.
type Pattern struct {
	n     int
	place []int // where an unknown stands in the order of elimination
	first []int // first column of the row that stands k-th
	start []int // where that row begins in a matrix's store; its diagonal is its last entry
}

// NewPattern orders groups of the given sizes. Every list of coupled groups stands for unknowns that are all coupled
// with one another.
func NewPattern(sizes []int, coupled [][]int) *Pattern {
	offset := make([]int, len(sizes)+1)
	for g, s := range sizes {
		if s < 0 {
			panic(fmt.Sprintf("sparse: group of %d unknowns", s))
		}
		offset[g+1] = offset[g] + s
	}
	near := neighbours(len(sizes), coupled)
	order := profileOrder(near, sizes)
	p := &Pattern{n: offset[len(sizes)], place: make([]int, offset[len(sizes)]), first: make([]int, 0, offset[len(sizes)])}
	begin := make([]int, len(sizes)) // place of a group's first unknown
	for k, at := 0, 0; k < len(order); k++ {
		begin[order[k]] = at
		at += sizes[order[k]]
	}
	for _, g := range order {
		lowest := begin[g]
		for _, h := range near[g] {
			if sizes[h] > 0 {
				lowest = min(lowest, begin[h])
			}
		}
		for u := range sizes[g] {
			p.place[offset[g]+u] = begin[g] + u
			p.first = append(p.first, lowest)
		}
	}
	p.start = make([]int, p.n+1)
	for k := range p.n {
		p.start[k+1] = p.start[k] + k - p.first[k] + 1
	}
	return p
}

// Order is the number of unknowns.
func (p *Pattern) Order() int { return p.n }

// Entries is the number of places in the profile, zeros inside it and the diagonal included.
func (p *Pattern) Entries() int { return p.start[p.n] }

// neighbours lists, for every group, the others it is coupled with, ascending.
func neighbours(n int, coupled [][]int) [][]int {
	near := make([][]int, n)
	for _, groups := range coupled {
		for _, g := range groups {
			if g < 0 || g >= n {
				panic(fmt.Sprintf("sparse: group %d of %d", g, n))
			}
			for _, h := range groups {
				if h != g {
					near[g] = append(near[g], h)
				}
			}
		}
	}
	for g := range near {
		slices.Sort(near[g])
		near[g] = slices.Compact(near[g])
	}
	return near
}

// profileOrder returns the reverse Cuthill-McKee order: order[k] is the group that comes k-th. Each connected piece
// starts from a group at the end of one of its longest shortest paths (George & Liu 1981, section 4.3).
func profileOrder(near [][]int, sizes []int) []int {
	n := len(near)
	degree := make([]int, n) // coupled unknowns
	for g := range near {
		for _, h := range near[g] {
			degree[g] += sizes[h]
		}
	}
	order := make([]int, 0, n)
	placed := make([]bool, n)
	level := make([]int, n)
	for i := range level {
		level[i] = -1
	}
	for seed := range n {
		if placed[seed] {
			continue
		}
		root := farEnd(near, degree, seed, level)
		first := len(order)
		order = append(order, root)
		placed[root] = true
		for k := first; k < len(order); k++ {
			at := len(order)
			for _, j := range near[order[k]] {
				if !placed[j] {
					placed[j] = true
					order = append(order, j)
				}
			}
			slices.SortStableFunc(order[at:], func(p, q int) int { return degree[p] - degree[q] })
		}
	}
	slices.Reverse(order)
	return order
}

// farEnd walks from seed to a group as far from another as any found: the start that makes levels narrow. level is a
// scratch of -1s and is left so.
func farEnd(near [][]int, degree []int, seed int, level []int) int {
	root, depth := seed, -1
	for {
		queue := []int{root}
		level[root] = 0
		for k := 0; k < len(queue); k++ {
			for _, j := range near[queue[k]] {
				if level[j] < 0 {
					level[j] = level[queue[k]] + 1
					queue = append(queue, j)
				}
			}
		}
		deepest := level[queue[len(queue)-1]]
		next := -1
		for k := len(queue) - 1; k >= 0 && level[queue[k]] == deepest; k-- {
			g := queue[k]
			if next < 0 || degree[g] < degree[next] || degree[g] == degree[next] && g < next {
				next = g
			}
		}
		for _, j := range queue {
			level[j] = -1
		}
		if deepest <= depth {
			return root
		}
		root, depth = next, deepest
	}
}
