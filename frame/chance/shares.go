package chance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// mostShares is how many unknowns Shares looks for.
const mostShares = 8

// Shares estimates from draws that are there already what share of the variance of an answer goes when one unknown alone
// becomes known, for the few that matter most; of all others it is zero. What an unknown's logarithm and the square of
// that explain is taken off before the next is looked for, so that the chance likeness of a hundred columns to what one
// of them does is not told as theirs (a sum of squares taken apart as in stepwise regression; the two terms are the first
// of the expansion in Hermite polynomials, which belong to the normal; Sudret, Reliability Engineering & System Safety 93
// (2008) 964, from memory). An answer that does not vary has no shares.
func Shares(logs [][]float64, answer []float64) []float64 {
	if len(logs) == 0 {
		return nil
	}
	shares := make([]float64, len(logs[0]))
	whole := stat.Variance(answer, nil)
	if whole <= alike*alike*math.Pow(stat.Mean(answer, nil), 2) {
		return shares
	}
	var columns []*terms
	for k := range shares {
		columns = append(columns, termsOf(logs, k))
	}
	left := slices.Clone(answer)
	floats.AddConst(-stat.Mean(answer, nil), left)
	chanceAlone := 4 / float64(len(answer)) // twice what two terms explain of any answer by chance
	for range mostShares {
		best, most := -1, 0.0
		for k, c := range columns {
			if c == nil {
				continue
			}
			if explained := c.explain(left); explained > most {
				best, most = k, explained
			}
		}
		if best < 0 || most <= chanceAlone*floats.Dot(left, left) {
			break
		}
		shares[best] = most / (whole * float64(len(answer)-1))
		columns[best].takeOff(left)
		columns[best] = nil
	}
	return shares
}

// terms are an unknown's logarithm and its square, free of the mean and of each other, of size one; nil: of none.
type terms struct{ linear, bent []float64 }

// termsOf are those of a column; nil for one that does not vary.
func termsOf(logs [][]float64, k int) *terms {
	t := &terms{make([]float64, len(logs)), make([]float64, len(logs))}
	for i := range logs {
		t.linear[i] = logs[i][k]
	}
	if !unit(t.linear) {
		return nil
	}
	for i, v := range t.linear {
		t.bent[i] = v * v
	}
	floats.AddConst(-stat.Mean(t.bent, nil), t.bent)
	floats.AddScaled(t.bent, -floats.Dot(t.bent, t.linear), t.linear)
	if !unit(t.bent) {
		clear(t.bent)
	}
	return t
}

// unit takes the mean off and makes the size one; it is false when nothing is left.
func unit(v []float64) bool {
	floats.AddConst(-stat.Mean(v, nil), v)
	size := floats.Norm(v, 2)
	if size == 0 {
		return false
	}
	floats.Scale(1/size, v)
	return true
}

// explain is how much of the square of what is left the terms explain.
func (t *terms) explain(left []float64) float64 {
	a, b := floats.Dot(t.linear, left), floats.Dot(t.bent, left)
	return a*a + b*b
}

// takeOff takes that off.
func (t *terms) takeOff(left []float64) {
	a, b := floats.Dot(t.linear, left), floats.Dot(t.bent, left)
	floats.AddScaled(left, -a, t.linear)
	floats.AddScaled(left, -b, t.bent)
}
