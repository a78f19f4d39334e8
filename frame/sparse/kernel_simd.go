//go:build goexperiment.simd && amd64

package sparse

import (
	"math"
	"simd/archsimd"
)

// This is the kernel of a build with GOEXPERIMENT=simd on amd64: the arithmetic of kernel.go in vector instructions.
//
// Everything is done in tiles of four by sixteen numbers, which lose the products of four rows of a panel with sixteen:
// sums of sixteen numbers for each of four rows stay in registers while the columns are run through, and every number
// loaded is used four or sixteen times. On 512-bit registers these are eight sums, enough to cover the delay of one
// multiplication and addition; with the two registers of the sixteen rows, four of the four rows and copies that the
// compiler makes they are all that it keeps in the fifteen registers it uses for this; a tile of three by twenty-four
// spills and runs at a third of the rate. On 256-bit registers it is two rows of a tile at a time. A tile alone reaches
// about 55 and 32 GFLOP/s where gonum's matrix-vector product reaches 16.
//
// The four rows are read where they lie, row by row, a number at a time. The sixteen are packed, column by column, as
// strips: at most 64 columns of 16, 8 KiB, which stay in the first cache (32 KiB or more) while all rows of a stretch
// pass. That stretch, 96 KiB, stays in the second (512 KiB or more) while one group of sixteen follows another.
// Widths of panels are multiples of four, and of sixteen where they are full.
//
// An entry's products are summed up one by one from the first column of the panel on and then taken off. So a result
// does not depend on how tiles lie, on the number of goroutines or on the length of registers, but it does differ from
// that of gonum's kernel, which sums in fours, by rounding.

// stripRows is how many rows of a panel are packed side by side.
const stripRows = 16

// strip is one column of those rows.
type strip [stripRows]float64

// strips are the columns of those rows, of a panel of any width.
type strips [panelWidth]strip

// tile is four strips of a target.
type tile [4]*strip

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

// vectors takes 96 KiB of a panel at a time.
var vectors = kernel{subtractTiles, pivotsOfStrips, substituteStrips, 192}

// arithmetic is the kernel in use.
var arithmetic = func() kernel {
	if vectorLength == 0 {
		return plain
	}
	return vectors
}()

func subtractTiles(p products, from, to int) {
	if to < len(tile{}) {
		subtractPlain(p, from, to)
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

// subtractFour takes the products of rows i to i+3 with the sixteen from row left on, packed in strips, off the target.
// Rows end at to.
func (p products) subtractFour(s []strip, left, i, to int) {
	var t tile
	if i+4 <= to && min(i+1, p.columns) >= left+stripRows {
		for r := range t {
			t[r] = (*strip)(p.target[p.at(i+r)+left:])
			if p.fresh {
				*t[r] = strip{}
			}
		}
		t.subtract(p.rows[i*p.width:], p.width, s)
		return
	}
	// The target has less than a tile here: rows or columns end, or they meet the diagonal. The last four rows stand in
	// for the last few.
	var sums [4]strip
	for r := range t {
		t[r] = &sums[r]
	}
	first := min(i, to-4)
	t.subtract(p.rows[first*p.width:], p.width, s)
	for ; i < min(first+4, to); i++ {
		n := min(stripRows, p.columns-left, i+1-left)
		row := p.target[p.at(i)+left:][:n]
		if p.fresh {
			clear(row)
		}
		add(row, sums[i-first][:])
	}
}

func substituteStrips(q, triangle []float64, rows, width int) {
	var s strips
	for ; rows > 0; rows -= stripRows {
		n := min(rows, stripRows)
		s.pack(q, width, n)
		s.substitute(triangle, width, width)
		s.unpack(q, width, n, width)
		q = q[n*width:]
	}
}

// pivotsOfStrips takes sixteen rows at a time: it divides them by the triangle above, then factors their own, four
// columns at a time.
func pivotsOfStrips(p []float64, width int, floor []float64) int {
	var s strips
	for top := 0; top < width; top += stripRows {
		end := min(top+stripRows, width)
		s.pack(p[top*width:], width, end-top)
		s.substitute(p, width, top)
		s.unpack(p[top*width:], width, end-top, top)
		for j := top; j < end; j += 4 {
			s.catchUp(j, p, width)
			own := min(j+4, end)
			s.unpackFour(j, p, width, top, j, own)
			if failed := pivotsOfFour(p[j*width+j:], own-j, width, floor[j:]); failed >= 0 {
				return j + failed
			}
			s.divide(j, p, width)
			s.unpackFour(j, p, width, top, own, end)
		}
	}
	return -1
}

// pivotsOfFour factors the triangle of no more than four columns, n, of a panel of the given width.
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

// substitute divides the first columns by those of a triangle.
func (s *strips) substitute(triangle []float64, width, columns int) {
	for j := 0; j < columns; j += 4 {
		s.catchUp(j, triangle, width)
		s.divide(j, triangle, width)
	}
}

// catchUp takes the products with the columns before off columns j to j+3.
func (s *strips) catchUp(j int, triangle []float64, width int) {
	if j == 0 {
		return
	}
	t := tile{&s[j], &s[j+1], &s[j+2], &s[j+3]}
	rows := triangle[j*width:]
	if n := width - j; n < 4 {
		var padded [4 * panelWidth]float64
		copy(padded[:], rows[:n*width])
		t.subtract(padded[:], width, s[:j])
		return
	}
	t.subtract(rows, width, s[:j])
}

// divide divides columns j to j+3 by their own triangle.
func (s *strips) divide(j int, triangle []float64, width int) {
	var l [4][4]float64 // reciprocals on the diagonal, the others with their sign turned
	for r := range l {
		l[r][r] = 1
		if j+r < width {
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

// scaled is scaleColumn for four numbers. What is not a number stays so.
func scaled(x archsimd.Float64x4, by float64) archsimd.Float64x4 {
	var zero archsimd.Float64x4
	x = x.Mul(spread(by))
	least := spread(math.Abs(negligible / by))
	return zero.Merge(x, x.Max(zero.Sub(x)).Less(least))
}

// pack takes n rows of a panel.
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

// unpack puts the first columns of n rows back.
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

// unpackFour puts columns j to j+3, no further than the diagonal, back into rows from to to; the strips' are those from
// row top on.
func (s *strips) unpackFour(j int, rows []float64, width, top, from, to int) {
	for r := from; r < to; r++ {
		for c := j; c < min(j+4, r+1); c++ {
			rows[r*width+c] = s[c][r-top]
		}
	}
}
