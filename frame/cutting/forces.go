package cutting

import (
	"math"

	"tiploop/frame/constant"
)

// Peak is a load at the moment it happens.
type Peak struct {
	RotationDeg float64 // angle of the tip of tooth 0, degrees clockwise from the normal direction, 0 to 360
	Load        Load
}

// Forces is what a milling cut does over a revolution, in machine axes.
type Forces struct {
	Mean       Load // the lasting part: what pushes tool and work apart on average
	Most       Load // greatest of each component, each at its own moment
	Least      Load // least of each component, likewise
	PeakAcross Peak // when the force across the tool is greatest
	Peak       Peak // when the whole force is greatest

	MeanPowerW, PeakPowerW float64 // at the cutter
	MotorPowerW            float64 // mean power over the spindle's efficiency
	FeedMMMin              float64
	SpeedMMin              float64 // cutting speed, m/min
	RemovalMM3Min          float64
	MeanChipMM, MostChipMM float64 // without run-out
	TeethInCut             float64 // mean, at one height

	Surfaces []Surface // what the cut leaves behind
	Cautions []Caution // what is unusual; may be empty
}

// Forces computes a cut under a law.
func (m Milling) Forces(law Law) (Forces, error) {
	c, err := NewCut(m, law)
	if err != nil {
		return Forces{}, err
	}
	return c.Forces(), nil
}

// Forces computes the cut.
func (c *Cut) Forces() Forces {
	m := c.milling
	list := c.stretches(0, c.period)
	most := func(measure func(Load) float64) float64 { return measure(c.most(list, measure).load) }
	least := func(measure func(Load) float64) float64 {
		return measure(c.most(list, func(l Load) float64 { return -measure(l) }).load)
	}
	f := Forces{
		Mean: c.Mean(),
		Most: Load{most(x), most(y), most(z), most(torque)}, Least: Load{least(x), least(y), least(z), least(torque)},
		// Squares are smooth where the force passes nothing.
		PeakAcross: c.most(list, func(l Load) float64 { return l.X*l.X + l.Y*l.Y }).peak(),
		Peak:       c.most(list, func(l Load) float64 { return l.X*l.X + l.Y*l.Y + l.Z*l.Z }).peak(),
		FeedMMMin:  m.FeedMMMin(), SpeedMMin: m.SpeedMMin(), RemovalMM3Min: m.RemovalMM3Min(),
		MeanChipMM: m.MeanChipMM(), MostChipMM: m.MostChipMM(), TeethInCut: m.TeethInCut(),
		Surfaces: c.surfaces(list),
	}
	f.MeanPowerW = turningPower(f.Mean.Torque, m.SpeedRPM)
	f.PeakPowerW = turningPower(f.Most.Torque, m.SpeedRPM)
	f.MotorPowerW = m.MotorPowerW(f.Mean.Torque)
	f.Cautions = append(m.cautions(c.law), m.Spindle.cautions(f.MotorPowerW, f.Mean.Torque)...)
	return f
}

func x(l Load) float64      { return l.X }
func y(l Load) float64      { return l.Y }
func z(l Load) float64      { return l.Z }
func torque(l Load) float64 { return l.Torque }

// peak returns the sample as a Peak.
func (s sample) peak() Peak { return Peak{oneTurn(s.at) / degree, s.load} }

// turningPower returns the power of a torque, W.
func turningPower(torqueNmm, speedRPM float64) float64 {
	return torqueNmm / 1000 * speedRPM * 2 * math.Pi / 60
}

// MotorPowerW returns the power that the spindle's motor must give for a torque at the cutter, W.
func (m Milling) MotorPowerW(torqueNmm float64) float64 {
	return turningPower(torqueNmm, m.SpeedRPM) / m.Spindle.efficiency()
}

// Spread is a cut at the low, typical and high numbers of its material.
type Spread struct {
	Low, Typical, High Forces
	Cautions           []Caution // those of the typical cut, and of the material
}

// Spread computes a cut in a material. All forces of low and high are those of the typical cut times what
// [Material.Hardness] says.
func (m Milling) Spread(material Material) (Spread, error) {
	if err := m.Check(); err != nil {
		return Spread{}, err
	}
	var s Spread
	for _, v := range []struct {
		level constant.Level
		into  *Forces
	}{{constant.Low, &s.Low}, {constant.Typical, &s.Typical}, {constant.High, &s.High}} {
		c, err := m.Cut(material, v.level)
		if err != nil {
			return Spread{}, err
		}
		*v.into = c.Forces()
	}
	s.Cautions = append(append([]Caution(nil), s.Typical.Cautions...),
		usual(material, m.FeedPerToothMM/m.Mill.DiameterMM, m.SpeedMMin())...)
	return s, nil
}

// Cut prepares the cut in a material at a level of its numbers.
func (m Milling) Cut(material Material, level constant.Level) (*Cut, error) {
	return NewCut(m, material.MillingLaw(level, m.Mill.HelixDeg))
}
