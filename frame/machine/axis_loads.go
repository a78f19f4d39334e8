package machine

import (
	"fmt"
	"math"

	"tiploop/frame"
	"tiploop/frame/drive"
	"tiploop/frame/guide"
)

// CarriageLoad is what one carriage carries under one load, in its own axes: pull takes it off its rail, side pushes it
// across, moments are about the rail, about the axis across it and about the upright. Ratings are typical ones of the size
// and indicate; nil where the builder gave numbers of his own, or nothing loads the carriage.
type CarriageLoad struct {
	Load         string     `json:"load"`
	Axis         string     `json:"axis"`
	Guide        string     `json:"guide"`
	AtMM         [3]float64 `json:"at_mm"` // middle of its rows
	PullN        float64    `json:"pull_n"`
	SideN        float64    `json:"side_n"`
	RollNmm      float64    `json:"roll_n_mm"`
	PitchNmm     float64    `json:"pitch_n_mm"`
	YawNmm       float64    `json:"yaw_n_mm"`
	EquivalentN  *float64   `json:"equivalent_n"`
	DynamicN     *float64   `json:"dynamic_rating_n"`
	StaticN      *float64   `json:"static_rating_n"`
	StaticSafety *float64   `json:"static_safety"`
	PreloadN     *float64   `json:"preload_n"`
	LifeKm       *float64   `json:"life_km"` // travel that nine of ten survive if this load acted all the time beside the preload; nil beyond the law
	LifeH        *float64   `json:"life_h"`  // the same at the rapid move of the axis; nil without one
}

// DriveLoad is what one drive holds under one load. Buckling and whirling are of a screw; nil for others.
type DriveLoad struct {
	Load         string       `json:"load"`
	Axis         string       `json:"axis"`
	Drive        string       `json:"drive"`              // as in the shares
	ForceN       float64      `json:"force_n"`            // on what the axis carries, along it
	StiffNPerUm  float64      `json:"stiffness_n_per_um"` // between rigid parts, where the axis stands
	Chain        []DriveShare `json:"chain"`
	DynamicN     *float64     `json:"dynamic_rating_n"`
	StaticN      *float64     `json:"static_rating_n"`
	StaticSafety *float64     `json:"static_safety"`
	PreloadN     *float64     `json:"preload_n"`
	LifeKm       *float64     `json:"life_km"` // as that of a carriage
	LifeH        *float64     `json:"life_h"`
	TorqueNmm    *float64     `json:"torque_n_mm"`  // that moves the axis against the force and gains it speed, at the motor; nil when the drive's losses are not known
	HoldingNmm   *float64     `json:"holding_n_mm"` // what the motor holds at rest; nil when not known
	BucklingN    *float64     `json:"buckling_n"`
	WhirlRPM     *float64     `json:"whirl_rpm"`
}

// DriveShare is one link of a drive's chain and its share of the drive's give.
type DriveShare struct {
	Name    string  `json:"name"`
	Percent float64 `json:"percent"`
}

// carriageLoads are those of all carriages under a load.
func (m *Model) carriageLoads(l *Load, s *frame.Solution) (list []CarriageLoad) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			for _, c := range g.carriages {
				var f [6]float64
				for k, i := range c.links {
					if i >= 0 {
						f[k] = plain(s.SpringForce(m.links[i].spring))
					}
				}
				load := CarriageLoad{
					Load: l.Name, Axis: a.axis.Name, Guide: g.guide.Name, AtMM: array(c.at),
					PullN: f[2], SideN: f[1], RollNmm: f[3], PitchNmm: f[4], YawNmm: f[5],
				}
				load.rate(a.axis, g.guide)
				list = append(list, load)
			}
		}
	}
	return list
}

// rate holds a carriage's load against the ratings of its size.
func (c *CarriageLoad) rate(a *FeedAxis, g *Guide) {
	if g.Rail == nil {
		return
	}
	_, typical, _ := g.Rail.Ratings()
	preload := g.Preload.Share().Typical * typical.Dynamic
	c.DynamicN, c.StaticN, c.PreloadN = &typical.Dynamic, &typical.Static, &preload
	p, err := typical.Equivalent(guide.Load{Vertical: c.PullN, Side: c.SideN, Roll: c.RollNmm, Pitch: c.PitchNmm, Yaw: c.YawNmm})
	if err != nil || p < leastLoad {
		return
	}
	c.EquivalentN = &p
	if safety, err := typical.StaticSafety(p); err == nil {
		c.StaticSafety = &safety
	}
	if life, err := typical.LifeKm(guide.WithPreload(p, preload)); err == nil {
		c.LifeKm, c.LifeH = &life, a.hours(life)
	}
}

// leastLoad is below what wears or dents anything, N: the rounding of a solution.
const leastLoad = 1e-3

// driveLoads are those of all drives under a load.
func (m *Model) driveLoads(l *Load, s *frame.Solution) (list []DriveLoad) {
	for _, a := range m.axes {
		for _, d := range a.drives {
			v := d.drive
			load := DriveLoad{Load: l.Name, Axis: a.axis.Name, Drive: a.axis.driveSource(v), Chain: []DriveShare{}}
			for _, i := range d.pulls {
				load.ForceN -= s.SpringForce(m.links[i].spring)
			}
			if !a.axis.moves(v.Part) {
				load.ForceN = -load.ForceN
			}
			load.ForceN = plain(load.ForceN)
			load.StiffNPerUm = d.stiffness() / micro
			for _, p := range d.chain {
				load.Chain = append(load.Chain, DriveShare{p.Name, 100 * p.Compliance * d.stiffness()})
			}
			if v.Kind == ByScrew {
				load.rate(a.axis, v)
			}
			load.turn(v, l.gain(m.machine, a.axis))
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

// rate holds a screw's load against its ratings and Euler's load.
func (d *DriveLoad) rate(a *FeedAxis, v *Drive) {
	buckling := v.buckling(a)
	rpm, _ := v.whirl(a)
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
		d.LifeKm, d.LifeH = &km, a.hours(km)
	}
}

// axisNotes warn of screws that whirl in the rapid move of their axis, or buckle under what the loads push.
func (m *Model) axisNotes(loads []DriveLoad) (notes []string) {
	for _, a := range m.axes {
		for _, d := range a.drives {
			v := d.drive
			if v.Kind != ByScrew {
				continue
			}
			if a.axis.Rapid > 0 {
				rpm, length := v.whirl(a.axis)
				usable := drive.UsableCritical().Typical * rpm
				if asked := a.axis.Rapid * 60 / v.Screw.Lead; asked > usable {
					notes = append(notes, fmt.Sprintf("axis %s: its rapid move of %.3g m/min turns the screw at %.0f rpm; over %s it whirls at %.0f rpm, and the trade stays below %.0f (60·λ²/(2π·L²)·√(EI/(ρA)), %s; 0.8 of it usable).",
						a.axis.Name, a.axis.Rapid*metersPerMinute, asked, mm(length), rpm, usable, v.Screw.Shaft.Ends))
				}
			}
			limit, worst, under := v.buckling(a.axis)*drive.UsableBuckling().Typical, 0.0, ""
			for _, l := range loads {
				if l.Axis == a.axis.Name && l.Drive == a.axis.driveSource(v) && math.Abs(l.ForceN) > worst {
					worst, under = math.Abs(l.ForceN), l.Load
				}
			}
			if worst > limit {
				notes = append(notes, fmt.Sprintf("axis %s: %s pushes its screw with %.0f N, more than half of the %.0f N at which it buckles (n·π²·E·I/L², %s): do not push it so.",
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
