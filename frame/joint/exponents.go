package joint

import "tiploop/frame/constant"

// What the stiffness of a clamping goes with, as powers: d(ln k)/d(ln of the number) at typical numbers. Each law of
// contact is a power of the pressure, so these hold for any preload and not only near the typical one.

// PressureExponent returns the power of the pressure that the typical [Surface.ContactStiffness] goes with: 1−m by the
// first law alone, midway between that and 1 where the typical stiffness is the log mean of both.
func (s Surface) PressureExponent() float64 {
	if s.Wavy {
		return 1 - s.M
	}
	return (1 - s.M + 1) / 2
}

// PressureExponent returns the power of the pressure that the layer's modulus goes with.
func (l Layer) PressureExponent() float64 {
	if l.Paper {
		return paperExponent.Band.Typical
	}
	return 0
}

// FrictionExponent returns the power of the friction of thread and head, alike in both, that the preload of a screw
// goes with when it is tightened to a torque. That of a screw of which only the preload is given is the same: a hand
// that means a preload reaches it by a torque.
func (s Clamping) FrictionExponent() float64 {
	t := s.tightening()
	if s.TorqueNmm > 0 && t.Preload(s.TorqueNmm) > t.AssemblyPreload(s.Screw.Yield, 1) {
		twist := t.twistPerTension(t.Thread.D2(), t.Thread.StressDiameter())
		slick := t
		slick.ThreadFriction = 0
		rubbed := twist - slick.twistPerTension(t.Thread.D2(), t.Thread.StressDiameter())
		return -3 * twist * rubbed / (1 + 3*twist*twist)
	}
	slick := t
	slick.ThreadFriction, slick.HeadFriction = 0, 0
	return slick.torquePerForce()/t.torquePerForce() - 1
}

// PreloadScatter returns the preload that a screw reaches over the one meant.
func PreloadScatter() constant.Band { return preloadScatter.Band }

// ProofShare returns the share of the proof load that a screw is tightened to when no torque is given.
func ProofShare() constant.Band { return proofShare.Band }

// ConeHalfAngle returns the half apex angle of the pressure cone under a head, degrees.
func ConeHalfAngle() constant.Band { return coneHalfAngle.Band }

// ScrewFriction returns the friction of thread and head.
func ScrewFriction() constant.Band { return threadFriction.Band }

// TangentialRatio returns the tangential over the normal contact stiffness of faces that stick.
func TangentialRatio() constant.Band { return tangentialRatio.Band }

// PaperModulus returns the modulus of paper through its thickness at 1 MPa, MPa.
func PaperModulus() constant.Band { return paperModulus.Band }
