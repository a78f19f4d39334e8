package structure

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// Next finds what to stiffen next on a model built at detail "section": more of the variables that its machine is drawn
// with, of its metal, its screws, the spacing of its carriages. It is nil, with no error, without a tool and on a model
// built at detail "solid", whose slopes are not told. It panics where a variable has no More, or More gives neither a
// machine nor an error.
func (m *Model) Next(ctx context.Context, variables []machine.Variable) (*answer.Next, error) {
	if m.tool == nil || m.detail != Section {
		return nil, nil
	}
	if len(m.machine.Axes) > 0 { // without carriages it is the same
		var err error
		if m, err = m.forTrials().Build(ctx, m.machine); err != nil {
			return nil, err
		}
	}
	a, err := m.newAdjoint()
	if err != nil {
		return nil, err
	}
	next := &answer.Next{Gains: []answer.Gain{}, Without: []answer.NoGain{}}
	copy(next.Direction[:], a.push[0][:3])
	var found []buy
	for _, c := range m.candidates(variables) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, why := a.find(c)
		if why == "" && c.spacing != nil {
			why = m.boundSpacing(&c, s)
		}
		if why != "" {
			next.Without = append(next.Without, answer.NoGain{What: c.gain.What, Kind: c.gain.Kind, Why: why})
			continue
		}
		b := a.buy(c.gain, s)
		if !b.finite() {
			return nil, fmt.Errorf("%s: what it gains is not a number; the model's sizes and stiffnesses are too far apart",
				c.gain.What)
		}
		found = append(found, b)
	}
	sort.SliceStable(found, func(i, k int) bool { return found[i].before(found[k]) })
	for _, b := range found {
		next.Gains = append(next.Gains, b.Gain)
	}
	return next, nil
}

// buy is a gain and whether it is next to nothing.
type buy struct {
	answer.Gain
	slight bool
}

// finite tells whether all of a gain's numbers are numbers.
func (b buy) finite() bool {
	sum := b.StiffnessNPerUm + b.MassKg
	for _, l := range b.Loads {
		sum += l.Um
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// buy puts the slopes of a gain in the builder's words.
func (a *adjoint) buy(g answer.Gain, s slopes) buy {
	g.MassKg, g.Operations, g.Side, g.Loads = plain(s.mass), s.operations, s.side, []answer.LoadGain{}
	c := a.still[0]
	g.StiffnessNPerUm = plain(-s.moved[0] / (c * c) / constant.UmPerMM)
	if s.whole && s.side == answer.MoreOnly {
		g.StiffnessNPerUm = plain((1/(c+s.moved[0]) - 1/c) / constant.UmPerMM)
	} else if s.whole {
		g.StiffnessNPerUm = plain((1/c - 1/(c-s.moved[0])) / constant.UmPerMM)
	}
	for i, name := range a.names {
		g.Loads = append(g.Loads, answer.LoadGain{Load: name, Um: plain(-s.moved[1+i] / a.force[1+i] * constant.UmPerMM)})
	}
	way := 1.0 // the way on which it gets stiffer
	if g.StiffnessNPerUm < 0 {
		way = -1
	}
	if cost := way * g.MassKg; cost > leastMass {
		v := math.Abs(g.StiffnessNPerUm) / cost
		g.PerKg = &v
	}
	if cost := way * float64(g.Operations); cost > 0 {
		v := math.Abs(g.StiffnessNPerUm) / cost
		g.PerOperation = &v
	}
	size := math.Abs(g.At)
	if g.Whole || size == 0 {
		size = 1
	}
	return buy{g, math.Abs(g.StiffnessNPerUm)*size < slight/c/constant.UmPerMM}
}

// slight is the gain, as a share of the stiffness, of as much again that is next to nothing: what rounding leaves, and
// what nobody buys.
const slight = 1e-5

// leastMass is the mass per unit, kg, that is what rounding left over.
const leastMass = 1e-9

// before tells whether a gain is the better buy: first what costs neither mass nor drilling, by its size; then by what
// a kilogram buys; then, for what costs drilling alone, by what an operation buys; last what gains next to nothing.
func (b buy) before(o buy) bool {
	rank := func(g buy) (class int, size float64) {
		switch {
		case g.slight:
			return 3, 0
		case g.PerKg != nil:
			return 1, *g.PerKg
		case g.PerOperation != nil:
			return 2, *g.PerOperation
		}
		return 0, math.Abs(g.StiffnessNPerUm)
	}
	class, x := rank(b)
	other, y := rank(o)
	if class != other {
		return class < other
	}
	return x > y
}

// candidate is something of which there could be more.
type candidate struct {
	gain answer.Gain // What, Kind, Unit, At, Whole
	per  float64
	same bool    // more of it is the same machine
	step float64 // how far to move it for a slope, in consistent units; of what does not count

	// draw is the machine with so much more of it, in consistent units. Of what counts there are several when there are
	// several ways to have one more: the first that fits is meant.
	draw    []func(by float64) (*Model, error)
	mass    *float64 // added per unit, kg, when it is not that of the drawn machine
	spacing *spacing // of that kind
}

// candidates lists all that a builder could have more of: the file's values, the metal of each plate and gusset, the
// rows of screws, the cutter, the spacings of carriages.
func (m *Model) candidates(variables []machine.Variable) (list []candidate) {
	for _, v := range variables {
		list = append(list, m.valueCandidate(v))
	}
	for i, b := range m.bodies {
		if _, ok := b.metal(); ok {
			list = append(list, m.thicknessCandidate(i))
		}
	}
	for i := range m.joints {
		// where one more of those with given places would go is the builder's to say
		if s := m.joints[i].joint.Screws; s != nil && s.At == nil {
			list = append(list, m.rowCandidate(m.joints[i]))
		}
	}
	list = append(list, m.toolCandidates(variables)...)
	for _, s := range m.spacings() {
		list = append(list, m.spacingCandidate(s))
	}
	return list
}

// valueCandidate is a number that the machine is drawn with.
func (m *Model) valueCandidate(v machine.Variable) candidate {
	if v.More == nil {
		panic(fmt.Sprintf("structure: variable %s without More", v.Name))
	}
	return candidate{
		gain: answer.Gain{What: v.Name, Kind: answer.OfValue, Unit: v.Unit, At: v.At, Whole: v.Whole},
		per:  v.PerUnit,
		same: v.Unused,
		step: stepOf(v),
		draw: []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, err := v.More(by)
			if err != nil {
				return nil, err
			}
			if other == nil {
				panic(fmt.Sprintf("structure: variable %s drew no machine", v.Name))
			}
			if other, err = other.Complete(); err != nil {
				return nil, err
			}
			return m.forTrials().draw(other)
		}},
	}
}

