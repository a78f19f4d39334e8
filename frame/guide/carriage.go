package guide

import (
	"fmt"

	"tiploop/frame/constant"
)

// Kind is a way of guiding with balls.
type Kind int

const (
	FourRow  Kind = iota // profile rail, four rows of balls at 45°
	TwoRow               // miniature profile rail, two rows with four-point contact
	OpenBush             // ball bush on a round rail held along its length
)

// String returns the kind as the trade says it.
func (k Kind) String() string {
	switch k {
	case FourRow:
		return "profile rail, four rows"
	case TwoRow:
		return "miniature profile rail"
	case OpenBush:
		return "supported round rail"
	}
	panic(fmt.Sprintf("guide: unknown kind %d", int(k)))
}

// Carriage is one size of carriage, standard length, and its rail, in rounded dimensions common to
// many makers: enough to lay out a machine, not to drill it.
type Carriage struct {
	Key  string // "profile-15", "round-16": the trade's size is the rail's width or diameter in mm
	Kind Kind

	Width, Length float64 // across and along the rail, over everything, mm
	Height        float64 // from the rail's seat to the carriage's top face, mm
	Body          float64 // length of the steel body between the end caps, mm; of a bush, the loaded length
	HolesAlong    float64 // distance of the mounting holes along the rail, mm
	HolesAcross   float64 // and across it, mm
	Screw         string  // of the mounting holes, "M4"; a two by two grid
	MassKg        float64
	Rail          Rail
	Shape         string // where the dimensions come from

	Press  constant.Band // stiffness onto the rail at light preload, N/mm
	Tilt   constant.Band // pitch and yaw stiffness of a bush, N·mm/rad; zero for profile rails, where Rows gives it
	Source string

	Dynamic, Static constant.Band // basic load ratings C for 50 km and C0, N
	RatingSource    string
}

// Carriages returns the known sizes, small to large, profile rails first.
func Carriages() []Carriage { return append([]Carriage(nil), carriages...) }

// LookupCarriage returns the carriage with that key.
func LookupCarriage(key string) (Carriage, bool) {
	return constant.Find(carriages, key, func(c Carriage) string { return c.Key })
}

// Rows returns the loaded zone with its typical constants.
func (c Carriage) Rows() Rows {
	return rowsOf(c, loadedShare.Band.Typical, rowLever.Band.Typical)
}

func rowsOf(c Carriage, share, lever float64) Rows {
	return Rows{Length: share * c.Body, Lever: lever * c.Rail.Width}
}

// Stiffness returns the springs of one carriage rigidly mounted, at that preload. Those of a profile
// carriage's moments come from its rows (see [Rows.Moments]); a bush turns freely about its rail.
// On a thin plate or on half its screws see [Range.OnThinSeat].
//
// A bush is adjusted to light preload or runs with play, and its stiffness is the table's either
// way, once the play is taken up; other classes of it are an error.
func (c Carriage) Stiffness(p Preload) (Range, error) {
	factor := p.class().factor
	pull, side := c.ratios()
	if c.Kind == OpenBush {
		if p != Clearance && p != Light {
			return Range{}, fmt.Errorf("%s: a bush has clearance or light preload, not %s", c.Key, p)
		}
		factor = constant.Exactly(1)
	}
	press := c.Press.Times(factor)
	pulls, sides := press.Times(pull), press.Times(side)
	at := func(press, pull, side, tilt, share, lever float64) Stiffness {
		k := Stiffness{Press: press, Pull: pull, Side: side, Pitch: tilt, Yaw: tilt}
		if c.Kind != OpenBush {
			// Preloaded balls give alike both ways; pull is softer because the body spreads, which
			// a moment does not ask of it.
			k.Roll, k.Pitch, k.Yaw = rowsOf(c, share, lever).Moments(press, side)
		}
		return k
	}
	return Range{
		Low: at(press.Low, pulls.Low, sides.Low, c.Tilt.Low, loadedShare.Band.Low, rowLever.Band.Low),
		Typical: at(press.Typical, pulls.Typical, sides.Typical, c.Tilt.Typical, loadedShare.Band.Typical,
			rowLever.Band.Typical),
		High: at(press.High, pulls.High, sides.High, c.Tilt.High, loadedShare.Band.High, rowLever.Band.High),
	}, nil
}

// ratios returns pull and side stiffness over press stiffness.
func (c Carriage) ratios() (pull, side constant.Band) {
	switch c.Kind {
	case FourRow:
		return pullRatio.Band, sideRatio.Band
	case TwoRow:
		return pullRatioTwoRow.Band, sideRatioTwoRow.Band
	case OpenBush:
		return pullRatioRound.Band, sideRatioRound.Band
	}
	panic(fmt.Sprintf("guide: unknown kind %d", int(c.Kind)))
}
