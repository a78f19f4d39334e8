package scene

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// within is how near a body's polynomial has to come to its movements, as a share of the largest movement of anything
// under the load: a tenth of a pixel or so, as bodies are drawn bent.
const within = 0.01

// The highest degree of a polynomial in all coordinates, and in that along a slender body.
const (
	mostDegree = 7
	mostAlong  = 11
)

// basis is a list of monomials x^i·y^j·z^k in the coordinates of a body's box, each from −1 to 1.
type basis [][3]int

// bases are those that are tried for a body, the shortest first: full ones, and those of a slender body, whose sections
// stay flat: of any degree along its longest side and of the first across. None has more powers along an axis than there are
// places along it.
func bases(places [3]int, long int) (list []basis) {
	for degree := 1; degree <= mostAlong; degree++ {
		var full, slender basis
		for i := 0; i <= min(degree, places[0]-1); i++ {
			for j := 0; j <= min(degree, places[1]-1); j++ {
				for k := 0; k <= min(degree, places[2]-1); k++ {
					powers := [3]int{i, j, k}
					if i+j+k <= degree {
						full = append(full, powers)
					}
					if i+j+k-powers[long] <= 1 {
						slender = append(slender, powers)
					}
				}
			}
		}
		if degree <= mostDegree {
			list = append(list, full)
		}
		list = append(list, slender)
	}
	slices.SortStableFunc(list, func(a, b basis) int { return len(a) - len(b) })
	return list
}

// boxed gives places in the coordinates of the box round them, and the axis along which that is longest.
func boxed(at [][3]float64) (list [][3]float64, long int) {
	lo, hi := at[0], at[0]
	for _, p := range at {
		for k := range p {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	for k := range lo {
		if hi[k]-lo[k] > hi[long]-lo[long] {
			long = k
		}
	}
	list = make([][3]float64, len(at))
	for i, p := range at {
		for k := range p {
			if half := (hi[k] - lo[k]) / 2; half > 0 {
				list[i][k] = (p[k] - (lo[k]+hi[k])/2) / half
			}
		}
	}
	return list, long
}

// places counts the different coordinates along each axis.
func places(at [][3]float64) (count [3]int) {
	for k := range 3 {
		var values []float64
		for _, p := range at {
			values = append(values, math.Round(p[k]*1e6))
		}
		slices.Sort(values)
		count[k] = len(slices.Compact(values))
	}
	return count
}

func (b basis) at(p [3]float64) []float64 {
	row := make([]float64, len(b))
	for n, powers := range b {
		row[n] = math.Pow(p[0], float64(powers[0])) * math.Pow(p[1], float64(powers[1])) * math.Pow(p[2], float64(powers[2]))
	}
	return row
}

// field is a movement of a body's corners, and the largest movement of anything under its load.
type field struct {
	at    [][3]float64 // where the corners are, mm
	moved [][3]float64
	most  float64
}

// fitted finds the shortest polynomials that come near to all fields of a body, which have their corners in the same
// places of its box, and the coefficients of each field; where none does, those that are longest.
func fitted(fields []field) (terms basis, coefficients [][][3]float64) {
	if len(fields) == 0 {
		return nil, nil
	}
	at, long := boxed(fields[0].at)
	for _, terms = range bases(places(at), long) {
		a := mat.NewDense(len(at), len(terms), nil)
		for i, p := range at {
			a.SetRow(i, terms.at(p))
		}
		if coefficients = leastSquares(a, fields); near(a, fields, coefficients) {
			break
		}
	}
	return terms, coefficients
}

// smallValue is the share of the largest below which a principal value is none: corners of a thin skew bar lie nearly
// on a line.
const smallValue = 1e-8

func leastSquares(a *mat.Dense, fields []field) [][][3]float64 {
	corners, terms := a.Dims()
	rhs := mat.NewDense(corners, 3*len(fields), nil)
	for f, field := range fields {
		for i, v := range field.moved {
			for k := range v {
				rhs.Set(i, 3*f+k, v[k])
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		panic("scene: places of a body without principal directions")
	}
	var x mat.Dense
	svd.SolveTo(&x, rhs, svd.Rank(smallValue))
	list := make([][][3]float64, len(fields))
	for f := range fields {
		for n := range terms {
			list[f] = append(list[f], [3]float64{x.At(n, 3*f), x.At(n, 3*f+1), x.At(n, 3*f+2)})
		}
	}
	return list
}

// near tells whether the polynomials come within the share of each load's largest movement.
func near(a *mat.Dense, fields []field, coefficients [][][3]float64) bool {
	for f, field := range fields {
		for i, want := range field.moved {
			var got [3]float64
			for n, row := range coefficients[f] {
				for k := range got {
					got[k] += a.At(i, n) * row[k]
				}
			}
			if math.Hypot(math.Hypot(got[0]-want[0], got[1]-want[1]), got[2]-want[2]) > within*field.most {
				return false
			}
		}
	}
	return true
}
