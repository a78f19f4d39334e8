package drive

import "math"

// Flange is how a nut, a bearing or a motor is screwed to a face: by screws round it, its body or its pilot in a bore of
// the part. A face square to the shaft takes it; one's own may also stand along the shaft.
type Flange struct {
	Bore    float64      // in the part, through it, mm; 0: none
	Screw   string       // "M5"; "" without screws
	At      [][2]float64 // places of the screws from the flange's middle, along the two of the world's axes in the face, mm
	Outer   float64      // diameter over all, mm; 0: not known
	Through bool         // the screws go through the part into threads of the flange; else the part has the threads
	Source  string
}

// Round returns n places on a circle, evenly, the first on the first axis, mm.
func Round(circle float64, n int) [][2]float64 { return roundFrom(circle, n, 0) }

// roundFrom is Round with the first place turned from the first axis, rad.
func roundFrom(circle float64, n int, turned float64) (list [][2]float64) {
	for i := range n {
		list = append(list, onCircle(circle, turned+2*math.Pi*float64(i)/float64(n)))
	}
	return list
}

// onBothSides are n places on a circle, half of them on each side along the first axis, with a step between neighbours,
// rad: those of nuts whose flange is flat above and below.
func onBothSides(circle float64, n int, step float64) (list [][2]float64) {
	half := n / 2
	for _, side := range []float64{0, math.Pi} {
		for i := range half {
			list = append(list, onCircle(circle, side+(float64(i)-float64(half-1)/2)*step))
		}
	}
	return list
}

// onCircle is a place on a circle of that diameter.
func onCircle(circle, angle float64) [2]float64 {
	return [2]float64{grained(circle / 2 * math.Cos(angle)), grained(circle / 2 * math.Sin(angle))}
}

// grained takes off a length what rounding leaves on it, far below what anything is drilled to.
func grained(mm float64) float64 {
	const grains = 1e9 // of a mm
	return math.Round(mm*grains)/grains + 0
}

// nutClearance is by how much the bore for a nut is wider than its body, mm: so a nut finds the line of its screw
// before it is tightened [common practice, no source].
const nutClearance = 1

// nutFlange is a size of flange nut.
type nutFlange struct {
	diameter     float64 // of the screw, mm
	body, circle float64 // of its body and of its screws' places, mm
	outer        float64 // over all, mm
	screws       int
	step         float64 // between neighbours on one side, degrees; 0: evenly round
	screw        string
	source       string
}

const (
	sourceNutFlange = "DIN 69051-5, flange nuts of ball screws (from memory); bore 1 mm wider than the body"
	sourceSmallNut  = "order of makers' catalogues of small rolled screws (from memory), makers differ; bore 1 mm wider than " +
		"the body"
	sourceLeadNut    = "bronze flange nuts as commonly sold, no publication; bore 1 mm wider than the body"
	sourceUnitFlange = "flanged support units as makers have them alike (from memory); turned so that screws stand beside a " +
		"motor's"
	sourceUnitCarried = "carried over from the fixed unit of that bore, no publication"
	sourceMotorFlange = "NEMA ICS 16, bolt circle and pilot of the frame (from memory); size of the screws common practice"
)

// The nuts of the screws of the tables, by diameter.
var (
	ballNutFlanges = []nutFlange{
		{8, 14, 21, 27, 4, 0, "M3", sourceSmallNut},
		{10, 18, 27, 35, 4, 0, "M4", sourceSmallNut},
		{12, 24, 32, 40, 4, 0, "M4", sourceSmallNut},
		{16, 28, 38, 48, 6, 30, "M5", sourceNutFlange},
		{20, 36, 47, 58, 6, 30, "M6", sourceNutFlange},
		{25, 40, 51, 62, 6, 30, "M6", sourceNutFlange},
		{32, 50, 65, 80, 6, 30, "M8", sourceNutFlange},
	}
	leadNutFlanges = []nutFlange{
		{8, 10.2, 16, 22, 4, 0, "M3", sourceLeadNut},
		{10, 25, 34, 42, 6, 0, "M5", sourceLeadNut},
		{12, 28, 38, 48, 6, 0, "M5", sourceLeadNut},
		{14, 28, 38, 48, 6, 0, "M5", sourceLeadNut},
		{16, 28, 38, 48, 6, 0, "M5", sourceLeadNut},
		{20, 32, 45, 55, 6, 0, "M6", sourceLeadNut},
		{24, 32, 45, 55, 6, 0, "M6", sourceLeadNut},
	}
)

