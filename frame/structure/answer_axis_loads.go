package structure

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// carriageLoads are those of all carriages under a load.
func (m *Model) carriageLoads(l *machine.Load, s *frame.Solution) (list []answer.CarriageLoad) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			for _, c := range g.carriages {
				var f [6]float64
				for _, i := range c.rows {
					force := s.SpringForce(m.links[i].spring)
					for k, share := range m.links[i].row.bears {
						f[k] = plain(f[k] + share*force)
					}
				}
				load := answer.CarriageLoad{
					Load: l.Name, Axis: a.axis.Name, Guide: g.guide.Name, AtMM: array(c.at),
					PullN: f[2], SideN: f[1], RollNmm: f[3], PitchNmm: f[4], YawNmm: f[5],
				}
				rateCarriage(&load, a.axis, g.guide)
				list = append(list, load)
			}
		}
	}
	return list
}

// rateCarriage holds a carriage's load against the ratings of its size.
func rateCarriage(c *answer.CarriageLoad, a *machine.FeedAxis, g *machine.Guide) {
	if g.Rail == nil {
		return
	}
	_, typical, _ := g.Rail.Ratings()
	preload := g.Preload.Share().Typical * typical.Dynamic
	c.DynamicN, c.StaticN, c.PreloadN = &typical.Dynamic, &typical.Static, &preload
	p, err := typical.Equivalent(guide.Load{
		Vertical: c.PullN, Side: c.SideN, Roll: c.RollNmm, Pitch: c.PitchNmm, Yaw: c.YawNmm,
	})
	if err != nil || p < leastLoad {
		return
	}
	c.EquivalentN = &p
	if safety, err := typical.StaticSafety(p); err == nil {
		c.StaticSafety = &safety
	}
	if life, err := typical.LifeKm(guide.WithPreload(p, preload)); err == nil {
		c.LifeKm, c.LifeH = &life, hoursOf(a, life)
	}
}

// leastLoad is below what wears or dents anything, N: the rounding of a solution.
const leastLoad = 1e-3

// driveLoads are those of all drives under a load.
func (m *Model) driveLoads(l *machine.Load, s *frame.Solution) (list []answer.DriveLoad) {
	for _, a := range m.axes {
		for _, d := range a.drives {
			v := d.drive
			load := answer.DriveLoad{Load: l.Name, Axis: a.axis.Name, Drive: driveSource(a.axis, v),
				Chain: []answer.DriveShare{}}
			for _, i := range d.pulls {
				load.ForceN -= s.SpringForce(m.links[i].spring)
			}
			if !moves(a.axis, v.Part) {
				load.ForceN = -load.ForceN
			}
			load.ForceN = plain(load.ForceN)
			load.StiffNPerUm = d.stiffness() / constant.UmPerMM
			for _, p := range d.chain {
				load.Chain = append(load.Chain, answer.DriveShare{Name: p.Name, Percent: 100 * p.Compliance * d.stiffness()})
			}
			if v.Kind == machine.ByScrew {
				rateDrive(&load, a.axis, v)
			}
			turnMotor(&load, v, speedGain(l, m.machine, a.axis))
			list = append(list, load)
		}
	}
	return list
}

// stiffness of a drive between rigid parts, N/mm.
func (d *madeDrive) stiffness() float64 {
	if d.chain == nil {
		return d.drive.Force
	}
	c := 0.0
	for _, p := range d.chain {
		c += p.Compliance
	}
	return 1 / c
}

// rateDrive holds a screw's load against its ratings and Euler's load.
func rateDrive(d *answer.DriveLoad, a *machine.FeedAxis, v *machine.Drive) {
	buckling := buckling(v, a)
	rpm, _ := whirl(v, a)
	d.BucklingN, d.WhirlRPM = &buckling, &rpm
	if v.Ball == nil {
		return
	}
	dynamic, static, preload := v.Ball.Dynamic.Typical, v.Ball.Static.Typical, v.Preload
	d.DynamicN, d.StaticN, d.PreloadN = &dynamic, &static, &preload
	force := math.Abs(d.ForceN)
	if force < leastLoad {
		return
	}
	if safety, err := drive.StaticSafety(static, force); err == nil {
		d.StaticSafety = &safety
	}
	if turns, err := drive.PreloadedLife(dynamic, force, preload); err == nil {
		km := drive.TravelKm(turns, v.Screw.Lead)
		d.LifeKm, d.LifeH = &km, hoursOf(a, km)
	}
}

