package frame

import (
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// packed are the sides on the movements and on the probes.
type packed struct {
	pushed, probedSides    blas64.General // movements × sides, probes × sides
	strains, probedStrains []packedStrain
}

func (b *Basis) pack() *packed {
	if b.packed == nil {
		b.packed = &packed{b.onSides(b.vectors), b.onSides(b.probes.moved),
			b.packStrain(b.vectors, b.stretch), b.packStrain(b.probes.moved, b.probes.stretch)}
	}
	return b.packed
}

// onSides is what the pushes of the sides do on some movements.
func (b *Basis) onSides(moved blas64.General) blas64.General {
	on := general(moved.Rows, len(b.sides))
	for k, side := range b.sides {
		if moved.Rows > 0 {
			blas64.Gemv(blas.NoTrans, 1, moved, vector(side.force), 0, column(on, k))
		}
	}
	return on
}

// Drawn is a frame solved in a basis for one draw of its numbers. It is good until the draw has been taken.
type Drawn struct {
	basis   *Basis
	factors []float64
	pushed  blas64.General // movements × sides
	moved   blas64.General // of each movement under each side

	triangle  []float64      // of the matrix of the movements
	left      blas64.General // forces that are left of the sides, by each probe
	estimates []float64      // of the share of its energy that each side lacks
	// Lacks is about the largest share of its energy that the solution of a load, or of a form that pushes, lacks, were
	// everything as stiff as at typical numbers; only Look finds it. Least is the smallest share of its typical stiffness
	// that anything has.
	Lacks, Least float64
}

// Softest is the smallest share of its typical stiffness that anything has in a draw; at most one.
func (b *Basis) Softest(logs []float64) float64 { return b.least(b.factors(logs)) }

// Solve solves for draws, each the logarithms of all numbers over their typical values, and hands them over one by one.
func (b *Basis) Solve(draws [][]float64, take func(draw int, d *Drawn)) { b.solve(draws, false, take) }

// Look is Solve, and estimates what the solutions lack.
func (b *Basis) Look(draws [][]float64, take func(draw int, d *Drawn)) { b.solve(draws, true, take) }

// drawsAtOnce are added up together, so that what the parts do is fetched from memory once for all of them.
const drawsAtOnce = 16

func (b *Basis) solve(draws [][]float64, look bool, take func(draw int, d *Drawn)) {
	p, n, sides := b.pack(), b.Size(), len(b.sides)
	d := &Drawn{basis: b, pushed: general(n, sides), moved: general(n, sides), triangle: make([]float64, n*n),
		left: general(probeCount, sides), estimates: make([]float64, sides)}
	most := min(len(draws), drawsAtOnce)
	pairs, probed := general(most, b.pairs.Rows), general(0, 0)
	if look {
		probed = general(most, b.probed.Rows)
	}
	for from := 0; from < len(draws); from += drawsAtOnce {
		batch := draws[from:min(from+drawsAtOnce, len(draws))]
		factors := make([][]float64, len(batch))
		for i, logs := range batch {
			factors[i] = b.factors(logs)
		}
		addUp(pairs, b.pairs, factors)
		if look {
			addUp(probed, b.probed, factors)
		}
		for i := range batch {
			d.factors, d.Least = factors[i], b.least(factors[i])
			if n > 0 && sides > 0 {
				d.solve(p, row(pairs, i))
				if look {
					d.look(p, blas64.General{Rows: n, Cols: probeCount, Stride: probeCount, Data: row(probed, i)})
				}
			}
			take(from+i, d)
		}
	}
}

// addUp adds up what the parts do, each times its factor, for some draws: a row of sums for each.
func addUp(sums, parts blas64.General, factors [][]float64) {
	const tile = 32 // rows that stay in the cache
	for from := 0; from < parts.Rows; from += tile {
		some := parts
		some.Rows, some.Data = min(tile, parts.Rows-from), parts.Data[from*parts.Stride:]
		for i, f := range factors {
			blas64.Gemv(blas.NoTrans, 1, some, vector(f), 0, vector(row(sums, i)[from:][:some.Rows]))
		}
	}
}

// solve solves with the stiffness between all pairs of movements.
func (d *Drawn) solve(p *packed, pairs []float64) {
	n := d.basis.Size()
	for i := range n {
		copy(d.triangle[i*n:], pairs[i*(i+1)/2:][:i+1])
	}
	triangle, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Data: d.triangle, Uplo: blas.Lower})
	if !ok {
		panic("frame: a basis of movements without stiffness")
	}
	d.sides(p.pushed, p.strains, d.pushed)
	copy(d.moved.Data, d.pushed.Data)
	blas64.Trsm(blas.Left, blas.NoTrans, 1, triangle, d.moved)
	blas64.Trsm(blas.Left, blas.Trans, 1, triangle, d.moved)
}

// sides writes those of the draw, on movements or probes: what pushes and what goes with the stiffness.
func (d *Drawn) sides(pushed blas64.General, strains []packedStrain, out blas64.General) blas64.General {
	copy(out.Data, pushed.Data)
	for _, s := range strains {
		blas64.Gemv(blas.NoTrans, 1, s.parts, vector(d.factors), 1, column(out, s.side))
	}
	return out
}

// Value is that of a form, given on the movements (On), under one of the loads.
func (d *Drawn) Value(on []float64, load int) float64 {
	if len(on) == 0 {
		return 0
	}
	return blas64.Dot(vector(on), column(d.moved, load))
}

// Half turns a form on the movements into half a solution, over the one that is there if it is long enough: the inner
// product of two is how far one form moves per unit force on the other.
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
	moved := make([]float64, d.moved.Rows)
	for i := range moved {
		moved[i] = row(d.moved, i)[load]
	}
	return moved
}

// Stiffness is that of a spring in this draw.
func (d *Drawn) Stiffness(spring int) float64 { return d.basis.stiffness(spring, d.factors) }

// Times is by how much stiffer than at typical numbers the members and blocks of a source are.
func (d *Drawn) Times(source string) float64 { return d.factors[d.basis.ofSource[source]] }
