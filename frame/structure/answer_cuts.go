package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/machine"
)

// madeCut is a cut on its way to what it costs.
type madeCut struct{ *machine.Cut }

// response is how the tip moves against the work under a cut's load: [along feed, normal, axis][X, Y, Z, Torque], mm/N
// and 1/N.
type response [3][4]float64

// response takes the machine's compliance into the cut's directions.
func (c madeCut) response(compliance [][]float64) (r response) {
	directions := [3]r3.Vec{c.Feed, c.Normal, c.Axis}
	pushed := func(row int, v r3.Vec, from int) float64 {
		return compliance[row][from]*v.X + compliance[row][from+1]*v.Y + compliance[row][from+2]*v.Z
	}
	for i, d := range directions {
		for k, share := range array(d) {
			for j, e := range directions {
				r[i][j] += share * pushed(k, e, 0)
			}
			r[i][3] += share * pushed(k, c.Axis, 3)
		}
	}
	return r
}

// move is the tip's movement under a load, along feed, normal and axis, mm.
func (r response) move(l cutting.Load) (mm [3]float64) {
	for i := range mm {
		mm[i] = r.along(i, l)
	}
	return mm
}

func (r response) along(i int, l cutting.Load) float64 {
	return r[i][0]*l.X + r[i][1]*l.Y + r[i][2]*l.Z + r[i][3]*l.Torque
}

// farthest is the movement that is largest over a revolution, mm along feed, normal and axis.
func (r response) farthest(turn *cutting.Revolution) [3]float64 {
	return r.move(turn.Most(func(l cutting.Load) float64 {
		u := r.move(l)
		return u[0]*u[0] + u[1]*u[1] + u[2]*u[2]
	}).Load)
}

// normals are, for each surface, the direction of the response it lies square to, and the sign of its outward normal.
var normals = map[cutting.Side]struct {
	direction int
	sign      float64
}{cutting.LeftWall: {1, -1}, cutting.RightWall: {1, 1}, cutting.Floor: {2, 1}}

// answerCuts works out what the cuts cost: the tip's compliance serves all of them at every angle of the cutter.
func (m *Model) answerCuts(r *answer.Result) error {
	r.Cuts = []answer.CutResult{}
	if len(m.machine.Cuts) == 0 {
		return nil
	}
	compliance := m.compliance(m.tool.gauge)
	for i := range m.machine.Cuts {
		c := madeCut{&m.machine.Cuts[i]}
		answer, cautions, err := c.answer(m.machine, c.response(compliance))
		if err != nil {
			return fmt.Errorf("cut %s: %w", c.Name, err)
		}
		r.Cuts = append(r.Cuts, *answer)
		cautions = append(cautions, cautionsOf(m.machine.Spindle, answer)...)
		if swing := mostSwing * answer.DiameterMM * constant.UmPerMM; answer.Typical.MovementUm > swing {
			cautions = append(cautions, fmt.Sprintf("the tip swings by up to %.3g µm, more than a tenth of the cutter's "+
				"diameter: the cutter breaks or the machine chatters first; take less", answer.Typical.MovementUm))
		} else if answer.Typical.MovementUm > answer.MostChipMM*constant.UmPerMM {
			cautions = append(cautions,
				fmt.Sprintf("the tip moves up to %.3g µm and the thickest chip has %.3g µm: the forces are those of a tool that "+
					"stands still, "+
					"and this one does not", answer.Typical.MovementUm, answer.MostChipMM*constant.UmPerMM))
		}
		for _, text := range cautions {
			r.Notes = append(r.Notes, fmt.Sprintf("Cut %s: %s.", c.Name, text))
		}
	}
	return nil
}

