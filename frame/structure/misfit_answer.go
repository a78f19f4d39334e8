package structure

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/coupling"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// allMisfits is the name of all of them at once.
const allMisfits = "all together"

// named is how many misfits are those of the machine and its shims; the others are what the builder is asked about.
func (m *Model) named() int { return len(m.misfits) - len(m.builder.units) }

// misfitLoad is the load of some misfits.
func misfitLoad(name string, numbers ...int) *machine.Load {
	l := &machine.Load{Name: name}
	for _, n := range numbers {
		l.Actions = append(l.Actions, machine.Action{Kind: machine.Misfitting, Misfit: n})
	}
	return l
}

// misfitLoads are those of each misfit from first on, of so many, and of all of them.
func (m *Model) misfitLoads(first, count int) (loads []*machine.Load) {
	var all []int
	for n := first; n < first+count; n++ {
		loads = append(loads, misfitLoad(m.misfits[n].Name, n))
		all = append(all, n)
	}
	return append(loads, misfitLoad(allMisfits, all...))
}

// misfitAnswer is what the misfits of the machine do; nil when it has none.
func (m *Model) misfitAnswer(ctx context.Context, loads []answer.CarriageLoad) (*answer.Misfits, error) {
	count := m.named()
	if count == 0 {
		return nil, nil
	}
	out := &answer.Misfits{Each: []answer.Misfit{}, Lives: []answer.MisfitLife{}, Shims: []answer.ShimEffect{}}
	list := m.misfitLoads(0, count)
	for n, l := range list {
		found, err := m.lockedIn(l)
		if err != nil {
			return nil, err
		}
		if n == count {
			out.Together = found
			break
		}
		found.At = m.machine.MountingName(m.misfits[n].At)
		out.Each = append(out.Each, *found)
	}
	out.Together.At = "everywhere"
	drags, err := m.drags(ctx, list)
	if err != nil {
		return nil, err
	}
	for n, d := range drags {
		if n == count {
			out.Together.Drag = d
			break
		}
		out.Each[n].Drag = d
	}
	out.Lives = m.lives(loads, out.Together.Carriages)
	out.Shims, err = m.shimEffects(ctx, out.Each)
	return out, err
}

// lockedIn is what a load of misfits does where the axes stand.
func (m *Model) lockedIn(l *machine.Load) (*answer.Misfit, error) {
	s, err := m.solve(l, m.tool.gauges())
	if err != nil {
		return nil, fmt.Errorf("misfit %s: %w", l.Name, err)
	}
	out := &answer.Misfit{
		Name: l.Name, Moved: m.readLoad(l, s), Carriages: m.carriageLoads(l, s.Solution), Nuts: m.sideLoads(s.Solution),
		Drives: m.driveLoads(l, s.Solution), Feet: m.footLoads(s.Solution), Grounds: m.reactions(l, s.Solution),
		Screws: m.screwLoads(l, s.Solution), Drag: []answer.Drag{},
	}
	if m.tool != nil {
		var turn [3]float64
		forms := m.against(m.tool.gauge)
		for k := range turn {
			turn[k] = plain(s.Value(forms[3+k]))
		}
		out.TurnRad = &turn
	}
	return out, nil
}

// sideLoads are what nuts and bearings of screws take across them.
func (m *Model) sideLoads(s *frame.Solution) []answer.SideLoad {
	list := []answer.SideLoad{}
	for number, a := range m.axes {
		for k, d := range a.drives {
			if d.sides == nil {
				continue
			}
			force := r3.Vec{}
			for _, i := range d.sides {
				force = r3.Sub(force, r3.Scale(s.SpringForce(m.links[i].spring), m.links[i].direction))
			}
			at := func(kind machine.MountingKind) string {
				return m.machine.MountingName(machine.Mounting{Kind: kind, Axis: number, Drive: k})
			}
			nut := sideLoad(at(machine.AtNut), d.drive.Push, force)
			for c, f := range nut.ForceN {
				nut.Slope[c] = plain(-f / d.hold.Stiffness * d.hold.Slope)
			}
			if b := d.drive.Ball; b != nil {
				dynamic, preload := b.Dynamic.Typical, d.drive.Preload
				nut.DynamicN, nut.PreloadN = &dynamic, &preload
			}
			list = append(list, nut, sideLoad(at(machine.AtBearing), d.drive.From, r3.Scale(-d.hold.Near.Factor, force)))
			if d.hold.Far.Factor != 0 {
				list = append(list, sideLoad(at(machine.AtFarBearing), d.drive.To, r3.Scale(-d.hold.Far.Factor, force)))
			}
		}
	}
	return list
}

func sideLoad(what string, at, force r3.Vec) answer.SideLoad {
	l := answer.SideLoad{What: what, AtMM: array(at), ForceN: array(force)}
	for k := range l.ForceN {
		l.ForceN[k] = plain(l.ForceN[k])
	}
	return l
}

