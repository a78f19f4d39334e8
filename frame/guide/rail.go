package guide

import (
	"fmt"
	"math"
	"sync"

	"tiploop/beam"

	"tiploop/frame/constant"
)

// Rail is the rail under a carriage and how it is screwed down.
type Rail struct {
	Width       float64 // of a profile rail; diameter of a round one, mm
	Height      float64 // of a profile rail; of a round one's axis over the support's seat, mm
	SeatWidth   float64 // width of the face that sits on the machine, mm
	HolePitch   float64 // distance of the screws along the rail, mm
	EndDistance float64 // least distance of a screw from the rail's end, mm
	Screw       string  // "M4"
	ScrewRows   int     // screws side by side at each place: one, or two beside a round rail
	UnderHead   float64 // metal clamped under the head of such a screw, mm
	KgPerM      float64 // mass per length, support included
}

// ScrewPlaces returns where the screws of a rail of that length sit along it, mm from its end: as
// many as fit at the pitch with at least EndDistance left, the rest shared by both ends.
func (r Rail) ScrewPlaces(length float64) ([]float64, error) {
	if err := constant.Positive("length of the rail", length); err != nil {
		return nil, err
	}
	room := length - 2*r.EndDistance
	if room < 0 {
		return nil, fmt.Errorf("a rail %g mm long has no room for a screw %g mm from each end", length, r.EndDistance)
	}
	n := 1 + int(math.Floor(room/r.HolePitch+placeRounding))
	places := make([]float64, n)
	for i := range places {
		places[i] = length/2 + (float64(i)-float64(n-1)/2)*r.HolePitch
	}
	return places, nil
}

// placeRounding lets a length that fits exactly fit when it has been computed.
const placeRounding = 1e-9

// RailSection returns the section that bends where the rail spans freely: of a profile rail a
// waisted block in its own width and height, holes left out; of a round rail the shaft alone, since
// the support is split at every screw or missing where the rail is free. nu is Poisson's ratio.
func (c Carriage) RailSection(nu float64) (beam.Section, error) {
	if c.Kind == OpenBush {
		return beam.Round{Diameter: c.Rail.Width}.Section(nu)
	}
	key := railProfile{c.Rail.Width, c.Rail.Height, nu}
	if known, ok := railSections.Load(key); ok {
		return known.(beam.Section), nil
	}
	section, err := beam.Polygon{Outer: c.Rail.outline(waistWidth.Band.Typical)}.Section(nu)
	if err == nil {
		railSections.Store(key, section)
	}
	return section, err
}

// railProfile is all that the section of a profile rail depends on.
type railProfile struct{ width, height, nu float64 }

// railSections keeps the sections of the few profiles there are, by railProfile: each takes a numerical solution of
// some ten milliseconds, and every position of an axis asks for them again.
var railSections sync.Map

// The profile of a generic rail, in shares of its height: a foot of full width, a waist in which the
// balls run, and a head of full width.
const (
	footTop, waistBottom, waistTop, headBottom = 0.25, 0.40, 0.60, 0.78
)

func (r Rail) outline(waist float64) [][2]float64 {
	w, h := r.Width/2, r.Height
	n := waist * w
	return [][2]float64{
		{-w, 0}, {w, 0}, {w, footTop * h}, {n, waistBottom * h}, {n, waistTop * h}, {w, headBottom * h}, {w, h},
		{-w, h}, {-w, headBottom * h}, {-n, waistTop * h}, {-n, waistBottom * h}, {-w, footTop * h},
	}
}

// RailTorque is the torque at which a rail's screws are tightened, N·m, by what they go into.
type RailTorque struct {
	Screw                            string
	SteelNm, CastIronNm, AluminiumNm float64
	Source                           string
}

const sourceRailTorque = "linear-guide assembly manual, torques of rail screws"

var railTorques = []RailTorque{
	{"M3", 1.96, 1.27, 0.98, sourceRailTorque},
	{"M4", 4.12, 2.74, 2.06, sourceRailTorque},
	{"M5", 8.8, 5.9, 4.4, sourceRailTorque},
	{"M6", 13.7, 9.2, 6.9, sourceRailTorque},
	{"M8", 30, 20, 14.7, sourceRailTorque},
	{"M10", 68, 45, 33, sourceRailTorque},
	{"M12", 118, 78, 59, "as the smaller sizes (from memory)"},
}

// RailTorques returns the torques of rail screws, small to large.
func RailTorques() []RailTorque { return append([]RailTorque(nil), railTorques...) }

// LookupRailTorque returns the torques of that screw.
func LookupRailTorque(screw string) (RailTorque, bool) {
	return constant.Find(railTorques, screw, func(t RailTorque) string { return t.Screw })
}

// Friction returns that of a carriage or bush along its rail, over the load on it; seals drag beside.
func Friction() constant.Band { return rollingFriction.Band }