// answer works out one cut, and what is unusual about it.
func (c madeCut) answer(m *machine.Machine, r response) (a *answer.CutResult, cautions []string, err error) {
	a = &answer.CutResult{
		Name: c.Name, Load: m.Loads[*c.Load].Name, Material: c.Material.Key, Mode: c.Mode(),
		FeedDirection: plainArray(c.way()),
		DiameterMM:    m.Tool.Diameter, ToleranceUm: c.Tolerance * constant.UmPerMM,
	}
	var unusual []cutting.Caution
	if c.Drilling != nil {
		unusual, err = c.answerHole(a, r)
	} else {
		unusual, err = c.answerMilling(a, r, m.Tool)
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
func (c madeCut) way() r3.Vec {
	if c.Drilling != nil {
		return r3.Scale(-1, c.Axis)
	}
	return c.Feed
}

// plainArray is a vector's components without −0.
func plainArray(v r3.Vec) [3]float64 {
	a := array(v)
	for k := range a {
		a[k] = plain(a[k])
	}
	return a
}

// world turns a movement along feed, normal and axis, mm, into µm along the world's axes.
func (c madeCut) world(mm [3]float64) [3]float64 {
	v := r3.Add(r3.Add(r3.Scale(mm[0], c.Feed), r3.Scale(mm[1], c.Normal)), r3.Scale(mm[2], c.Axis))
	return plainArray(r3.Scale(constant.UmPerMM, v))
}

// forceOf is a load's force along the world's axes.
func (c madeCut) forceOf(l cutting.Load) [3]float64 {
	force, _ := c.Force(l)
	return plainArray(force)
}

// level fills in what mean and peak load say.
func (c madeCut) level(r response, mean, peak cutting.Load) answer.CutLevel {
	return answer.CutLevel{
		PeakN: c.forceOf(peak), PeakSizeN: peak.Size(), MeanN: c.forceOf(mean),
		TorqueNmm: mean.Torque, PeakTorqueNmm: peak.Torque, MeanUm: c.world(r.move(mean)),
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

func (c madeCut) answerMilling(a *answer.CutResult, r response, tool *machine.Tool) ([]cutting.Caution, error) {
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
		cut, err := m.Cut(c.Material, v.level)
		if err != nil {
			return nil, err
		}
		*v.into = c.milled(r, v.forces, cut.Revolution())
		if c.Tolerance > 0 {
			deepest, by, err := c.deepest(r, v.level, tool)
			if err != nil {
				return nil, err
			}
			v.into.DeepestMM, v.into.DeepestBy = &deepest, by
		}
	}
	return spread.Cautions, nil
}

// milled is one level of a milling cut.
func (c madeCut) milled(r response, f *cutting.Forces, turn *cutting.Revolution) answer.CutLevel {
	l := c.level(r, f.Mean, f.Peak.Load)
	l.PeakTorqueNmm, l.PowerW, l.MotorPowerW = f.Most.Torque, f.MeanPowerW, f.MotorPowerW
	farthest := r.farthest(turn)
	l.MovementUm, l.TipUm = norm(farthest)*constant.UmPerMM, c.world(farthest)
	feed := turn.Span(func(l cutting.Load) float64 { return r.along(0, l) })
	l.FeedUm = [2]float64{plain(feed.Least * constant.UmPerMM), plain(feed.Most * constant.UmPerMM)}
	for _, side := range turn.Sides() {
		made := c.made(r, turn, side)
		n := normals[side]
		mean := n.sign * r.along(n.direction, f.Mean)
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
func (c madeCut) made(r response, turn *cutting.Revolution, side cutting.Side) cutting.Span {
	n := normals[side]
	return turn.Made(side, func(l cutting.Load) float64 { return n.sign * r.along(n.direction, l) })
}

// Depths are looked for in depthSteps equal steps up to the flutes' length, so that a depth counts only when all
// shallower ones are good too: teeth that take turns on a wall make its error rise and fall with the depth. The place
// between two steps is then halved down to depthSettled of itself, which is finer than anyone sets a depth.
const (
	depthSteps      = 32
	depthResolution = 1e-6
	shallowest      = 1e-3 // mm: less is no depth
	deepestCut      = 10   // in diameters, as far as forces are worked out
	// mostSwing is the largest movement of the tip, in diameters, that a depth may bring about: teeth that swing by a
	// tenth of the cutter bite where no tooth was meant to, and the sums are about another cut. House value.
	mostSwing = 0.1
)

// What ends a depth.
const (
	byTolerance = "tolerance"
	byPower     = "power"
	byTorque    = "torque"
	byFlutes    = "flute length"
	byDiameter  = "diameter" // common practice, no source: a slot is cut no deeper than it is wide
	bySwing     = "swing"
)

// deepest is the axial depth, everything else kept, up to which the surfaces keep the tolerance whether the machine
// follows every tooth or only their mean, the spindle suffices and the tip does not swing.
func (c madeCut) deepest(r response, level constant.Level, tool *machine.Tool) (mm float64, by string, err error) {
	most, end := math.Min(tool.FluteLength(), deepestCut*tool.Diameter), byFlutes
	if c.Milling.Mode == cutting.Slot && tool.Diameter < most {
		most, end = tool.Diameter, byDiameter
	}
	good, bad, by := 0.0, 0.0, ""
	for i := 1; i <= depthSteps && by == ""; i++ {
		bad = most * float64(i) / depthSteps
		if by, err = c.exceeded(r, level, bad); err != nil {
			return 0, "", err
		}
		if by == "" {
			good = bad
		}
	}
	if by == "" {
		return most, end, nil
	}
	for bad-good > depthResolution*bad && bad > shallowest {
		mid := (good + bad) / 2
		at, err := c.exceeded(r, level, mid)
		if err != nil {
			return 0, "", err
		}
		if at == "" {
			good = mid
		} else {
			bad, by = mid, at
		}
	}
	return good, by, nil
}

// exceeded says what an axial depth is too much for; "" when it is not.
func (c madeCut) exceeded(r response, level constant.Level, depth float64) (string, error) {
	m := *c.Milling
	m.AxialDepthMM = depth
	cut, err := m.Cut(c.Material, level)
	if err != nil {
		return "", err
	}
	torque := cut.Mean().Torque
	if limit := m.Spindle.TorqueNmm; limit > 0 && torque > limit {
		return byTorque, nil
	}
	if limit := m.Spindle.PowerW; limit > 0 && m.MotorPowerW(torque) > limit {
		return byPower, nil
	}
	turn, mean := cut.Revolution(), cut.Mean()
	for _, side := range turn.Sides() {
		s, still := c.made(r, turn, side), math.Abs(r.along(normals[side].direction, mean))
		if max(-s.Least, s.Most, still) > c.Tolerance {
			return byTolerance, nil
		}
	}
	if norm(r.farthest(turn)) > mostSwing*m.Mill.DiameterMM {
		return bySwing, nil
	}
	return "", nil
}

func (c madeCut) answerHole(a *answer.CutResult, r response) ([]cutting.Caution, error) {
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
		l := c.level(r, v.hole.Load, v.hole.Load)
		l.PowerW, l.MotorPowerW = v.hole.PowerW, v.hole.MotorPowerW
		moved := r.move(v.hole.Load)
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

// cautionsOf says where a cut is beyond the spindle in ways that frame/cutting does not look at.
func cautionsOf(s *machine.Spindle, a *answer.CutResult) (list []string) {
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
	perhaps(byPower, "W", a.Typical.MotorPowerW, a.High.MotorPowerW, s.PowerW)
	perhaps(byTorque, "N·mm", a.Typical.TorqueNmm, a.High.TorqueNmm, s.TorqueNmm)
	return list
}
