package structure

import (
	"fmt"
	"math"

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
				for _, row := range c.rows {
					force := s.SpringForce(m.links[row.link].spring)
					for k, share := range row.bears {
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
