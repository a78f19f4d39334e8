package frame

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// packed is a basis ready for many draws: of every pair of movements what each term adds, terms being the groups and
// then the doubtful springs.
type packed struct {
	size   int
	terms  int
	pairs  blas64.General // pairs × terms
	pushed blas64.General // movements × sides
}

func (b *Basis) pack() *packed {
	if b.packed != nil {
		return b.packed
	}
	n, terms := len(b.vectors), len(b.groups)+len(b.doubtful)
	p := &packed{size: n, terms: terms, pairs: general(n*(n+1)/2, terms), pushed: general(n, len(b.sides))}
	pair := 0
	for i := range n {
		for j := range i + 1 {
			row := p.pairs.Data[pair*terms:][:terms]
			for g := range b.groups {
				row[g] = b.groups[g].rows[i][j]
			}
			for k, stretch := range b.stretch[i] {
				row[len(b.groups)+k] = stretch * b.stretch[j][k]
			}
			pair++
		}
		for k, side := range b.sides {
			p.pushed.Data[i*len(b.sides)+k] = blas64.Dot(vector(b.vectors[i]), vector(side.force))
		}
	}
	b.packed = p
	return p
}

func general(rows, cols int) blas64.General {
	return blas64.General{Rows: rows, Cols: cols, Stride: max(1, cols), Data: make([]float64, rows*cols)}
}

func vector(data []float64) blas64.Vector { return blas64.Vector{N: len(data), Data: data, Inc: 1} }

// numbers are the stiffnesses in one draw: what each group is multiplied by, then that of each doubtful spring.
func (b *Basis) numbers(logs []float64) []float64 {
	list := make([]float64, 0, len(b.groups)+len(b.doubtful))
	for _, g := range b.groups {
		list = append(list, times(g.powers, logs))
	}
	for _, i := range b.doubtful {
		list = append(list, b.doubts.Springs[i].Stiffness(logs))
	}
	return list
}

// Drawn is a frame solved in a basis for one draw of its numbers.
type Drawn struct {
	basis   *Basis
	numbers []float64
	moved   []float64 // of each movement under each side, row by row
	// Late is the largest share of a side's energy that came with the last movement taken in: where it is large, more
	// are wanting.
	Late float64
}

// atOnce is how many draws are put together by one multiplication of matrices.
const atOnce = 64

// Solve solves for draws, each the logarithms of all numbers over their typical values, and hands them over one by one.
func (b *Basis) Solve(draws [][]float64, take func(draw int, d *Drawn)) {
	p := b.pack()
	values, sums := general(p.terms, atOnce), general(p.pairs.Rows, atOnce)
	k := make([]float64, p.size*p.size)
	for first := 0; first < len(draws); first += atOnce {
		some := draws[first:min(first+atOnce, len(draws))]
		numbers := make([][]float64, len(some))
		for c, logs := range some {
			numbers[c] = b.numbers(logs)
			for i, v := range numbers[c] {
				values.Data[i*atOnce+c] = v
			}
		}
		blas64.Gemm(blas.NoTrans, blas.NoTrans, 1, p.pairs, values, 0, sums)
		for c := range some {
			pair := 0
			for i := range p.size {
				for j := range i + 1 {
					k[i*p.size+j] = sums.Data[pair*atOnce+c]
					pair++
				}
			}
			take(first+c, b.drawn(p, numbers[c], k))
		}
	}
}

// drawn solves with the matrix of the movements, of which it has the lower triangle.
func (b *Basis) drawn(p *packed, numbers, k []float64) *Drawn {
	d := &Drawn{basis: b, numbers: numbers, moved: append([]float64(nil), p.pushed.Data...)}
	if p.size == 0 {
		return d
	}
	triangle, ok := lapack64.Potrf(blas64.Symmetric{N: p.size, Stride: p.size, Data: k, Uplo: blas.Lower})
	if !ok {
		panic("frame: a basis of movements without stiffness")
	}
	sides := blas64.General{Rows: p.size, Cols: p.pushed.Cols, Stride: p.pushed.Stride, Data: d.moved}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, triangle, sides)
	for j := range sides.Cols {
		energy := 0.0
		for i := range p.size {
			v := d.moved[i*sides.Cols+j]
			energy += v * v
		}
		if last := d.moved[(p.size-1)*sides.Cols+j]; energy > 0 {
			d.Late = math.Max(d.Late, last*last/energy)
		}
	}
	blas64.Trsm(blas.Left, blas.Trans, 1, triangle, sides)
	return d
}

// Value reads what a form is on the movements (On) under one of the loads.
func (d *Drawn) Value(on []float64, load int) float64 { return d.side(on, load) }

func (d *Drawn) side(on []float64, side int) float64 {
	sum, sides := 0.0, len(d.basis.sides)
	for i, v := range on {
		sum += v * d.moved[i*sides+side]
	}
	return sum
}

// Read is the value of one of the readings that the basis was made with, under a unit force on another.
func (d *Drawn) Read(reading, push int) float64 {
	p, sum := d.basis.pack().pushed, 0.0
	sides := p.Cols
	for i := range p.Rows {
		sum += p.Data[i*sides+d.basis.loads+reading] * d.moved[i*sides+d.basis.loads+push]
	}
	return sum
}

// ReadLoad is the value of one of the readings under one of the loads.
func (d *Drawn) ReadLoad(reading, load int) float64 {
	p, sum := d.basis.pack().pushed, 0.0
	sides := p.Cols
	for i := range p.Rows {
		sum += p.Data[i*sides+d.basis.loads+reading] * d.moved[i*sides+load]
	}
	return sum
}
