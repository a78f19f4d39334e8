package joint

import "math"

// PatchNormal is the mean displacement of an a by b rectangle (mm) on a half-space under an evenly spread normal force,
// mm per N: what a [Zone] with metal all around must give, see the essay on patches.
func PatchNormal(a, b, e, nu float64) float64 {
	return (1 - nu*nu) / (math.Pi * e) * pairReciprocal(a, b)
}

// PatchTangential is the same under an evenly spread tangential force, in its direction. The sides (mm) lie along the
// force and across it.
func PatchTangential(along, across, e, nu float64) float64 {
	return (1 + nu) / (math.Pi * e) * ((1-nu)*pairReciprocal(along, across) + nu*pairDirected(along, across))
}
