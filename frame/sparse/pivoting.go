package sparse

import (
	"math"

	"gonum.org/v1/gonum/blas"
)

// parlett is the part of the largest entry that the largest one on the diagonal must reach to be the pivot: the bound
// of growth per column is then least (Bunch and Parlett 1971).
var parlett = (1 + math.Sqrt(17)) / 8

// pivoting is one panel's own block while it is factored, full and symmetric, row by row.
type pivoting struct {
	a     []float64
	width int
	from  []int32
	sign  []float64
	pair  []bool
}

func (p *pivoting) at(i, j int) *float64 { return &p.a[i*p.width+j] }

// factorBlock factors the block of a panel and puts L, in the order of the pivots, below its diagonal. On the diagonal
// stand, for a pivot d of one column, sign(d)/√|d|, and for one of two, T = V·|Λ|^−½·S: what the columns of L are the
// reduced matrix's columns times. It returns the number of columns that found a pivot.
func (f *IndefiniteFactor) factorBlock(store []float64, first int32, width int) int {
	p := &pivoting{
		make([]float64, width*width), width,
		f.from[first:][:width], f.sign[first:][:width], f.pair[first:][:width],
	}
	for i := range width {
		p.from[i] = int32(i)
		for j := range i + 1 {
			*p.at(i, j) = store[i*width+j]
			*p.at(j, i) = store[i*width+j]
		}
	}
	done := 0
	for done < width {
		step := p.step(done)
		if step == 0 {
			break
		}
		done += step
	}
	for i := range width {
		n := i + 1
		if p.pair[i] {
			n++
		}
		if i >= done {
			n = done
			clear(store[i*width:][:i+1])
		}
		copy(store[i*width:][:n], p.a[i*width:])
	}
	return done
}

// step takes the next pivot and returns its number of columns, 0 if all entries have vanished.
func (p *pivoting) step(j int) int {
	diagonal, other, d, r, s := 0.0, 0.0, j, j, j
	for i := j; i < p.width; i++ {
		if v := math.Abs(*p.at(i, i)); v > diagonal {
			diagonal, d = v, i
		}
		for k, v := range p.a[i*p.width:][j:i] {
			if v = math.Abs(v); v > other {
				other, r, s = v, i, j+k
			}
		}
	}
	switch {
	case !(max(diagonal, other) > vanished):
		return 0
	case diagonal >= parlett*other:
		p.swap(j, d)
		p.single(j)
		return 1
	}
	p.swap(j, s)
	p.swap(j+1, r)
	p.double(j)
	return 2
}

func (p *pivoting) swap(i, j int) {
	if i == j {
		return
	}
	for k := range p.width {
		*p.at(i, k), *p.at(j, k) = *p.at(j, k), *p.at(i, k)
	}
	for k := range p.width {
		*p.at(k, i), *p.at(k, j) = *p.at(k, j), *p.at(k, i)
	}
	p.from[i], p.from[j] = p.from[j], p.from[i]
}

func (p *pivoting) single(j int) {
	d := *p.at(j, j)
	p.sign[j] = math.Copysign(1, d)
	t := p.sign[j] / math.Sqrt(math.Abs(d))
	*p.at(j, j) = t
	for i := j + 1; i < p.width; i++ {
		*p.at(i, j) *= t
	}
	for i := j + 1; i < p.width; i++ {
		l := p.sign[j] * *p.at(i, j)
		for k := j + 1; k <= i; k++ {
			*p.at(i, k) -= l * *p.at(k, j)
			*p.at(k, i) = *p.at(i, k)
		}
	}
}

func (p *pivoting) double(j int) {
	t, sign := eigen(*p.at(j, j), *p.at(j+1, j), *p.at(j+1, j+1))
	p.pair[j] = true
	p.sign[j], p.sign[j+1] = sign[0], sign[1]
	*p.at(j, j), *p.at(j, j+1), *p.at(j+1, j), *p.at(j+1, j+1) = t[0], t[1], t[2], t[3]
	for i := j + 2; i < p.width; i++ {
		a, b := *p.at(i, j), *p.at(i, j+1)
		*p.at(i, j), *p.at(i, j+1) = a*t[0]+b*t[2], a*t[1]+b*t[3]
	}
	for i := j + 2; i < p.width; i++ {
		l, m := sign[0]**p.at(i, j), sign[1]**p.at(i, j+1)
		for k := j + 2; k <= i; k++ {
			*p.at(i, k) -= l**p.at(k, j) + m**p.at(k, j+1)
			*p.at(k, i) = *p.at(i, k)
		}
	}
}

// eigen returns V·|Λ|^−½·S and the signs S of the eigenvalues Λ of [a b; b c], by one Jacobi rotation (Golub and Van
// Loan, Matrix Computations, 4th ed. 2013, section 8.5.2).
func eigen(a, b, c float64) (t [4]float64, sign [2]float64) {
	tau := (c - a) / (2 * b)
	tangent := math.Copysign(1, tau) / (math.Abs(tau) + math.Hypot(1, tau))
	cosine := 1 / math.Hypot(1, tangent)
	sine := tangent * cosine
	v := [4]float64{cosine, sine, -sine, cosine}
	for k, l := range [2]float64{a - tangent*b, c + tangent*b} {
		sign[k] = math.Copysign(1, l)
		w := sign[k] / math.Sqrt(math.Abs(l))
		t[k], t[2+k] = v[k]*w, v[2+k]*w
	}
	return t, sign
}

