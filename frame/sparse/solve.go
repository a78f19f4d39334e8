package sparse

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/blas"
)

func (f *Factor) check(dst, b []float64) {
	if n := f.pattern.n; len(dst) != n || len(b) != n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a factor of order %d", len(dst), len(b), n))
	}
}

// HalfTo writes y = L⁻¹·P·b into dst, so that bᵀ·K⁻¹·c is the inner product of the halves of b and c: half the work of
// a solve where only such products are wanted, and less where b is mostly zeros, for only supernodes on the way from
// its entries up the elimination tree take part. dst must not overlap b.
func (f *Factor) HalfTo(dst, b []float64) {
	f.check(dst, b)
	for i, k := range f.pattern.place {
		dst[k] = b[i]
	}
	s := f.supernodes()
	scratch := make([]float64, s.most())
	for k := range s.len() {
		f.forward(k, dst, scratch)
	}
}

// SolveTo writes the solution of K·x = b into dst. dst may be b itself.
func (f *Factor) SolveTo(dst, b []float64) {
	f.check(dst, b)
	s := f.supernodes()
	n := f.pattern.n
	scratch := make([]float64, n+s.most())
	x, scratch := scratch[:n], scratch[n:]
	for i, k := range f.pattern.place {
		x[k] = b[i]
	}
	for k := range s.len() {
		f.forward(k, x, scratch)
	}
	for k := s.len() - 1; k >= 0; k-- {
		f.back(k, x, scratch)
	}
	for i, k := range f.pattern.place {
		dst[i] = x[k]
	}
}

// BackTo writes x = Pᵀ·L⁻ᵀ·y into dst: of y whose entries are independent and alike, x has the covariance K⁻¹, which is
// how a matrix is probed by chance. dst may be y itself.
func (f *Factor) BackTo(dst, y []float64) {
	f.check(dst, y)
	s := f.supernodes()
	x, scratch := slices.Clone(y), make([]float64, s.most())
	for k := s.len() - 1; k >= 0; k-- {
		f.back(k, x, scratch)
	}
	for i, k := range f.pattern.place {
		dst[i] = x[k]
	}
}

// forward divides the entries of one supernode's columns by its triangle and takes their share off the rows below.
func (f *Factor) forward(k int, x, scratch []float64) {
	s := f.supernodes()
	own := x[s.first[k]:s.first[k+1]]
	if zero(own) {
		return
	}
	below := scratch[:s.below[k]]
	clear(below)
	for _, p := range s.panelsOf(k) {
		width := int(p.width)
		left := int(p.first - s.first[k])
		xp := own[left : left+width]
		store := f.store[p.at:]
		divide(xp, store)
		store = store[width*width:]
		if later := own[left+width:]; len(later) > 0 {
			subtractDots(later, store, width, xp)
			store = store[len(later)*width:]
		}
		if len(below) > 0 {
			subtractDots(below, store, width, xp)
		}
	}
	for _, r := range s.runsOf(k) {
		add(x[r.at:r.at+r.length], below)
		below = below[r.length:]
	}
}

// back takes the share of the rows below off the entries of one supernode's columns and divides them by its triangle's
// transpose.
func (f *Factor) back(k int, x, scratch []float64) {
	s := f.supernodes()
	own := x[s.first[k]:s.first[k+1]]
	below := scratch[:s.below[k]]
	at := 0
	for _, r := range s.runsOf(k) {
		at += copy(below[at:], x[r.at:r.at+r.length])
	}
	panels := s.panelsOf(k)
	for b := len(panels) - 1; b >= 0; b-- {
		p := panels[b]
		width := int(p.width)
		left := int(p.first - s.first[k])
		xp := own[left : left+width]
		store := f.store[p.at:]
		rest := store[width*width:]
		if later := own[left+width:]; len(later) > 0 {
			level2.Dgemv(blas.Trans, len(later), width, -1, rest, width, later, 1, 1, xp, 1)
			rest = rest[len(later)*width:]
		}
		if len(below) > 0 {
			level2.Dgemv(blas.Trans, len(below), width, -1, rest, width, below, 1, 1, xp, 1)
		}
		divideByTranspose(xp, store)
	}
}

// Triangles are gone through in steps of this many rows, the rest of which is a rectangle.
const triangleStep = 8

// divide divides x by a triangle that is as wide as x is long.
func divide(x, triangle []float64) {
	width := len(x)
	for from := 0; from < width; from += triangleStep {
		to := min(from+triangleStep, width)
		if from > 0 {
			subtractDots(x[from:to], triangle[from*width:], width, x[:from])
		}
		for i := from; i < to; i++ {
			row := triangle[i*width:]
			sum := x[i]
			for j, l := range row[from:i] {
				sum -= l * x[from+j]
			}
			x[i] = sum / row[i]
		}
	}
}

// divideByTranspose divides x by its transpose.
func divideByTranspose(x, triangle []float64) {
	width := len(x)
	for from := (width - 1) / triangleStep * triangleStep; from >= 0; from -= triangleStep {
		to := min(from+triangleStep, width)
		for i := to - 1; i >= from; i-- {
			row := triangle[i*width:]
			v := x[i] / row[i]
			x[i] = v
			for j, l := range row[from:i] {
				x[from+j] -= l * v
			}
		}
		if from > 0 {
			level2.Dgemv(blas.Trans, to-from, from, -1, triangle[from*width:], width, x[from:to], 1, 1, x[:from], 1)
		}
	}
}

func zero(x []float64) bool {
	for _, v := range x {
		if v != 0 {
			return false
		}
	}
	return true
}
