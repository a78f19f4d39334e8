package joint

import (
	"math"

	"tiploop/frame/constant"
)

// BallOnPlane is a ball that touches a flat face: the support a burr, a dowel or a levelling
// screw makes.
type BallOnPlane struct {
	Radius  float64 // of the ball, mm
	E1, Nu1 float64 // of the ball, MPa
	E2, Nu2 float64 // of the flat part, MPa
}

// Hertz is the state of a ball's contact under a load.
type Hertz struct {
	ContactRadius float64 // mm
	Approach      float64 // of two far points, mm
	PeakPressure  float64 // MPa
	Stiffness     float64 // tangent, N/mm
}

// Under returns the contact under a load in N (Hertz 1882; Johnson, Contact Mechanics, ch. 4).
func (b BallOnPlane) Under(load float64) Hertz {
	constant.MustBePositive("joint: radius", b.Radius)
	constant.MustBePositive("joint: load", load)
	e := 1 / ((1-b.Nu1*b.Nu1)/b.E1 + (1-b.Nu2*b.Nu2)/b.E2)
	a := math.Cbrt(3 * load * b.Radius / (4 * e))
	return Hertz{
		ContactRadius: a,
		Approach:      a * a / b.Radius,
		PeakPressure:  1.5 * load / (math.Pi * a * a),
		Stiffness:     2 * e * a,
	}
}
