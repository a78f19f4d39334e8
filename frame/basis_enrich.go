package frame

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// mostMovements bounds a basis: the equations of a draw, and with their cube the cost.
const mostMovements = 80

// Enrich takes in what solutions at some draws lack, until the energy of each is within the tolerance, a share of it, or
// the basis is as large as it may be. It returns the largest share that is still lacking by its bound: of loads and
// readings, at these draws.
//
// What lacks is found by the factorisation at typical numbers: with the residual r of a draw, w = K₀⁻¹r is the step that
// an iteration preconditioned by K₀ would take, and since no number falls below a share α of its typical one, K ≥ α·K₀
// and rᵀK⁻¹r ≤ rᵀw/α.
func (b *Basis) Enrich(draws [][]float64, tolerance float64) (bound float64) {
	const passes = 6
	for range passes {
		bound = 0
		grown := false
		for i := range draws {
			lacking, wanting := b.lacking(draws[i])
			bound = math.Max(bound, lacking)
			if lacking <= tolerance {
				continue
			}
			for _, w := range wanting {
				if len(b.vectors) < mostMovements && b.add(w) {
					grown = true
				}
			}
		}
		if bound <= tolerance || !grown {
			return bound
		}
	}
	return bound
}

// Bound is the largest share of a solution's energy that may be lacking at some draws.
func (b *Basis) Bound(draws [][]float64) (bound float64) {
	for _, logs := range draws {
		lacking, _ := b.lacking(logs)
		bound = math.Max(bound, lacking)
	}
	return bound
}

// lacking bounds the share of energy that the solutions of one draw lack, and lists the movements that they lack, most
// of it first.
func (b *Basis) lacking(logs []float64) (bound float64, wanting [][]float64) {
	type missing struct {
		share float64
		moved []float64
	}
	var list []missing
	b.Solve([][]float64{logs}, func(_ int, d *Drawn) {
		by := b.factors(d.numbers)
		least := by.least()
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
			share := math.Max(0, floats.Dot(w, left)) / least / energy
			bound = math.Max(bound, share)
			list = append(list, missing{share, w})
		}
	})
	slices.SortStableFunc(list, func(x, y missing) int {
		switch {
		case x.share > y.share:
			return -1
		case x.share < y.share:
			return 1
		}
		return 0
	})
	for _, m := range list {
		wanting = append(wanting, m.moved)
	}
	return bound, wanting
}

// least is the smallest of all factors, at most one.
func (f *factors) least() float64 {
	least := 1.0
	for _, list := range [][]float64{f.member, f.spring, f.block} {
		for _, v := range list {
			least = math.Min(least, v)
		}
	}
	return least
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
	for _, i := range b.known {
		by.spring[i] = 1
	}
	for k, i := range b.doubtful {
		by.spring[i] = numbers[len(b.groups)+k] / s.frame.springs[i].Stiffness
	}
	return by
}
