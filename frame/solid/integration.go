package solid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
)

// station is a place at which an element is sampled, and its share of the local volume.
type station struct {
	Xi     [3]float64
	Weight float64
}

// legendre are n points along −1..1, ascending, with their weights: every polynomial of degree 2n−1 is integrated
// exactly.
func legendre(n int) [][2]float64 {
	x, w := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	rule := make([][2]float64, n)
	for i := range rule {
		rule[i] = [2]float64{x[i], w[i]}
	}
	slices.SortFunc(rule, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	return rule
}

// onUnit moves points from −1..1 to 0..1 and puts them in order from the middle outwards.
func onUnit(rule [][2]float64) [][2]float64 {
	unit := slices.Clone(rule)
	slices.SortStableFunc(unit, func(a, b [2]float64) int { return cmp.Compare(math.Abs(a[0]), math.Abs(b[0])) })
	for i, p := range unit {
		unit[i] = [2]float64{(1 + p[0]) / 2, p[1] / 2}
	}
	return unit
}

var (
	// gauss are three points along −1..1, exact to degree 5.
	gauss = legendre(3)
	// fourPoints are four, exact to degree 7 (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4). They
	// are written out because the outer points of legendre(4) are one off in the last digit that a float64 holds.
	fourPoints = [][2]float64{
		{-0.861136311594052575, 0.347854845137453857}, {-0.339981043584856265, 0.652145154862546143},
		{0.339981043584856265, 0.652145154862546143}, {0.861136311594052575, 0.347854845137453857},
	}
)

// brickStations are 3 × 3 × 3 points. Products of two shape functions, or of their derivatives, have degree 4 in each
// coordinate: stiffness and mass of a box are exact. The 2 × 2 × 2 points of reduced integration would leave six
// motions without strain in every brick; those of neighbours cancel only where there are neighbours.
var brickStations = func() (list []station) {
	for _, c := range gauss {
		for _, b := range gauss {
			for _, a := range gauss {
				list = append(list, station{[3]float64{a[0], b[0], c[0]}, a[1] * b[1] * c[1]})
			}
		}
	}
	return list
}()

// wedgeStations are Radon's seven points of a triangle, exact to degree 5 (Radon 1948; Stroud, Approximate Calculation
// of Multiple Integrals, 1971, T2: 5-1), times three along t: again exact for stiffness and mass of a straight wedge.
var wedgeStations = func() (list []station) {
	type spot struct{ r, s, weight float64 } // weights sum to the area ½
	spots := []spot{{1. / 3, 1. / 3, 9. / 80}}
	for _, sign := range [2]float64{-1, 1} {
		a, w := (6+sign*math.Sqrt(15))/21, (155+sign*math.Sqrt(15))/2400
		spots = append(spots, spot{a, a, w}, spot{1 - 2*a, a, w}, spot{a, 1 - 2*a, w})
	}
	for _, g := range gauss {
		for _, p := range spots {
			list = append(list, station{[3]float64{p.r, p.s, g[0]}, p.weight * g[1]})
		}
	}
	return list
}()
