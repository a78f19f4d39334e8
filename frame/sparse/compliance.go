package sparse

import (
	"fmt"
	"runtime"
	"slices"

	"gonum.org/v1/gonum/blas"
)

// Term is one entry of a column that has few.
type Term struct {
	Unknown int
	Factor  float64
}

// ComplianceTo writes C = Bᵀ·K⁻¹·B into dst, row by row: what a structure is to its neighbours at the contact spots
// whose movements are the columns of B. Repeated terms add up.
//
// C = HᵀH with L·H = P·B. H is never held as a whole. Every supernode has the columns with terms in its subtree only;
// it takes what its children leave at its own rows, makes its rows of H, adds their products to C and leaves the rest
// for its parent, as updates are left when the matrix is factored.
func (f *Factor) ComplianceTo(dst []float64, columns [][]Term) {
	m := len(columns)
	if len(dst) != m*m {
		panic(fmt.Sprintf("sparse: %d numbers for the compliance of %d columns", len(dst), m))
	}
	clear(dst)
	n := (m + productsAtOnce - 1) / productsAtOnce
	wanted := Wanted{Begin: make([]int, n+1), With: make([][]int, n)}
	blocks := make([][]block, n)
	for g := range n {
		wanted.Begin[g+1] = min((g+1)*productsAtOnce, m)
		for h := range g + 1 {
			wanted.With[g] = append(wanted.With[g], h)
			blocks[g] = append(blocks[g], block{dst[wanted.Begin[g]*m+wanted.Begin[h]:], m})
		}
	}
	f.comply(columns, wanted, blocks)
	for i := range m {
		for j := range i {
			dst[j*m+i] = dst[i*m+j]
		}
	}
}

// productsAtOnce is how many columns' products with as many others are summed up in one block: it stays in the cache.
const productsAtOnce = 48

// Wanted says which entries of a compliance are. Columns are in groups that follow one another.
type Wanted struct {
	Begin []int   // the first column of each group, and the number of columns
	With  [][]int // of each group: the groups before it and itself whose products with it are wanted, ascending
}

// PartialCompliance is those entries of C = Bᵀ·K⁻¹·B that were wanted.
type PartialCompliance struct {
	wanted Wanted
	blocks [][]block
}

// block is part of a matrix, row by row.
type block struct {
	entries []float64
	stride  int
}

// PartialCompliance computes some of the entries of C = Bᵀ·K⁻¹·B, between groups of columns: see ComplianceTo. It
// panics unless groups are in order.
func (f *Factor) PartialCompliance(columns [][]Term, wanted Wanted) *PartialCompliance {
	n := len(wanted.With)
	if len(wanted.Begin) != n+1 || wanted.Begin[0] != 0 || wanted.Begin[n] != len(columns) ||
		!slices.IsSorted(wanted.Begin) {
		panic(fmt.Sprintf("sparse: groups of columns that do not make up %d", len(columns)))
	}
	c := &PartialCompliance{wanted, make([][]block, n)}
	for g, with := range wanted.With {
		for i, h := range with {
			if h < 0 || h > g || i > 0 && h <= with[i-1] {
				panic(fmt.Sprintf("sparse: group %d is wanted with group %d", g, h))
			}
			rows, stride := wanted.Begin[g+1]-wanted.Begin[g], wanted.Begin[h+1]-wanted.Begin[h]
			c.blocks[g] = append(c.blocks[g], block{make([]float64, rows*stride), stride})
		}
	}
	f.comply(columns, wanted, c.blocks)
	for g, with := range wanted.With {
		if last := len(with) - 1; last >= 0 && with[last] == g {
			b := c.blocks[g][last]
			for i := range b.stride {
				for j := range i {
					b.entries[j*b.stride+i] = b.entries[i*b.stride+j]
				}
			}
		}
	}
	return c
}

// Between is the entries between two groups, h no higher than g, those of each column of g one after the other; nil if
// they were not wanted.
func (c *PartialCompliance) Between(g, h int) []float64 {
	if i, found := slices.BinarySearch(c.wanted.With[g], h); found {
		return c.blocks[g][i].entries
	}
	return nil
}

