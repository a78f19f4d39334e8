package joint

import "math"

// TappedHole is a hole for a thread, as it is drilled and tapped.
type TappedHole struct {
	Drill   float64 // diameter of the drill before the tap, mm
	Depth   float64 // of the drill where it has its full diameter, mm; of a hole through, the metal's
	Thread  float64 // length of full thread, mm
	Through bool    // drilled and tapped right through
}

// Thread that a screw is given in the tapped part, in screw diameters: as much as lets a thread bear what a steel one
// does in aluminium (see softEngagement), one diameter in steel, one and a half in iron [the latter two common practice,
// no source].
const (
	steelEngagement = 1.0
	ironEngagement  = 1.5
)

// ironE separates iron from steel by modulus, MPa.
const ironE = 180e3

// IsIron reports whether a thread in a part of that modulus, MPa, is one in cast iron, or in brass.
func IsIron(e float64) bool { return !IsSoft(e) && e < ironE }

// threadWanted is the length of thread that the screw is given in a part of that modulus, mm.
func (s Screw) threadWanted(e float64) float64 {
	switch {
	case IsSoft(e):
		return softEngagement * s.D
	case IsIron(e):
		return ironEngagement * s.D
	}
	return steelEngagement * s.D
}

// runOut is what a tap needs below the last full thread of a blind hole, mm, by pitch: the usual row of DIN 76-1 (from
// memory), about five pitches.
var runOut = map[float64]float64{0.5: 2.8, 0.7: 3.8, 0.8: 4.2, 1: 5.1, 1.25: 6.2, 1.5: 7.3, 1.75: 8.3}

// pointHeight is the height of a twist drill's point over its diameter: 118° between the lips [common practice, no
// source].
var pointHeight = 0.5 / math.Tan(59*math.Pi/180)

// leastSkin is the metal that must be left under the drill's point, mm; where there is less, a hole is drilled through
// [common practice, no source].
const leastSkin = 1.0

// TapInto returns the tapped hole that the screw gets in a part of that modulus, MPa, with so much metal along it, mm.
// It is blind where the metal leaves room for thread, run-out and the drill's point, else it goes through; keepBlind
// asks for a blind one all the same, with as much thread as there is room for (none left is 0), where a drill would come
// out on a slope.
func (s Screw) TapInto(metal, e float64, keepBlind bool) TappedHole {
	thread, end := s.threadWanted(e), runOut[s.Pitch]
	room := metal - leastSkin - pointHeight*s.TapDrill // for the drill's full diameter
	switch {
	case thread+end <= room:
		return TappedHole{Drill: s.TapDrill, Depth: thread + end, Thread: thread}
	case keepBlind:
		depth := math.Max(0, room)
		return TappedHole{Drill: s.TapDrill, Depth: depth, Thread: math.Max(0, depth-end)}
	}
	return TappedHole{Drill: s.TapDrill, Depth: metal, Thread: metal, Through: true}
}

// TappingSource says where the sizes of tapped holes come from.
const TappingSource = "tapping drill: nominal less pitch (ISO 2306, from memory); thread two diameters deep in aluminium, " +
	"one in steel; run-out of DIN 76-1 (from memory)"

// ClearanceSource says where the sizes of through holes come from.
const ClearanceSource = "ISO 273 (from memory), unless the model says another"
