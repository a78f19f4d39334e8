package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Rod is a piece of a screw, or anything that stretches like one.
type Rod struct {
	Length float64 // mm
	Area   float64 // mm²
	E      float64 // MPa
}

// RodStiffness returns the axial stiffness of rods in a row, N/mm: 1/k = Σ l/(E A).
func RodStiffness(rods ...Rod) float64 {
	k := make([]float64, len(rods))
	for i, r := range rods {
		constant.MustBePositive("joint: rod length", r.Length)
		k[i] = r.E * r.Area / r.Length
	}
	return Series(k...)
}

// Frustum is the part of a clamped plate that carries a screw's force, as a hollow cone.
type Frustum struct {
	Hole      float64 // diameter of the hole, mm
	Small     float64 // diameter of the cone where it starts, mm, larger than the hole
	Thickness float64 // mm
	HalfAngle float64 // half apex angle, degrees
	E         float64 // MPa
}

// Stiffness returns the axial stiffness of the cone, N/mm. Shigley's Mechanical Engineering
// Design, 9th ed., eq. 8-19:
//
//	k = π E d tanφ / ln{ (2 t tanφ + D - d)(D + d) / [(2 t tanφ + D + d)(D - d)] }
//
// Metal that a solid or beam model already holds must not be counted again with this cone: a [Clamping] has spreading
// terms instead, and asks the cone for what settling takes alone.
func (f Frustum) Stiffness() float64 {
	constant.MustBePositive("joint: hole", f.Hole)
	constant.MustBePositive("joint: width of the ring under the head", f.Small-f.Hole)
	constant.MustBePositive("joint: thickness", f.Thickness)
	constant.MustBePositive("joint: half angle", f.HalfAngle)
	tan := math.Tan(f.HalfAngle * math.Pi / 180)
	grow := 2 * f.Thickness * tan
	ratio := (grow + f.Small - f.Hole) * (f.Small + f.Hole) / ((grow + f.Small + f.Hole) * (f.Small - f.Hole))
	return math.Pi * f.E * f.Hole * tan / math.Log(ratio)
}