// axisNotes warn of screws that whirl in the rapid move of their axis, or buckle under what the loads push.
func (m *Model) axisNotes(loads []answer.DriveLoad) (notes []string) {
	for _, a := range m.axes {
		for _, d := range a.drives {
			v := d.drive
			if v.Kind != machine.ByScrew {
				continue
			}
			if a.axis.Rapid > 0 {
				rpm, length := whirl(v, a.axis)
				usable := drive.UsableCritical().Typical * rpm
				if asked := a.axis.Rapid * 60 / v.Screw.Lead; asked > usable {
					notes = append(notes,
						fmt.Sprintf("axis %s: its rapid move of %.3g m/min turns the screw at %.0f rpm; over %s it whirls at %.0f rpm, "+
							"and the trade stays below %.0f (60·λ²/(2π·L²)·√(EI/(ρA)), %s; 0.8 of it usable).",
							a.axis.Name, a.axis.Rapid*metersPerMinute, asked, machine.MM(length), rpm, usable, v.Screw.Shaft.Ends))
				}
			}
			limit, worst, under := buckling(v, a.axis)*drive.UsableBuckling().Typical, 0.0, ""
			for _, l := range loads {
				if l.Axis == a.axis.Name && l.Drive == driveSource(a.axis, v) && math.Abs(l.ForceN) > worst {
					worst, under = math.Abs(l.ForceN), l.Load
				}
			}
			if worst > limit {
				notes = append(notes,
					fmt.Sprintf("axis %s: %s pushes its screw with %.0f N, more than half of the %.0f N at which it buckles "+
						"(n·π²·E·I/L², %s): do not push it so.",
						a.axis.Name, under, worst, limit/drive.UsableBuckling().Typical, v.Screw.Shaft.Ends))
			}
		}
	}
	return notes
}

// positions are where the axes stand.
func (m *Model) positions() map[string]float64 {
	if len(m.machine.Axes) == 0 {
		return nil
	}
	at := map[string]float64{}
	for _, a := range m.machine.Axes {
		at[a.Name] = a.At
	}
	return at
}

// gap is a play in an axis, and the links that push through it.
type gap struct {
	source string
	band   constant.Band // mm
	links  []int         // in Model.links
	// what a unit force along x, y, z and a unit moment about them of the tip on the work put through it, and the
	// machine's own weight, N
	unit    [6]float64
	resting float64
}

// findGaps lists what has play and what goes through it. By virtual work the tip loses of a gap what a unit push at the
// tip puts through it: a nut's all, along its axis; a carriage's by the levers from it to the tip.
func (m *Model) findGaps() (list []gap, err error) {
	if m.tool == nil {
		return nil, nil
	}
	for _, a := range m.axes {
		for _, g := range a.guides {
			if g.guide.Rail == nil || g.guide.Own != nil || g.guide.Preload.Play().High == 0 {
				continue
			}
			for _, c := range g.carriages {
				for _, k := range []int{1, 2} { // across, and off the rail
					through := gap{source: guideSource(a.axis, g.guide), band: g.guide.Preload.Play()}
					for _, i := range c.rows {
						if m.links[i].row.bears[k] != 0 {
							through.links = append(through.links, i)
						}
					}
					list = append(list, through)
				}
			}
		}
		for _, d := range a.drives {
			plays := d.drive.Play
			if d.drive.Kind == machine.ByScrew && d.drive.Far != nil {
				plays = drive.SideBySide(plays)
			}
			for _, p := range plays {
				list = append(list, gap{source: driveSource(a.axis, d.drive) + ", " + p.Name, band: p.Gap, links: d.pulls})
			}
		}
	}
	if list == nil {
		return nil, nil
	}
	through := func(l frame.Load, into func(g *gap) *float64) error {
		s, err := m.system.Solve(l)
		if err != nil {
			return err
		}
		for i := range list {
			for _, k := range list[i].links {
				*into(&list[i]) += s.SpringForce(m.links[k].spring)
			}
		}
		return nil
	}
	for k, form := range m.against(m.tool.gauge) {
		push := frame.Load{Pushes: []frame.Push{{Form: form, Force: 1}}}
		if err := through(push, func(g *gap) *float64 { return &g.unit[k] }); err != nil {
			return nil, err
		}
	}
	return list, through(m.frameLoad(&ownWeight, m.tool.gauge), func(g *gap) *float64 { return &g.resting })
}

