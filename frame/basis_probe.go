package frame

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// probes are movements thrown by chance, with the covariance K₀⁻¹: the mean square of what they make of a residual is
// its energy, within a third for sixteen of them. They tell which of many draws to look at closely, for next to nothing
// (Smetana, Zahm & Patera, SIAM Journal on Scientific Computing 41 (2019) A900, from memory).
type probes struct {
	moved   [][]float64
	stretch [][]float64 // forms of the doubtful springs
}

const (
	probeCount = 16
	probeSeed  = 11
)

// probe throws the probes.
func (b *Basis) probe() {
	s := b.sys
	rng := rand.New(rand.NewPCG(probeSeed, probeSeed))
	b.probes = &probes{}
	q := make([]float64, s.red.unknowns)
	for range probeCount {
		for i := range q {
			q[i] = rng.NormFloat64()
		}
		s.factor.BackTo(q, q)
		u := make([]float64, s.size)
		s.red.toFreedoms(u, q, make([]float64, len(s.frame.constraints)))
		stretch := make([]float64, len(b.doubtful))
		for k, i := range b.doubtful {
			stretch[k] = s.spring[i].Of(u)
		}
		b.probes.moved, b.probes.stretch = append(b.probes.moved, u), append(b.probes.stretch, stretch)
	}
}

// packProbes makes the probes ready for many draws.
func (b *Basis) packProbes(p *packed) {
	p.probed = general(probeCount*p.size, len(b.groups))
	p.springs = general(probeCount, len(b.doubtful))
	p.sides = general(probeCount, len(b.sides))
	for k := range probeCount {
		for g := range b.groups {
			for v := range p.size {
				p.probed.Data[(k*p.size+v)*len(b.groups)+g] = b.groups[g].probed[v][k]
			}
		}
		copy(p.springs.Data[k*len(b.doubtful):], b.probes.stretch[k])
		for j, side := range b.sides {
			p.sides.Data[k*len(b.sides)+j] = blas64.Dot(vector(b.probes.moved[k]), vector(side.force))
		}
	}
}

// lacks is about the largest share of a side's energy that its solution lacks, of the loads and what is pushed.
func (b *Basis) lacks(p *packed, d *Drawn) (worst float64) {
	groups, springs, sides := len(b.groups), len(b.doubtful), len(b.sides)
	inner := general(probeCount, p.size)
	blas64.Gemv(blas.NoTrans, 1, p.probed, vector(d.numbers[:groups]), 0, vector(inner.Data))
	pushed := withStrain(p.sides, p.strainedProbes, p.springs, d.numbers)
	moved, force, left := make([]float64, p.size), make([]float64, springs), make([]float64, probeCount)
	for j, side := range b.sides {
		if side.slack > 1 {
			continue
		}
		energy := 0.0
		for i := range moved {
			moved[i] = d.moved[i*sides+j]
			energy += moved[i] * d.pushed.Data[i*sides+j]
		}
		if energy <= 0 {
			continue // nothing moves under it
		}
		for k := range left {
			left[k] = pushed.Data[k*sides+j]
		}
		blas64.Gemv(blas.NoTrans, -1, inner, vector(moved), 1, vector(left))
		if springs > 0 {
			blas64.Gemv(blas.Trans, 1, p.stretch, vector(moved), 0, vector(force))
			for i := range force {
				force[i] *= d.numbers[groups+i]
			}
			blas64.Gemv(blas.NoTrans, -1, p.springs, vector(force), 1, vector(left))
		}
		worst = math.Max(worst, blas64.Dot(vector(left), vector(left))/probeCount/energy)
	}
	return worst
}
