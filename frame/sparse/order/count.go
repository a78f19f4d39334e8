package order

// A count tells what a Cholesky factorisation in some order costs, with every coupling of two vertices taken as full.
type count struct {
	nonzeros   int // of the factor, the diagonal included
	operations int // multiplications with an addition
}

// counted returns the cost of a net's factorisation without forming the factor: the column counts of Gilbert, Ng &
// Peyton (1994, SIAM J. Matrix Anal. Appl. 15), with weights.
func (n *net) counted(order []int32) count {
	size := len(order)
	place := make([]int32, size)
	for k, v := range order {
		place[v] = int32(k)
	}
	parent := n.eliminationTree(order, place)
	post := postorder(parent)
	first := make([]int32, size) // first descendant of a column, by place in the postorder
	for k, j := range post {
		first[j] = int32(k)
	}
	below := make([]int, size)     // unknowns below the diagonal block; at first what they change by on the way up
	root := make([]int32, size)    // of the part of the tree gone through, with short cuts
	newest := make([]int32, size)  // last leaf found of a row's subtree, or -1
	reached := make([]int32, size) // greatest first descendant among those leaves
	for k := range size {
		root[k] = int32(k)
		newest[k], reached[k] = -1, -1
	}
	for _, j := range post {
		if p := parent[j]; p >= 0 {
			first[p] = min(first[p], first[j])
		}
		for _, v := range n.of(order[j]) {
			i := place[v]
			if i <= j || first[j] <= reached[i] {
				continue // above the diagonal, or no leaf of row i's subtree
			}
			w := int(n.weight[v])
			below[j] += w
			if newest[i] < 0 {
				below[i] -= w // row i's subtree ends with its diagonal
			} else {
				below[meeting(root, newest[i])] -= w
			}
			newest[i], reached[i] = j, first[j]
		}
		if p := parent[j]; p >= 0 {
			root[j] = p
		}
	}
	var c count
	for _, j := range post {
		if p := parent[j]; p >= 0 {
			below[p] += below[j]
		}
		w, b := int(n.weight[order[j]]), below[j]
		c.nonzeros += w*(w+1)/2 + w*b
		c.operations += w*b*(b+w) + w*w*w/3
	}
	return c
}

// meeting is where the way up from j ends so far, and cuts that way short.
func meeting(root []int32, j int32) int32 {
	end := j
	for root[end] != end {
		end = root[end]
	}
	for j != end {
		j, root[j] = root[j], end
	}
	return end
}

// eliminationTree gives each column's parent, the first row below its diagonal, or -1 (Liu 1986, ACM TOMS 12).
func (n *net) eliminationTree(order, place []int32) []int32 {
	parent := make([]int32, len(order))
	above := make([]int32, len(order)) // an ancestor, nearer to the root each time
	for k, v := range order {
		parent[k], above[k] = -1, -1
		for _, u := range n.of(v) {
			for i := place[u]; i < int32(k); {
				next := above[i]
				above[i] = int32(k)
				if next < 0 {
					parent[i] = int32(k)
					break
				}
				if next == int32(k) {
					break
				}
				i = next
			}
		}
	}
	return parent
}

// postorder lists a forest's columns, children before parents and subtrees together.
func postorder(parent []int32) []int32 {
	n := len(parent)
	child := make([]int32, n)
	sibling := make([]int32, n)
	for i := range child {
		child[i] = -1
	}
	root := int32(-1)
	for i := int32(n) - 1; i >= 0; i-- {
		if p := parent[i]; p >= 0 {
			sibling[i], child[p] = child[p], i
		} else {
			sibling[i], root = root, i
		}
	}
	list := make([]int32, 0, n)
	for at := root; at >= 0; {
		for child[at] >= 0 {
			at, child[at] = child[at], -1
		}
		list = append(list, at)
		if sibling[at] >= 0 {
			at = sibling[at]
		} else {
			at = parent[at]
		}
	}
	return list
}
