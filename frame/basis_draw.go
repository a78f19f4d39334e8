package frame

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// packed is a basis ready for many draws.
type packed struct {
	size    int
	groups  blas64.General // what each group adds to every pair of movements, on and below the diagonal
	stretch blas64.General // of the doubtful springs by each movement
	pushed  blas64.General // movements × sides
	probed  blas64.General // what each group adds to the force on a movement by each probe
	springs blas64.General // of the doubtful springs by each probe
	sides   blas64.General // by each probe
	// the sides that go with the stiffness, on the movements and on the probes
	strained, strainedProbes []packedStrain
}

func (b *Basis) pack() *packed {
	if b.packed != nil {
		return b.packed
	}
	n := len(b.vectors)
	p := &packed{size: n, groups: general(n*(n+1)/2, len(b.groups)), stretch: general(n, len(b.doubtful)),
		pushed: general(n, len(b.sides))}
	pair := 0
	for i := range n {
		for j := range i + 1 {
			for g := range b.groups {
				p.groups.Data[pair*len(b.groups)+g] = b.groups[g].rows[i][j]
			}
			pair++
		}
		copy(p.stretch.Data[i*len(b.doubtful):], b.stretch[i])
		for k, side := range b.sides {
			p.pushed.Data[i*len(b.sides)+k] = blas64.Dot(vector(b.vectors[i]), vector(side.force))
		}
	}
	p.strained, p.strainedProbes = b.packStrain(b.vectors), b.packStrain(b.probes.moved)
	b.packProbes(p)
	b.packed = p
	return p
}

// matrix writes the stiffness between the movements in a draw, its lower triangle.
func (p *packed) matrix(k, numbers, scaled []float64) {
	groups, springs := p.groups.Cols, p.stretch.Cols
	for i := range p.size {
		row := vector(k[i*p.size:][:i+1])
		part := p.groups
		part.Rows, part.Data = i+1, part.Data[i*(i+1)/2*groups:]
		blas64.Gemv(blas.NoTrans, 1, part, vector(numbers[:groups]), 0, row)
		if springs == 0 {
			continue
		}
		for s, v := range p.stretch.Data[i*springs:][:springs] {
			scaled[s] = v * numbers[groups+s]
		}
		part = p.stretch
		part.Rows = i + 1
		blas64.Gemv(blas.NoTrans, 1, part, vector(scaled[:springs]), 1, row)
	}
}

func general(rows, cols int) blas64.General {
	return blas64.General{Rows: rows, Cols: cols, Stride: max(1, cols), Data: make([]float64, rows*cols)}
}

func vector(data []float64) blas64.Vector { return blas64.Vector{N: len(data), Data: data, Inc: 1} }

// products are the different factors that groups and gives go with: of a thousand springs a few dozen.
type products struct {
	list   [][]Power
	places map[string]int
	laws   []compiled // of the doubtful springs
}

// compiled is a law with its factors by number.
type compiled struct {
	beside float64
	gives  []compiledGive
}

type compiledGive struct {
	typical float64
	product int
}

// known is the product of no powers.
const known = -1

// number finds the number of a product, a new one where it is not there yet.
func (p *products) number(powers []Power) int {
	if len(powers) == 0 {
		return known
	}
	key := fmt.Sprint(powers)
	n, ok := p.places[key]
	if !ok {
		if p.places == nil {
			p.places = map[string]int{}
		}
		n = len(p.list)
		p.places[key] = n
		p.list = append(p.list, powers)
	}
	return n
}

// numbers are the stiffnesses in one draw: what each group is multiplied by, then that of each doubtful spring.
func (b *Basis) numbers(logs []float64) []float64 {
	factors := make([]float64, len(b.list))
	for i, powers := range b.list {
		factors[i] = Product(powers, logs)
	}
	of := func(product int) float64 {
		if product == known {
			return 1
		}
		return factors[product]
	}
	numbers := make([]float64, 0, len(b.groups)+len(b.doubtful))
	for _, g := range b.groups {
		numbers = append(numbers, of(g.product))
	}
	for _, l := range b.laws {
		give := 0.0
		for _, g := range l.gives {
			give += g.typical / of(g.product)
		}
		numbers = append(numbers, l.beside+1/give)
	}
	return numbers
}

