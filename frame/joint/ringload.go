package joint

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"tiploop/frame/constant"
)

// Ring is a pressed ring under an even pressure, as one screw makes it. What an edge or a neighbour has cut counts as
// the ring of the same area and the same polar moment about its own middle (see [EqualRing]); the torque that a strip
// four times as long as wide holds is taken for 11 % too much so.
//
// # When it slips
//
// Slipping all over, the ring turns about some centre at a distance c from its middle, infinitely far when it only
// shifts, and friction acts on every bit of it against the movement there. With d the distance of a place ρ, φ from
// that centre, force and torque about the middle are, under the friction µp per area,
//
//	F = µp ∫∫ (c - ρ cosφ)/d ρ dφ dρ,     T = µp ∫∫ (ρ² - ρ c cosφ)/d ρ dφ dρ.
//
// Since d² = ρ² + c² - 2ρc cosφ, the integrals over φ are 2/c ((c-ρ) K + (c+ρ) E) and 2 ((ρ-c) K + (ρ+c) E), with the
// complete elliptic integrals of the parameter 4ρc/(ρ+c)². All pairs F, T are the limit of dry friction (Howe and
// Cutkosky 1996, from memory); an ellipse through their ends is up to a tenth too wide along a ray, on the unsafe
// side.
type Ring struct {
	Outer, Inner float64 // radii, mm; a disc has no inner one
}

// EqualRing returns the ring of a figure's area and polar moment about its own middle.
func EqualRing(m Moments) Ring {
	xx, _, yy := m.Central()
	mean, half := (xx+yy)/m.Area, m.Area/(2*math.Pi) // (R² + r²)/2 and (R² - r²)/2
	return Ring{Outer: math.Sqrt(mean + half), Inner: math.Sqrt(math.Max(0, mean-half))}
}

func (r Ring) check() {
	constant.MustBePositive("joint: outer radius", r.Outer)
	mustNotBeNegative("inner radius", r.Inner)
	constant.MustBePositive("joint: width of the ring", r.Outer-r.Inner)
}

// Area returns the pressed area, mm².
func (r Ring) Area() float64 {
	r.check()
	return math.Pi * (r.Outer*r.Outer - r.Inner*r.Inner)
}

// FrictionArm returns the torque that friction holds over the force that it holds, mm: 2/3 (R³ - r³)/(R² - r²), as of a
// clutch with an even pressure (Shigley's Mechanical Engineering Design, clutches and brakes).
func (r Ring) FrictionArm() float64 {
	r.check()
	a, b := r.Outer, r.Inner
	return 2. / 3 * (a*a + a*b + b*b) / (a + b)
}

// FirstSlipArm returns the torque at which the rim begins to slip, over the force that friction holds, mm: shear grows
// with the radius, as in elastic torsion, (R² + r²)/(2R).
func (r Ring) FirstSlipArm() float64 {
	r.check()
	return (r.Outer*r.Outer + r.Inner*r.Inner) / (2 * r.Outer)
}

// OpeningArm returns the moment about an axis in the face at which the ring's edge opens, over the force that presses
// it, mm: the core of a ring, (R² + r²)/(4R).
func (r Ring) OpeningArm() float64 { return r.FirstSlipArm() / 2 }

// slidingAbout returns the force and the torque of friction over µ times the pressing force when the ring turns about a
// centre at that distance from its middle, mm.
func (r Ring) slidingAbout(c float64) (force, torque float64) {
	between := func(from, to float64) {
		for _, p := range gauss8 {
			for _, x := range [2]float64{-p[0], p[0]} {
				rho := from + (to-from)/2*(1+x)
				sum := rho + c
				m := math.Min(4*rho*c/(sum*sum), 1-mostElliptic)
				k, e := mathext.CompleteK(m), mathext.CompleteE(m)
				weight := p[1] * (to - from) / 2 * rho
				force += weight * 2 / c * ((c-rho)*k + sum*e)
				torque += weight * 2 * ((rho-c)*k + sum*e)
			}
		}
	}
	if c > r.Inner && c < r.Outer {
		between(r.Inner, c)
		between(c, r.Outer)
	} else {
		between(r.Inner, r.Outer)
	}
	area := r.Area()
	return force / area, torque / area
}

// mostElliptic keeps the parameter of an elliptic integral below 1, where K is infinite and counts nothing.
const mostElliptic = 1e-15

// Sliding returns the friction force, µ times the force that presses, that a ring needs so as not to slip under a force
// along the face and a torque about its middle, N.
func (r Ring) Sliding(force, torque float64) float64 {
	force, turn := math.Abs(force), math.Abs(torque)/r.FrictionArm()
	switch {
	case turn <= purely*force:
		return force
	case force <= purely*turn:
		return turn
	}
	// The centre moves out as force over torque grows; find it between a far one and a near one, in even ratios.
	near, far := math.Log(r.Outer*purely), math.Log(r.Outer/purely)
	f, t := 0.0, 0.0
	for range slidingSteps {
		middle := (near + far) / 2
		f, t = r.slidingAbout(math.Exp(middle))
		if f*turn < t/r.FrictionArm()*force {
			near = middle
		} else {
			far = middle
		}
	}
	return math.Hypot(force, turn) / math.Hypot(f, t/r.FrictionArm())
}

// Below purely times the other, force or torque changes nothing in five digits. slidingSteps halve the range of the
// centre's distance, 18 in its logarithm, to a thousandth, along a limit that is flat there to a millionth.
const (
	purely       = 1e-4
	slidingSteps = 16
)
