//go:build goexperiment.simd && amd64

package sparse

import (
	"math"
	"simd/archsimd"
)

// stripRows is how many rows of a panel are multiplied side by side.
const stripRows = 16

// strip is one column of so many rows.
type strip [stripRows]float64

// strips are those of a panel, column by column.
type strips [panelWidth]strip

// vectorLength is how many numbers a register holds, 0 if the processor lacks what this kernel needs.
var vectorLength = func() int {
	switch {
	case archsimd.X86.AVX512():
		return 8
	case archsimd.X86.AVX2() && archsimd.X86.FMA():
		return 4
	}
	return 0
}()

func (p *products) subtract(from, to int) {
	if vectorLength == 0 || to < 4 {
		p.subtractPlain(from, to)
		return
	}
	var s strips
	for left := 0; left < min(p.columns, to); left += stripRows {
		s.pack(p.rows[left*p.width:], p.width, min(stripRows, to-left))
		for i := max(from, left); i < to; i += 4 {
			p.subtractFour(s[:p.width], left, i, to)
		}
	}
}

// subtractFour takes the products of rows i to i+3 with a strip's off the target.
func (p *products) subtractFour(s []strip, left, i, to int) {
	var c [4]*strip
	if i+4 <= to && min(i+1, p.columns) >= left+stripRows {
		for r := range c {
			c[r] = (*strip)(p.target[p.at(i+r)+left:])
			if p.fresh {
				*c[r] = strip{}
			}
		}
		subtractTile(&c, p.rows[i*p.width:], p.width, s)
		return
	}
	// Where the rows or the columns end, or a row reaches the diagonal.
	var sums [4]strip
	for r := range c {
		c[r] = &sums[r]
	}
	first := min(i, to-4)
	subtractTile(&c, p.rows[first*p.width:], p.width, s)
	for ; i < min(first+4, to); i++ {
		n := min(stripRows, p.columns-left, i+1-left)
		row := p.target[p.at(i)+left:][:n]
		if p.fresh {
			clear(row)
		}
		add(row, sums[i-first][:])
	}
}

func substitute(q, triangle []float64, rows, width int) {
	if vectorLength == 0 {
		substitutePlain(q, triangle, rows, width)
		return
	}
	var s strips
	for ; rows > 0; rows -= stripRows {
		n := min(rows, stripRows)
		s.pack(q, width, n)
		for j := 0; j < width; j += 4 {
			s.catchUp(j, triangle, width)
			s.divide(j, triangle, width)
		}
		s.unpack(q, width, n, width)
		q = q[n*width:]
	}
}

func pivots(p []float64, width int, floor []float64) int {
	if vectorLength == 0 {
		return pivotsPlain(p, width, floor)
	}
	var s strips
	for top := 0; top < width; top += stripRows {
		n := min(width-top, stripRows)
		rows := p[top*width:]
		s.pack(rows, width, n)
		for j := 0; j < top; j += 4 {
			s.catchUp(j, p, width)
			s.divide(j, p, width)
		}
		s.unpack(rows, width, n, top)
		for j := top; j < top+n; j += 4 {
			s.catchUp(j, p, width)
			m := min(4, width-j)
			for r := range m {
				for c := range r + 1 {
					p[(j+r)*width+j+c] = s[j+c][j-top+r]
				}
			}
			if failed := pivotsOfFour(p[j*width+j:], m, width, floor[j:]); failed >= 0 {
				return j + failed
			}
			if m == 4 {
				s.divide(j, p, width)
				for r := j + 4; r < top+n; r++ {
					for c := j; c < j+4; c++ {
						p[r*width+c] = s[c][r-top]
					}
				}
			}
		}
	}
	return -1
}

// pack takes so many rows of a panel into strips.
func (s *strips) pack(rows []float64, width, n int) {
	for r := 0; r < n; r += 4 {
		j := 0
		if r+4 <= n {
			for ; j+4 <= width; j += 4 {
				at := rows[r*width+j:]
				x0, x1, x2, x3 := transposed(load(at), load(at[width:]), load(at[2*width:]), load(at[3*width:]))
				x0.StoreSlice(s[j][r:])
				x1.StoreSlice(s[j+1][r:])
				x2.StoreSlice(s[j+2][r:])
				x3.StoreSlice(s[j+3][r:])
			}
		}
		for i := r; i < min(r+4, n); i++ {
			for c := j; c < width; c++ {
				s[c][i] = rows[i*width+c]
			}
		}
	}
	archsimd.ClearAVXUpperBits()
}

