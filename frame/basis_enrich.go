package frame

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// mostMovements bounds a basis: the equations of a draw, and with their cube the cost.
const mostMovements = 120

// Enrich takes in what solutions at some draws lack where that may be more than the tolerance, a share of their energy,
// until the basis is as large as it may be.
func (b *Basis) Enrich(draws [][]float64, tolerance float64) {
	for _, logs := range draws {
		for _, m := range b.lacking(logs, tolerance) {
			if m.share > tolerance && len(b.vectors) < mostMovements {
				b.add(m.moved)
			}
		}
	}
}

// Bound is the largest share of a solution's energy that may be lacking at some draws; of what is only read, less its
// Slack. A bound that is enough is not made any tighter.
func (b *Basis) Bound(draws [][]float64, enough float64) (bound float64) {
	for _, logs := range draws {
		for _, m := range b.lacking(logs, enough) {
			bound = math.Max(bound, m.share)
		}
	}
	return bound
}

// missing is what the solution of a side lacks: a share of its energy that it is at most, and a movement.
type missing struct {
	share float64
	moved []float64
}

// lacking is what the solutions of one draw lack, most of it first; less than enough is not looked at closely.
func (b *Basis) lacking(logs []float64, enough float64) (list []missing) {
	b.Solve([][]float64{logs}, func(_ int, d *Drawn) {
		by := b.factors(d.numbers)
		for j, side := range b.sides {
			u := make([]float64, b.sys.size)
			for i, v := range b.vectors {
				floats.AddScaled(u, d.moved[i*len(b.sides)+j], v)
			}
			force := b.force(side, d.numbers)
			energy := floats.Dot(u, force)
			if energy <= 0 {
				continue // nothing moves under it
			}
			left := b.sys.innerForcesTimes(u, by)
			floats.SubTo(left, force, left)
			of := energy * side.slack
			moved, most := b.iterate(left, by, d.Least, enough*of)
			list = append(list, missing{most / of, moved})
		}
	})
	slices.SortStableFunc(list, func(x, y missing) int { return cmp.Compare(y.share, x.share) })
	return list
}

// mostIterations bounds the steps of conjugate gradients that look at what is lacking.
const mostIterations = 3

// iterate takes a few steps of conjugate gradients, preconditioned by the factorisation at typical numbers, towards the
// movements that forces make in a draw, and bounds the energy of these; no step is taken once the bound is enough. No
// number is below least of its typical one, so that no eigenvalue is below least, and what the steps leave is bounded by
// the Gauss-Radau rule (Golub & Meurant, Matrices, Moments and Quadrature with Applications, 2010, ch. 12; recursion of
// Meurant & Tichý, Numerical Algorithms 62 (2013) 163, from memory).
func (b *Basis) iterate(forces []float64, by *factors, least, enough float64) (moved []float64, most float64) {
	moved = make([]float64, len(forces))
	left := slices.Clone(forces)
	step := b.sys.solve(left)
	along := slices.Clone(step)
	size := floats.Dot(left, step)
	rule, found := 1/least, 0.0
	most = rule * math.Max(0, size)
	for range mostIterations {
		if !(size > 0) || most <= enough {
			break
		}
		inner := b.sys.innerForcesTimes(along, by)
		length := size / floats.Dot(along, inner)
		floats.AddScaled(moved, length, along)
		floats.AddScaled(left, -length, inner)
		found += length * size
		step = b.sys.solve(left)
		next := math.Max(0, floats.Dot(left, step))
		rule = (rule - length) / (least*(rule-length) + next/size)
		most = found + math.Max(0, rule)*next
		floats.Scale(next/size, along)
		floats.Add(along, step)
		size = next
	}
	return moved, most
}

// solve finds the movements of all freedoms under forces on them at typical numbers.
func (s *System) solve(force []float64) []float64 {
	q := make([]float64, s.red.unknowns)
	s.red.toUnknowns(q, force)
	s.factor.SolveTo(q, q)
	u := make([]float64, s.size)
	s.red.toFreedoms(u, q, make([]float64, len(s.frame.constraints)))
	return u
}

// factors are what everything is multiplied by in a draw.
func (b *Basis) factors(numbers []float64) *factors {
	s := b.sys
	by := &factors{make([]float64, len(s.placed)), make([]float64, len(s.spring)), make([]float64, len(s.block))}
	for m, g := range b.ofMember {
		by.member[m] = numbers[g]
	}
	for i, g := range b.ofBlock {
		by.block[i] = numbers[g]
	}
	for _, i := range b.certain {
		by.spring[i] = 1
	}
	for k, i := range b.doubtful {
		by.spring[i] = numbers[len(b.groups)+k] / s.frame.springs[i].Stiffness
	}
	return by
}