// weightHolds is the force from which on the machine's own weight is told to hold a gap closed, N: less is friction's.
const weightHolds = 1

// noLever is what a unit push puts through a gap that has nothing to do with it: rounding.
const noLever = 1e-9

// leastThrough is the share of a load that must go through a gap to open it: friction holds less, and the two halves of
// a mesh are not quite alike. House value.
const leastThrough = 0.01

// playLines tell the gaps, those of one guide summed up, and what the tip loses along each axis where no weight holds
// them.
func playLines(gaps []gap) (lines []answer.PlayLine, free *answer.LostMotion) {
	if gaps == nil {
		return nil, nil
	}
	var sum [3]float64
	for _, g := range gaps {
		i := slices.IndexFunc(lines, func(l answer.PlayLine) bool { return l.Source == g.source })
		if i < 0 {
			i = len(lines)
			lines = append(lines, answer.PlayLine{Source: g.source, PlayUm: g.band.Typical * constant.UmPerMM,
				PlayUm90: [2]float64{g.band.Low * constant.UmPerMM, g.band.High * constant.UmPerMM}})
		}
		lines[i].RestingN = math.Max(lines[i].RestingN, math.Abs(g.resting))
		for k := range sum {
			um := g.band.Typical * constant.UmPerMM * math.Abs(g.unit[k])
			if math.Abs(g.unit[k]) < noLever {
				continue
			}
			lines[i].TipUm[k] += um
			if math.Abs(g.resting) < weightHolds {
				sum[k] += um
			}
		}
	}
	return lines, &answer.LostMotion{X: sum[0], Y: sum[1], Z: sum[2]}
}

// lostUnder is what the tip loses to play under a load on it, µm: typical, and its size with low and high gaps.
func lostUnder(gaps []gap, l *machine.Load) (um [3]float64, sizes [2]float64) {
	var push [6]float64
	for _, a := range l.Actions {
		if a.Kind == machine.OnTip {
			for k, f := range pushOf(a) {
				push[k] += f
			}
		}
	}
	var low, high [3]float64
	for _, g := range gaps {
		force := 0.0
		for k, f := range push {
			force += f * g.unit[k]
		}
		if math.Abs(force) < leastThrough*norm([3]float64(push[:3])) || !drive.Crosses(g.resting, force) {
			continue
		}
		for k := range um {
			if math.Abs(g.unit[k]) < noLever {
				continue
			}
			way := constant.UmPerMM * math.Copysign(g.unit[k], g.unit[k]*force)
			um[k] += way * g.band.Typical
			low[k], high[k] = low[k]+way*g.band.Low, high[k]+way*g.band.High
		}
	}
	return um, [2]float64{norm(low), norm(high)}
}

// lose puts what the tip loses to play beside its elastic movement.
func (m *Model) lose(r *answer.Result) error {
	gaps, err := m.findGaps()
	if err != nil || gaps == nil {
		return err
	}
	r.Play, r.Tip.LostMotionUm = playLines(gaps)
	for i := range r.Loads {
		l := &r.Loads[i]
		if !l.OnTip {
			continue
		}
		um, sizes := lostUnder(gaps, &m.machine.Loads[i])
		size := norm(um)
		l.LostMotionUm, l.LostMotionSizeUm, l.LostMotionSizeUm90 = &um, &size, &sizes
	}
	return nil
}

// loseAlong says the same of travel, where each load loses what it does with the axes where they stand.
func loseAlong(r *answer.Result) {
	for i := range r.Travel {
		t := &r.Travel[i]
		for _, l := range r.Loads {
			if l.Name == t.Load {
				t.LostMotionUm = l.LostMotionUm
			}
		}
	}
}
