package drive

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// LeadScrew is a trapezoidal screw: one that slides in its nut.
type LeadScrew struct {
	Key                   string        // "Tr8x8": diameter x lead
	Diameter, Pitch, Lead float64       // mm; the lead is the pitch times the number of starts
	Root                  constant.Band // core diameter, mm
	Source                string
}

// rootClearance is a_c of ISO 2904 for pitches of 2 to 5 mm, mm.
const rootClearance = 0.25

// newLeadScrew works the core out: d3 = d - P - 2 a_c; give or take rootSpread.
func newLeadScrew(diameter, pitch, lead float64) LeadScrew {
	root := diameter - pitch - 2*rootClearance
	return LeadScrew{
		Key:      fmt.Sprintf("Tr%gx%g", diameter, lead),
		Diameter: diameter, Pitch: pitch, Lead: lead,
		Root: constant.Between(root-rootSpread, root, root+rootSpread), Source: sourceISO2904,
	}
}

// rootSpread is how far the cores of rolled and whirled screws differ from the standard's, mm.
const rootSpread = 0.3

var leadScrews = []LeadScrew{
	newLeadScrew(8, 2, 2), newLeadScrew(8, 2, 8),
	newLeadScrew(10, 2, 2), newLeadScrew(10, 3, 3),
	newLeadScrew(12, 3, 3), newLeadScrew(14, 3, 3),
	newLeadScrew(16, 4, 4), newLeadScrew(20, 4, 4), newLeadScrew(24, 5, 5),
}

// LeadScrews returns the known sizes, small to large.
func LeadScrews() []LeadScrew { return append([]LeadScrew(nil), leadScrews...) }

// LookupLeadScrew returns the size of that key, such as "Tr8x8".
func LookupLeadScrew(key string) (LeadScrew, bool) {
	return constant.Find(leadScrews, key, func(s LeadScrew) string { return s.Key })
}

// LeadNut is what a lead screw runs in.
type LeadNut int

const (
	BronzeNut LeadNut = iota
	PlasticNut
)

// LeadNuts returns the kinds of nut.
func LeadNuts() []LeadNut { return []LeadNut{BronzeNut, PlasticNut} }

// String returns the nut's key.
func (n LeadNut) String() string {
	switch n {
	case BronzeNut:
		return "bronze"
	case PlasticNut:
		return "plastic"
	}
	panic(fmt.Sprintf("drive: unknown lead nut %d", int(n)))
}

// Friction returns the friction of the nut on a steel screw.
func (n LeadNut) Friction() constant.Band {
	switch n {
	case BronzeNut:
		return bronzeFriction.Band
	case PlasticNut:
		return plasticFriction.Band
	}
	panic(fmt.Sprintf("drive: unknown lead nut %d", int(n)))
}

// Nut returns the stiffness of a nut along the screw with its play taken up, N/mm. It is a guess at the
// order; a nut held by a spring against play has only the spring.
func (s LeadScrew) Nut(n LeadNut) constant.Band {
	k := leadNutPerDiameter.Band.Scaled(s.Diameter)
	switch n {
	case BronzeNut:
		return k
	case PlasticNut:
		return k.Times(plasticNut.Band)
	}
	panic(fmt.Sprintf("drive: unknown lead nut %d", int(n)))
}

// flankCosine is the cosine of half the flank angle of a trapezoidal thread, 15°.
var flankCosine = math.Cos(15 * math.Pi / 180)

// slope is the tangent of the lead angle at the pitch diameter d - P/2.
func (s LeadScrew) slope() float64 {
	mean := s.Diameter - s.Pitch/2
	constant.MustBePositive("drive: pitch diameter", mean)
	constant.MustBePositive("drive: lead", s.Lead)
	return s.Lead / (math.Pi * mean)
}

// Efficiency returns how much of the turning work becomes travel at that friction:
// tan φ (1 - μ' tan φ)/(tan φ + μ'), μ' = μ/cos 15° (Shigley's Mechanical Engineering Design, power
// screws; from memory). The collar's friction is left out.
func (s LeadScrew) Efficiency(friction float64) float64 {
	constant.MustBePositive("drive: friction", friction)
	t, mu := s.slope(), friction/flankCosine
	return math.Max(0, t*(1-mu*t)/(t+mu))
}

// Locking tells whether a load along the screw can turn it.
type Locking int

const (
	RunsBack    Locking = iota // even at the high friction
	MayRunBack                 // depends on the friction, and vibration lowers that
	SelfLocking                // not even at the low friction, as long as nothing shakes
)

// String returns the word for it.
func (l Locking) String() string {
	switch l {
	case RunsBack:
		return "runs back"
	case MayRunBack:
		return "may run back"
	case SelfLocking:
		return "self-locking"
	}
	panic(fmt.Sprintf("drive: unknown locking %d", int(l)))
}

// Locking tells whether the screw holds a load by friction alone, μ' > tan φ, over the nut's band of
// friction. It is a hint: a spindle shakes, and no one may stand below a load held by friction.
func (s LeadScrew) Locking(n LeadNut) Locking {
	t, mu := s.slope(), n.Friction()
	switch {
	case mu.Low/flankCosine > t:
		return SelfLocking
	case mu.High/flankCosine > t:
		return MayRunBack
	}
	return RunsBack
}

// Torque returns the torque that pushes with a force along a screw of that efficiency, N·mm:
// F lead/(2π η).
func Torque(force, lead, efficiency float64) float64 {
	constant.MustBePositive("drive: force", force)
	constant.MustBePositive("drive: lead", lead)
	if !(efficiency > 0 && efficiency <= 1) {
		panic(fmt.Sprintf("drive: efficiency %g, must be above 0 and at most 1", efficiency))
	}
	return force * lead / (2 * math.Pi * efficiency)
}
