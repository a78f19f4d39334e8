package frame

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// mostMovements bounds a basis: the equations of a draw, and with their cube the cost.
const mostMovements = 120

// Enrich takes in what solutions at some draws lack, until the energy of each is within the tolerance, a share of it, or
// the basis is as large as it may be.
//
// What lacks is found by the factorisation at typical numbers: with the residual r of a draw, w = K₀⁻¹r is the step that
// an iteration preconditioned by K₀ would take, and since no number falls below a share α of its typical one, K ≥ α·K₀
// and rᵀK⁻¹r ≤ rᵀw/α.
func (b *Basis) Enrich(draws [][]float64, tolerance float64) {
	const passes = 4
	for _, logs := range draws {
		for range passes {
			grown := false
			for _, m := range b.lacking(logs) {
				if m.share > tolerance && len(b.vectors) < mostMovements && b.add(m.moved) {
					grown = true
				}
			}
			if !grown {
				break
			}
		}
	}
}

// Bound is the largest share of a solution's energy that may be lacking at some draws; of what is only read, less its
// Slack.
func (b *Basis) Bound(draws [][]float64) (bound float64) {
	for _, logs := range draws {
		for _, m := range b.lacking(logs) {
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

// lacking is what the solutions of one draw lack, most of it first.
func (b *Basis) lacking(logs []float64) (list []missing) {
	b.Solve([][]float64{logs}, func(_ int, d *Drawn) {
		by := b.factors(d.numbers)
		for j, side := range b.sides {
			if !side.own {
				continue
			}
			u := make([]float64, b.sys.size)
			for i, v := range b.vectors {
				floats.AddScaled(u, d.moved[i*len(b.sides)+j], v)
			}
			energy := floats.Dot(u, side.force)
			left := b.sys.innerForcesTimes(u, by)
			floats.SubTo(left, side.force, left)
			w := b.sys.solve(left)
			list = append(list, missing{math.Max(0, floats.Dot(w, left)) / (d.Least * energy * side.slack), w})
		}
	})
	slices.SortStableFunc(list, func(x, y missing) int { return cmp.Compare(y.share, x.share) })
	return list
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