// footLoads are what each foot does on the machine.
func (m *Model) footLoads(s *frame.Solution) []answer.FootLoad {
	list := []answer.FootLoad{}
	for _, g := range m.grounds {
		for k, at := range g.places {
			if g.kind != "feet" {
				continue
			}
			l := answer.FootLoad{Ground: g.name, Foot: k + 1, AtMM: array(at)}
			for _, i := range g.links {
				link := &m.links[i]
				if link.mount == nil || link.mount.at.Foot != k {
					continue
				}
				for c, d := range array(link.direction) {
					l.ForceN[c] = plain(l.ForceN[c] - d*s.SpringForce(link.spring))
				}
			}
			list = append(list, l)
		}
	}
	return list
}

// lives are those of the worst carriage of each guide under each load, without misfits and with them; loads that have
// misfits already are left out.
func (m *Model) lives(loads, locked []answer.CarriageLoad) []answer.MisfitLife {
	list := []answer.MisfitLife{}
	for n, c := range loads {
		if m.isMisfit(c.Load) {
			continue
		}
		more := locked[n%len(locked)]
		both := c
		both.PullN, both.SideN = c.PullN+more.PullN, c.SideN+more.SideN
		both.RollNmm, both.PitchNmm, both.YawNmm = c.RollNmm+more.RollNmm, c.PitchNmm+more.PitchNmm, c.YawNmm+more.YawNmm
		both.EquivalentN, both.LifeKm, both.LifeH, both.StaticSafety = nil, nil, nil, nil
		a := m.axes[slices.IndexFunc(m.axes, func(a *madeAxis) bool { return a.axis.Name == c.Axis })]
		g := a.guides[slices.IndexFunc(a.guides, func(g *madeGuide) bool { return g.guide.Name == c.Guide })]
		rateCarriage(&both, a.axis, g.guide)
		if both.EquivalentN == nil {
			continue
		}
		life := answer.MisfitLife{Load: c.Load, Axis: c.Axis, Guide: c.Guide, AtMM: c.AtMM, LifeKm: c.LifeKm,
			WithKm: both.LifeKm}
		i := slices.IndexFunc(list, func(o answer.MisfitLife) bool {
			return o.Load == life.Load && o.Axis == life.Axis && o.Guide == life.Guide
		})
		switch {
		case i < 0:
			list = append(list, life)
		case list[i].WithKm != nil && (life.WithKm == nil || *life.WithKm < *list[i].WithKm):
			list[i] = life
		}
	}
	return list
}

// isMisfit tells whether something does not line up in a load.
func (m *Model) isMisfit(load string) bool {
	return slices.ContainsFunc(m.machine.Loads, func(l machine.Load) bool {
		return l.Name == load && slices.ContainsFunc(l.Actions, func(a machine.Action) bool {
			return a.Kind == machine.Misfitting
		})
	})
}

// drags are those of each axis under each of some loads of misfits, along its travel: [load][axis].
func (m *Model) drags(ctx context.Context, loads []*machine.Load) ([][]answer.Drag, error) {
	list := make([][]answer.Drag, len(loads))
	for n := range list {
		list[n] = []answer.Drag{}
	}
	for i := range m.machine.Axes {
		along, err := m.builder.lockedAlong(ctx, m.machine, i, loads)
		if err != nil {
			return nil, fmt.Errorf("axis %s: %w", m.machine.Axes[i].Name, err)
		}
		if along == nil {
			continue
		}
		for n := range loads {
			list[n] = append(list[n], along.drag(m.axes[i], n))
		}
	}
	return list, nil
}

// lockedRun are the springs of an axis under loads of misfits, and the forces in them, along its travel.
type lockedRun struct {
	axis   *machine.FeedAxis
	at     []float64
	links  [][]link      // of each position
	forces [][][]float64 // [position][load][spring]
}

// lockedAlong solves loads of misfits along the travel of an axis; nil for an axis on slides, which have more springs
// than are told apart.
func (b *Builder) lockedAlong(ctx context.Context, m *machine.Machine, axis int, loads []*machine.Load) (*lockedRun,
	error) {
	a := &m.Axes[axis]
	whole := machine.Path{From: a.Travel[0], To: a.Travel[1]}
	run, err := b.run(ctx, m, []*runningAxis{{axis: a, at: pathSpots(&whole)}})
	if err != nil {
		return nil, err
	}
	list := &lockedRun{axis: a, at: run.axes[0].at, links: run.axes[0].links}
	var watched []frame.Form
	springs := make([][]frame.Spring, len(list.at))
	for n, links := range list.links {
		springs[n] = run.springs(links)
		for _, s := range springs[n] {
			watched = append(watched, s.Form)
		}
	}
	run.pieces.Watch(watched...)
	var states [][]float64
	for _, l := range loads {
		solution, err := run.pieces.Solve(run.model.frameLoad(l, nil))
		if err != nil {
			return nil, fmt.Errorf("misfit %s: %w", l.Name, err)
		}
		state := run.model.stateOf(solution, l, nil)
		u := slices.Clone(state.U)
		for _, p := range run.ported {
			u = append(u, p.ports.Moved(state.fields[p.number])...)
		}
		states = append(states, u)
	}
	probe := run.pieces.Probe(nil, states...)
	for n := range list.at {
		forces, ok := list.joined(run, probe, springs[n], n, loads)
		if !ok {
			return nil, nil
		}
		list.forces = append(list.forces, forces)
	}
	return list, ctx.Err()
}

