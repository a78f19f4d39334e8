package sparse

import "slices"

// run is a stretch of consecutive places.
type run struct{ at, length int32 }

// panel is a stretch of columns of one supernode. In a factor's store it is a dense block, row by row: the rows of its
// own columns first (a triangle; what is above the diagonal is not used), then those of the supernode's later columns,
// then the rows below the supernode.
type panel struct {
	first, width int32
	at           int // where it begins in the store
}

// supernodes are stretches of columns of L with the same rows below them, so that all arithmetic is on dense blocks.
// They are in postorder: a supernode comes after its descendants, which are the stretch before it.
type supernodes struct {
	first      []int32 // first column of each; one more than there are supernodes
	parent     []int32 // the supernode of the first row below, -1 at a root
	descendant []int32 // first of its subtree, itself at a leaf
	below      []int32 // rows below its own columns
	runStart   []int32 // where its rows begin in runs; one more
	runs       []run   // rows below, as places, ascending
	panelStart []int32 // where its panels begin; one more
	panels     []panel
	store      int       // places in a factor's store
	nonzeros   int       // entries on and below the diagonal of L, relaxed supernodes' zeros included
	work       []float64 // multiplications and additions in a supernode's subtree
	stack      []int     // most numbers of updates that are waiting while a subtree is factored
	children   []int32   // of all, parent by parent
	childStart []int32   // where a supernode's children begin; one more
}

func (s *supernodes) len() int { return len(s.below) }

// triangle is the number of entries on and below the diagonal of a square block.
func triangle(n int) int { return n * (n + 1) / 2 }

// A child is merged into its parent's supernode when that makes the two together no wider than narrow, or when no more
// than a part of the merged block is zeros: wide blocks are worth some zeros, for short rows are multiplied slowly.
// Limits by measurement on the shapes of the benchmarks.
var relaxations = []struct {
	width int     // up to this many columns
	zeros float64 // this part of the block may be zeros
}{
	{16, 0.6},
	{32, 0.3},
	{64, 0.12},
	{1 << 30, 0.04},
}

// relaxed are supernodes under construction, in the numbering of the fundamental ones.
type relaxed struct {
	parent      []int32
	width       []int32
	below       []int32
	zeros       []float64
	into        []int32 // the one it was merged into, itself otherwise
	first, last []int32 // chain of fundamental supernodes, in the order of elimination
	next        []int32
}

// relaxedSupernodes finds the fundamental supernodes (columns that follow one another up the tree and lose but their
// own rows) and merges children into parents while that costs few zeros (Ashcraft and Grimes, ACM Trans. Math. Softw.
// 15 (1989) 291). start is the first vertex of each fundamental supernode.
func relaxedSupernodes(t *tree, weight []int) (r *relaxed, start []int32) {
	n := len(t.parent)
	of := make([]int32, n)
	for k := range n {
		w := int32(0)
		if k > 0 {
			w = int32(weight[t.vertex[k-1]])
		}
		if k == 0 || t.parent[k-1] != int32(k) || t.count[k-1] != t.count[k]+w {
			start = append(start, int32(k))
		}
		of[k] = int32(len(start) - 1)
	}
	m := len(start)
	start = append(start, int32(n))
	scratch := make([]int32, 7*m)
	take := func() []int32 { s := scratch[:m:m]; scratch = scratch[m:]; return s }
	r = &relaxed{take(), take(), take(), make([]float64, m), take(), take(), take(), take()}
	for s := range m {
		r.parent[s] = -1
		if p := t.parent[start[s+1]-1]; p >= 0 {
			r.parent[s] = of[p]
		}
		for k := start[s]; k < start[s+1]; k++ {
			r.width[s] += int32(weight[t.vertex[k]])
		}
		r.below[s] = t.count[start[s]] - r.width[s]
		r.into[s], r.first[s], r.last[s], r.next[s] = int32(s), int32(s), int32(s), -1
	}
	// Children before parents; of a parent, the last child first, which mostly has the most rows in common.
	head, next := make([]int32, m), make([]int32, m)
	for s := range head {
		head[s] = -1
	}
	for s := range m {
		for c := head[s]; c >= 0; c = next[c] {
			r.mergeIfCheap(c, int32(s))
		}
		if p := r.parent[s]; p >= 0 {
			next[s], head[p] = head[p], int32(s)
		}
	}
	return r, start
}

func (r *relaxed) mergeIfCheap(c, s int32) {
	wc, ws, below := float64(r.width[c]), float64(r.width[s]), float64(r.below[s])
	zeros := r.zeros[c] + r.zeros[s] + wc*(ws+below-float64(r.below[c]))
	w := wc + ws
	block := w*(w+1)/2 + w*below
	for _, l := range relaxations {
		if w <= float64(l.width) {
			if zeros > l.zeros*block {
				return
			}
			break
		}
	}
	r.zeros[s] = zeros
	r.width[s] += r.width[c]
	r.into[c] = s
	r.next[r.last[c]] = r.first[s]
	r.first[s] = r.first[c]
}

