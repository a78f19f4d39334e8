package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Screw is a metric socket-head screw with coarse thread.
type Screw struct {
	Size            string  // "M6"
	D               float64 // nominal diameter, mm
	Pitch           float64 // mm
	D2, D3          float64 // pitch and root diameter of the thread, mm
	StressArea      float64 // tensile stress area, mm²
	HeadDiameter    float64 // mm; also taken as the outer diameter of the bearing ring
	HeadHeight      float64 // mm
	WasherDiameter  float64 // mm
	WasherThickness float64 // mm
	Clearance       float64 // through hole, mm: of the medium series, until the builder says another
	TapDrill        float64 // drill before the tap, mm
	Counterbore     float64 // diameter of the counterbore, mm
	Class           string  // property class, "8.8"
	Proof           float64 // proof stress, MPa
	Yield           float64 // Rp0.2, MPa
	Strength        float64 // tensile strength, MPa
}

// class is a property class of screws with its least strengths up to M16, MPa.
type class struct {
	name                   string
	proof, yield, strength float64
}

// classes are after ISO 898-1 (from memory). Screws as bought are 8.8 unless the head says otherwise; rails and
// carriages come with torques for 12.9.
var classes = []class{
	{"8.8", 580, 640, 800},
	{"10.9", 830, 940, 1040},
	{"12.9", 970, 1100, 1220},
}

// GuideClass is the property class of the screws that makers of rails give their torques for.
const GuideClass = "12.9"

// Classes returns the names of the known property classes, weak to strong.
func Classes() (names []string) {
	for _, c := range classes {
		names = append(names, c.name)
	}
	return names
}

// OfClass returns the screw in another property class, one of Classes.
func (s Screw) OfClass(name string) (Screw, bool) {
	c, ok := constant.Find(classes, name, func(c class) string { return c.name })
	if ok {
		s.Class, s.Proof, s.Yield, s.Strength = c.name, c.proof, c.yield, c.strength
	}
	return s, ok
}

// clearances are the through holes of ISO 273 (from memory; fine and medium agree with two metric charts), mm.
type clearances struct{ fine, medium, coarse float64 }

// clearanceSeries are those of the sizes of Screws.
var clearanceSeries = map[string]clearances{
	"M3":  {3.2, 3.4, 3.6},
	"M4":  {4.3, 4.5, 4.8},
	"M5":  {5.3, 5.5, 5.8},
	"M6":  {6.4, 6.6, 7},
	"M8":  {8.4, 9, 10},
	"M10": {10.5, 11, 12},
	"M12": {13, 13.5, 14.5},
}

// ClearanceSeries are the names of the series of through holes.
var ClearanceSeries = []string{"fine", "medium", "coarse"}

// ThroughHoleOf returns the diameter of the screw's through hole in a series of ClearanceSeries, mm.
func (s Screw) ThroughHoleOf(series string) (mm float64, ok bool) {
	c, ok := clearanceSeries[s.Size]
	switch series {
	case "fine":
		return c.fine, ok
	case "medium":
		return c.medium, ok
	case "coarse":
		return c.coarse, ok
	}
	return 0, false
}

// screws holds pitches after ISO 261, heads after ISO 4762, washers after ISO 7089, counterbores after DIN 974-1 (all
// from memory), tapping drills after two metric charts, that of M12 from memory. Thread diameters and stress areas are
// computed.
var screws = []Screw{
	newScrew("M3", Thread{3, 0.5}, 5.5, 3, 7, 0.5, 2.5, 6.5),
	newScrew("M4", Thread{4, 0.7}, 7, 4, 9, 0.8, 3.3, 8),
	newScrew("M5", Thread{5, 0.8}, 8.5, 5, 10, 1, 4.2, 10),
	newScrew("M6", Thread{6, 1.0}, 10, 6, 12, 1.6, 5.0, 11),
	newScrew("M8", Thread{8, 1.25}, 13, 8, 16, 1.6, 6.8, 15),
	newScrew("M10", Thread{10, 1.5}, 16, 10, 20, 2, 8.5, 18),
	newScrew("M12", Thread{12, 1.75}, 18, 12, 24, 2.5, 10.2, 20),
}

func newScrew(size string, th Thread, headDiameter, headHeight, washerDiameter, washerThickness, tapDrill,
	counterbore float64) Screw {
	s := Screw{
		Size: size, D: th.D, Pitch: th.Pitch, D2: th.D2(), D3: th.D3(), StressArea: th.StressArea(),
		HeadDiameter: headDiameter, HeadHeight: headHeight,
		WasherDiameter: washerDiameter, WasherThickness: washerThickness,
		Clearance: clearanceSeries[size].medium, TapDrill: tapDrill, Counterbore: counterbore,
	}
	s, _ = s.OfClass(classes[0].name)
	return s
}

// Screws returns the known sizes, small to large.
func Screws() []Screw { return append([]Screw(nil), screws...) }

// LookupScrew returns the screw of that size, such as "M6".
func LookupScrew(size string) (Screw, bool) {
	return constant.Find(screws, size, func(s Screw) string { return s.Size })
}

// ProofLoad returns the force at the proof stress, N.
func (s Screw) ProofLoad() float64 { return s.Proof * s.StressArea }

// AxialStiffness returns the stiffness of the screw along itself, N/mm, with the given clamped
// length in mm (plate and shim), screwed into a part of modulus tappedE in MPa.
//
// Head, clamped length, engaged thread and the thread of the tapped part lie in series, after
// VDI 2230 part 1. The clamped length counts as thread: socket-head screws for plates of this size
// are threaded almost to the head.
func (s Screw) AxialStiffness(clamped, tappedE float64) float64 {
	constant.MustBePositive("joint: clamped length", clamped)
	nominal := math.Pi / 4 * s.D * s.D
	core := math.Pi / 4 * s.D3 * s.D3
	e := screwModulus.Band.Typical
	return RodStiffness(
		Rod{Length: screwHeadLength.Band.Typical * s.D, Area: nominal, E: e},
		Rod{Length: clamped, Area: s.StressArea, E: e},
		Rod{Length: screwCoreLength.Band.Typical * s.D, Area: core, E: e},
		Rod{Length: tappedThreadLength.Band.Typical * s.D, Area: nominal, E: tappedE},
	)
}
