package frame

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Load is one load case; its actions add up.
type Load struct {
	Pushes    []Push
	Lines     []Line
	Gravity   r3.Vec // acceleration, mm/s²; zero: weightless
	Inertia   []Inertia
	Warm      []Warm
	Swollen   []Swollen
	Stretched []Stretched
	Moved     []Moved
}

// Push is a generalised force on a form: a force on a movement, a moment on a rotation.
type Push struct {
	Form  Form
	Force float64 // N or N·mm
}

// Line is a load per length on a stretch of a member, varying linearly, in the world's axes.
type Line struct {
	Member   int
	From, To float64 // mm from the member's first end
	AtFrom   r3.Vec  // N/mm
	AtTo     r3.Vec  // N/mm
}

// Warm is a temperature change of a member.
type Warm struct {
	Member int
	Mean   float64 // K
	GradY  float64 // K/mm along the section's y axis
	GradZ  float64 // K/mm along the section's z axis
}

// Swollen is a block that would take other values in its freedoms if it were free: thermal growth.
type Swollen struct {
	Block int
	By    []float64 // value of each of the block's freedoms in the strain-free state
}

// Stretched is a spring whose ends are further apart than its form says, by the growth of what it stands on.
type Stretched struct {
	Spring int
	By     float64 // mm or rad, added to the form's value
}

// Moved prescribes the value of a constraint.
type Moved struct {
	Constraint int
	Value      float64 // mm or rad
}