// unpack puts the first columns of strips back into so many rows.
func (s *strips) unpack(rows []float64, width, n, columns int) {
	for r := 0; r < n; r += 4 {
		j := 0
		if r+4 <= n {
			for ; j+4 <= columns; j += 4 {
				at := rows[r*width+j:]
				x0, x1, x2, x3 := transposed(load(s[j][r:]), load(s[j+1][r:]), load(s[j+2][r:]), load(s[j+3][r:]))
				x0.StoreSlice(at)
				x1.StoreSlice(at[width:])
				x2.StoreSlice(at[2*width:])
				x3.StoreSlice(at[3*width:])
			}
		}
		for i := r; i < min(r+4, n); i++ {
			for c := j; c < columns; c++ {
				rows[i*width+c] = s[c][i]
			}
		}
	}
	archsimd.ClearAVXUpperBits()
}

// transposed are the columns of four rows.
func transposed(x0, x1, x2, x3 archsimd.Float64x4) (y0, y1, y2, y3 archsimd.Float64x4) {
	even01, odd01 := x0.SelectFromPairGrouped(0, 2, x1), x0.SelectFromPairGrouped(1, 3, x1)
	even23, odd23 := x2.SelectFromPairGrouped(0, 2, x3), x2.SelectFromPairGrouped(1, 3, x3)
	return even01.Select128FromPair(0, 2, even23), odd01.Select128FromPair(0, 2, odd23),
		even01.Select128FromPair(1, 3, even23), odd01.Select128FromPair(1, 3, odd23)
}

// catchUp takes the products with the columns before off columns j to j+3.
func (s *strips) catchUp(j int, triangle []float64, width int) {
	if j == 0 {
		return
	}
	c := [4]*strip{&s[j], &s[j+1], &s[j+2], &s[j+3]}
	rows := triangle[j*width:]
	if n := width - j; n < 4 {
		var padded [4 * panelWidth]float64
		copy(padded[:], rows[:n*width])
		rows = padded[:]
	}
	subtractTile(&c, rows, width, s[:j])
}

// divide divides columns j to j+3 by their own triangle.
func (s *strips) divide(j int, triangle []float64, width int) {
	n := min(4, width-j)
	var l [4][4]float64 // reciprocals on the diagonal, the rest with its sign turned
	for r := range 4 {
		l[r][r] = 1
		if r < n {
			row := triangle[(j+r)*width+j:]
			for c := range r {
				l[r][c] = -row[c]
			}
			l[r][r] = 1 / row[r]
		}
	}
	c := (*[4]strip)(s[j:])
	for i := 0; i < stripRows; i += 4 {
		x0 := scaled(load(c[0][i:]), l[0][0])
		x1 := x0.MulAdd(spread(l[1][0]), load(c[1][i:]))
		x1 = scaled(x1, l[1][1])
		x2 := x0.MulAdd(spread(l[2][0]), load(c[2][i:]))
		x2 = scaled(x1.MulAdd(spread(l[2][1]), x2), l[2][2])
		x3 := x0.MulAdd(spread(l[3][0]), load(c[3][i:]))
		x3 = x1.MulAdd(spread(l[3][1]), x3)
		x3 = scaled(x2.MulAdd(spread(l[3][2]), x3), l[3][3])
		x0.StoreSlice(c[0][i:])
		x1.StoreSlice(c[1][i:])
		x2.StoreSlice(c[2][i:])
		x3.StoreSlice(c[3][i:])
	}
	archsimd.ClearAVXUpperBits()
}

func spread(x float64) archsimd.Float64x4 { return archsimd.BroadcastFloat64x4(x) }

func load(s []float64) archsimd.Float64x4 { return archsimd.LoadFloat64x4Slice(s) }

func scaled(x archsimd.Float64x4, by float64) archsimd.Float64x4 {
	var zero archsimd.Float64x4
	x = x.Mul(archsimd.BroadcastFloat64x4(by))
	least := archsimd.BroadcastFloat64x4(math.Abs(negligible / by))
	return zero.Merge(x, x.Max(zero.Sub(x)).Less(least))
}

