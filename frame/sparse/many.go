package sparse

import (
	"fmt"
	"runtime"

	"gonum.org/v1/gonum/blas"
)

// columnsAtOnce is how many right-hand sides go through the factor together: enough that every number of the factor
// that is fetched from memory is used often, few enough that what they need of one supernode stays in the cache.
const columnsAtOnce = 40

// inFirstCache is how many numbers of a panel are used for all columns before the next are fetched: 32 KiB.
const inFirstCache = 4096

// batch is a number of right-hand sides at one supernode: the entries of each at the supernode's own columns and, for
// the rows below, what is taken off there on the way up or what stands there on the way down.
type batch struct {
	factor *Factor
	own    [][]float64
	below  [][]float64
	block  []float64 // for the entries at one panel's columns, row by row
}

// SolveManyTo solves K·X = B for a number of columns that follow one another: column j begins at j·Order(). dst may be
// b itself. It panics unless both have that many columns.
//
// Columns go through the factor in batches, on as many goroutines as GOMAXPROCS allows. Batches do not depend on that
// number, and no column on another.
func (f *Factor) SolveManyTo(dst, b []float64, columns int) {
	n := f.pattern.n
	if columns < 0 || len(dst) != n*columns || len(b) != n*columns {
		panic(fmt.Sprintf("sparse: %d and %d numbers for %d columns and a factor of order %d", len(dst), len(b), columns, n))
	}
	threads := runtime.GOMAXPROCS(0)
	carriers := make([]*carrier, threads)
	each(threads, (columns+columnsAtOnce-1)/columnsAtOnce, func(t, i int) {
		if carriers[t] == nil {
			carriers[t] = f.newCarrier(min(columns, columnsAtOnce))
		}
		from, to := i*columnsAtOnce, min((i+1)*columnsAtOnce, columns)
		carriers[t].solve(dst[from*n:to*n], b[from*n:to*n], to-from)
	})
}

// carrier carries whole columns, by place, through the supernodes.
type carrier struct {
	batch
	x         [][]float64
	scratches [][]float64 // for the rows of each below a supernode
	taken     []int       // which of the columns are at the supernode
}

func (f *Factor) newCarrier(columns int) *carrier {
	c := &carrier{
		batch: batch{factor: f, block: make([]float64, columns*panelWidth)},
		x:     make([][]float64, columns), scratches: make([][]float64, columns),
	}
	n, most := f.pattern.n, f.supernodes().most()
	scratch := make([]float64, columns*(n+most))
	for j := range columns {
		c.x[j], c.scratches[j], scratch = scratch[:n:n], scratch[n:n+most:n+most], scratch[n+most:]
	}
	return c
}

// solve solves for so many columns, no more than there is room for.
func (c *carrier) solve(dst, b []float64, columns int) {
	c.x = c.x[:columns]
	c.scatter(b)
	s := c.factor.supernodes()
	for k := range s.len() {
		c.forward(k)
	}
	for k := s.len() - 1; k >= 0; k-- {
		c.back(k)
	}
	for j, x := range c.x {
		column := dst[j*len(x):]
		for i, k := range c.factor.pattern.place {
			column[i] = x[k]
		}
	}
}

// start forgets the columns at a supernode.
func (t *batch) start() { t.own, t.below = t.own[:0], t.below[:0] }

// take adds a column that is at the supernode.
func (t *batch) take(own, below []float64) {
	t.own, t.below = append(t.own, own), append(t.below, below)
}

// scatter puts right-hand sides in the order of elimination.
func (c *carrier) scatter(b []float64) {
	for j, x := range c.x {
		column := b[j*len(x):]
		for i, k := range c.factor.pattern.place {
			x[k] = column[i]
		}
	}
}

// forward is Factor.forward for those columns that have entries at the supernode.
func (c *carrier) forward(k int) {
	s := c.factor.supernodes()
	c.start()
	c.taken = c.taken[:0]
	for j, x := range c.x {
		if own := x[s.first[k]:s.first[k+1]]; !zero(own) {
			below := c.scratches[j][:s.below[k]]
			clear(below)
			c.take(own, below)
			c.taken = append(c.taken, j)
		}
	}
	c.up(k)
	for a, j := range c.taken {
		below := c.below[a]
		for _, r := range s.runsOf(k) {
			add(c.x[j][r.at:r.at+r.length], below)
			below = below[r.length:]
		}
	}
}

