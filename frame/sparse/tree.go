package sparse

import "tiploop/frame/sparse/order"

// tree is the elimination tree: the parent of column k is the row of the first entry below the diagonal of column k of
// L, -1 if there is none. Columns are vertices in the order of elimination, renumbered so that every subtree is a
// stretch that ends with its root (postorder), which changes neither the fill nor the work.
type tree struct {
	vertex []int32 // the vertex that is eliminated k-th
	at     []int32 // its inverse
	parent []int32
	count  []int32 // unknowns in column k of L, its own included
}

// newTree finds the tree by Liu's algorithm with path compression (ACM Trans. Math. Softw. 12 (1986) 127).
func newTree(g *order.Graph, elimination []int) *tree {
	n := len(elimination)
	t := &tree{vertex: make([]int32, n), at: make([]int32, n), parent: make([]int32, n)}
	at := t.at
	for k, v := range elimination {
		at[v] = int32(k)
	}
	parent := make([]int32, n)
	ancestor := make([]int32, n)
	for k, v := range elimination {
		parent[k], ancestor[k] = -1, -1
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			for i := at[u]; i < int32(k); {
				up := ancestor[i]
				ancestor[i] = int32(k)
				if up < 0 {
					parent[i] = int32(k)
					break
				}
				i = up
			}
		}
	}
	place := postorder(parent, ancestor)
	for k, v := range elimination {
		p := place[k]
		t.vertex[p] = int32(v)
		t.at[v] = p
		t.parent[p] = -1
		if parent[k] >= 0 {
			t.parent[p] = place[parent[k]]
		}
	}
	t.countColumns(g)
	return t
}

// postorder gives every node of a forest its place; children keep their order. Parents come after their children in
// parent already, so that subtree sizes are known before they are needed: a node's subtree ends where the next begins.
func postorder(parent, size []int32) (place []int32) {
	n := len(parent)
	for k := range n {
		size[k] = 1
	}
	for k, p := range parent {
		if p >= 0 {
			size[p] += size[k]
		}
	}
	// free is where the next child's subtree of a node begins; a root's goes after the roots before it.
	place = make([]int32, n)
	free := place
	end := int32(n)
	for k := n - 1; k >= 0; k-- { // parents first, last child last
		last := &end
		if parent[k] >= 0 {
			last = &free[parent[k]]
		}
		at := *last // one past the subtree of k
		*last -= size[k]
		free[k] = at - 1
	}
	// Every child moved its parent's mark down by its size: put it back.
	for k := range n {
		if p := parent[k]; p >= 0 {
			place[p] += size[k]
		}
	}
	return place
}

// countColumns counts the unknowns of each column of L without forming it (Gilbert, Ng and Peyton, SIAM J. Matrix Anal.
// Appl. 15 (1994) 1075), weighted by the vertices' unknowns.
//
// Row i of L is a subtree of the elimination tree that hangs on i. Its leaves are those columns j of row i of the
// matrix that have no earlier one of the row in their own subtree. Put i's weight on every leaf, take it off where the
// paths of two leaves that follow each other meet, and off again at the parent of i: then the sum over the subtree of j
// is i's weight just where column j has row i. All rows can be summed at once.
func (t *tree) countColumns(g *order.Graph) {
	n := len(t.vertex)
	count := make([]int32, n)
	scratch := make([]int32, 4*n)
	first, newest, leaf, ancestor := scratch[:n], scratch[n:2*n], scratch[2*n:3*n], scratch[3*n:]
	for j := range n {
		first[j], newest[j], leaf[j] = -1, -1, -1
		ancestor[j] = int32(j)
	}
	for j := range n {
		if first[j] < 0 {
			first[j] = int32(j)
			count[j] = int32(g.Weight[t.vertex[j]])
		}
		if p := t.parent[j]; p >= 0 && first[p] < 0 {
			first[p] = first[j]
		}
	}
	for j := range n {
		v := t.vertex[j]
		p := t.parent[j]
		if p >= 0 {
			count[p] -= int32(g.Weight[v])
		}
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			i := t.at[u]
			if i <= int32(j) || first[j] <= newest[i] {
				continue
			}
			newest[i] = first[j]
			w := int32(g.Weight[u])
			count[j] += w
			if q := leaf[i]; q >= 0 {
				top := q
				for ancestor[top] != top {
					top = ancestor[top]
				}
				for q != top {
					q, ancestor[q] = ancestor[q], top
				}
				count[top] -= w
			}
			leaf[i] = int32(j)
		}
		if p >= 0 {
			ancestor[j] = p
		}
	}
	for j, p := range t.parent {
		if p >= 0 {
			count[p] += count[j]
		}
	}
	t.count = count
}
