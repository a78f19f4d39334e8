package cutting

import (
	"fmt"
	"math"
)

// Mode is the side of the cutter that works.
type Mode int

const (
	Up      Mode = iota // conventional: teeth go with the feed, chips start at nothing; the work is left of the feed
	Down                // climb: teeth go against it, chips end at nothing; the work is right of the feed
	Slot                // the whole width of the cutter
	Centred             // a strip narrower than the cutter, under its middle, as with a face mill
)

// String returns the mode as the trade says it.
func (m Mode) String() string {
	switch m {
	case Up:
		return "up milling"
	case Down:
		return "down milling"
	case Slot:
		return "slot"
	case Centred:
		return "centred"
	}
	panic(fmt.Sprintf("cutting: unknown mode %d", int(m)))
}

// Milling is a milling cut.
type Milling struct {
	Mill           Mill
	Mode           Mode
	RadialDepthMM  float64 // width of the strip taken; not read for a slot
	AxialDepthMM   float64 // depth along the tool, at most ten diameters
	FeedPerToothMM float64 // at most half the diameter; see [FeedPerToothMM]
	SpeedRPM       float64
	FeedDeg        float64 // direction the tool goes, anticlockwise from the machine's x seen from above
	Spindle        Spindle // limits to hold the cut against; may be left zero
}

// Check returns an error unless the cut can be computed.
func (m Milling) Check() error {
	if err := m.Mill.Check(); err != nil {
		return err
	}
	if m.Mode < Up || m.Mode > Centred {
		return fmt.Errorf("unknown milling mode %d", int(m.Mode))
	}
	if m.Mode != Slot {
		if err := within("radial depth", "mm", m.RadialDepthMM, leastMM, mostDiameterMM); err != nil {
			return err
		}
	}
	d := m.Mill.DiameterMM
	if err := within("axial depth", "mm", m.AxialDepthMM, leastMM, mostDepth*d); err != nil {
		return err
	}
	if err := within("feed per tooth", "mm", m.FeedPerToothMM, leastMM, mostFeedShare*d); err != nil {
		return err
	}
	if err := within("speed", "rpm", m.SpeedRPM, leastMM, mostSpeedRPM); err != nil {
		return err
	}
	if err := within("feed direction", "degrees", m.FeedDeg, -360, 360); err != nil {
		return err
	}
	return m.Spindle.Check()
}

// width returns the radial depth that the cutter can take, mm.
func (m Milling) width() float64 {
	if m.Mode == Slot {
		return m.Mill.DiameterMM
	}
	return math.Min(m.RadialDepthMM, m.Mill.DiameterMM)
}

// engagement returns the tooth angles at entry and exit, radian.
func (m Milling) engagement() (entry, exit float64) {
	share := m.width() / m.Mill.DiameterMM
	// acos(1 − 2s) = 2 asin(√s) keeps its digits where s is small.
	side := 2 * math.Asin(math.Sqrt(share))
	switch m.Mode {
	case Up:
		return 0, side
	case Down:
		return math.Pi - side, math.Pi
	case Slot:
		return 0, math.Pi
	case Centred:
		half := math.Asin(share)
		return math.Pi/2 - half, math.Pi/2 + half
	}
	panic(fmt.Sprintf("cutting: unknown mode %d", int(m.Mode)))
}

// EntryDeg returns the tooth angle at which a tooth enters the work, degrees clockwise from the normal
// direction.
func (m Milling) EntryDeg() float64 {
	entry, _ := m.engagement()
	return entry / degree
}

// ExitDeg returns the tooth angle at which a tooth leaves the work, as EntryDeg.
func (m Milling) ExitDeg() float64 {
	_, exit := m.engagement()
	return exit / degree
}

// TeethInCut returns the mean number of teeth between entry and exit, at one height.
func (m Milling) TeethInCut() float64 {
	entry, exit := m.engagement()
	return float64(m.Mill.Flutes) * (exit - entry) / (2 * math.Pi)
}

// MeanChipMM returns the mean chip thickness over the arc of engagement, mm, without run-out:
// f_z sin κ (cos entry − cos exit)/(exit − entry) (Tschätsch, Applied Machining Technology, from memory).
func (m Milling) MeanChipMM() float64 {
	entry, exit := m.engagement()
	// cos a − cos b = 2 sin((a+b)/2) sin((b−a)/2)
	return m.FeedPerToothMM * math.Sin(m.Mill.entering()) *
		2 * math.Sin((entry+exit)/2) * math.Sin((exit-entry)/2) / (exit - entry)
}

// MostChipMM returns the greatest chip thickness, mm, without run-out.
func (m Milling) MostChipMM() float64 {
	entry, exit := m.engagement()
	most := 1.0
	if exit < math.Pi/2 {
		most = math.Sin(exit)
	}
	if entry > math.Pi/2 {
		most = math.Sin(entry)
	}
	return m.FeedPerToothMM * math.Sin(m.Mill.entering()) * most
}

// FeedMMMin returns the feed rate, mm/min.
func (m Milling) FeedMMMin() float64 {
	return m.FeedPerToothMM * float64(m.Mill.Flutes) * m.SpeedRPM
}

// RemovalMM3Min returns the material removal rate, mm³/min.
func (m Milling) RemovalMM3Min() float64 { return m.width() * m.AxialDepthMM * m.FeedMMMin() }

// SpeedMMin returns the cutting speed, m/min.
func (m Milling) SpeedMMin() float64 { return cuttingSpeed(m.Mill.DiameterMM, m.SpeedRPM) }

// cuttingSpeed returns π D n in m/min.
func cuttingSpeed(diameterMM, speedRPM float64) float64 {
	return math.Pi * diameterMM * speedRPM / 1000
}

// HandEstimate is how handbooks compute a milling cut: the tangential force of one tooth at the
// mean chip thickness, N, and the torque of the teeth in cut, N·mm (Tschätsch, Applied Machining
// Technology, from memory). With Kienzle's law it lies a little above the mean of [Cut].
func (m Milling) HandEstimate(law Law) (perToothN, torqueNmm float64, err error) {
	if err := m.Check(); err != nil {
		return 0, 0, err
	}
	if err := law.Check(); err != nil {
		return 0, 0, err
	}
	perToothN, _, _ = law.Orthogonal(m.MeanChipMM(), m.AxialDepthMM/math.Sin(m.Mill.entering()))
	return perToothN, perToothN * m.Mill.DiameterMM / 2 * m.TeethInCut(), nil
}
