package frame

import (
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// packed are the sides on the movements and on the probes.
type packed struct {
	pushed, probedSides    blas64.General // a row for each side: on the movements, on the probes
	strains, probedStrains []packedStrain
}

func (b *Basis) pack() *packed {
	if b.packed == nil {
		b.packed = &packed{b.onSides(b.vectors), b.onSides(b.probes.moved),
			b.packStrain(b.vectors, b.stretch), b.packStrain(b.probes.moved, b.probes.stretch)}
	}
	return b.packed
}

// onSides is what the pushes of each side do on some movements.
func (b *Basis) onSides(moved blas64.General) blas64.General {
	on := general(len(b.sides), moved.Rows)
	for k, side := range b.sides {
		if moved.Rows > 0 {
			blas64.Gemv(blas.NoTrans, 1, moved, vector(side.force), 0, vector(row(on, k)))
		}
	}
	return on
}

// Drawn is a frame solved in a basis for one draw of its numbers. It is good until the draw has been taken.
type Drawn struct {
	basis   *Basis
	factors []float64
	pushed  blas64.General // a row for each side
	moved   blas64.General // how far each movement goes under each side, a row for each

	triangle  blas64.Triangular // of the matrix of the movements
	left      blas64.General    // forces that are left of each side, by each probe: a row for each side
	estimates []float64         // of the share of its energy that each side lacks
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
	most := min(len(draws), drawsAtOnce)
	pairs, probed := general(most, b.pairs.Rows), general(0, 0)
	d := &Drawn{basis: b}
	if look {
		probed = general(most, b.probed.Rows)
		d.left, d.estimates = general(sides, probeCount), make([]float64, sides)
	} else {
		sides = b.loads
	}
	d.pushed, d.moved = general(sides, n), general(sides, n)
	square := general(n, n)
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
			d.factors = factors[i]
			if look {
				d.Least = b.least(factors[i])
			}
			if n > 0 {
				d.solve(p, square, row(pairs, i))
			}
			if look && n > 0 {
				d.look(p, blas64.General{Rows: n, Cols: probeCount, Stride: probeCount, Data: row(probed, i)})
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
func (d *Drawn) solve(p *packed, square blas64.General, pairs []float64) {
	for i := range square.Rows {
		copy(row(square, i), pairs[i*(i+1)/2:][:i+1])
	}
	triangle, ok := lapack64.Potrf(blas64.Symmetric{N: square.Rows, Stride: square.Stride, Data: square.Data, Uplo: blas.Lower})
	if !ok {
		panic("frame: a basis of movements without stiffness")
	}
	d.triangle = triangle
	d.sides(p.pushed, p.strains, d.pushed)
	copy(d.moved.Data, d.pushed.Data)
	for k := range d.moved.Rows {
		d.complete(d.halve(row(d.moved, k)))
	}
}

// sides writes those of the draw, on movements or probes: what pushes and what goes with the stiffness.
func (d *Drawn) sides(pushed blas64.General, strains []packedStrain, out blas64.General) blas64.General {
	copy(out.Data, pushed.Data)
	for _, s := range strains {
		blas64.Gemv(blas.NoTrans, 1, s.parts, vector(d.factors), 1, vector(row(out, s.side)))
	}
	return out
}

// Value is that of a form, given on the movements (On), under one of the loads.
func (d *Drawn) Value(on []float64, load int) float64 { return floats.Dot(on, row(d.moved, load)) }

// Half turns a form on the movements into half a solution, over the one that is there if it is long enough: the inner
// product of two is how far one form moves per unit force on the other.
func (d *Drawn) Half(half, on []float64) []float64 { return d.halve(append(half[:0], on...)) }

// Whole turns a half solution into the movements of the basis.
func (d *Drawn) Whole(half []float64) []float64 { return d.complete(slices.Clone(half)) }

// halve and complete solve with the one and the other half of the matrix, in place.
func (d *Drawn) halve(x []float64) []float64 {
	for i := range x {
		row := d.triangle.Data[i*d.triangle.Stride:][:i+1]
		x[i] = (x[i] - floats.Dot(row[:i], x[:i])) / row[i]
	}
	return x
}

func (d *Drawn) complete(x []float64) []float64 {
	for i := len(x) - 1; i >= 0; i-- {
		row := d.triangle.Data[i*d.triangle.Stride:][:i+1]
		x[i] /= row[i]
		floats.AddScaled(x[:i], -x[i], row[:i])
	}
	return x
}

// Moved are the movements of the basis under one of the loads.
func (d *Drawn) Moved(load int) []float64 { return slices.Clone(row(d.moved, load)) }

// Stiffness is that of a spring in this draw.
func (d *Drawn) Stiffness(spring int) float64 { return d.basis.stiffness(spring, d.factors) }

// Times is by how much stiffer than at typical numbers the members and blocks of a source are.
func (d *Drawn) Times(source string) float64 { return d.factors[d.basis.ofSource[source]] }
