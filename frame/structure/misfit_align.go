package structure

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/alignment"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// trialMM is the size of the misfit by which things are tried, mm; a twist is one over trialOver.
const (
	trialMM   = 0.01
	trialOver = 100.0
)

// Align answers a machine's misfits, as a solution does, and says what of it must be aligned: every foot, rail,
// carriage, nut and bearing is tried out of place, along the whole travel of its axis. The tip is read where the axes
// stand.
func (b *Builder) Align(ctx context.Context, m *machine.Machine) (*answer.Result, error) {
	complete, err := m.Complete()
	if err != nil {
		return nil, err
	}
	by := *b
	trials := trialsOf(complete)
	for _, t := range trials {
		by.units = append(by.units, t.misfit)
	}
	by.sideways = true
	model, err := by.Build(ctx, complete)
	if err != nil {
		return nil, err
	}
	b.kept = by.kept
	r, err := model.SolveContext(ctx, TipOnly)
	if err != nil {
		return nil, err
	}
	r.Align, err = model.align(ctx, trials)
	return r, err
}

// displaced is a thing out of place by trialMM in one way.
type displaced struct {
	misfit machine.Misfit
	how    string
}

// trialsOf are all ways in which things may be out of place.
func trialsOf(m *machine.Machine) (list []displaced) {
	add := func(at machine.Mounting, how string, from machine.Offset, to *machine.Offset) {
		f := machine.Misfit{Name: m.MountingName(at) + " " + how, At: at, From: from, To: to}
		list = append(list, displaced{f, how})
	}
	high, aside := machine.Offset{High: trialMM}, machine.Offset{Aside: trialMM}
	for g := range m.Grounds {
		for foot := range m.Grounds[g].Feet {
			add(machine.Mounting{Kind: machine.AtGround, Ground: g, Foot: foot}, "high", high, nil)
		}
	}
	for i := range m.Axes {
		a := &m.Axes[i]
		for k := range a.Guides {
			g := &a.Guides[k]
			if g.Slide != nil {
				continue
			}
			rail := machine.Mounting{Kind: machine.AtRail, Axis: i, Guide: k}
			add(rail, "high all along", high, nil)
			add(rail, "aside all along", aside, nil)
			add(rail, "high at one end", machine.Offset{}, &high)
			add(rail, "aside at one end", machine.Offset{}, &aside)
			add(rail, fmt.Sprintf("twisted end to end, µm per %g mm across", trialOver), machine.Offset{},
				&machine.Offset{Twist: trialMM / trialOver})
			for c := range g.Carriages {
				at := machine.Mounting{Kind: machine.AtCarriage, Axis: i, Guide: k, Carriage: c}
				add(at, "high", high, nil)
				add(at, "aside", aside, nil)
			}
		}
		for k := range a.Drives {
			if a.Drives[k].Kind != machine.ByScrew {
				continue
			}
			p, q := a.Along.Others()
			for _, kind := range []machine.MountingKind{machine.AtNut, machine.AtBearing, machine.AtFarBearing} {
				for _, across := range []machine.Axis{p, q} {
					add(machine.Mounting{Kind: kind, Axis: i, Drive: k}, "beside its line along "+across.String(),
						machine.Offset{By: r3.Scale(trialMM, across.Direction())}, nil)
				}
			}
		}
	}
	return list
}

// align ranks the trials, which stand last among the model's misfits.
func (m *Model) align(ctx context.Context, trials []displaced) (*answer.Alignment, error) {
	first := m.named()
	loads := m.misfitLoads(first, len(trials))
	loads = loads[:len(trials)]
	list := make([]alignment.Trial, len(trials))
	tolerance := m.tolerance()
	for n, t := range trials {
		list[n] = alignment.Trial{What: m.machine.MountingName(t.misfit.At), How: t.how, SizeUm: trialMM * constant.UmPerMM}
		s, err := m.solve(loads[n], m.tool.gauges())
		if err != nil {
			return nil, fmt.Errorf("%s: %w", t.misfit.Name, err)
		}
		if m.tool != nil && tolerance > 0 {
			list[n].Uses = append(list[n].Uses, alignment.Use{Limit: "the tip's tolerance", Of: "tip",
				Share: norm(m.tipAgainst(loads[n], s, m.tool.gauge)) / tolerance})
		}
		var at []link
		var forces []float64
		for _, l := range m.links {
			at, forces = append(at, l), append(forces, s.SpringForce(l.spring))
		}
		list[n].Uses = append(list[n].Uses, m.uses(at, forces)...)
		list[n].Uses = append(list[n].Uses, m.slips(s.Solution)...)
		share, rides := m.ridden(&t.misfit, s.Solution)
		if !rides {
			share = indicated(at, forces, first+n)
		}
		list[n].IndicatorShare = share
	}
	for i := range m.machine.Axes {
		along, err := m.builder.lockedAlong(ctx, m.machine, i, loads)
		if err != nil {
			return nil, fmt.Errorf("axis %s: %w", m.machine.Axes[i].Name, err)
		}
		if along == nil {
			continue
		}
		for p := range along.at {
			for n := range list {
				list[n].Uses = append(list[n].Uses, m.uses(along.links[p], along.forces[p][n])...)
			}
		}
	}
	lines := alignment.Ranked(list)
	return &answer.Alignment{Lines: lines, Order: alignment.Steps(m.groups(), lines)}, nil
}