// number numbers the merged supernodes in an order that needs little room for waiting updates, and renumbers the
// columns of the tree likewise. start is the first vertex of each fundamental supernode; vertices is that of each
// merged one, and one more.
func (r *relaxed) number(t *tree, start []int32) (s *supernodes, vertices []int32) {
	top, count := r.tops()
	f := r.forest(top)
	s = &supernodes{
		first: make([]int32, 1, count+1), parent: make([]int32, count), descendant: make([]int32, count),
		below: make([]int32, count), stack: make([]int, count), work: make([]float64, count),
	}
	vertices = make([]int32, 1, count+1)
	order := make([]int32, 0, len(t.vertex))
	number := make([]int32, len(top))
	f.postorder(func(k, descendant int32) {
		at := int32(len(vertices) - 1)
		number[k] = at
		s.below[at], s.stack[at], s.descendant[at] = r.below[k], f.peak[k], descendant
		s.first = append(s.first, s.first[at]+r.width[k])
		for c := r.first[k]; c >= 0; c = r.next[c] {
			order = append(order, t.vertex[start[c]:start[c+1]]...)
		}
		vertices = append(vertices, int32(len(order)))
	})
	for k, p := range f.parent {
		if top[k] != int32(k) {
			continue
		}
		s.parent[number[k]] = -1
		if p >= 0 {
			s.parent[number[k]] = number[p]
		}
	}
	t.vertex = order
	for k, v := range order {
		t.at[v] = int32(k)
	}
	t.parent, t.count = nil, nil // of the old numbering
	s.listChildren()
	return s, vertices
}

// tops gives the supernode that each has ended up in, itself if it was not merged, and the number of those.
func (r *relaxed) tops() (top []int32, count int) {
	top = make([]int32, len(r.into))
	for k := len(top) - 1; k >= 0; k-- {
		top[k] = int32(k)
		if r.into[k] != int32(k) {
			top[k] = top[r.into[k]]
		} else {
			count++
		}
	}
	return top, count
}

// forest is the merged supernodes as a tree: lists of children, in the order in which they are to be factored.
type forest struct {
	top    []int32
	parent []int32 // -1 at a root
	head   []int32 // first child, -1 at a leaf
	next   []int32 // next child of the same parent, -1 at the last
	peak   []int   // most numbers of updates that wait while the subtree is factored
}

// forest orders the children. A child's subtree needs a peak while it is factored and leaves its update behind; the
// children with the most difference between the two go first (Liu, ACM Trans. Math. Softw. 12 (1986) 249).
func (r *relaxed) forest(top []int32) *forest {
	m := len(top)
	f := &forest{top, make([]int32, m), make([]int32, m), make([]int32, m), make([]int, m)}
	for k := range m {
		f.head[k], f.parent[k] = -1, -1
	}
	update := func(k int32) int { return triangle(int(r.below[k])) }
	var list []int32
	for k := range int32(m) {
		if top[k] != k {
			continue
		}
		list = list[:0]
		for c := f.head[k]; c >= 0; c = f.next[c] {
			list = append(list, c)
		}
		slices.SortFunc(list, func(a, b int32) int {
			if da, db := f.peak[a]-update(a), f.peak[b]-update(b); da != db {
				return db - da
			}
			return int(a - b)
		})
		waiting := 0
		f.head[k] = -1
		for i, c := range list {
			f.peak[k] = max(f.peak[k], waiting+f.peak[c])
			waiting += update(c)
			f.next[c] = -1
			if i == 0 {
				f.head[k] = c
			} else {
				f.next[list[i-1]] = c
			}
		}
		f.peak[k] = max(f.peak[k], waiting+update(k))
		if p := r.parent[k]; p >= 0 {
			p = top[p] // of one that was merged its parent's parent is asked
			f.parent[k] = p
			f.next[k], f.head[p] = f.head[p], k
		}
	}
	return f
}

// postorder visits the supernodes, children before parents, with the number that the first of their subtree was visited
// as.
func (f *forest) postorder(visit func(k, descendant int32)) {
	at := int32(0)
	begin := make([]int32, len(f.top))
	for root := range int32(len(f.top)) {
		if f.top[root] != root || f.parent[root] >= 0 {
			continue
		}
		// Walk down the first children, visit on the way back.
		for k := root; k >= 0; {
			begin[k] = at
			if f.head[k] >= 0 {
				k = f.head[k]
				continue
			}
			for {
				visit(k, begin[k])
				at++
				if k == root {
					k = -1
					break
				}
				if f.next[k] >= 0 {
					k = f.next[k]
					break
				}
				k = f.parent[k]
			}
		}
	}
}

func (s *supernodes) listChildren() {
	n := s.len()
	s.childStart = make([]int32, n+1)
	for _, p := range s.parent {
		if p >= 0 {
			s.childStart[p+1]++
		}
	}
	for k := range n {
		s.childStart[k+1] += s.childStart[k]
	}
	s.children = make([]int32, s.childStart[n])
	for k := n - 1; k >= 0; k-- {
		if p := s.parent[k]; p >= 0 {
			s.childStart[p+1]--
			s.children[s.childStart[p+1]] = int32(k)
		}
	}
	copy(s.childStart, s.childStart[1:])
	s.childStart[n] = int32(len(s.children))
}

// of lists the children of a supernode, in the order in which they are factored.
func (s *supernodes) of(k int) []int32 { return s.children[s.childStart[k]:s.childStart[k+1]] }
