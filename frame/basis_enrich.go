package frame

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// mostMovements bounds a basis: the equations of a draw, and with their cube the cost.
const mostMovements = 120

// takenBelow is the share of the tolerance down to which a draw that lacks more than that is taken in: draws like it then
// lack little, too, and options that differ by little are not told apart by what their bases lack.
const takenBelow = 0.25

// Enrich takes in what solutions at some draws lack where that may be more than the tolerance, a share of their energy,
// until the basis is as large as it may be. Where it has grown by nothing it returns what Bound does.
func (b *Basis) Enrich(draws [][]float64, tolerance float64) (bound float64) {
	size := b.Size()
	for _, logs := range draws {
		var worthy [][]float64
		b.Look([][]float64{logs}, func(_ int, d *Drawn) {
			looked := b.lacking(d, tolerance, likely)
			if worst(looked) <= tolerance && b.Size() == size {
				looked = append(looked, b.lacking(d, tolerance, unlikely)...)
			}
			lacks := worst(looked)
			if bound = math.Max(bound, lacks); lacks > tolerance {
				worthy = b.worth(looked, d.factors, takenBelow*tolerance)
			}
		})
		for _, moved := range worthy {
			if b.Size() < mostMovements {
				b.add(moved)
			}
		}
	}
	return bound
}

// Bound is the largest share of a solution's energy that may be lacking at some draws; of what is only read, less its
// Slack. A bound that is enough is not made any tighter.
func (b *Basis) Bound(draws [][]float64, enough float64) (bound float64) {
	b.Look(draws, func(_ int, d *Drawn) { bound = math.Max(bound, worst(b.lacking(d, enough, likely|unlikely))) })
	return bound
}

// Sides are looked at by how likely they lack more than enough, as the probes have it: these are good for a third.
const (
	likely = 1 << iota
	unlikely
)

const unlikelyBelow = 1. / 4

// missing is what the solution of a side lacks: a share of its energy that it is at most, and a movement of which that
// energy is of.
type missing struct {
	share, of float64
	moved     []float64
}

func worst(list []missing) (share float64) {
	for _, m := range list {
		share = math.Max(share, m.share)
	}
	return share
}

// worth are those of the movements that leave no more than the tolerance lacking: what one of them takes of the others'
// energy need not be taken in with these.
func (b *Basis) worth(lacking []missing, factors []float64, tolerance float64) (list [][]float64) {
	open := lacking[:0:0]
	moved := general(0, b.sys.size)
	for _, m := range lacking {
		if m.share > tolerance {
			open, moved = append(open, m), appended(moved, m.moved)
		}
	}
	if len(open) == 0 {
		return nil
	}
	between := general(len(open), len(open))
	blas64.Gemm(blas.NoTrans, blas.Trans, 1, moved, b.forces(moved, factors), 0, between)
	for range open {
		worst := 0
		for i, m := range open {
			if m.share > open[worst].share {
				worst = i
			}
		}
		taken := slices.Clone(row(between, worst))
		if !(open[worst].share > tolerance && taken[worst] > 0) {
			break
		}
		list = append(list, open[worst].moved)
		for i := range open {
			by := taken[i] / taken[worst]
			open[i].share -= by * taken[i] / open[i].of
			floats.AddScaled(row(between, i), -by, taken)
		}
		open[worst].share = 0
	}
	return list
}

// mostIterations bounds the steps of conjugate gradients that look at what is lacking.
const mostIterations = 3

// descent is the solution of a side in a draw on its way from the one in the basis: a few steps of conjugate gradients,
// preconditioned by the factorisation at typical numbers.
type descent struct {
	missing
	left, step, along []float64 // forces that are left, the movements they make at typical numbers, those of the next step
	size              float64   // energy of these
	rule, found, most float64   // of Gauss-Radau: the energy that is lacking is found, and at most that
}

// lacking is what the solutions of a draw that is looked at lack, of the likely sides or of the others; less than enough is
// not looked at closely.
func (b *Basis) lacking(d *Drawn, enough float64, of int) (list []missing) {
	all := b.begun(d, func(side int) bool {
		is := likely
		if d.estimates[side] < unlikelyBelow*enough*d.Least*b.sides[side].slack {
			is = unlikely
		}
		return is&of != 0
	})
	b.solveFor(all)
	for _, s := range all {
		s.along, s.size = s.step, floats.Dot(s.left, s.step)
		s.rule = 1 / d.Least
		s.most = s.rule * math.Max(0, s.size)
	}
	for range mostIterations {
		var open []*descent
		for _, s := range all {
			if s.size > 0 && s.most > enough*s.of {
				open = append(open, s)
			}
		}
		b.descend(open, d)
	}
	for _, s := range all {
		s.share = s.most / s.of
		list = append(list, s.missing)
	}
	return list
}

// begun are those of some sides under which something moves, with the forces that the solutions in the basis leave.
func (b *Basis) begun(d *Drawn, takes func(side int) bool) (all []*descent) {
	var taken []int
	for j := range b.sides {
		if takes(j) {
			taken = append(taken, j)
		}
	}
	moved := general(len(taken), b.sys.size)
	for i, j := range taken {
		if b.Size() > 0 {
			blas64.Gemv(blas.Trans, 1, b.vectors, vector(row(d.moved, j)), 0, vector(row(moved, i)))
		}
	}
	inner := b.forces(moved, d.factors)
	for i, j := range taken {
		force := b.force(b.sides[j], d.factors)
		if energy := floats.Dot(row(moved, i), force); energy > 0 {
			s := &descent{missing: missing{of: energy * b.sides[j].slack, moved: make([]float64, b.sys.size)}, left: row(inner, i)}
			floats.SubTo(s.left, force, s.left)
			all = append(all, s)
		}
	}
	return all
}

// descend takes one step of each. What the steps leave is bounded by the Gauss-Radau rule: no factor is below the least,
// so that no eigenvalue is (Golub & Meurant, Matrices, Moments and Quadrature with Applications, 2010, ch. 12; recursion
// of Meurant & Tichý, Numerical Algorithms 62 (2013) 163, from memory).
func (b *Basis) descend(open []*descent, d *Drawn) {
	if len(open) == 0 {
		return
	}
	along := general(len(open), b.sys.size)
	for i, s := range open {
		copy(row(along, i), s.along)
	}
	inner := b.forces(along, d.factors)
	lengths := make([]float64, len(open))
	for i, s := range open {
		lengths[i] = s.size / floats.Dot(s.along, row(inner, i))
		floats.AddScaled(s.moved, lengths[i], s.along)
		floats.AddScaled(s.left, -lengths[i], row(inner, i))
		s.found += lengths[i] * s.size
	}
	b.solveFor(open)
	for i, s := range open {
		next := math.Max(0, floats.Dot(s.left, s.step))
		s.rule = (s.rule - lengths[i]) / (d.Least*(s.rule-lengths[i]) + next/s.size)
		s.most = s.found + math.Max(0, s.rule)*next
		floats.Scale(next/s.size, s.along)
		floats.Add(s.along, s.step)
		s.size = next
	}
}

// solveFor finds the movements that the forces left make at typical numbers.
func (b *Basis) solveFor(list []*descent) {
	s := b.sys
	n := s.red.unknowns
	q, held := make([]float64, n*len(list)), make([]float64, len(s.frame.constraints))
	for i, l := range list {
		s.red.toUnknowns(q[n*i:][:n], l.left)
	}
	s.factor.SolveManyTo(q, q, len(list))
	for i, l := range list {
		l.step = make([]float64, s.size)
		s.red.toFreedoms(l.step, q[n*i:][:n], held)
	}
}