// thicknessCandidate is a plate's or gusset's own metal.
func (m *Model) thicknessCandidate(part int) candidate {
	b := m.bodies[part]
	mass := b.massPerThickness()
	metal, _ := b.metal()
	return candidate{
		gain: answer.Gain{What: b.part.Name, Kind: answer.OfThickness, Unit: "mm", At: metal},
		per:  1,
		step: slopeStep * metal,
		draw: []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, err := m.forTrials().draw(m.machine)
			if err == nil {
				other.bodies[part].thicker = by
			}
			return other, err
		}},
		mass: &mass,
	}
}

// rowCandidate is one more row of a joint's screws, along the side that has more of them, or where they find no room
// there, along the other.
func (m *Model) rowCandidate(made *madeJoint) candidate {
	j := made.joint
	index := slices.IndexFunc(m.machine.Joints, func(o machine.Joint) bool { return o.Screws == j.Screws })
	first := 0
	if j.Screws.Grid[1] > j.Screws.Grid[0] {
		first = 1
	}
	c := candidate{gain: answer.Gain{What: made.name, Kind: answer.OfScrews, Unit: "row", At: float64(len(made.screws)),
		Whole: true}, per: 1}
	for _, along := range []int{first, 1 - first} {
		c.draw = append(c.draw, func(by float64) (*Model, error) {
			other, more := *m.machine, *j.Screws
			other.Joints = slices.Clone(other.Joints)
			more.Grid[along] += int(by)
			other.Joints[index].Screws = &more
			return m.forTrials().draw(&other)
		})
	}
	return c
}

// find is what one more of a candidate does, or why that cannot be told.
func (a *adjoint) find(c candidate) (s slopes, why string) {
	switch {
	case c.same:
		s = slopes{side: answer.BothSides, moved: make([]float64, len(a.push)), step: c.step}
	case c.gain.Kind == answer.OfScrews:
		s, why = a.oneMoreOf(c.draw)
	case c.gain.Whole:
		s, why = a.oneMore(c.draw[0])
	default:
		s, why = a.slope(c.draw[0], c.step)
	}
	s = s.times(c.per)
	if c.mass != nil {
		s.mass = *c.mass
	}
	return s, why
}

// toolCandidates are how far the cutter stands out of its grip and how thick it is, as far as no value of the file says
// so; none of a tool that does not give.
func (m *Model) toolCandidates(variables []machine.Variable) (list []candidate) {
	t := m.machine.Tool
	if m.tool == nil || m.tool.node < 0 || !(t.Stickout > 0) {
		return nil
	}
	changed := func(change func(*machine.Tool, float64)) []func(float64) (*Model, error) {
		return []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, tool := *m.machine, *t
			change(&tool, by)
			other.Tool = &tool
			return m.forOthers().draw(&other)
		}}
	}
	back := m.tool.back()
	if !sets(variables, func(other *machine.Tool) bool { return other.Stickout != t.Stickout }) {
		list = append(list, candidate{
			gain: answer.Gain{What: "stick-out", Kind: answer.OfTool, Unit: "mm", At: t.Stickout},
			per:  1,
			step: min(slopeStep*t.Stickout, longestStep),
			// it is gripped elsewhere: what sticks out of the grip goes in, be it shank or flutes
			draw: changed(func(tool *machine.Tool, by float64) {
				tool.Stickout += by
				tool.At = r3.Sub(tool.At, r3.Scale(by, back))
				if tool.Shank != nil {
					shank := *tool.Shank
					shank.Length += by
					tool.Shank = &shank
				}
			}),
		})
	}
	if !sets(variables, func(other *machine.Tool) bool { return other.Diameter != t.Diameter }) {
		list = append(list, candidate{
			// a cutter is as thick as it can be bought
			gain: answer.Gain{What: "diameter", Kind: answer.OfTool, Unit: "mm", At: t.Diameter, Whole: true},
			per:  1,
			draw: changed(func(tool *machine.Tool, by float64) {
				times := (tool.Diameter + by) / tool.Diameter
				tool.Diameter += by
				tool.Core *= times
				if tool.Shank != nil && tool.Shank.Diameter < tool.Diameter {
					shank := *tool.Shank
					shank.Diameter = tool.Diameter
					tool.Shank = &shank
				}
			}),
		})
	}
	return list
}

// sets tells whether any of the variables changes the tool in some way.
func sets(variables []machine.Variable, changed func(*machine.Tool) bool) bool {
	return slices.ContainsFunc(variables, func(v machine.Variable) bool {
		if v.Unused {
			return false
		}
		other, err := v.More(stepOf(v))
		return err == nil && other != nil && other.Tool != nil && changed(other.Tool)
	})
}