// back is Factor.back for all columns.
func (c *carrier) back(k int) {
	s := c.factor.supernodes()
	c.start()
	for j, x := range c.x {
		below := c.scratches[j][:s.below[k]]
		at := 0
		for _, r := range s.runsOf(k) {
			at += copy(below[at:], x[r.at:r.at+r.length])
		}
		c.take(x[s.first[k]:s.first[k+1]], below)
	}
	c.down(k)
}

// up divides the columns' own entries by a supernode's triangle and takes their share off the rows below.
func (t *batch) up(k int) {
	s := t.factor.supernodes()
	if len(t.own) == 0 {
		return
	}
	for _, p := range s.panelsOf(k) {
		from, width := int(p.first-s.first[k]), int(p.width)
		store := t.factor.store[p.at:]
		t.divide(store, from, width)
		store = store[width*width:]
		to := from + width
		later := int(s.first[k+1]-s.first[k]) - to
		t.subtract(t.own, to, store, from, width, later)
		t.subtract(t.below, 0, store[later*width:], from, width, int(s.below[k]))
	}
}

// down takes the share of the rows below off the columns' own entries and divides them by the triangle's transpose.
func (t *batch) down(k int) {
	s := t.factor.supernodes()
	panels := s.panelsOf(k)
	for b := len(panels) - 1; b >= 0; b-- {
		p := panels[b]
		from, width := int(p.first-s.first[k]), int(p.width)
		to := from + width
		later := int(s.first[k+1]-s.first[k]) - to
		store := t.factor.store[p.at:]
		rest := store[width*width:]
		t.collect(t.own, to, rest, from, width, later)
		t.collect(t.below, 0, rest[later*width:], from, width, int(s.below[k]))
		t.divideByTranspose(store, from, width)
	}
}

// subtract takes the products of count rows of a panel with the columns' entries at the panel's columns off the target
// from its given row on. Few enough rows at a time are used for all columns to stay in the cache.
func (t *batch) subtract(target [][]float64, at int, rows []float64, from, width, count int) {
	stretch := max(inFirstCache/width&^3, 4)
	for ; count > 0; count -= stretch {
		n := min(stretch, count)
		for j, y := range target {
			subtractDots(y[at:at+n], rows, width, t.own[j][from:from+width])
		}
		at += n
		rows = rows[n*width:]
	}
}

// collect takes the products of the rows, transposed, with what the source has there off the columns' entries at the
// panel's columns.
func (t *batch) collect(source [][]float64, at int, rows []float64, from, width, count int) {
	stretch := max(inFirstCache/width&^3, 4)
	for ; count > 0; count -= stretch {
		n := min(stretch, count)
		for j, y := range source {
			level2.Dgemv(blas.Trans, n, width, -1, rows, width, y[at:at+n], 1, 1, t.own[j][from:from+width], 1)
		}
		at += n
		rows = rows[n*width:]
	}
}

// divide divides the columns' entries by a panel's triangle, side by side in a block of their own.
func (t *batch) divide(triangle []float64, from, width int) {
	c := len(t.own)
	scratch := t.sideBySide(from, width)
	for i := range width {
		row, own := triangle[i*width:], scratch[i*c:(i+1)*c]
		if i > 0 {
			level2.Dgemv(blas.Trans, i, c, -1, scratch, c, row[:i], 1, 1, own, 1)
		}
		for a := range own {
			own[a] /= row[i]
		}
	}
	t.putBack(from, width)
}

// sideBySide copies the entries at a panel's columns, row by row.
func (t *batch) sideBySide(from, width int) []float64 {
	c := len(t.own)
	for a, x := range t.own {
		for i, v := range x[from : from+width] {
			t.block[i*c+a] = v
		}
	}
	return t.block[:width*c]
}

func (t *batch) putBack(from, width int) {
	c := len(t.own)
	for a, x := range t.own {
		x = x[from : from+width]
		for i := range x {
			x[i] = t.block[i*c+a]
		}
	}
}

func (t *batch) divideByTranspose(triangle []float64, from, width int) {
	c := len(t.own)
	scratch := t.sideBySide(from, width)
	for i := width - 1; i >= 0; i-- {
		own := scratch[i*c : (i+1)*c]
		if n := width - i - 1; n > 0 {
			level2.Dgemv(blas.Trans, n, c, -1, scratch[(i+1)*c:], c, triangle[(i+1)*width+i:], width, 1, own, 1)
		}
		d := triangle[i*width+i]
		for a := range own {
			own[a] /= d
		}
	}
	t.putBack(from, width)
}
