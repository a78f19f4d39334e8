package machine

import (
	"context"
	"math"
	"sort"
)

// Next is what could be made stiffer next: by how much the tip gains from a little more of each thing that the builder can
// change, and what that costs.
//
// The gains are slopes: for one unit more, as if it went on as it begins. Values, thicknesses
// and spacings are found by the adjoint (frame.Trial), counts by the difference that one more makes.
type Next struct {
	Direction [3]float64 `json:"softest_direction"` // in which StiffnessNPerUm is gained
	Gains     []Gain     `json:"gains"`             // the best buy first
	Without   []NoGain   `json:"without"`           // what no gain can be told of
}

// Gain is what one unit more of something does. A gain below zero is a loss: less of it helps.
type Gain struct {
	What            string     `json:"what"` // "gusset_leg", "upright", "base/upright", "x: rail 1, rail 2"
	Kind            GainKind   `json:"kind"`
	Unit            string     `json:"unit"`                        // of what there is more of; "" for a plain number
	At              float64    `json:"at"`                          // how much of it there is now
	Whole           bool       `json:"whole"`                       // it counts something; the gain is that of one more
	StiffnessNPerUm float64    `json:"stiffness_n_per_um_per_unit"` // gained in the softest direction, per unit
	Loads           []LoadGain `json:"loads"`                       // by load on the tip
	MassKg          float64    `json:"mass_kg_per_unit"`            // added per unit
	Operations      int        `json:"operations_per_unit"`         // of drilling, added per unit
	PerKg           *float64   `json:"n_per_um_per_kg"`             // gained for a kilogram more; nil when the gain costs none
	PerOperation    *float64   `json:"n_per_um_per_operation"`      // gained for a drilling operation more; nil when it costs none
	Side            Side       `json:"side"`
	Room            *float64   `json:"room,omitempty"`  // of a spacing: how far it can change on the way on which the tip gains, in Unit
	Bound           string     `json:"bound,omitempty"` // and why no farther: "a carriage of rail 1 is at the end of table"

	slight bool // next to nothing
}

// LoadGain is by how much less the tip moves along a load's force per unit.
type LoadGain struct {
	Load string  `json:"load"`
	Um   float64 `json:"um_per_unit"`
}

// NoGain is something of which no gain can be told.
type NoGain struct {
	What string   `json:"what"`
	Kind GainKind `json:"kind"`
	Why  string   `json:"why"`
}

// GainKind tells what there is more of.
type GainKind string

// The kinds of gain.
const (
	OfValue     GainKind = "value"     // one of the file's values
	OfThickness GainKind = "thickness" // a plate's or gusset's own metal, with what touches it left where it is
	OfScrews    GainKind = "screws"    // one more row of a joint's grid
	OfSpacing   GainKind = "spacing"   // how far apart the first and last carriage of a rail stand, about their middle
)

// Side tells on which side of the present number a slope holds.
type Side string

// The sides. The model has bends: where a plate gets thinner than its neighbour, where one more node is needed.
const (
	BothSides Side = "both"
	MoreOnly  Side = "more"
	LessOnly  Side = "less"
)

// Next finds what to stiffen next on a model built at detail "section": more of the variables that its machine is drawn with,
// of its metal, its screws, the spacing of its carriages. It is nil without a tool.
func (m *Model) Next(ctx context.Context, variables []Variable) (*Next, error) {
	if m.tool == nil || m.detail != Section {
		return nil, nil
	}
	if len(m.machine.Axes) > 0 { // without carriages it is the same
		var err error
		if m, err = forSlopes().Build(ctx, m.machine); err != nil {
			return nil, err
		}
	}
	a, err := m.newAdjoint()
	if err != nil {
		return nil, err
	}
	next := &Next{Gains: []Gain{}, Without: []NoGain{}}
	copy(next.Direction[:], a.push[0][:3])
	for _, c := range m.candidates(variables) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, why := a.find(c)
		if why == "" && c.spacing != nil {
			why = m.boundSpacing(&c, s)
		}
		if why != "" {
			next.Without = append(next.Without, NoGain{c.gain.What, c.gain.Kind, why})
			continue
		}
		a.settle(&c.gain, s)
		next.Gains = append(next.Gains, c.gain)
	}
	sort.SliceStable(next.Gains, func(i, k int) bool { return next.Gains[i].before(next.Gains[k]) })
	return next, nil
}

// settle puts slopes in the builder's words.
func (a *adjoint) settle(g *Gain, s slopes) {
	g.MassKg, g.Operations, g.Side, g.Loads = plain(s.mass), s.operations, s.side, []LoadGain{}
	c := a.still[0]
	g.StiffnessNPerUm = plain(-s.moved[0] / (c * c) / micro)
	if s.whole && s.side == MoreOnly {
		g.StiffnessNPerUm = plain((1/(c+s.moved[0]) - 1/c) / micro)
	} else if s.whole {
		g.StiffnessNPerUm = plain((1/c - 1/(c-s.moved[0])) / micro)
	}
	for i, name := range a.names {
		g.Loads = append(g.Loads, LoadGain{name, plain(-s.moved[1+i] / a.force[1+i] * micro)})
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
	g.slight = math.Abs(g.StiffnessNPerUm)*size < slight/c/micro
}

// slight is the gain, as a share of the stiffness, of as much again that is next to nothing: what rounding leaves, and what
// nobody buys.
const slight = 1e-5

// leastMass is the mass per unit, kg, that is what rounding left over.
const leastMass = 1e-9

// before tells whether a gain is the better buy: first what costs neither mass nor drilling, by its size; then by what a
// kilogram buys; then, for what costs drilling alone, by what an operation buys; last what gains next to
// nothing.
func (g Gain) before(o Gain) bool {
	rank := func(g Gain) (class int, size float64) {
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
	a, x := rank(g)
	b, y := rank(o)
	if a != b {
		return a < b
	}
	return x > y
}
