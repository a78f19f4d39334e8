package yielding

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/machine"
)

// cut is one of a machine's cuts, and how its tip moves under it.
type cut struct {
	*machine.Cut
	tool     *machine.Tool
	response response
}

func newCut(m *machine.Machine, number int, compliance [][]float64) *cut {
	c := &m.Cuts[number]
	return &cut{c, m.Tool, responseTo(c, compliance)}
}

// Answer works out what all cuts of a machine do, and what is unusual about them.
func Answer(m *machine.Machine, compliance [][]float64) (cuts []answer.CutResult, notes []string, err error) {
	for i := range m.Cuts {
		c := newCut(m, i, compliance)
		a, cautions, err := c.answer(m)
		if err != nil {
			return nil, nil, fmt.Errorf("cut %s: %w", c.Name, err)
		}
		cuts = append(cuts, *a)
		for _, text := range slices.Concat(cautions, beyondSpindle(m.Spindle, a), beyondForces(a)) {
			notes = append(notes, fmt.Sprintf("Cut %s: %s.", c.Name, text))
		}
	}
	return cuts, notes, nil
}

// answer works out one cut, and what is unusual about its forces.
func (c *cut) answer(m *machine.Machine) (a *answer.CutResult, cautions []string, err error) {
	a = &answer.CutResult{
		Name: c.Name, Load: m.Loads[*c.Load].Name, Material: c.Material.Key, Mode: c.Mode(),
		FeedDirection: plainArray(c.way()),
		DiameterMM:    c.tool.Diameter, ToleranceUm: c.Tolerance * constant.UmPerMM,
	}
	var unusual []cutting.Caution
	if c.Drilling != nil {
		unusual, err = c.answerHole(a)
	} else {
		unusual, err = c.answerMilling(a)
	}
	if err != nil {
		return nil, nil, err
	}
	for _, l := range []answer.CutLevel{a.Low, a.Typical, a.High} {
		if v := l.MovementUm + l.NormalUm + l.MotorPowerW; math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, nil, fmt.Errorf("the movement is not a number; the model's sizes and stiffnesses are too far apart")
		}
	}
	for _, u := range unusual {
		cautions = append(cautions, u.String())
	}
	return a, cautions, nil
}

// way is the direction in which the tool goes.
func (c *cut) way() r3.Vec {
	if c.Drilling != nil {
		return r3.Scale(-1, c.Axis)
	}
	return c.Feed
}

// plainArray is a vector's components without −0.
func plainArray(v r3.Vec) [3]float64 { return [3]float64{plain(v.X), plain(v.Y), plain(v.Z)} }

func plain(v float64) float64 { return v + 0 }

// world turns a movement along feed, normal and axis, mm, into µm along the world's axes.
func (c *cut) world(mm [3]float64) [3]float64 {
	v := r3.Add(r3.Add(r3.Scale(mm[0], c.Feed), r3.Scale(mm[1], c.Normal)), r3.Scale(mm[2], c.Axis))
	return plainArray(r3.Scale(constant.UmPerMM, v))
}

// forceOf is a load's force along the world's axes.
func (c *cut) forceOf(l cutting.Load) [3]float64 {
	force, _ := c.Force(l)
	return plainArray(force)
}

// level fills in what mean and peak load say.
func (c *cut) level(mean, peak cutting.Load) answer.CutLevel {
	return answer.CutLevel{
		PeakN: c.forceOf(peak), PeakSizeN: peak.Size(), MeanN: c.forceOf(mean),
		TorqueNmm: mean.Torque, PeakTorqueNmm: peak.Torque, MeanUm: c.world(c.response.move(mean)),
	}
}

// worstOfLevel sets the largest of the surfaces' errors, the first of equals.
func worstOfLevel(l *answer.CutLevel) {
	for _, s := range l.Surfaces {
		if math.Abs(s.Worst()) > math.Abs(l.NormalUm) {
			l.NormalUm = s.Worst()
		}
	}
}

func (c *cut) answerMilling(a *answer.CutResult) ([]cutting.Caution, error) {
	m := c.Milling
	spread, err := m.Spread(c.Material)
	if err != nil {
		return nil, err
	}
	width, depth := m.RadialDepthMM, m.AxialDepthMM
	if m.Mode == cutting.Slot {
		width = m.Mill.DiameterMM
	}
	a.RadialMM, a.AxialMM = &width, &depth
	a.FeedMMMin, a.PerToothMM, a.SpeedRPM, a.SpeedMMin = m.FeedMMMin(), m.FeedPerToothMM, m.SpeedRPM, m.SpeedMMin()
	a.MostChipMM, a.MeanChipMM, a.TeethInCut, a.RemovalMM3Min = m.MostChipMM(), m.MeanChipMM(), m.TeethInCut(),
		m.RemovalMM3Min()
	for _, v := range []struct {
		level  constant.Level
		forces *cutting.Forces
		into   *answer.CutLevel
	}{{constant.Low, &spread.Low, &a.Low}, {constant.Typical, &spread.Typical, &a.Typical}, {constant.High, &spread.High,
		&a.High}} {
		forces, err := m.Cut(c.Material, v.level)
		if err != nil {
			return nil, err
		}
		*v.into = c.milled(v.forces, forces.Revolution())
		if c.Tolerance > 0 {
			deepest, by, err := c.deepest(v.level)
			if err != nil {
				return nil, err
			}
			v.into.DeepestMM, v.into.DeepestBy = &deepest, by
		}
	}
	return spread.Cautions, nil
}

