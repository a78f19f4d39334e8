package joint

import "math"

// TorqueLimits returns the torques, N·mm, at which the screw reaches its proof stress in tension and at which it
// breaks under tension and twist together, with typical friction. They are for the least strengths of its class; a dry
// or waxed screw takes a third more or less.
func (s Clamping) TorqueLimits() (proof, breaking float64) {
	t := s.tightening()
	return t.Torque(s.Screw.ProofLoad()), t.Torque(t.AssemblyPreload(s.Screw.Strength, 1))
}

// The threads of ISO 68-1 bear over 7/8 of a pitch at the nominal diameter, over 3/4 at the inner diameter of the
// tapped thread D1 = d - 5/4 H = d - 1.08253 P (Bickford, An Introduction to the Design and Behavior of Bolted Joints;
// ISO/TR 16224; from memory).
const (
	bearingAtOuter    = 7. / 8
	bearingAtInner    = 3. / 4
	innerLinePerPitch = 2 * 5. / 8 * halfSqrt3
)

// TappedShear returns the area over which the thread of the tapped part shears, per length of engagement, mm.
func (th Thread) TappedShear() float64 { return bearingAtOuter * math.Pi * th.D }

// ScrewShear returns the area over which the screw's own thread shears, per length of engagement, mm.
func (th Thread) ScrewShear() float64 {
	return bearingAtInner * math.Pi * (th.D - innerLinePerPitch*th.Pitch)
}

// Engagement returns the length of thread in a part of that shear strength, MPa, that bears a force, N, mm.
func (th Thread) Engagement(force, shearStrength float64) float64 {
	return force / (shearStrength * th.TappedShear())
}

// softEngagement is the engagement, in screw diameters, from which an aluminium thread bears what a steel one does: 2.0
// after the Industrial Fasteners Institute in a trade article, where a workmanship standard asks 1.5.
const softEngagement = 2.0

// IsSoft reports whether a thread in a part of that modulus, MPa, is one in aluminium, or in something softer.
func IsSoft(e float64) bool { return e <= lightMetalE }

// NeedsSoftTorque reports whether a thread of that length, mm, in a part of that modulus, MPa, takes the lower torque
// that makers of rails give for aluminium.
func (s Screw) NeedsSoftTorque(engaged, e float64) bool {
	return IsSoft(e) && engaged < softEngagement*s.D
}

// SoftEngagementNeeded returns the length of thread in aluminium, mm, as threads are cut at home, below which the
// thread may strip before a screw of class 8.8 breaks, or under a preload, N, that is more than that.
func (s Screw) SoftEngagementNeeded(preload float64) float64 {
	force := math.Max(preload, classes[0].strength*s.StressArea)
	shear := shearStrengthRatio.Band.Typical * tappedStrength.Band.Typical * threadLeft.Band.Typical
	return Thread{s.D, s.Pitch}.Engagement(force, shear)
}
