package solid

import "math"

// station is a place at which an element is sampled, and its share of the local volume.
type station struct {
	Xi     [3]float64
	Weight float64
}

// gauss are three points along −1..1 that integrate every polynomial of degree 5 exactly.
var gauss = [3][2]float64{{-math.Sqrt(0.6), 5. / 9}, {0, 8. / 9}, {math.Sqrt(0.6), 5. / 9}}

// brickStations are 3 × 3 × 3 points. Products of two shape functions, or of their derivatives, have degree 4 in each
// coordinate: stiffness and mass of a box are exact. The 2 × 2 × 2 points of reduced integration would leave six motions
// without strain in every brick; those of neighbours cancel only where there are neighbours.
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

// wedgeStations are Radon's seven points of a triangle, exact to degree 5 (Radon 1948; Stroud, Approximate Calculation of
// Multiple Integrals, 1971, T2: 5-1), times three along t: again exact for stiffness and mass of a straight wedge.
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
