package chance

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Shares estimates from draws that are there already what share of the variance of an answer goes when one unknown alone
// becomes known: what of it the unknown's logarithm and the square of that explain (first terms of the expansion in
// Hermite polynomials, which belong to the normal; Sudret, Reliability Engineering & System Safety 93 (2008) 964, from
// memory). The two terms hold all but what bends more than once; n draws leave an error of about √(2/n) of a share's
// root. An answer that does not vary has no shares: all zero.
func Shares(logs [][]float64, answer []float64) []float64 {
	if len(logs) == 0 {
		return nil
	}
	shares := make([]float64, len(logs[0]))
	if stat.Variance(answer, nil) <= alike*alike*math.Pow(stat.Mean(answer, nil), 2) {
		return shares
	}
	column, square := make([]float64, len(answer)), make([]float64, len(answer))
	for k := range shares {
		for i := range column {
			column[i] = logs[i][k]
		}
		mean, deviation := stat.MeanStdDev(column, nil)
		if deviation == 0 {
			continue
		}
		for i, v := range column {
			z := (v - mean) / deviation
			square[i] = z*z - 1
		}
		linear, bent := stat.Correlation(column, answer, nil), stat.Correlation(square, answer, nil)
		shares[k] = linear*linear + bent*bent
	}
	return shares
}