// ridden is by how much the part on the carriages at a mounting moves against the one under them, over the misfit
// there, where the misfit opens most; not ok where there are no carriages.
func (m *Model) ridden(f *machine.Misfit, s *frame.Solution) (share float64, ok bool) {
	if f.At.Kind != machine.AtRail && f.At.Kind != machine.AtCarriage {
		return 0, false
	}
	most := 0.0
	for _, g := range m.axes[f.At.Axis].guides {
		for _, c := range g.carriages {
			for _, d := range c.axes {
				if by := c.mounted.opened(f, c.at, d, false); math.Abs(by) > most {
					most = math.Abs(by)
					over, under := m.spotsAt(g, c)
					share = s.Value(m.onArm(g.part, over, c.at, d).Plus(-1, m.onArm(g.on, under, c.at, d))) / by
				}
			}
		}
	}
	return share, true
}

// spotsAt are where a carriage holds its part, and the nearest of those where it, or its rail, holds the part under it.
func (m *Model) spotsAt(g *madeGuide, c *madeCarriage) (over, under *spot) {
	row := &m.links[c.rows[0]]
	if g.guide.Own != nil {
		return row.spot, row.others[0].spot
	}
	over, under = m.links[c.screws].spot, row.spot
	if g.rail != nil {
		near := slices.MinFunc(g.rail.screws.screws, func(a, b madeScrew) int {
			return cmp.Compare(r3.Norm(r3.Sub(a.at, c.at)), r3.Norm(r3.Sub(b.at, c.at)))
		})
		under = m.links[near.normal].spot
	}
	return over, under
}

// onArm is the movement of a place on a rigid arm from a spot of a body.
func (m *Model) onArm(b *body, from *spot, at, direction r3.Vec) frame.Form {
	form := m.form(b, nil, from, direction, false)
	if arm := r3.Sub(at, from.at); arm != (r3.Vec{}) {
		form = form.Plus(1, m.form(b, nil, from, r3.Cross(arm, direction), true))
	}
	return form
}

// indicated is by how much what is held moves at a mounting, over the misfit there, where the misfit opens most: the
// spring's form over the gap. Of a nut or a bearing it is the screw beside it that moves: as far as the spring gives.
func indicated(links []link, forces []float64, misfit int) (share float64) {
	most := 0.0
	for k, l := range links {
		for _, g := range l.gaps {
			if g.misfit == misfit && !l.turning && math.Abs(g.by) > most {
				most = math.Abs(g.by)
				share = forces[k] / l.stiffness / g.by
				if l.mount.at.Kind < machine.AtNut {
					share = 1 - share
				}
			}
		}
	}
	return share
}

// tolerance is the least that the model's paths and cuts ask of the tip, mm; 0: none.
func (m *Model) tolerance() (least float64) {
	take := func(mm float64) {
		if mm > 0 && (least == 0 || mm < least) {
			least = mm
		}
	}
	for _, p := range m.machine.Travel {
		take(p.Tolerance)
	}
	for _, c := range m.machine.Cuts {
		take(c.Tolerance)
	}
	return least
}

// uses are how much of their limits carriages and nuts are used up by the forces in links.
func (m *Model) uses(links []link, forces []float64) (list []alignment.Use) {
	loads := map[machine.Mounting]*[6]float64{}
	var order []machine.Mounting
	of := func(at machine.Mounting) *[6]float64 {
		if loads[at] == nil {
			loads[at] = &[6]float64{}
			order = append(order, at)
		}
		return loads[at]
	}
	for k, l := range links {
		switch {
		case l.row != nil:
			f := of(l.row.carriage)
			for c, share := range l.row.bears {
				f[c] += share * forces[k]
			}
		case l.mount != nil && l.mount.at.Kind == machine.AtNut:
			f := of(l.mount.at)
			for c, d := range array(l.direction) {
				f[c] += forces[k] * d
			}
		}
	}
	for _, at := range order {
		f, of := loads[at], m.machine.MountingName(at)
		if at.Kind == machine.AtCarriage {
			g := &m.machine.Axes[at.Axis].Guides[at.Guide]
			load := answer.CarriageLoad{PullN: f[2], SideN: f[1], RollNmm: f[3], PitchNmm: f[4], YawNmm: f[5]}
			rateCarriage(&load, &m.machine.Axes[at.Axis], g)
			if load.EquivalentN != nil {
				list = append(list, limits(*load.EquivalentN, *load.DynamicN, *load.PreloadN, of)...)
			}
			continue
		}
		d := &m.machine.Axes[at.Axis].Drives[at.Drive]
		if d.Ball != nil {
			list = append(list, limits(math.Sqrt(f[0]*f[0]+f[1]*f[1]+f[2]*f[2]), d.Ball.Dynamic.Typical, d.Preload, of)...)
		}
	}
	return list
}

