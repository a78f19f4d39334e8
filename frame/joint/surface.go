package joint

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Surface is the finish of two like faces pressed together, and the laws of their contact.
//
// # Two laws
//
// Faces that are wide or wavy touch on their waves: the approach λ under the pressure p is λ = C p^m, after
// Ostrovskii, Levina, Back, Burdekin and Cowley (Ito, Modular Design for Machine Tools, 2008, eq. 6-1 and 6-2),
// measured to 2.5 MPa on cast iron. Its derivative gives the stiffness per area, p^(1-m)/(C m). Small flat faces touch
// on their roughness alone and are as stiff as they are pressed, p/u0, u0 being some share of the roughness of both
// (Persson 2007; Akarapu, Sharp and Robbins 2011; both from memory); the same form was measured to 154 MPa (Schofield
// and Thornley, in Ito).
//
// Under a screw faces are small and pressed harder than the first law was ever measured, but nobody has lapped them.
// The typical stiffness there is the log mean of both laws, the root of their product; the soft end is the first law
// with its soft C, the stiff end the second with the roughness of the rougher faces of that finish. Where the two ends
// would change places, far below the pressure of a tightened screw, the law that goes further holds. A step to the
// first law alone at 2.5 MPa would make a thicker plate, whose ring is wider, softer, so there is none: under the head
// itself the pressure is always higher. Faces as rolled or sawn are wavy under a screw too, and keep to the first law.
//
// The range is meant to hold nine of ten joints that people make with that finish, one in twenty beyond each end.
// Points published for small pieces in a laboratory lie beyond its stiff end: dry faces read by ultrasound up to four
// times, ground steel rings ten times.
type Surface struct {
	Key    string        // name in a model file
	Name   string        // name in tables
	C      constant.Band // approach at 1 MPa, µm; low is stiff
	M      float64       // exponent m, between 0 and 1
	RaUm   constant.Band // roughness Ra of one such face, µm
	Wavy   bool          // the first law alone holds
	Source string
}

// RoughnessUm is the range of Ra as tables print it, µm.
func (s Surface) RoughnessUm() string {
	text := fmt.Sprintf("%g-%g", s.RaUm.Low, s.RaUm.High)
	if s.Wavy {
		text += " + waviness"
	}
	return text
}

// DefaultSurface is the finish of a face nobody has said anything about. A small machine is
// built of plates as bought, so rolled faces meet unless the builder has milled them and says so;
// taking a finer face for granted would promise stiffness that is not there. The cut edges of a
// plate may be worse (sawn).
const DefaultSurface = "as-rolled"

const (
	sourceContactMeasured = "house value from Ito, Modular Design for Machine Tools, 2008, table 6-2 (cast iron, to " +
		"2.5 MPa), and the linear law of Persson 2007 (from memory)"
	sourceContactGuessed = "house value, extrapolated from milled faces; no measurement found, common practice"
)

// surfaces are ordered from stiff to soft. The typical Ra is the log mean of its range.
var surfaces = []Surface{
	{"ground", "ground or scraped", constant.Between(0.7, 1.6, 2.6), 0.5, constant.Between(0.2, 0.4, 0.8), false,
		sourceContactMeasured},
	{"fine-milled", "fine milled, machined-face tooling plate", constant.Between(1.0, 2.2, 4.0), 0.5,
		constant.Between(0.4, 0.8, 1.6), false, sourceContactMeasured},
	{"milled", "milled", constant.Between(1.6, 3.5, 6.5), 0.5, constant.Between(1.6, 2.3, 3.2), false,
		sourceContactMeasured},
	{"as-rolled", "as rolled, clean", constant.Between(2, 5, 10), 0.5, constant.Between(0.5, 1.2, 3), true,
		sourceContactGuessed},
	{"sawn", "sawn, filed flat", constant.Between(5, 12, 25), 0.5, constant.Between(6, 8.5, 12), true,
		sourceContactGuessed},
}

// Surfaces returns the known finishes from stiff to soft.
func Surfaces() []Surface { return append([]Surface(nil), surfaces...) }

// LookupSurface returns the surface with that key.
func LookupSurface(key string) (Surface, bool) {
	return constant.Find(surfaces, key, func(s Surface) string { return s.Key })
}

// RootLaw returns the stiffness per area of one interface by the first law, MPa/mm, under a pressure in MPa with the
// constant c, µm at 1 MPa: dp/dλ of λ = c p^m.
func RootLaw(pressure, c, m float64) float64 {
	constant.MustBePositive("joint: pressure", pressure)
	constant.MustBePositive("joint: contact constant", c)
	return math.Pow(pressure, 1-m) / (c * m) * constant.UmPerMM
}

// LinearLaw returns the stiffness per area of one interface by the second law, MPa/mm, under a pressure in MPa: p/u0,
// u0 being share times the root of the squared rms roughnesses of both faces, µm.
func LinearLaw(pressure, rms1, rms2, share float64) float64 {
	constant.MustBePositive("joint: pressure", pressure)
	u0 := share * math.Hypot(rms1, rms2)
	constant.MustBePositive("joint: roughness", u0)
	return pressure / u0 * constant.UmPerMM
}

// ContactStiffness returns the normal stiffness per area of one interface under a screw, in MPa/mm, under a pressure in
// MPa: soft, typical and stiff.
func (s Surface) ContactStiffness(pressure float64) constant.Band {
	root := func(c float64) float64 { return RootLaw(pressure, c, s.M) }
	if s.Wavy {
		return constant.Band{Low: root(s.C.High), Typical: root(s.C.Typical), High: root(s.C.Low)}
	}
	linear := func(ra float64) float64 {
		rms := rmsPerRa.Band.Typical * ra
		return LinearLaw(pressure, rms, rms, shareOfRoughness.Band.Typical)
	}
	rough := linear(s.RaUm.High)
	return constant.Band{
		Low:     math.Min(root(s.C.High), rough),
		Typical: math.Sqrt(root(s.C.Typical) * linear(s.RaUm.Typical)),
		High:    math.Max(root(s.C.Low), rough),
	}
}
