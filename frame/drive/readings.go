package drive

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Readings are those of a dial indicator beside an axis, or a tool, that is pushed and pulled.
type Readings struct {
	PushN  []float64 // with its sign, none of them zero
	DialMM []float64 // one for each push, from any zero
}

// Found is what readings say.
type Found struct {
	NPerUm        float64 // stiffness: the slope, the same both ways
	PlayUm        float64 // the step between pushing and pulling
	ZeroUm        float64 // where the dial would stand in the middle of the play
	FarthestOffUm float64 // of any reading from the line
}

// Fit finds stiffness and play from readings pushed and pulled, by least squares: reading = zero + push/stiffness +
// half the play with the sign of the push. It takes three readings at least, of both signs and of two sizes, and an
// axis that goes the way it is pushed.
func (r Readings) Fit() (Found, error) {
	n := len(r.PushN)
	if n != len(r.DialMM) {
		return Found{}, fmt.Errorf("readings: %d pushes and %d of the dial", n, len(r.DialMM))
	}
	const unknowns = 3
	if n < unknowns {
		return Found{}, fmt.Errorf("readings: %d are too few, three at least", n)
	}
	a, b := mat.NewDense(n, unknowns, nil), mat.NewVecDense(n, nil)
	for i, push := range r.PushN {
		if !(math.Abs(push) > 0) || math.IsInf(push, 0) || math.IsNaN(r.DialMM[i]) || math.IsInf(r.DialMM[i], 0) {
			return Found{}, fmt.Errorf("readings: %g N and %g mm are no push and reading", push, r.DialMM[i])
		}
		a.SetRow(i, []float64{1, push, math.Copysign(0.5, push)})
		b.SetVec(i, r.DialMM[i])
	}
	var fit mat.VecDense
	if err := fit.SolveVec(a, b); err != nil || !(fit.AtVec(1) > 0) {
		return Found{}, fmt.Errorf("readings: no stiffness fits them; take pushes both ways, of two sizes at least")
	}
	const umPerMM = 1000
	found := Found{ZeroUm: umPerMM * fit.AtVec(0), NPerUm: 1 / (umPerMM * fit.AtVec(1)), PlayUm: umPerMM * fit.AtVec(2)}
	var off mat.VecDense
	off.MulVec(a, &fit)
	off.SubVec(&off, b)
	for i := range n {
		found.FarthestOffUm = math.Max(found.FarthestOffUm, umPerMM*math.Abs(off.AtVec(i)))
	}
	return found, nil
}
