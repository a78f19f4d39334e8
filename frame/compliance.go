package frame

import "gonum.org/v1/gonum/floats"

// Compliance is how far each read form moves per unit force on each pushed form: c[i][j] = read i per push j. It costs
// half a solve per form with the one factorisation, and gives no residual: solve a load case to know that the frame
// is fit to be solved.
func (s *System) Compliance(read, push []Form) [][]float64 {
	halves := s.halves(push)
	left := halves
	if !begins(push, read) {
		left = s.halves(read)
	}
	c := make([][]float64, len(read))
	for i := range read {
		c[i] = make([]float64, len(push))
		for j := range push {
			c[i][j] = floats.Dot(left[i], halves[j])
		}
	}
	return c
}

// begins tells whether a list is the beginning of another, in the same memory.
func begins(whole, list []Form) bool {
	return len(list) == 0 || len(list) <= len(whole) && &list[0] == &whole[0]
}

// halves are the half solutions of forms: their inner products are compliances.
func (s *System) halves(forms []Form) [][]float64 {
	list := make([][]float64, len(forms))
	b := make([]float64, s.red.unknowns)
	for i, f := range forms {
		reduced := s.Reduce(f)
		for _, t := range reduced {
			b[t.Freedom] = t.Factor
		}
		list[i] = make([]float64, len(b))
		s.factor.HalfTo(list[i], b)
		for _, t := range reduced {
			b[t.Freedom] = 0
		}
	}
	return list
}
