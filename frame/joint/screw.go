package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Screw is a metric socket-head screw with coarse thread, property class 8.8.
type Screw struct {
	Size         string  // "M6"
	D            float64 // nominal diameter, mm
	Pitch        float64 // mm
	D2, D3       float64 // pitch and root diameter of the thread, mm
	StressArea   float64 // tensile stress area, mm²
	HeadDiameter float64 // mm; also taken as the outer diameter of the bearing ring
	HeadHeight   float64 // mm
	Clearance    float64 // through hole, medium fit, mm
	TapDrill     float64 // drill before the tap, mm
	Counterbore  float64 // diameter of the counterbore, mm
	Proof        float64 // proof stress, MPa
}

// proof88 is the proof stress of property class 8.8 up to M16, MPa (ISO 898-1, from memory).
const proof88 = 580

// screws holds pitches after ISO 261, heads after ISO 4762, counterbores after DIN 974-1 (all from
// memory), clearance holes (medium) and tapping drills after two metric charts that agree with
// ISO 273, those of M12 from memory. Thread diameters and stress areas are computed.
var screws = []Screw{
	newScrew("M3", Thread{3, 0.5}, 5.5, 3, 3.4, 2.5, 6.5),
	newScrew("M4", Thread{4, 0.7}, 7, 4, 4.5, 3.3, 8),
	newScrew("M5", Thread{5, 0.8}, 8.5, 5, 5.5, 4.2, 10),
	newScrew("M6", Thread{6, 1.0}, 10, 6, 6.6, 5.0, 11),
	newScrew("M8", Thread{8, 1.25}, 13, 8, 9, 6.8, 15),
	newScrew("M10", Thread{10, 1.5}, 16, 10, 11, 8.5, 18),
	newScrew("M12", Thread{12, 1.75}, 18, 12, 13.5, 10.2, 20),
}

func newScrew(size string, th Thread, headDiameter, headHeight, clearance, tapDrill, counterbore float64) Screw {
	return Screw{
		Size: size, D: th.D, Pitch: th.Pitch, D2: th.D2(), D3: th.D3(), StressArea: th.StressArea(),
		HeadDiameter: headDiameter, HeadHeight: headHeight, Clearance: clearance, TapDrill: tapDrill,
		Counterbore: counterbore,
		Proof:       proof88,
	}
}

// Screws returns the known sizes, small to large.
func Screws() []Screw { return append([]Screw(nil), screws...) }

// LookupScrew returns the screw of that size, such as "M6".
func LookupScrew(size string) (Screw, bool) {
	return constant.Find(screws, size, func(s Screw) string { return s.Size })
}

// ProofLoad returns the force at the proof stress, N.
func (s Screw) ProofLoad() float64 { return s.Proof * s.StressArea }

// ClampedLength returns how much of a drilled plate of that thickness lies between the screw's
// head and the contact face, mm.
//
// A socket head is sunk into a counterbore as deep as the head is high, unless that leaves less
// than metal_under_head (one screw diameter) below it; then the counterbore is shallower and the
// head stands proud, and a plate thinner than one screw diameter gets no counterbore at all. So
// the length never falls as the plate gets thicker.
func (s Screw) ClampedLength(thickness float64) float64 {
	constant.MustBePositive("joint: thickness", thickness)
	least := math.Min(thickness, s.metalUnderHead())
	return math.Max(least, thickness-s.HeadHeight)
}

// ThroughHole returns the kind of hole the screw gets in a drilled plate of that thickness:
// counterbored where [Screw.ClampedLength] leaves a counterbore, else plain.
func (s Screw) ThroughHole(thickness float64) HoleKind {
	constant.MustBePositive("joint: thickness", thickness)
	if thickness > s.metalUnderHead() {
		return Counterbored
	}
	return Clearance
}

func (s Screw) metalUnderHead() float64 { return metalUnderHead.Band.Typical * s.D }

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