// joined are the forces in the springs of a position.
func (r *lockedRun) joined(run *running, probe *coupling.Probe, springs []frame.Spring, position int,
	loads []*machine.Load) ([][]float64, bool) {
	var stretched [][]float64
	for _, l := range loads {
		by := make([]float64, len(springs))
		for k := range by {
			by[k] = run.grown(l, &r.links[position][k])
		}
		stretched = append(stretched, by)
	}
	return probe.Join(probe.Connect(springs, stretched...)).Held()
}

// drag is the friction of what is locked into the guides of the axis along its travel.
func (r *lockedRun) drag(a *madeAxis, load int) answer.Drag {
	d := answer.Drag{Axis: a.axis.Name, AtMM: r.at, PushN: motorPush(a)}
	for n := range r.at {
		var order []machine.Mounting
		held := map[machine.Mounting][2]float64{} // across its rail and off it
		for k, l := range r.links[n] {
			if l.row == nil {
				continue
			}
			f, known := held[l.row.carriage]
			if !known {
				order = append(order, l.row.carriage)
			}
			for c := range f {
				f[c] += l.row.bears[1+c] * r.forces[n][load][k]
			}
			held[l.row.carriage] = f
		}
		sum := 0.0
		for _, at := range order {
			d.Friction = guide.Friction().Typical
			sum += d.Friction * (math.Abs(held[at][0]) + math.Abs(held[at][1]))
		}
		d.DragN = append(d.DragN, sum)
		if sum > d.WorstN {
			d.WorstN, d.WorstMM = sum, r.at[n]
		}
	}
	return d
}

// motorPush is what the motors of an axis hold along its travel, N; nil when that of one is not known.
func motorPush(a *madeAxis) *float64 {
	sum := 0.0
	for _, d := range a.drives {
		travel := travelPerRadian(d.drive)
		if d.drive.Motor.Hold == 0 || travel == 0 || d.drive.Efficiency == 0 {
			return nil
		}
		sum += d.drive.Motor.Hold * d.drive.Efficiency / travel
	}
	return &sum
}

// shimEffects are what each stack of shims changes, against the machine without it.
func (m *Model) shimEffects(ctx context.Context, with []answer.Misfit) ([]answer.ShimEffect, error) {
	list := []answer.ShimEffect{}
	for i, s := range m.machine.Shims {
		bare := *m.machine
		bare.Shims = slices.Delete(slices.Clone(bare.Shims), i, i+1)
		by := *m.builder
		by.units, by.sideways = nil, true
		other, err := by.Build(ctx, &bare)
		if err != nil {
			return nil, fmt.Errorf("without shim %s: %w", s.Name, err)
		}
		at := func(f machine.Misfit) bool { return f.At == s.At }
		e := answer.ShimEffect{Name: s.Name, At: m.machine.MountingName(s.At), Layers: s.Layers(),
			WithN: mostLocked(&with[slices.IndexFunc(m.misfits, at)])}
		if n := slices.IndexFunc(other.misfits, at); n >= 0 {
			without, err := other.lockedIn(misfitLoad(s.Name, n))
			if err != nil {
				return nil, err
			}
			e.WithoutN = mostLocked(without)
		}
		if m.tool != nil {
			a, err := m.tipStiffness()
			if err != nil {
				return nil, err
			}
			b, err := other.tipStiffness()
			if err != nil {
				return nil, err
			}
			softer := 100 * (1 - a.StiffnessNPerUm.Softest/b.StiffnessNPerUm.Softest)
			e.SofterPercent = &softer
		}
		list = append(list, e)
	}
	return list, nil
}

// mostLocked is the largest force locked into any one carriage, nut, bearing, foot or screw, N.
func mostLocked(found *answer.Misfit) (most float64) {
	for _, c := range found.Carriages {
		most = math.Max(most, math.Hypot(c.PullN, c.SideN))
	}
	for _, n := range found.Nuts {
		most = math.Max(most, norm(n.ForceN))
	}
	for _, f := range found.Feet {
		most = math.Max(most, norm(f.ForceN))
	}
	for _, s := range found.Screws {
		most = math.Max(most, math.Hypot(s.TensionN, s.ShearN))
	}
	return most
}