// slips are how far the joints are from slip and from opening, whichever way the misfit goes: a pull opens a joint that
// a push would close.
func (m *Model) slips(s *frame.Solution) (list []alignment.Use) {
	for _, j := range m.joints {
		for _, screw := range j.screws {
			ring := m.ringLoad(j, screw, s.SpringForce)
			slip, open := screw.pinch.Use(screw.zone, ring)
			slipBack, openBack := screw.pinch.Use(screw.zone, ring.Opposite())
			list = append(list,
				alignment.Use{Limit: "the joint's slip", Of: "joint " + j.name, Share: math.Max(slip, slipBack)},
				alignment.Use{Limit: "the joint's opening", Of: "joint " + j.name, Share: math.Max(open, openBack)})
		}
	}
	return list
}

func limits(force, rating, preload float64, of string) []alignment.Use {
	list := []alignment.Use{{Limit: "a tenth of the rating", Of: of, Share: force / (alignment.RatingShare * rating)}}
	if preload > 0 {
		list = append(list, alignment.Use{Limit: "the preload", Of: of, Share: force / preload})
	}
	return list
}

// Stages of tightening: three feet, the other feet, then of each axis the first rail, the other rails, and its screws.
const (
	afterFeet    = 2
	stagesOfAxis = 3
)

// groups are what is tightened in one go.
func (m *Model) groups() (list []alignment.Group) {
	name := m.machine.MountingName
	feet := 0 // of all grounds
	for g := range m.machine.Grounds {
		for foot := range m.machine.Grounds[g].Feet {
			what := name(machine.Mounting{Kind: machine.AtGround, Ground: g, Foot: foot})
			group := alignment.Group{What: what, Lines: []string{what}, First: feet < statically, How: footHow(feet)}
			if !group.First {
				group.Stage = 1
			}
			list = append(list, group)
			feet++
		}
	}
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		rails, stage := 0, afterFeet+stagesOfAxis*i
		for k := range a.Guides {
			if a.Guides[k].Slide != nil {
				continue
			}
			what := name(machine.Mounting{Kind: machine.AtRail, Axis: i, Guide: k})
			g := alignment.Group{What: what + " and its carriages", Lines: []string{what}, Stage: stage,
				First: rails == 0, How: "straightened against its edge or an indicator and tightened all along"}
			if rails > 0 {
				g.Stage++
				g.How = fmt.Sprintf("loose; an indicator on one of its carriages touches one of %s, and it is tightened "+
					"behind the carriages as %s runs from end to end", firstRail(a), a.Name)
			}
			list = append(list, g)
			rails++
		}
		list = append(list, m.screwGroups(i, stage+2)...)
	}
	return list
}

// firstRail is the name of the first rail of an axis.
func firstRail(a *machine.FeedAxis) string {
	for _, g := range a.Guides {
		if g.Slide == nil {
			return g.Name
		}
	}
	return ""
}

// statically is how many feet stand by themselves, whatever their height.
const statically = 3

// footHow is how a foot is set, by its number among those of all grounds.
func footHow(foot int) string {
	if foot < statically {
		return "set with the other feet of three, which stand whatever their height"
	}
	return "screwed or packed up until it just bears, then tightened"
}

// screwGroups are the bearings and the nut of the screws of an axis.
func (m *Model) screwGroups(axis, stage int) (list []alignment.Group) {
	a := &m.machine.Axes[axis]
	for k := range a.Drives {
		if a.Drives[k].Kind != machine.ByScrew {
			continue
		}
		for _, s := range []struct {
			kind machine.MountingKind
			how  string
		}{
			{machine.AtBearing, "with the axis run up to it; indicator along the screw's top and side"},
			{machine.AtNut, "with the axis run up to the driven bearing, where the screw gives least"},
			{machine.AtFarBearing, "with the axis run up to it"},
		} {
			what := m.machine.MountingName(machine.Mounting{Kind: s.kind, Axis: axis, Drive: k})
			list = append(list, alignment.Group{What: what, Lines: []string{what}, Stage: stage, How: s.how})
		}
	}
	return list
}