// comply adds the wanted products to blocks that belong to Wanted.With; of a group with itself only those on and below
// the diagonal.
func (f *Factor) comply(columns [][]Term, wanted Wanted, blocks [][]block) {
	r := newReduction(f, columns)
	r.wanted, r.into = wanted, blocks
	most := 0
	for g := range wanted.With {
		most = max(most, wanted.Begin[g+1]-wanted.Begin[g])
	}
	for t := range r.sums {
		r.sums[t] = make([]float64, most*most)
	}
	for k := range f.supernodes().len() {
		r.eliminate(k)
	}
}

// reduction is a compliance under way.
type reduction struct {
	factor  *Factor
	wanted  Wanted
	into    [][]block
	threads int
	own     [][]float64 // of the supernode at hand: the columns' entries there
	below   [][]float64 // and at the rows below
	begin   []int32     // where the terms of a supernode begin
	terms   []placed
	waiting []waiting   // of each supernode
	spare   [][]float64 // what was waiting, to be used again
	local   []int32     // row in the front by place
	index   []int32     // of a column among the supernode's
	present []stretch   // the groups that have columns at the supernode at hand
	blocks  [][]float64
	sums    [][]float64 // by thread: products of two groups
}

// stretch is those of a group's columns that are at a supernode: from to to of the supernode's.
type stretch struct{ group, from, to int }

type placed struct {
	place, column int32
	factor        float64
}

// waiting is what a supernode leaves for its parent: for each of its columns, ascending, entries at its rows below.
type waiting struct {
	columns []int32
	entries []float64
}

func newReduction(f *Factor, columns [][]Term) *reduction {
	s := f.supernodes()
	r := &reduction{
		factor: f, threads: runtime.GOMAXPROCS(0), begin: make([]int32, s.len()+1),
		waiting: make([]waiting, s.len()), local: make([]int32, f.pattern.n), index: make([]int32, len(columns)),
	}
	for range r.threads {
		r.blocks = append(r.blocks, make([]float64, columnsAtOnce*panelWidth))
	}
	r.sums = make([][]float64, r.threads)
	of := make([]int32, f.pattern.n)
	for k := range s.len() {
		for i := s.first[k]; i < s.first[k+1]; i++ {
			of[i] = int32(k)
		}
	}
	for _, terms := range columns {
		for _, t := range terms {
			r.begin[of[f.pattern.place[t.Unknown]]+1]++
		}
	}
	for k := range s.len() {
		r.begin[k+1] += r.begin[k]
	}
	r.terms = make([]placed, r.begin[s.len()])
	next := make([]int32, s.len())
	copy(next, r.begin)
	for j, terms := range columns {
		for _, t := range terms {
			at := f.pattern.place[t.Unknown]
			k := of[at]
			r.terms[next[k]] = placed{at, int32(j), t.Factor}
			next[k]++
		}
	}
	for j := range r.index {
		r.index[j] = -1
	}
	return r
}

// eliminate takes the columns through one supernode.
func (r *reduction) eliminate(k int) {
	own := r.columnsAt(k)
	if len(own) == 0 {
		return
	}
	s := r.factor.supernodes()
	width, below := int(s.first[k+1]-s.first[k]), int(s.below[k])
	entries := r.room(len(own) * (width + below))
	atRows, atColumns := entries[:len(own)*below], entries[len(own)*below:]
	r.own, r.below = r.own[:0], r.below[:0]
	for a := range own {
		r.own = append(r.own, atColumns[a*width:(a+1)*width])
		r.below = append(r.below, atRows[a*below:(a+1)*below])
	}
	r.gather(k)
	threads := 1
	if float64(len(own)*width*(width+below+len(own))) > frontToShare {
		threads = r.threads
	}
	batches := (len(own) + columnsAtOnce - 1) / columnsAtOnce
	each(threads, batches, func(t, i int) {
		from, to := i*columnsAtOnce, min((i+1)*columnsAtOnce, len(own))
		b := batch{r.factor, r.own[from:to], r.below[from:to], r.blocks[t]}
		b.up(k)
	})
	r.findPresent(own)
	each(threads, len(r.present), func(t, i int) {
		r.multiply(len(r.present)-1-i, own, atColumns, width, r.sums[t]) // the last groups have the most others
	})
	r.waiting[k] = waiting{own, atRows}
	for _, j := range own {
		r.index[j] = -1
	}
}