// least is the smallest share of its typical stiffness that anything has; at most one.
func (b *Basis) least(numbers []float64) float64 {
	least := 1.0
	for g := range b.groups {
		least = min(least, numbers[g])
	}
	for k, i := range b.doubtful {
		least = min(least, numbers[len(b.groups)+k]/b.sys.frame.springs[i].Stiffness)
	}
	return least
}

// Drawn is a frame solved in a basis for one draw of its numbers.
type Drawn struct {
	basis   *Basis
	numbers []float64
	pushed  blas64.General // movements × sides
	moved   []float64      // of each movement under each side, row by row

	triangle []float64 // of the matrix of the movements
	// Lacks is about the largest share of its energy that the solution of a load, or of a form that pushes, lacks, were
	// everything as stiff as at typical numbers; Least is the smallest share of its typical stiffness that anything has.
	Lacks, Least float64
}

// Softest is the smallest share of its typical stiffness that anything has in a draw; at most one.
func (b *Basis) Softest(logs []float64) float64 { return b.least(b.numbers(logs)) }

// Solve solves for draws, each the logarithms of all numbers over their typical values, and hands them over one by one.
func (b *Basis) Solve(draws [][]float64, take func(draw int, d *Drawn)) {
	p := b.pack()
	k, scaled := make([]float64, p.size*p.size), make([]float64, len(b.doubtful))
	for i, logs := range draws {
		numbers := b.numbers(logs)
		p.matrix(k, numbers, scaled)
		take(i, b.drawn(p, numbers, k))
	}
}

// drawn solves with the matrix of the movements, of which it has the lower triangle.
func (b *Basis) drawn(p *packed, numbers, k []float64) *Drawn {
	d := &Drawn{basis: b, numbers: numbers, Least: b.least(numbers), pushed: withStrain(p.pushed, p.strained, p.stretch, numbers)}
	d.moved = slices.Clone(d.pushed.Data)
	if p.size == 0 {
		return d
	}
	triangle, ok := lapack64.Potrf(blas64.Symmetric{N: p.size, Stride: p.size, Data: k, Uplo: blas.Lower})
	if !ok {
		panic("frame: a basis of movements without stiffness")
	}
	d.triangle = k
	sides := blas64.General{Rows: p.size, Cols: p.pushed.Cols, Stride: p.pushed.Stride, Data: d.moved}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, triangle, sides)
	blas64.Trsm(blas.Left, blas.Trans, 1, triangle, sides)
	d.Lacks = b.lacks(p, d)
	return d
}

// Value is that of a form, given on the movements (On), under one of the loads.
func (d *Drawn) Value(on []float64, load int) float64 {
	sum, sides := 0.0, len(d.basis.sides)
	for i, v := range on {
		sum += v * d.moved[i*sides+load]
	}
	return sum
}

// Half turns a form on the movements into half a solution, over the one that is there if it is long enough: the inner
// product of two is how far one form moves per unit force on the other. It is good until the draw has been taken.
func (d *Drawn) Half(half, on []float64) []float64 {
	half = append(half[:0], on...)
	n := len(on)
	for i := range n {
		row := d.triangle[i*n:][:i+1]
		half[i] = (half[i] - blas64.Dot(vector(row[:i]), vector(half[:i]))) / row[i]
	}
	return half
}

// Whole turns a half solution into the movements of the basis.
func (d *Drawn) Whole(half []float64) []float64 {
	moved := slices.Clone(half)
	n := len(moved)
	for i := n - 1; i >= 0; i-- {
		moved[i] /= d.triangle[i*n+i]
		blas64.Axpy(-moved[i], vector(d.triangle[i*n:][:i]), vector(moved[:i]))
	}
	return moved
}

// Moved are the movements of the basis under one of the loads.
func (d *Drawn) Moved(load int) []float64 {
	sides := len(d.basis.sides)
	moved := make([]float64, len(d.moved)/sides)
	for i := range moved {
		moved[i] = d.moved[i*sides+load]
	}
	return moved
}

// Stiffness is that of a spring in this draw.
func (d *Drawn) Stiffness(spring int) float64 {
	if k, ok := slices.BinarySearch(d.basis.doubtful, spring); ok {
		return d.numbers[len(d.basis.groups)+k]
	}
	return d.basis.sys.frame.springs[spring].Stiffness
}

// Times is by how much stiffer than at typical numbers the members and blocks of a source are.
func (d *Drawn) Times(source string) float64 { return d.numbers[d.basis.sources[source]] }
