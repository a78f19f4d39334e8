package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Surface is the finish of two like faces pressed together, and the law of their contact.
//
// The approach λ of the faces under the pressure p is λ = C p^m, after Ostrovskii, Levina, Back,
// Burdekin and Cowley (Ito, Modular Design for Machine Tools, 2008, eq. 6-1 and 6-2). The
// derivative gives the stiffness per area, p^(1-m)/(C m). It was measured to 2.5 MPa on cast iron;
// screws press harder, where the faces are probably stiffer than the law says.
type Surface struct {
	Key         string        // name in a model file
	Name        string        // name in tables
	C           constant.Band // approach at 1 MPa, µm; low is stiff
	M           float64       // exponent m, between 0 and 1
	RoughnessUm string        // Ra of such a face, µm
	Source      string
}

// DefaultSurface is the finish of a face nobody has said anything about. A small machine is
// built of plates as bought, so rolled faces meet unless the builder has milled them and says so;
// taking a finer face for granted would promise stiffness that is not there. The cut edges of a
// plate may be worse (sawn).
const DefaultSurface = "as-rolled"

const (
	sourceContactMeasured = "house value from Ito, Modular Design for Machine Tools, 2008, table 6-2 (cast iron, to " +
		"2.5 MPa), " +
		"and the linear law of Persson 2007 (from memory)"
	sourceContactGuessed = "house value, extrapolated from milled faces; no measurement found, common practice"
)

// surfaces are ordered from stiff to soft.
var surfaces = []Surface{
	{"ground", "ground or scraped", constant.Between(0.7, 1.6, 2.6), 0.5, "0.2-0.8", sourceContactMeasured},
	{"fine-milled", "fine milled, machined-face tooling plate", constant.Between(1.0, 2.2, 4.0), 0.5, "0.4-1.6",
		sourceContactMeasured},
	{"milled", "milled", constant.Between(1.6, 3.5, 6.5), 0.5, "1.6-3.2", sourceContactMeasured},
	{"as-rolled", "as rolled, clean", constant.Between(2, 5, 10), 0.5, "0.5-3 + waviness", sourceContactGuessed},
	{"sawn", "sawn, filed flat", constant.Between(5, 12, 25), 0.5, "6-12", sourceContactGuessed},
}

// Surfaces returns the known finishes from stiff to soft.
func Surfaces() []Surface { return append([]Surface(nil), surfaces...) }

// LookupSurface returns the surface with that key.
func LookupSurface(key string) (Surface, bool) {
	return constant.Find(surfaces, key, func(s Surface) string { return s.Key })
}

// ContactStiffness returns the typical normal stiffness per area of one interface, in MPa/mm,
// under a pressure in MPa: dp/dλ = p^(1-m)/(C m).
func (s Surface) ContactStiffness(pressure float64) float64 {
	constant.MustBePositive("joint: pressure", pressure)
	return math.Pow(pressure, 1-s.M) / (s.C.Typical * s.M) * constant.UmPerMM
}