// columnsAt lists the columns that are at a supernode, ascending, by its terms and by what its children left, and notes
// the index of each.
func (r *reduction) columnsAt(k int) (own []int32) {
	for _, t := range r.termsOf(k) {
		r.index[t.column] = 0
	}
	for _, child := range r.factor.supernodes().of(k) {
		for _, j := range r.waiting[child].columns {
			r.index[j] = 0
		}
	}
	for j, v := range r.index {
		if v == 0 {
			r.index[j] = int32(len(own))
			own = append(own, int32(j))
		}
	}
	return own
}

// termsOf are the columns' terms at the unknowns of a supernode.
func (r *reduction) termsOf(k int) []placed { return r.terms[r.begin[k]:r.begin[k+1]] }

// gather adds up the terms at a supernode and what its children left there.
func (r *reduction) gather(k int) {
	s := r.factor.supernodes()
	first, width := s.first[k], int(s.first[k+1]-s.first[k])
	for i := range width {
		r.local[int(first)+i] = int32(i)
	}
	row := int32(width)
	for _, run := range s.runsOf(k) {
		for i := range run.length {
			r.local[run.at+i] = row + i
		}
		row += run.length
	}
	for _, t := range r.termsOf(k) {
		r.own[r.index[t.column]][t.place-first] += t.factor
	}
	for _, child := range s.of(k) {
		w := &r.waiting[child]
		rest := w.entries
		for _, j := range w.columns {
			a := r.index[j]
			for _, run := range s.runsOf(int(child)) {
				n := int(run.length)
				at := int(r.local[run.at])
				inOwn := min(max(width-at, 0), n)
				if inOwn > 0 {
					add(r.own[a][at:at+inOwn], rest)
				}
				if n > inOwn {
					add(r.below[a][at+inOwn-width:][:n-inOwn], rest[inOwn:])
				}
				rest = rest[n:]
			}
		}
		if len(w.entries) > 0 {
			r.spare = append(r.spare, w.entries)
		}
		*w = waiting{}
	}
}

// room is n zeros, in a spare place if one is large enough; the latest are the largest.
func (r *reduction) room(n int) []float64 {
	for i, spare := range slices.Backward(r.spare) {
		if cap(spare) >= n {
			r.spare = slices.Delete(r.spare, i, i+1)
			clear(spare[:n])
			return spare[:n]
		}
	}
	return make([]float64, n)
}

// findPresent finds the groups of a supernode's columns.
func (r *reduction) findPresent(own []int32) {
	r.present = r.present[:0]
	g := 0
	for a, j := range own {
		for int(j) >= r.wanted.Begin[g+1] {
			g++
		}
		if last := len(r.present) - 1; last >= 0 && r.present[last].group == g {
			r.present[last].to = a + 1
			continue
		}
		r.present = append(r.present, stretch{g, a, a + 1})
	}
}

// multiply adds the products of one of the present groups with those it is wanted with. at is the supernode's rows of
// H, column by column.
func (r *reduction) multiply(number int, own []int32, at []float64, width int, scratch []float64) {
	g := r.present[number]
	others := r.present[:number+1]
	for i, other := range r.wanted.With[g.group] {
		for len(others) > 0 && others[0].group < other {
			others = others[1:]
		}
		if len(others) == 0 {
			return
		}
		h := others[0]
		if h.group != other {
			continue
		}
		n := h.to - h.from
		sums := scratch[:(g.to-g.from)*n]
		clear(sums)
		for from := 0; from < width; from += panelWidth {
			w := min(panelWidth, width-from)
			for a := g.from; a < g.to; a++ {
				m := n
				if h.group == g.group {
					m = a + 1 - g.from
				}
				rows, column := at[h.from*width+from:], at[a*width+from:][:w]
				level2.Dgemv(blas.NoTrans, m, w, 1, rows, width, column, 1, 1, sums[(a-g.from)*n:], 1)
			}
		}
		b := r.into[g.group][i]
		for a := g.from; a < g.to; a++ {
			row := b.entries[(int(own[a])-r.wanted.Begin[g.group])*b.stride:]
			m := n
			if h.group == g.group {
				m = a + 1 - g.from
			}
			for c, v := range sums[(a-g.from)*n:][:m] {
				row[int(own[h.from+c])-r.wanted.Begin[other]] += v
			}
		}
	}
}
