package cutting

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Mill is a milling cutter with evenly spaced teeth and a right-hand helix.
type Mill struct {
	DiameterMM   float64
	Flutes       int
	HelixDeg     float64 // 0 to 60
	EnteringDeg  float64 // between the edge and the plane of the feed, 10 to 90; 0 means 90, an edge along the tool
	OffsetMM     float64 // run-out: distance of the cutter's axis from the spindle's, half what an indicator swings
	OffsetDeg    float64 // where the offset points: angle behind tooth 0 at the tip, against the rotation
	EdgeRadiusMM float64 // radius of the cutting edge; 0 means the typical one of Constants
}

// Bounds of what the model is meant for; they keep every result finite.
const (
	leastMM        = 1e-6 // a nanometre, for all lengths
	mostDiameterMM = 1000
	mostFlutes     = 32
	mostHelixDeg   = 60
	leastEntering  = 10
	mostDepth      = 10  // axial depth in diameters
	mostFeedShare  = 0.5 // feed per tooth in diameters
	mostSpeedRPM   = 1e6
)

// Check returns an error unless the cutter can be computed.
func (m Mill) Check() error {
	if err := within("cutter diameter", "mm", m.DiameterMM, leastMM, mostDiameterMM); err != nil {
		return err
	}
	if m.Flutes < 1 || m.Flutes > mostFlutes {
		return fmt.Errorf("%d flutes, must be 1 to %d", m.Flutes, mostFlutes)
	}
	if err := within("helix", "degrees", m.HelixDeg, 0, mostHelixDeg); err != nil {
		return err
	}
	if err := within("entering angle", "degrees", m.entering()/degree, leastEntering, 90); err != nil {
		return err
	}
	if err := within("offset of the cutter's axis", "mm", m.OffsetMM, 0, m.DiameterMM/2); err != nil {
		return err
	}
	if err := within("direction of the offset", "degrees", m.OffsetDeg, -360, 360); err != nil {
		return err
	}
	return within("edge radius", "mm", m.EdgeRadiusMM, 0, m.DiameterMM/2)
}

// entering returns the entering angle in radian.
func (m Mill) entering() float64 {
	if m.EnteringDeg == 0 {
		return math.Pi / 2
	}
	return m.EnteringDeg * degree
}

// edgeRadius returns the radius of the edge, mm.
func (m Mill) edgeRadius() float64 {
	if m.EdgeRadiusMM == 0 {
		return edgeRadius.Band.Typical
	}
	return m.EdgeRadiusMM
}

// LagDeg returns the angle by which an edge trails its tip at that height, degrees: 2 z tan(helix)/D.
func (m Mill) LagDeg(heightMM float64) float64 { return m.twist() * heightMM / degree }

// twist is the lag in radian per mm of height.
func (m Mill) twist() float64 { return 2 * math.Tan(m.HelixDeg*degree) / m.DiameterMM }

// FeedPerToothMM returns the feed per tooth, mm, of a feed rate at a speed. Its arguments must be positive.
func FeedPerToothMM(feedMMMin, speedRPM float64, flutes int) float64 {
	constant.MustBePositive("cutting: feed rate", feedMMMin)
	constant.MustBePositive("cutting: speed", speedRPM)
	constant.MustBePositive("cutting: number of flutes", float64(flutes))
	return feedMMMin / (speedRPM * float64(flutes))
}

// within returns an error unless least <= v <= most; NaN is outside.
func within(what, unit string, v, least, most float64) error {
	if !(v >= least && v <= most) {
		return fmt.Errorf("%s of %.6g %s must lie between %.6g and %.6g", what, v, unit, least, most)
	}
	return nil
}
