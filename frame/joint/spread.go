package joint

import (
	"math"

	"tiploop/frame/constant"
)

// How metal gives way under a loaded zone.
//
// Near a small zone the force spreads out; the stretch there is missing from a beam model, which
// spreads it over the whole section at once. Both functions below follow the force from the face
// to the part's axis as a cone that starts with the zone's equivalent radius a = √(A/π). A plain
// column whose radius grows as a + z tanψ gives, over a depth d,
//
//	c = ∫ dz / (E π (a + z tanψ)²) = d / (E π a (a + d tanψ)).
//
// A shallow part (d ≪ a) gives the column d/(E A) for any ψ. In a deep one (d → ∞) it gives
// 1/(E π a tanψ), and ψ is chosen so that this is exactly the mean displacement of an evenly
// loaded circle on a half-space:
//
//	normal       16(1-ν²)/(3π² a E)     tanψ = 3π/(16(1-ν²))    33° at ν = 0.33
//	tangential   4(2-ν)/(3π² a G)       tanψ = 3π/(4(2-ν))      55° at ν = 0.33, with G for E
//
// Sources: Timoshenko and Goodier, Theory of Elasticity, art. "load distributed over a part of the
// boundary of a semi-infinite solid"; Johnson, Contact Mechanics, ch. 3; the tangential mean is
// derived in the essay on patches. The angle between the two limits is a house choice. It takes the
// force as spread evenly over the zone and the part as wide as the cone; for a bounded rectangle
// see Zone.

// SpreadNormal returns the local give under an evenly spread normal force, mm per N: the metal
// between a zone of the given area (mm²) and the part's axis at the given depth (mm). Depth 0
// gives 0.
func SpreadNormal(area, depth, e, nu float64) float64 {
	mustBeSpread(area, depth, e, nu)
	tan := 1 / ((1 - nu*nu) * circleReciprocal)
	return coneCompliance(area, depth, e, tan)
}

// SpreadTangential returns the local give under an evenly spread tangential force, mm per N, in
// the direction of the force.
func SpreadTangential(area, depth, e, nu float64) float64 {
	mustBeSpread(area, depth, e, nu)
	tan := 4 / ((2 - nu) * circleReciprocal)
	return coneCompliance(area, depth, shearModulus(e, nu), tan)
}

// rocking is how much stiffer a half-space is against a disc's tilting than the same disc on separate springs of its
// stiffness against pushing would be: 8/3·G·a³/(1−ν) over 4·G·a/(1−ν)·a²/4. A push on one half lifts the other.
const rocking = 8. / 3

// twisting is the same for spinning: 16/3·G·a³ over 8·G·a/(2−ν)·a²/2.
func twisting(nu float64) float64 { return 4 * (2 - nu) / 3 }

// SpreadTilt returns the local give under a normal force that varies linearly over the zone, mm per N: as separate
// springs under the zone it gives the part's resistance to the zone's tilting. It is the cone of SpreadNormal with a
// tangent so much larger that a deep part resists as a half-space does (Johnson, Contact Mechanics, sections 3.2 and
// 5.2; Gazetas, Foundation Engineering Handbook, 1991, table 15.1, from memory); a shallow one is a column still.
func SpreadTilt(area, depth, e, nu float64) float64 {
	mustBeSpread(area, depth, e, nu)
	return coneCompliance(area, depth, e, rocking/((1-nu*nu)*circleReciprocal))
}

// SpreadSpin is the same for tangential forces that grow with the distance from the zone's middle.
func SpreadSpin(area, depth, e, nu float64) float64 {
	mustBeSpread(area, depth, e, nu)
	return coneCompliance(area, depth, shearModulus(e, nu), twisting(nu)*4/((2-nu)*circleReciprocal))
}

func mustBeSpread(area, depth, e, nu float64) {
	constant.MustBePositive("joint: area", area)
	mustNotBeNegative("depth", depth)
	constant.MustBePositive("joint: E", e)
	mustBePoissonRatio(nu)
}

// coneCompliance returns d/(E π a (a + d tanψ)), which is finite for an infinite depth too.
func coneCompliance(area, depth, modulus, tan float64) float64 {
	if depth == 0 {
		return 0
	}
	a := math.Sqrt(area / math.Pi)
	return 1 / (modulus * math.Pi * a * (a/depth + tan))
}

func shearModulus(e, nu float64) float64 { return e / (2 * (1 + nu)) }