// divideRows turns rows of a panel below its own block into rows of L.
func (f *IndefiniteFactor) divideRows(q, block []float64, first int32, rows, width int) {
	room := make([]float64, 2*width)
	old, factors := room[:width], room[width:]
	from, sign, pair := f.from[first:], f.sign[first:], f.pair[first:]
	for r := range rows {
		row := q[r*width:][:width]
		copy(old, row)
		for j := range row {
			row[j] = old[from[j]]
		}
	}
	for j := 0; j < width; {
		count := 1
		if pair[j] {
			count = 2
		}
		for c := j; c < j+count && j > 0; c++ {
			for l, v := range block[c*width:][:j] {
				factors[l] = v * sign[l]
			}
			level2.Dgemv(blas.NoTrans, rows, j, -1, q, width, factors[:j], 1, 1, q[c:], width)
		}
		if count == 1 {
			scaleColumn(q, rows, j, width, block[j*width+j])
		} else {
			t, u := block[j*width+j:], block[(j+1)*width+j:]
			for r := range rows {
				row := q[r*width+j:]
				row[0], row[1] = row[0]*t[0]+row[1]*u[0], row[0]*t[1]+row[1]*u[1]
			}
		}
		j += count
	}
}

// forward is Factor.forward.
func (f *IndefiniteFactor) forward(k int, x, room []float64) {
	s := f.factor.supernodes()
	end := s.first[k+1]
	below := room[:s.below[k]]
	clear(below)
	var old [panelWidth]float64
	for _, p := range s.panelsOf(k) {
		width := int(p.width)
		xp, later := x[p.first:p.first+p.width], x[p.first+p.width:end]
		from, sign, pair := f.from[p.first:], f.sign[p.first:], f.pair[p.first:]
		store := f.factor.store[p.at:]
		copy(old[:], xp)
		for j := range xp {
			xp[j] = old[from[j]]
		}
		for j := 0; j < width; j++ {
			row := store[j*width:]
			xp[j] -= inner(row[:j], xp)
			if !pair[j] {
				xp[j] *= sign[j] * row[j]
				continue
			}
			next := row[width:]
			a, b := xp[j], xp[j+1]-inner(next[:j], xp)
			xp[j] = sign[j] * (row[j]*a + next[j]*b)
			xp[j+1] = sign[j+1] * (row[j+1]*a + next[j+1]*b)
			j++
		}
		store = store[width*width:]
		if len(later) > 0 {
			subtractDots(later, store, width, xp)
		}
		if len(below) > 0 {
			subtractDots(below, store[len(later)*width:], width, xp)
		}
	}
	for _, r := range s.runsOf(k) {
		add(x[r.at:r.at+r.length], below)
		below = below[r.length:]
	}
}

// back is Factor.back.
func (f *IndefiniteFactor) back(k int, x, room []float64) {
	s := f.factor.supernodes()
	end := s.first[k+1]
	below := room[:s.below[k]]
	at := 0
	for _, r := range s.runsOf(k) {
		at += copy(below[at:], x[r.at:r.at+r.length])
	}
	panels := s.panelsOf(k)
	var old [panelWidth]float64
	for b := len(panels) - 1; b >= 0; b-- {
		p := panels[b]
		width := int(p.width)
		xp, later := x[p.first:p.first+p.width], x[p.first+p.width:end]
		from, sign, pair := f.from[p.first:], f.sign[p.first:], f.pair[p.first:]
		store := f.factor.store[p.at:]
		rest := store[width*width:]
		if len(later) > 0 {
			level2.Dgemv(blas.Trans, len(later), width, -1, rest, width, later, 1, 1, xp, 1)
		}
		if len(below) > 0 {
			level2.Dgemv(blas.Trans, len(below), width, -1, rest[len(later)*width:], width, below, 1, 1, xp, 1)
		}
		for j := width - 1; j >= 0; j-- {
			row := store[j*width:]
			if j == 0 || !pair[j-1] {
				xp[j] *= sign[j] * row[j]
				spread(xp[:j], row, xp[j])
				continue
			}
			before := store[(j-1)*width:]
			a, b := sign[j-1]*xp[j-1], sign[j]*xp[j]
			xp[j-1] = before[j-1]*a + before[j]*b
			xp[j] = row[j-1]*a + row[j]*b
			spread(xp[:j-1], before, xp[j-1])
			spread(xp[:j-1], row, xp[j])
			j--
		}
		copy(old[:], xp)
		for j := range xp {
			xp[from[j]] = old[j]
		}
	}
}

// room is room for times; a definite matrix (nil) needs none.
func (f *IndefiniteFactor) room() []float64 {
	if f == nil {
		return nil
	}
	return make([]float64, panelWidth)
}

// times is a row of L times the signs of its columns.
func (f *IndefiniteFactor) times(row []float64, first int32, room []float64) []float64 {
	if f == nil {
		return row
	}
	for i, v := range row {
		room[i] = v * f.sign[int(first)+i]
	}
	return room[:len(row)]
}

func inner(a, b []float64) (sum float64) {
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// spread takes a multiple of a row off x.
func spread(x, row []float64, by float64) {
	for i := range x {
		x[i] -= row[i] * by
	}
}
