package sparse

import "slices"

// neighbours lists, for every row, the other rows it has an entry with, ascending.
func (m *Matrix) neighbours() [][]int {
	degree := make([]int, m.n)
	for i := range m.n {
		for k := m.start[i]; k < m.start[i+1]; k++ {
			if j := m.col[k]; j != i {
				degree[i]++
				degree[j]++
			}
		}
	}
	list := make([][]int, m.n)
	for i, d := range degree {
		list[i] = make([]int, 0, d)
	}
	for i := range m.n {
		for k := m.start[i]; k < m.start[i+1]; k++ {
			if j := m.col[k]; j != i {
				list[i] = append(list[i], j)
				list[j] = append(list[j], i)
			}
		}
	}
	for i := range list {
		slices.Sort(list[i])
	}
	return list
}

// profileOrder returns the reverse Cuthill-McKee order: order[k] is the row that comes k-th. Each connected piece
// starts from a row at the end of one of its longest shortest paths (George & Liu 1981, section 4.3).
func profileOrder(near [][]int) []int {
	n := len(near)
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
		root := farEnd(near, seed, level)
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
			slices.SortStableFunc(order[at:], func(p, q int) int { return len(near[p]) - len(near[q]) })
		}
	}
	slices.Reverse(order)
	return order
}

// farEnd walks from seed to a row as far from another as any found: the start that makes levels narrow. level is a
// scratch of -1s and is left so.
func farEnd(near [][]int, seed int, level []int) int {
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
			if next < 0 || len(near[queue[k]]) < len(near[next]) || (len(near[queue[k]]) == len(near[next]) && queue[k] < next) {
				next = queue[k]
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
