package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Layer is a shim: an even layer between the two parts, as wide as the pressure zone.
//
// A shim adds its own give, t/E per area. A metal or plastic shim adds one more interface too,
// taken as bad as the first; a smooth hardened strip between rough faces does better than that.
// Paper takes its modulus from the pressure on it. It fills the roughness of the faces, so how
// many interfaces are left is a choice: counting both faces, or none, brackets the few figures
// there are, and the model keeps the one interface the joint had without the paper. So paper
// always softens a joint.
type Layer struct {
	Key       string  // material's name
	Thickness float64 // mm
	E         float64 // MPa; not used for paper
	Nu        float64 // Poisson's ratio; not used for paper, which has none through its thickness
	Paper     bool
}

// Modulus returns the typical modulus of the layer through its thickness under a pressure in MPa,
// MPa. That of paper is paper_modulus · p^paper_exponent; its points lie between 1 and 20 MPa.
func (l Layer) Modulus(pressure float64) float64 {
	if !l.Paper {
		return l.E
	}
	constant.MustBePositive("joint: pressure", pressure)
	return paperModulus.Band.Typical * math.Pow(pressure, paperExponent.Band.Typical)
}

// shear returns the shear modulus of the layer under a pressure, MPa.
func (l Layer) shear(pressure float64) float64 {
	if l.Paper {
		return shearModulus(l.Modulus(pressure), 0)
	}
	return shearModulus(l.E, l.Nu)
}

// interfaces returns how many faces touch in a joint with this layer.
func (l Layer) interfaces() float64 {
	if l.Paper {
		return 1
	}
	return 2
}