// pivotsOfFour is pivots for no more than four columns of a wider panel.
func pivotsOfFour(p []float64, n, width int, floor []float64) int {
	for j := range n {
		row := p[j*width:][:j+1]
		for r := j; r < n; r++ {
			other := p[r*width:][:j+1]
			for i, v := range row[:j] {
				other[j] -= v * other[i]
			}
		}
		d := row[j]
		if !(d > floor[j]) {
			return j
		}
		root := math.Sqrt(d)
		row[j] = root
		if j+1 < n {
			scaleColumn(p[(j+1)*width:], n-j-1, j, width, 1/root)
		}
	}
	return -1
}

// subtractTile takes the products of four rows of a panel with the rows of strips off c.
func subtractTile(c *[4]*strip, rows []float64, stride int, s []strip) {
	if vectorLength == 8 {
		subtractTile512(c, rows, stride, s)
	} else {
		for i := 0; i < stripRows; i += 8 {
			subtractTile256(c, rows, stride, s, i)
		}
	}
	archsimd.ClearAVXUpperBits()
}

func subtractTile512(c *[4]*strip, rows []float64, stride int, s []strip) {
	n := len(s)
	r0, r1, r2, r3 := rows[:n], rows[stride:][:n], rows[2*stride:][:n], rows[3*stride:][:n]
	var s00, s01, s10, s11, s20, s21, s30, s31 archsimd.Float64x8
	for k := range s {
		b0, b1 := load512(&s[k])
		a := archsimd.BroadcastFloat64x8(r0[k])
		s00, s01 = a.MulAdd(b0, s00), a.MulAdd(b1, s01)
		a = archsimd.BroadcastFloat64x8(r1[k])
		s10, s11 = a.MulAdd(b0, s10), a.MulAdd(b1, s11)
		a = archsimd.BroadcastFloat64x8(r2[k])
		s20, s21 = a.MulAdd(b0, s20), a.MulAdd(b1, s21)
		a = archsimd.BroadcastFloat64x8(r3[k])
		s30, s31 = a.MulAdd(b0, s30), a.MulAdd(b1, s31)
	}
	subtract512(c[0], s00, s01)
	subtract512(c[1], s10, s11)
	subtract512(c[2], s20, s21)
	subtract512(c[3], s30, s31)
}

func load512(s *strip) (lo, hi archsimd.Float64x8) {
	return archsimd.LoadFloat64x8((*[8]float64)(s[:8])), archsimd.LoadFloat64x8((*[8]float64)(s[8:]))
}

func subtract512(c *strip, s0, s1 archsimd.Float64x8) {
	c0, c1 := load512(c)
	c0.Sub(s0).Store((*[8]float64)(c[:8]))
	c1.Sub(s1).Store((*[8]float64)(c[8:]))
}

// eight rows of the strips, from row i on
func subtractTile256(c *[4]*strip, rows []float64, stride int, s []strip, i int) {
	n := len(s)
	r0, r1, r2, r3 := rows[:n], rows[stride:][:n], rows[2*stride:][:n], rows[3*stride:][:n]
	var s00, s01, s10, s11, s20, s21, s30, s31 archsimd.Float64x4
	for k := range s {
		b0, b1 := load256(&s[k], i)
		a := archsimd.BroadcastFloat64x4(r0[k])
		s00, s01 = a.MulAdd(b0, s00), a.MulAdd(b1, s01)
		a = archsimd.BroadcastFloat64x4(r1[k])
		s10, s11 = a.MulAdd(b0, s10), a.MulAdd(b1, s11)
		a = archsimd.BroadcastFloat64x4(r2[k])
		s20, s21 = a.MulAdd(b0, s20), a.MulAdd(b1, s21)
		a = archsimd.BroadcastFloat64x4(r3[k])
		s30, s31 = a.MulAdd(b0, s30), a.MulAdd(b1, s31)
	}
	subtract256(c[0], i, s00, s01)
	subtract256(c[1], i, s10, s11)
	subtract256(c[2], i, s20, s21)
	subtract256(c[3], i, s30, s31)
}

func load256(s *strip, i int) (lo, hi archsimd.Float64x4) {
	half := (*[8]float64)(s[i:])
	return archsimd.LoadFloat64x4((*[4]float64)(half[:4])), archsimd.LoadFloat64x4((*[4]float64)(half[4:]))
}

func subtract256(c *strip, i int, s0, s1 archsimd.Float64x4) {
	c0, c1 := load256(c, i)
	half := (*[8]float64)(c[i:])
	c0.Sub(s0).Store((*[4]float64)(half[:4]))
	c1.Sub(s1).Store((*[4]float64)(half[4:]))
}
