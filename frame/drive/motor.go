package drive

import "tiploop/frame/constant"

// Stepper is a generic stepper motor of one frame size.
type Stepper struct {
	Key    string // "frame-23"
	Name   string
	Hold   constant.Band // holding torque, N·mm
	Rotor  constant.Band // moment of inertia of the rotor, tonne·mm² (1 g·cm² is 1e-4)
	Mass   constant.Band // tonne
	Source string
}

// stepperTeeth is the number of tooth pairs of a motor with 1.8° steps: the torque is a sine of the
// lag with that many periods a turn.
const stepperTeeth = 50

var steppers = []Stepper{
	{"frame-17", "stepper motor of frame size 17", constant.Between(300, 450, 650),
		constant.Between(0.0035, 0.0054, 0.0080), constant.Between(0.22e-3, 0.30e-3, 0.50e-3), "makers' data (from memory)"},
	{"frame-23", "stepper motor of frame size 23", constant.Between(1000, 1900, 3000),
		constant.Between(0.020, 0.044, 0.080), constant.Between(0.6e-3, 1.0e-3, 1.8e-3), "makers' data (from memory)"},
	{"frame-34", "stepper motor of frame size 34", constant.Between(4000, 6500, 12000),
		constant.Between(0.14, 0.22, 0.40), constant.Between(1.8e-3, 2.8e-3, 5e-3), "makers' data (from memory)"},
}

// Steppers returns the known motors, small to large.
func Steppers() []Stepper { return append([]Stepper(nil), steppers...) }

// LookupStepper returns the motor of that key.
func LookupStepper(key string) (Stepper, bool) {
	return constant.Find(steppers, key, func(s Stepper) string { return s.Key })
}

// HoldingStiffness returns the rotary stiffness of a stepper with 1.8° steps at full current about a
// place where it carries nothing, N·mm/rad: 50 tooth pairs times the holding torque in N·mm, the slope
// of T sin(50 θ). It falls to nothing at the holding torque.
func HoldingStiffness(hold float64) float64 {
	constant.MustBePositive("drive: holding torque", hold)
	return stepperTeeth * hold
}

// InMotion returns the share of its holding torque that a stepper may be asked for while it turns.
func InMotion() constant.Band { return stepperMoving.Band }
