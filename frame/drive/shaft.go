package drive

import (
	"fmt"
	"math"

	"tiploop/beam"
	"tiploop/frame/constant"
)

// Ends tells how the two ends of a shaft are held; the driven end first. A fixed end is held against
// tilting and along the shaft, a supported one is only held sideways.
type Ends int

const (
	FixedFree Ends = iota
	FixedSupported
	FixedFixed
	// SupportedSupported ends both let the shaft tilt; the driven one also holds it along itself, as
	// a single deep-groove bearing does.
	SupportedSupported
)

// endNumbers hold what the ways of holding do to buckling and to whirling.
type endNumbers struct {
	key      string
	buckling float64 // Euler's factor n in n π² E I/L²
	whirl    float64 // first root λ of the frequency equation of a beam so held
}

// The first roots: cos λ cosh λ = -1, tan λ = tanh λ, cos λ cosh λ = 1, sin λ = 0; and for buckling
// tan a = a, n = (a/π)² (Timoshenko & Gere, Theory of Elastic Stability; Blevins, Formulas for
// Natural Frequency and Mode Shape; both from memory). The trade rounds the factors to 2.05 and the
// roots to four digits.
var ends = [...]endNumbers{
	FixedFree:          {"fixed-free", 0.25, 1.8751040687},
	FixedSupported:     {"fixed-supported", 2.0457485159, 3.9266023120},
	FixedFixed:         {"fixed-fixed", 4, 4.7300407449},
	SupportedSupported: {"supported-supported", 1, math.Pi},
}

// AllEnds returns the ways of holding a shaft.
func AllEnds() []Ends { return []Ends{FixedFree, FixedSupported, FixedFixed, SupportedSupported} }

// String returns the way's key, such as "fixed-supported".
func (e Ends) String() string { return e.numbers().key }

// LookupEnds returns the way of that key.
func LookupEnds(key string) (Ends, bool) { return constant.Find(AllEnds(), key, Ends.String) }

func (e Ends) numbers() endNumbers {
	if e < 0 || int(e) >= len(ends) {
		panic(fmt.Sprintf("drive: unknown ends %d", int(e)))
	}
	return ends[e]
}

// Shaft is the core of a screw between its bearings.
type Shaft struct {
	Root   float64 // core diameter, mm
	E      float64 // MPa
	Nu     float64 // Poisson's ratio
	Length float64 // between the bearings, mm; with a free end, to that end
	Ends   Ends
}

// Check returns an error unless the shaft has a size and its material is possible.
func (s Shaft) Check() error {
	for _, q := range []struct {
		what string
		v    float64
	}{{"core diameter", s.Root}, {"modulus", s.E}, {"length of the shaft", s.Length}} {
		if err := constant.Positive(q.what, q.v); err != nil {
			return err
		}
	}
	s.Ends.numbers()
	if !(s.Nu > -1 && s.Nu <= 0.5) {
		return fmt.Errorf("the Poisson's ratio is %g, must be above -1 and at most 0.5", s.Nu)
	}
	return nil
}

func (s Shaft) mustCheck() {
	if err := s.Check(); err != nil {
		panic("drive: " + err.Error())
	}
}

// contains returns an error unless the nut sits on the shaft. Where both ends are fixed, it can reach
// neither of them.
func (s Shaft) contains(nutAt float64) error {
	if nutAt > 0 && nutAt < s.Length || nutAt == s.Length && s.Ends != FixedFixed {
		return nil
	}
	return fmt.Errorf("the nut at %g mm is not on a screw %g mm long", nutAt, s.Length)
}

func (s Shaft) mustContain(nutAt float64) {
	s.mustCheck()
	if err := s.contains(nutAt); err != nil {
		panic("drive: " + err.Error())
	}
}

// section is the core as a solid round bar.
func (s Shaft) section() beam.Section {
	section, err := beam.Round{Diameter: s.Root}.Section(s.Nu)
	if err != nil {
		panic("drive: " + err.Error())
	}
	return section
}

