package structure

import (
	"context"
	"fmt"
	"math"
	"sort"

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
