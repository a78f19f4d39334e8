package frame

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// probes are movements thrown by chance, with the covariance K₀⁻¹: the mean square of what they make of a residual is
// its energy, within a third for sixteen of them. They tell which of many draws to look at closely, for next to nothing
// (Smetana, Zahm & Patera, SIAM Journal on Scientific Computing 41 (2019) A900, from memory).
type probes struct {
	moved   blas64.General // row by row
	stretch blas64.General // forms of the springs on each
}

const (
	probeCount = 16
	probeSeed  = 11
)

// probe throws the probes.
func (b *Basis) probe() {
	s := b.sys
	rng := rand.New(rand.NewPCG(probeSeed, probeSeed))
	b.probes = &probes{general(probeCount, s.size), general(probeCount, len(s.spring))}
	q := make([]float64, s.red.unknowns)
	for k := range probeCount {
		for i := range q {
			q[i] = rng.NormFloat64()
		}
		s.factor.BackTo(q, q)
		u := row(b.probes.moved, k)
		s.red.toFreedoms(u, q, make([]float64, len(s.frame.constraints)))
		for i, form := range s.spring {
			row(b.probes.stretch, k)[i] = form.Of(u)
		}
	}
	for n := range b.parts {
		if p := &b.parts[n]; p.elements != nil {
			p.probes = p.gathered(b.probes.moved)
		}
	}
}

// look estimates what share of its energy the solution of each side lacks, from the forces of each probe on the movements.
func (d *Drawn) look(p *packed, probed blas64.General) {
	b := d.basis
	left := d.sides(p.probedSides, p.probedStrains, d.left)
	d.Lacks = 0
	for j, side := range b.sides {
		d.estimates[j] = 0
		energy := floats.Dot(row(d.moved, j), row(d.pushed, j))
		if energy <= 0 {
			continue // nothing moves under it
		}
		left := row(left, j)
		blas64.Gemv(blas.Trans, -1, probed, vector(row(d.moved, j)), 1, vector(left))
		d.estimates[j] = floats.Dot(left, left) / probeCount / energy
		if side.slack <= 1 {
			d.Lacks = math.Max(d.Lacks, d.estimates[j])
		}
	}
}
