package cutting

import (
	"math"

	"tiploop/frame/constant"
)

// Drilling is a hole made with a drill of two lips, or one made larger.
type Drilling struct {
	DiameterMM float64
	PilotMM    float64 // diameter of the hole already there; 0 for none
	FeedMMRev  float64 // feed per revolution
	SpeedRPM   float64
	PointDeg   float64 // point angle, 60 to 180; 0 means 118
	Spindle    Spindle // limits to hold the hole against; may be left zero
}

// defaultPointDeg is the point of the usual twist drill.
const defaultPointDeg = 118

// Lips of a twist drill.
const Lips = 2

// Hole is what drilling takes. The lips push each other sideways in balance, so the load is thrust
// and torque alone.
type Hole struct {
	ChipMM, ChipWidthMM float64 // of each lip
	LipN                float64 // cutting force of each lip
	Load                Load    // Z is the thrust, upwards on the drill, downwards on the work
	PowerW              float64 // at the drill
	MotorPowerW         float64 // over the spindle's efficiency
	FeedMMMin           float64
	SpeedMMin           float64 // at the circumference, m/min
	RemovalMM3Min       float64
}

// HoleSpread is a hole at the low, typical and high numbers of its material.
type HoleSpread struct {
	Low, Typical, High Hole
	Cautions           []Caution
}

// Check returns an error unless the hole can be computed.
func (d Drilling) Check() error {
	if err := within("drill diameter", "mm", d.DiameterMM, leastMM, mostDiameterMM); err != nil {
		return err
	}
	if err := within("pilot hole", "mm", d.PilotMM, 0, mostPilotShare*d.DiameterMM); err != nil {
		return err
	}
	if err := within("feed per revolution", "mm", d.FeedMMRev, leastMM, d.DiameterMM); err != nil {
		return err
	}
	if err := within("speed", "rpm", d.SpeedRPM, leastMM, mostSpeedRPM); err != nil {
		return err
	}
	if err := within("point angle", "degrees", d.halfPoint()*2/degree, 60, 180); err != nil {
		return err
	}
	return d.Spindle.Check()
}

// mostPilotShare leaves the lips something to cut.
const mostPilotShare = 0.99

// halfPoint returns half the point angle, radian.
func (d Drilling) halfPoint() float64 {
	if d.PointDeg == 0 {
		return defaultPointDeg / 2 * degree
	}
	return d.PointDeg / 2 * degree
}

// Hole computes the hole under a law. Each lip is an edge (D − pilot)/(2 sin κ) long on a chip
// f/2 sin κ thick, κ half the point angle; its force acts at the middle of the lip, so with no
// pilot the torque is F D/2 (Tschätsch, Applied Machining Technology, from memory). The law's
// radial force, normal to the lip, makes the thrust 2 Fr sin κ; its axial force, along the lip,
// is balanced by the other lip. Without pilot the chisel edge multiplies the thrust by
// chiselFactor (1 if the law's thrust already has it).
func (d Drilling) Hole(law Law, chisel float64) (Hole, error) {
	if err := d.Check(); err != nil {
		return Hole{}, err
	}
	if err := law.Check(); err != nil {
		return Hole{}, err
	}
	if err := within("factor for the chisel edge", "", chisel, 1, mostChiselFactor); err != nil {
		return Hole{}, err
	}
	sin := math.Sin(d.halfPoint())
	h := Hole{
		ChipMM: d.FeedMMRev / Lips * sin, ChipWidthMM: (d.DiameterMM - d.PilotMM) / 2 / sin,
		FeedMMMin: d.FeedMMRev * d.SpeedRPM, SpeedMMin: cuttingSpeed(d.DiameterMM, d.SpeedRPM),
	}
	cutting, normal, _ := law.Orthogonal(h.ChipMM, h.ChipWidthMM)
	h.LipN = cutting
	h.Load = Load{Z: Lips * normal * sin, Torque: Lips * cutting * (d.DiameterMM + d.PilotMM) / 4}
	if d.PilotMM == 0 {
		h.Load.Z *= chisel
	}
	h.PowerW = turningPower(h.Load.Torque, d.SpeedRPM)
	h.MotorPowerW = h.PowerW / d.Spindle.efficiency()
	h.RemovalMM3Min = math.Pi / 4 * (d.DiameterMM*d.DiameterMM - d.PilotMM*d.PilotMM) * h.FeedMMMin
	return h, nil
}

// mostChiselFactor is beyond what any drill needs.
const mostChiselFactor = 10

// Spread computes the hole in a material by Kienzle's law, with the thrust of drills.
func (d Drilling) Spread(material Material) (HoleSpread, error) {
	var s HoleSpread
	for _, v := range []struct {
		level constant.Level
		into  *Hole
	}{{constant.Low, &s.Low}, {constant.Typical, &s.Typical}, {constant.High, &s.High}} {
		law := material.Kienzle.Law(v.level, 0)
		law.Kr = law.Kt * drillThrust.Band.At(v.level)
		h, err := d.Hole(law, chiselFactor.Band.At(v.level))
		if err != nil {
			return HoleSpread{}, err
		}
		*v.into = h
	}
	s.Cautions = append(s.Cautions, chipCautions(s.Typical.ChipMM, edgeRadius.Band.Typical, material.Kienzle.ChipMM)...)
	s.Cautions = append(s.Cautions, usual(material, d.FeedMMRev/Lips/d.DiameterMM, s.Typical.SpeedMMin)...)
	s.Cautions = append(s.Cautions, d.Spindle.cautions(s.Typical.MotorPowerW, s.Typical.Load.Torque)...)
	return s, nil
}
