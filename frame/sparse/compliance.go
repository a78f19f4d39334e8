package sparse

import (
	"fmt"
	"runtime"

	"gonum.org/v1/gonum/blas"
)

// Term is one entry of a column that has few.
type Term struct {
	Unknown int
	Factor  float64
}

// ComplianceTo writes C = Bᵀ·K⁻¹·B into dst, row by row: what a structure is to its neighbours at the contact spots whose
// movements are the columns of B. Repeated terms add up.
//
// C = HᵀH with L·H = P·B. H is never held as a whole. Every supernode has the columns with terms in its subtree only; it
// takes what its children leave at its own rows, makes its rows of H, adds their products to C and leaves the rest for
// its parent, as updates are left when the matrix is factored.
func (f *Factor) ComplianceTo(dst []float64, columns [][]Term) {
	m := len(columns)
	if len(dst) != m*m {
		panic(fmt.Sprintf("sparse: %d numbers for the compliance of %d columns", len(dst), m))
	}
	clear(dst)
	s := f.supernodes()
	r := newReduction(f, columns)
	for k := range s.len() {
		r.eliminate(k, dst)
	}
	for i := range m {
		for j := range i {
			dst[j*m+i] = dst[i*m+j]
		}
	}
}

// reduction is a ComplianceTo under way.
type reduction struct {
	factor  *Factor
	columns int
	threads int
	own     [][]float64 // of the supernode at hand: the columns' entries there
	below   [][]float64 // and at the rows below
	begin   []int32     // where the terms of a supernode begin
	terms   []placed
	waiting []waiting // of each supernode
	local   []int32   // row in the front by place
	index   []int32   // of a column among the supernode's
	blocks  [][]float64
	sums    [][]float64
}

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
		factor: f, columns: len(columns), threads: runtime.GOMAXPROCS(0), begin: make([]int32, s.len()+1),
		waiting: make([]waiting, s.len()), local: make([]int32, f.pattern.n), index: make([]int32, len(columns)),
	}
	for range r.threads {
		r.blocks = append(r.blocks, make([]float64, columnsAtOnce*panelWidth))
		r.sums = append(r.sums, make([]float64, len(columns)))
	}
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
func (r *reduction) eliminate(k int, c []float64) {
	s := r.factor.supernodes()
	terms := r.terms[r.begin[k]:r.begin[k+1]]
	for _, t := range terms {
		r.index[t.column] = 0
	}
	for _, child := range s.of(k) {
		for _, j := range r.waiting[child].columns {
			r.index[j] = 0
		}
	}
	var own []int32
	for j, v := range r.index {
		if v == 0 {
			r.index[j] = int32(len(own))
			own = append(own, int32(j))
		}
	}
	if len(own) == 0 {
		return
	}
	first, width, below := s.first[k], int(s.first[k+1]-s.first[k]), int(s.below[k])
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
	entries := make([]float64, len(own)*(width+below))
	atRows, atColumns := entries[:len(own)*below], entries[len(own)*below:]
	r.own, r.below = r.own[:0], r.below[:0]
	for a := range own {
		r.own, r.below = append(r.own, atColumns[a*width:(a+1)*width]), append(r.below, atRows[a*below:(a+1)*below])
	}
	for _, t := range terms {
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
		*w = waiting{}
	}
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
	each(threads, batches, func(t, i int) {
		i = batches - 1 - i // the last rows are the longest
		for a := i * columnsAtOnce; a < min((i+1)*columnsAtOnce, len(own)); a++ {
			sum := r.sums[t][:a+1]
			clear(sum)
			level2.Dgemv(blas.NoTrans, a+1, width, 1, atColumns, width, r.own[a], 1, 1, sum, 1)
			row := c[int(own[a])*r.columns:]
			for b, v := range sum {
				row[own[b]] += v
			}
		}
	})
	r.waiting[k] = waiting{own, atRows}
	for _, j := range own {
		r.index[j] = -1
	}
}
