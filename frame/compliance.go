package frame

import (
	"fmt"

	"gonum.org/v1/gonum/floats"
)

// Compliance is how far each read form moves per unit force on each pushed form: c[i][j] = read i per push j. It costs
// one solve per push, with the one factorisation.
func (s *System) Compliance(read, push []Form) ([][]float64, error) {
	c := make([][]float64, len(read))
	forms := make([]Form, len(read))
	for i, r := range read {
		c[i] = make([]float64, len(push))
		forms[i] = s.red.form(s.frame.settle(r))
	}
	for j, p := range push {
		q, err := s.unitMovement(s.red.form(s.frame.settle(p)))
		if err != nil {
			return nil, err
		}
		for i, r := range forms {
			c[i][j] = r.Of(q)
		}
	}
	return c, nil
}

// unitMovement is the movement of the unknowns under a unit force on a reduced form.
func (s *System) unitMovement(form Form) ([]float64, error) {
	n := s.red.unknowns
	b := make([]float64, n)
	for _, t := range form {
		b[t.Freedom] += t.Factor
	}
	scale := floats.Norm(b, 2)
	q := make([]float64, n)
	if scale == 0 {
		return q, nil
	}
	s.factor.SolveTo(q, b)
	left := make([]float64, n)
	s.matrix.MulTo(left, q)
	floats.SubTo(left, b, left)
	if r := floats.Norm(left, 2) / scale; !(r <= worstResidual) {
		return nil, fmt.Errorf("frame: forces are out of balance by %.1e of the load: the structure is too unevenly stiff to be solved", r)
	}
	s.factor.SolveTo(left, left)
	floats.Add(q, left)
	return q, nil
}
