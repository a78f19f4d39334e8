package sparse

import (
	"cmp"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// worker eliminates supernodes one after another.
//
// The method is the multifrontal one (Duff and Reid, ACM Trans. Math. Softw. 9 (1983) 302; Liu, SIAM Review 34 (1992)
// 82): a supernode's front takes the matrix's entries and its children's updates, its columns are eliminated, and its
// own update waits for its parent. In postorder the waiting updates are a stack.
//
// The same bytes come out whatever the number of goroutines: every front takes its children in the same order, and its
// rows are shared out in stretches that do not depend on that number and are computed one by one.
type worker struct {
	factor  *Factor
	matrix  *Matrix
	updates [][]float64 // waiting, of all supernodes
	threads int         // goroutines for the dense work of one front
	local   []int32     // row in the front by place
	stack   []float64
	top     int
	front   front
	rows    []int32 // rows and pieces of the front's links
	pieces  []piece
	floor   []float64
}

// Fewer multiplications and additions than these are not worth a second goroutine, for the tree and for one front.
const (
	workToShare  = 3e6
	frontToShare = 5e6
)

// Subtrees with less than this part of all work are factored by one worker each, the rest front by front by all.
const subtreePart = 1. / 24

// rowsAtOnce is how many rows of a front one goroutine takes at a time.
const rowsAtOnce = 64

// fill computes the factor and returns the first place without a pivot, -1 if there is none.
func (f *Factor) fill(m *Matrix) int32 {
	s := f.supernodes()
	n := s.len()
	if n == 0 {
		return -1
	}
	total := 0.0
	for k, p := range s.parent {
		if p < 0 {
			total += s.work[k]
		}
	}
	threads := runtime.GOMAXPROCS(0)
	w := worker{factor: f, matrix: m, updates: make([][]float64, n), threads: 1}
	if threads == 1 || total < workToShare {
		scratch := 0
		for k, p := range s.parent {
			if p < 0 {
				scratch = max(scratch, s.stack[k])
			}
		}
		w.prepare(scratch)
		return w.subtree(0, n)
	}
	return w.share(threads, total*subtreePart)
}

// share factors subtrees of no more than the given work at the same time, then the rest.
func (w *worker) share(threads int, most float64) int32 {
	s := w.factor.supernodes()
	roots, rest := s.subtrees(most)
	first := w.factorApart(threads, roots)
	w.threads = threads
	w.prepare(0)
	for _, k := range rest {
		if first >= 0 && first < s.first[k] {
			break
		}
		if at := w.eliminate(int(k), make([]float64, triangle(int(s.below[k])))); at >= 0 {
			return at
		}
		for _, c := range s.of(int(k)) {
			w.updates[c] = nil
		}
	}
	return first
}

// subtrees are the roots of the largest subtrees with no more than the given work, those with the most work first so
// that all end at about the same time, and the supernodes above them.
func (s *supernodes) subtrees(most float64) (roots, rest []int32) {
	for k, p := range s.parent {
		switch {
		case s.work[k] > most:
			rest = append(rest, int32(k))
		case p < 0 || s.work[p] > most:
			roots = append(roots, int32(k))
		}
	}
	slices.SortStableFunc(roots, func(a, b int32) int { return cmp.Compare(s.work[b], s.work[a]) })
	return roots, rest
}

// factorApart factors subtrees side by side and returns the first place without a pivot, -1 if there is none.
func (w *worker) factorApart(threads int, roots []int32) (first int32) {
	s := w.factor.supernodes()
	scratch := 0
	for _, k := range roots {
		scratch = max(scratch, s.stack[k])
	}
	failed := make([]int32, len(roots))
	workers := make([]*worker, threads)
	each(threads, len(roots), func(t, i int) {
		own := workers[t]
		if own == nil {
			copied := *w
			own = &copied
			own.prepare(scratch)
			workers[t] = own
		}
		k := roots[i]
		own.top = 0
		failed[i] = own.subtree(int(s.descendant[k]), int(k)+1)
		w.updates[k] = slices.Clone(w.updates[k])
	})
	first = -1
	for _, at := range failed {
		if at >= 0 && (first < 0 || at < first) {
			first = at
		}
	}
	return first
}

func (w *worker) prepare(scratch int) {
	w.local = make([]int32, w.factor.pattern.n)
	w.floor = make([]float64, panelWidth)
	w.stack = make([]float64, scratch)
}

// subtree eliminates supernodes from to to, a forest, with updates on the worker's stack.
func (w *worker) subtree(from, to int) int32 {
	s := w.factor.supernodes()
	for k := from; k < to; k++ {
		size := triangle(int(s.below[k]))
		at := w.top
		if failed := w.eliminate(k, w.stack[at:at+size]); failed >= 0 {
			return failed
		}
		// The children's updates are used up: move this one to where they were.
		base := at
		for _, c := range s.of(k) {
			base -= len(w.updates[c])
		}
		if base < at {
			copy(w.stack[base:], w.stack[at:at+size])
			w.updates[k] = w.stack[base : base+size]
		}
		w.top = base + size
	}
	return -1
}

// eliminate eliminates one supernode and leaves its update, in the room given, to wait for its parent.
func (w *worker) eliminate(k int, update []float64) int32 {
	f := w.open(k)
	f.update = update
	w.updates[k] = update
	store := w.factor.store
	width, below := float64(f.width), float64(f.below)
	shared := w.threads > 1 && width*(width*width/3+below*(width+below)) > frontToShare
	// The tree's shape, not the number of goroutines, decides how rows are cut.
	rows := func(from, to int, do func(from, to int)) {
		if !shared {
			do(from, to)
			return
		}
		n := (to - from + rowsAtOnce - 1) / rowsAtOnce
		each(w.threads, n, func(_, i int) {
			i = n - 1 - i // the last rows are the longest
			do(from+i*rowsAtOnce, min(from+(i+1)*rowsAtOnce, to))
		})
	}
	for i := range f.children {
		l := &f.children[i]
		rows(0, len(l.at), func(from, to int) { l.addToPanels(store, from, to) })
	}
	for b, p := range f.panels {
		left, width := int(p.first-f.first), int(p.width)
		if b > 0 {
			rows(left, f.width+f.below, func(from, to int) {
				for ; from < to; from += arithmetic.rowsInCache {
					f.catchUp(store, b, from, min(from+arithmetic.rowsInCache, to))
				}
			})
		}
		if failed := w.pivots(f, b); failed >= 0 {
			return failed
		}
		rows(left+width, f.width+f.below, func(from, to int) {
			for ; from < to; from += arithmetic.rowsInCache {
				f.divide(store, b, from, min(from+arithmetic.rowsInCache, to))
			}
		})
	}
	if f.below == 0 {
		return -1
	}
	rows(0, f.below, func(from, to int) {
		for ; from < to; from += arithmetic.rowsInCache {
			f.multiply(store, from, min(from+arithmetic.rowsInCache, to))
		}
	})
	for i := range f.children {
		l := &f.children[i]
		rows(0, len(l.at), func(from, to int) { l.addToUpdate(f, from, to) })
	}
	return -1
}

// pivots factors the block of a panel's own columns and returns the first place without a pivot, -1 if there is none.
func (w *worker) pivots(f *front, b int) int32 {
	p := f.panels[b]
	width := int(p.width)
	store := w.factor.store[p.at:]
	for j := range width {
		w.floor[j] = pivotFloor * w.matrix.diagonal(p.first+int32(j))
	}
	if j := arithmetic.pivots(store, width, w.floor); j >= 0 {
		return p.first + int32(j)
	}
	return -1
}

// each calls do for 0 … count−1, in no particular order, on so many goroutines, numbered from 0.
func each(threads, count int, do func(thread, i int)) {
	if threads = min(threads, count); threads <= 1 {
		for i := range count {
			do(0, i)
		}
		return
	}
	var next atomic.Int64
	var done sync.WaitGroup
	for t := range threads {
		done.Go(func() {
			for i := int(next.Add(1)) - 1; i < count; i = int(next.Add(1)) - 1 {
				do(t, i)
			}
		})
	}
	done.Wait()
}