// Axial returns the stiffness of the shaft along itself between rigid bearings, seen at a nut that far
// from the driven end, N/mm: E A/a, or with both ends fixed E A L/(a (L-a)) (ISO 3408-4; from
// memory).
func (s Shaft) Axial(nutAt float64) float64 {
	s.mustContain(nutAt)
	ea := s.E * s.section().A
	if s.Ends == FixedFixed {
		return ea * s.Length / (nutAt * (s.Length - nutAt))
	}
	return ea / nutAt
}

// SoftestAxial returns the least of Axial with the nut between two places, both on the shaft, and
// where: the far end of the travel, or with both ends fixed the place nearest the middle.
func (s Shaft) SoftestAxial(from, to float64) (k, nutAt float64) {
	if !(from <= to) {
		panic(fmt.Sprintf("drive: a travel from %g to %g mm", from, to))
	}
	s.mustContain(from)
	s.mustContain(to)
	nutAt = to
	if s.Ends == FixedFixed {
		nutAt = math.Min(math.Max(s.Length/2, from), to)
	}
	return s.Axial(nutAt), nutAt
}

// Twist returns the rotary stiffness of the shaft between the driven end and the nut, N·mm/rad:
// G J/a.
func (s Shaft) Twist(nutAt float64) float64 {
	s.mustContain(nutAt)
	g := beam.Material{E: s.E, Nu: s.Nu}.G()
	return g * s.section().J / nutAt
}

// BucklingLoad returns Euler's load of an unsupported length of the shaft, N: n π² E I/L² with n =
// 0.25, 2.05, 4, 1 for [AllEnds]. length is the most that lies between the nut and the bearing that
// takes the push, in mm; a nut on a stiff carriage counts as a fixed end, on a soft one as a
// supported one, so the ends are those of that length and not always the shaft's. Use half of it
// ([UsableBuckling]).
func (s Shaft) BucklingLoad(length float64, held Ends) float64 {
	s.mustCheck()
	constant.MustBePositive("drive: buckling length", length)
	return held.numbers().buckling * math.Pi * math.Pi * s.E * s.section().Iy / (length * length)
}

// UsableBuckling returns the share of Euler's load that the trade uses, half.
func UsableBuckling() constant.Band { return bucklingUse.Band }

// CriticalRPM returns the first whirling speed of a rotating shaft of that density, tonne/mm³, over an
// unsupported length in mm: 60 λ²/(2π L²) √(E I/(ρ A)) revolutions per minute, λ = 1.875, 3.927,
// 4.730, π for [AllEnds]. The nut only helps, so take the longest length beside it. Use 0.8 of it
// ([UsableCritical]).
func (s Shaft) CriticalRPM(length, density float64, held Ends) float64 {
	s.mustCheck()
	constant.MustBePositive("drive: unsupported length", length)
	constant.MustBePositive("drive: density", density)
	section := s.section()
	lambda := held.numbers().whirl
	omega := lambda * lambda / (length * length) * math.Sqrt(s.E*section.Iy/(density*section.A))
	return omega * secondsPerMinute / (2 * math.Pi)
}

const secondsPerMinute = 60

// Mass returns that of the core at that density, tonne/mm³, in tonnes.
func (s Shaft) Mass(density float64) float64 {
	s.mustCheck()
	constant.MustBePositive("drive: density", density)
	return density * s.section().A * s.Length
}

// SpinInertia returns the moment of inertia of the core about its own axis at that density, tonne/mm³, in tonne·mm²:
// ρ·J·L with J the polar second moment π·d⁴/32.
func (s Shaft) SpinInertia(density float64) float64 {
	s.mustCheck()
	constant.MustBePositive("drive: density", density)
	section := s.section()
	return density * (section.Iy + section.Iz) * s.Length
}

// UsableCritical returns the share of the critical speed that the trade uses, 0.8.
func UsableCritical() constant.Band { return criticalUse.Band }