// milled is one level of a milling cut.
func (c *cut) milled(f *cutting.Forces, turn *cutting.Revolution) answer.CutLevel {
	l := c.level(f.Mean, f.Peak.Load)
	l.PeakTorqueNmm, l.PowerW, l.MotorPowerW = f.Most.Torque, f.MeanPowerW, f.MotorPowerW
	farthest := c.response.farthest(turn)
	l.MovementUm, l.TipUm = norm(farthest)*constant.UmPerMM, c.world(farthest)
	feed := turn.Span(func(l cutting.Load) float64 { return c.response.along(0, l) })
	l.FeedUm = [2]float64{plain(feed.Least * constant.UmPerMM), plain(feed.Most * constant.UmPerMM)}
	for _, side := range turn.Sides() {
		made := c.made(turn, side)
		n := normals[side]
		mean := n.sign * c.response.along(n.direction, f.Mean)
		l.Surfaces = append(l.Surfaces, answer.SurfaceError{
			Surface: side.String(), Normal: plainArray(r3.Scale(n.sign, [3]r3.Vec{c.Feed, c.Normal, c.Axis}[n.direction])),
			LeastUm: plain(made.Least * constant.UmPerMM), MostUm: plain(made.Most * constant.UmPerMM),
			MeanUm: plain(mean * constant.UmPerMM),
		})
	}
	worstOfLevel(&l)
	return l
}

// made is how far off a surface is made, mm along its outward normal, least and most.
func (c *cut) made(turn *cutting.Revolution, side cutting.Side) cutting.Span {
	n := normals[side]
	return turn.Made(side, func(l cutting.Load) float64 { return n.sign * c.response.along(n.direction, l) })
}

func (c *cut) answerHole(a *answer.CutResult) ([]cutting.Caution, error) {
	spread, err := c.Drilling.Spread(c.Material)
	if err != nil {
		return nil, err
	}
	h := spread.Typical
	a.FeedMMMin, a.PerToothMM, a.SpeedRPM, a.SpeedMMin = h.FeedMMMin, c.Drilling.FeedMMRev/cutting.Lips,
		c.Drilling.SpeedRPM, h.SpeedMMin
	a.MostChipMM, a.MeanChipMM, a.TeethInCut, a.RemovalMM3Min = h.ChipMM, h.ChipMM, cutting.Lips, h.RemovalMM3Min
	for _, v := range []struct {
		hole cutting.Hole
		into *answer.CutLevel
	}{{spread.Low, &a.Low}, {spread.Typical, &a.Typical}, {spread.High, &a.High}} {
		l := c.level(v.hole.Load, v.hole.Load)
		l.PowerW, l.MotorPowerW = v.hole.PowerW, v.hole.MotorPowerW
		moved := c.response.move(v.hole.Load)
		l.MovementUm, l.TipUm = norm(moved)*constant.UmPerMM, l.MeanUm
		back := plain(moved[2] * constant.UmPerMM)
		l.FeedUm = [2]float64{plain(-back), plain(-back)}
		aside := math.Hypot(moved[0], moved[1]) * constant.UmPerMM
		l.Surfaces = []answer.SurfaceError{
			{Surface: cutting.Floor.String(), Normal: plainArray(c.Axis), LeastUm: back, MostUm: back, MeanUm: back},
			{Surface: "hole's place", LeastUm: aside, MostUm: aside, MeanUm: aside},
		}
		worstOfLevel(&l)
		*v.into = l
	}
	return spread.Cautions, nil
}

// beyondForces says where a cut is none that its forces were worked out for.
func beyondForces(a *answer.CutResult) []string {
	um := a.Typical.MovementUm
	switch {
	case um > mostSwing*a.DiameterMM*constant.UmPerMM:
		return []string{fmt.Sprintf("the tip swings by up to %.3g µm, more than a tenth of the cutter's diameter: the cutter "+
			"breaks or the machine chatters first; take less", um)}
	case um > a.MostChipMM*constant.UmPerMM:
		return []string{fmt.Sprintf("the tip moves up to %.3g µm and the thickest chip has %.3g µm: the forces are those of a "+
			"tool that stands still, and this one does not", um, a.MostChipMM*constant.UmPerMM)}
	}
	return nil
}

// beyondSpindle says where a cut is beyond the spindle in ways that frame/cutting does not look at.
func beyondSpindle(s *machine.Spindle, a *answer.CutResult) (list []string) {
	if s == nil {
		return nil
	}
	if s.FastestRPM > 0 && (a.SpeedRPM < s.SlowestRPM || a.SpeedRPM > s.FastestRPM) {
		list = append(list, fmt.Sprintf("the spindle turns at %.6g to %.6g rpm, not at %.6g",
			s.SlowestRPM, s.FastestRPM, a.SpeedRPM))
	}
	perhaps := func(what, unit string, typical, high, limit float64) {
		if limit > 0 && typical <= limit && high > limit {
			list = append(list, fmt.Sprintf("the %s may not do: up to %.3g %s if the work is at the hard end of its scatter, "+
				"and the spindle has %.3g", what, high, unit, limit))
		}
	}
	perhaps(answer.ByPower, "W", a.Typical.MotorPowerW, a.High.MotorPowerW, s.PowerW)
	perhaps(answer.ByTorque, "N·mm", a.Typical.TorqueNmm, a.High.TorqueNmm, s.TorqueNmm)
	return list
}