// flange is the nut's, its screws at the corners where there are four.
func (n nutFlange) flange() Flange {
	f := Flange{Bore: n.body + nutClearance, Outer: n.outer, Screw: n.screw, Source: n.source}
	switch {
	case n.step > 0:
		f.At = onBothSides(n.circle, n.screws, n.step*math.Pi/180)
	case n.screws == 4:
		f.At = roundFrom(n.circle, 4, math.Pi/4)
	default:
		f.At = Round(n.circle, n.screws)
	}
	return f
}

func flangeOf(sizes []nutFlange, diameter float64) (Flange, bool) {
	for _, n := range sizes {
		if n.diameter == diameter {
			return n.flange(), true
		}
	}
	return Flange{}, false
}

// NutFlange returns that of the screw's nut.
func (s BallScrew) NutFlange() (Flange, bool) { return flangeOf(ballNutFlanges, s.Diameter) }

// NutFlange returns that of the screw's nut, of bronze or plastic.
func (s LeadScrew) NutFlange() (Flange, bool) { return flangeOf(leadNutFlanges, s.Diameter) }

// unitFlanges are those of the support units, by key: body, circle of four screws, diameter over all, size of the screws.
var unitFlanges = map[string]struct {
	body, circle, outer float64
	screw, source       string
}{
	"fixed-10": {34, 42, 52, "M4", sourceUnitFlange},
	"fixed-12": {36, 44, 54, "M4", sourceUnitFlange},
	"fixed-15": {40, 50, 63, "M5", sourceUnitFlange},
	"fixed-17": {50, 62, 77, "M6", sourceUnitFlange},
	"fixed-20": {57, 70, 85, "M6", sourceUnitFlange},
	"plain-8":  {28, 35, 43, "M3", sourceUnitFlange},
	"plain-10": {34, 42, 52, "M4", sourceUnitFlange},
	"plain-12": {36, 44, 54, "M4", sourceUnitCarried},
	"plain-15": {40, 50, 63, "M5", sourceUnitFlange},
}

// Flange returns that of the unit made to be screwed to a face square to its shaft, its screws on the face's two axes.
func (u SupportUnit) Flange() (Flange, bool) {
	f, ok := unitFlanges[u.Key]
	return Flange{Bore: f.body, Outer: f.outer, Screw: f.screw, At: Round(f.circle, 4), Source: f.source}, ok
}

// mmPerInch is exact, by definition.
const mmPerInch = 25.4

// motorFlanges are those of the motors by key: circle of four screws and pilot, in inches as the standard has them.
var motorFlanges = map[string]struct {
	circle, pilot float64
	screw         string
	through       bool // the motor has the threads
}{
	"frame-17": {1.725, 0.866, "M3", true},
	"frame-23": {2.625, 1.500, "M5", false},
	"frame-34": {3.875, 2.875, "M6", false},
}

// Flange returns that of the motor, its screws at the corners of a square, its bore that of the pilot.
func (s Stepper) Flange() (Flange, bool) {
	f, ok := motorFlanges[s.Key]
	return Flange{Bore: grained(f.pilot * mmPerInch), Screw: f.screw, At: roundFrom(f.circle*mmPerInch, 4, math.Pi/4),
		Through: f.through, Source: sourceMotorFlange}, ok
}
