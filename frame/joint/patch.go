package joint

import "math"

// The mean displacement of a loaded patch on a half-space.
//
// A force F at the origin of the surface of a half-space moves the surface point at distance r
// (Johnson, Contact Mechanics, 1985, eq. 3.19 and 3.75 at z = 0) by
//
//	(1-ν)/(2πG) F/r                       along a normal force,
//	1/(2πG) F/r ((1-ν) + ν cos²θ)         along a tangential force, θ from its direction.
//
// Spread F evenly over a patch, take the mean over the same patch, and only two numbers of the
// patch remain: the means over all pairs of its points of 1/r and of cos²θ/r. On a circle of
// radius a the mean of 1/r is 16/(3πa), and cos²θ averages to one half by symmetry. On a rectangle
// a by b, with D = √(a²+b²), each four-fold integral is 4∫∫(a-x)(b-y) f(x,y) dx dy over one
// quadrant, because a pair that far apart fits in (a-x)(b-y) ways; both integrals have closed
// forms, arranged below so that long thin rectangles lose no digits.

// circleReciprocal is the mean of a/r over all pairs of points of a circle of radius a.
const circleReciprocal = 16 / (3 * math.Pi)

// pairReciprocal returns the mean of 1/r over all pairs of points of an a by b rectangle, 1/mm:
//
//	[2ab(a asinh(b/a) + b asinh(a/b)) + (2/3)(a³ + b³ - D³)] / (ab)²
func pairReciprocal(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	// In units of the longer side, so that tiny and huge patches neither underflow nor overflow.
	q := b / a
	d := math.Hypot(1, q)
	dLess1 := q * q / (d + 1) // D - a without cancellation
	sum := 2*q*(math.Asinh(q)+q*math.Asinh(1/q)) + 2./3*(q*q*q-dLess1*(d*d+d+1))
	return sum / (q * q) / a
}

// pairDirected returns the mean of cos²θ/r over all pairs of points of a rectangle, θ from the side
// called along, 1/mm:
//
//	4 [along (along D + across² asinh(along/across))/2 - (D³ - across³)/3 - along³/6] / (along across)²
func pairDirected(along, across float64) float64 {
	if along <= across {
		q := along / across
		d := math.Hypot(1, q)
		dLess1 := q * q / (d + 1)
		sum := q*(q*d+math.Asinh(q))/2 - dLess1*(d*d+d+1)/3 - q*q*q/6
		return 4 * sum / (q * q) / across
	}
	// The terms in along³ cancel; with δ = D - along they leave -δ/2 - δ² - δ³/3.
	q := across / along
	delta := q * q / (math.Hypot(1, q) + 1)
	sum := q*q*math.Asinh(1/q)/2 + q*q*q/3 - delta*(0.5+delta*(1+delta/3))
	return 4 * sum / (q * q) / along
}
