package guide

import "tiploop/frame/constant"

// AllowedStep returns the height difference, mm, that the makers allow between two carriages of one
// rail, and between two rails, a distance apart in mm. With preload the narrower of their limits is
// far below what a home shop measures; more of a step does no harm at once, but eats preload and
// life (see [LockedIn]).
func (p Preload) AllowedStep(distance float64) (carriages, rails constant.Band) {
	constant.MustBePositive("guide: distance", distance)
	if p.Share().High > 0 {
		return heightStepPreloaded.Band.Scaled(distance), railStepPreloaded.Band.Scaled(distance)
	}
	return heightStepClearance.Band.Scaled(distance), railStepClearance.Band.Scaled(distance)
}

// LockedIn returns the force, N, that a height mismatch in mm puts into two carriages of stiffness k
// each, N/mm, on a structure of stiffness between them, N/mm, when they are screwed down all the
// same: mismatch/(1/k + 1/k + 1/structure).
func LockedIn(mismatch, k, structure float64) (force float64) {
	constant.MustBePositive("guide: mismatch", mismatch)
	constant.MustBePositive("guide: stiffness", k)
	constant.MustBePositive("guide: stiffness of the structure", structure)
	return mismatch / (2/k + 1/structure)
}
