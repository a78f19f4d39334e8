package chance

import "gonum.org/v1/gonum/stat"

// Culprit is one unknown's part in an answer's variance.
type Culprit struct {
	First float64 // what would go if it alone were known
	Total float64 // what would stay if it alone were unknown: more than First by what it does together with others
}

// Culprits estimates what share of the variance of an answer comes from each unknown. The answer is asked for at points
// of the unit cube, n × (unknowns + 2) times; n is best a power of two, 1024 leave an error of about 0.01. An answer
// that does not vary has no culprits: all zero.
//
// First-order shares after Saltelli and others (Variance based sensitivity analysis of model output, Computer Physics
// Communications 181 (2010) 259), total ones after Jansen (Computer Physics Communications 117 (1999) 35), both from
// memory.
func Culprits(unknowns, n int, answer func(unit []float64) float64) []Culprit {
	culprits := make([]Culprit, unknowns)
	if unknowns == 0 || n < 2 {
		return culprits
	}
	draws := Draw(2*unknowns, n)
	a, b := make([]float64, n), make([]float64, n)
	point := make([]float64, unknowns)
	// place fills in the point of a draw: all of the first half of the columns but one, which is of the second.
	place := func(i, other int) []float64 {
		for k := range point {
			column := k
			if k == other {
				column += unknowns
			}
			point[k] = draws.Unit(i, column)
		}
		return point
	}
	for i := range n {
		a[i] = answer(place(i, -1))
		for k := range point {
			point[k] = draws.Unit(i, unknowns+k)
		}
		b[i] = answer(point)
	}
	// Both halves say what the variance is; taken about their common mean, which the products below need too.
	both := append(append([]float64(nil), a...), b...)
	mean, variance := stat.MeanVariance(both, nil)
	if !(variance > 0) {
		return culprits
	}
	for k := range culprits {
		for i := range n {
			mixed := answer(place(i, k))
			culprits[k].First += (b[i] - mean) * (mixed - a[i])
			culprits[k].Total += (a[i] - mixed) * (a[i] - mixed) / 2
		}
		culprits[k].First /= float64(n) * variance
		culprits[k].Total /= float64(n) * variance
	}
	return culprits
}
