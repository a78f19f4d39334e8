package chance

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Seed is that of every draw: two answers are compared under the same luck.
const Seed = 20

// MostUnknowns is how many unknowns a draw may have: as many as the sequence has dimensions.
const MostUnknowns = 1000

// Draws are evenly spread points of the unit cube, one row a draw, one column an unknown.
type Draws struct{ points *mat.Dense }

// Draw returns n points for so many unknowns, from 0 to [MostUnknowns]. The first points of a longer draw are those
// of a shorter one.
func Draw(unknowns, n int) Draws {
	if unknowns < 0 || unknowns > MostUnknowns || n < 0 {
		panic("chance: no such draw")
	}
	if unknowns == 0 || n == 0 {
		return Draws{}
	}
	points := mat.NewDense(n, unknowns, nil)
	samplemv.Halton{
		Kind: samplemv.Owen, Q: distmv.NewUnitUniform(unknowns, nil), Src: rand.NewPCG(Seed, Seed),
	}.Sample(points)
	return Draws{points}
}

// Len returns the number of draws.
func (d Draws) Len() int {
	if d.points == nil {
		return 0
	}
	n, _ := d.points.Dims()
	return n
}

func (d Draws) unknowns() int {
	if d.points == nil {
		return 0
	}
	_, k := d.points.Dims()
	return k
}

// Unit returns an unknown's place in a draw, between 0 and 1.
func (d Draws) Unit(draw, unknown int) float64 { return d.points.At(draw, unknown) }

// Normal returns an unknown's place in a draw as a standard normal.
func (d Draws) Normal(draw, unknown int) float64 { return Normal(d.Unit(draw, unknown)) }

// Normal turns a place between 0 and 1 into a standard normal. The ends, which a scrambled sequence may touch, are
// taken just inside.
func Normal(unit float64) float64 {
	const inside = 1e-9
	return distuv.UnitNormal.Quantile(min(max(unit, inside), 1-inside))
}
