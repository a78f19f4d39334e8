package report

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// standing says where the axes stand.
func (p *page) standing(at map[string]float64) {
	if len(at) == 0 {
		return
	}
	var words []string
	for _, name := range slices.Sorted(maps.Keys(at)) {
		words = append(words, wrap.OneLine(name)+" "+number.Length(at[name])+" mm")
	}
	p.Say("Axes at: " + strings.Join(words, ", ") + ".")
}

// axes lists the machine's axes with their guides and drives.
func (p *page) axes(inv answer.Inventory) {
	if len(inv.Axes) == 0 {
		return
	}
	var axes, guides, drives [][]string
	for _, a := range inv.Axes {
		axes = append(axes, []string{a.Name, a.Along, number.Length(a.TravelMM[0]), number.Length(a.TravelMM[1]),
			number.Length(a.AtMM), strings.Join(a.Moves, ", ")})
		for _, g := range a.Guides {
			press, mounted := []string{"", "", ""}, ""
			if g.PressNPerUm != nil {
				for k, v := range g.PressNPerUm {
					press[k] = number.Significant(v)
				}
			}
			if g.MountedNPerUm != nil {
				mounted = number.Significant(*g.MountedNPerUm)
			}
			number := ""
			if len(g.PlacesMM) > 0 {
				number = fmt.Sprint(len(g.PlacesMM))
			}
			guides = append(guides, []string{a.Name, g.Name, g.Kind, g.On, g.Part, number, press[0], press[1], press[2],
				mounted})
		}
		for _, d := range a.Drives {
			whirl, buckling := "", ""
			if d.WhirlRPM != nil {
				whirl = number.Significant(*d.WhirlRPM)
			}
			if d.BucklingN != nil {
				buckling = number.Significant(*d.BucklingN)
			}
			drives = append(drives, []string{a.Name, d.Kind, d.Part, d.On, number.Significant(d.EndsNPerUm[0]),
				number.Significant(d.StiffNPerUm), number.Significant(d.EndsNPerUm[1]), whirl, buckling})
		}
	}
	p.Heading("Axes")
	p.Table([]column{named("axis"), named("along"), measured("from, mm"), measured("to, mm"), measured("at, mm"),
		named("moves")}, axes)
	p.Heading("Guides: one carriage onto its rail by itself, and with its screws")
	p.Table([]column{named("axis"), named("guide"), named("kind"), named("on"), named("carries"), measured("carriages"),
		measured("low, N/µm"), measured("typical, N/µm"), measured("high, N/µm"), measured("mounted, N/µm")}, guides)
	p.Heading("Drives: stiffness along the travel between rigid parts")
	p.Table([]column{named("axis"), named("kind"), named("pushes"), named("stands on"), measured("at from, N/µm"),
		measured("as it stands, N/µm"), measured("at to, N/µm"), measured("whirls at, rpm"), measured("buckles at, N")},
		drives)
}

// guides lists what carriages carry: of each guide the worst loaded one, under the load that is worst for it.
func (p *page) guides(r answer.Result) {
	var rows [][]string
	for _, c := range worstCarriages(r.Carriages) {
		row := []string{c.Axis + ", " + c.Guide, c.Load, number.Significant(c.PullN), number.Significant(c.SideN),
			number.Significant(c.RollNmm), number.Significant(c.PitchNmm), number.Significant(c.YawNmm), "–"}
		if c.EquivalentN != nil {
			row[7] = number.Significant(*c.EquivalentN)
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		p.Heading("Guides: the worst loaded carriage of each rail, under the load that is worst for it")
		p.Table([]column{named("guide"), named("worst under"), measured("pull, N"), measured("side, N"),
			measured("roll, N·mm"), measured("pitch, N·mm"), measured("yaw, N·mm"), measured("equivalent, N")}, rows)
	}
}

// drives lists the largest force that each drive holds.
func (p *page) drives(r answer.Result) {
	var rows [][]string
	for _, d := range worstDrives(r.Drives) {
		softest := "–"
		if len(d.Chain) > 0 {
			most := d.Chain[0]
			for _, s := range d.Chain {
				if number.Exceeds(s.Percent, most.Percent) {
					most = s
				}
			}
			softest = fmt.Sprintf("%s, %s %%", most.Name, number.Percent(most.Percent))
		}
		rows = append(rows, []string{d.Drive, d.Load, number.Significant(d.ForceN), number.Significant(d.StiffNPerUm),
			softest})
	}
	if len(rows) > 0 {
		p.Heading("Drives: the largest force each holds, and its stiffness between rigid parts")
		p.Table([]column{named("drive"), named("worst under"), measured("force, N"), measured("N/µm"),
			named("of that, what gives most")}, rows)
	}
}

// motors lists the largest torque that each drive asks of its motor.
func (p *page) motors(r answer.Result) {
	var worst []answer.DriveLoad
	for _, d := range r.Drives {
		i := slices.IndexFunc(worst, func(o answer.DriveLoad) bool { return o.Drive == d.Drive })
		switch {
		case d.TorqueNmm == nil:
		case i < 0:
			worst = append(worst, d)
		case number.Exceeds(*d.TorqueNmm, *worst[i].TorqueNmm):
			worst[i] = d
		}
	}
	var rows [][]string
	for _, d := range worst {
		share := absent
		if d.HoldingNmm != nil {
			share = number.Percent(100 * *d.TorqueNmm / *d.HoldingNmm)
		}
		rows = append(rows, []string{d.Drive, d.Load, number.Significant(*d.TorqueNmm),
			perhapsSignificant(d.HoldingNmm), share})
	}
	if len(rows) == 0 {
		return
	}
	p.Heading("Motors: the largest torque each is asked for, against what it holds at rest")
	p.Table([]column{named("drive"), named("worst under"), measured("torque, N·mm"), measured("holds, N·mm"),
		measured("of that, %")}, rows)
	p.Say("Torque of the force through the drive with its losses, and where an axis gains speed, of turning rotor " +
		"and screw faster; friction of guides and bearings comes on top.")
}

// worstDrives are those with the largest force of each drive.
func worstDrives(all []answer.DriveLoad) (list []answer.DriveLoad) {
	for _, d := range all {
		i := slices.IndexFunc(list, func(o answer.DriveLoad) bool { return o.Drive == d.Drive })
		switch {
		case i < 0:
			list = append(list, d)
		case number.Exceeds(math.Abs(d.ForceN), math.Abs(list[i].ForceN)):
			list[i] = d
		}
	}
	return list
}

// worstCarriages are those with the largest equivalent load (or, without ratings, the largest force) on each guide.
func worstCarriages(all []answer.CarriageLoad) (list []answer.CarriageLoad) {
	heavy := func(c answer.CarriageLoad) float64 {
		if c.EquivalentN != nil {
			return *c.EquivalentN
		}
		return math.Hypot(c.PullN, c.SideN)
	}
	for _, c := range all {
		i := slices.IndexFunc(list, func(o answer.CarriageLoad) bool { return o.Axis == c.Axis && o.Guide == c.Guide })
		switch {
		case i < 0:
			list = append(list, c)
		case number.Exceeds(heavy(c), heavy(list[i])):
			list[i] = c
		}
	}
	return list
}
