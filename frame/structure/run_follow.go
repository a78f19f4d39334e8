package structure

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// follow adds to the answer of a complete machine what its tip does while axes run: along each path of one axis, with
// the straightness of its motion, and over each plane of two. A machine without a tool has no such answer.
func (b *Builder) follow(ctx context.Context, m *machine.Machine, r *answer.Result) error {
	if m.Tool == nil {
		return nil
	}
	for i := range m.Travel {
		p := &m.Travel[i]
		if len(p.Axes) == 0 {
			continue
		}
		if err := b.followPath(ctx, m, p, r); err != nil {
			return fmt.Errorf("path %s: %w", p.Name, err)
		}
	}
	return nil
}

// ownWeight is the load under which the straightness of a motion is told.
var ownWeight = machine.Load{Name: "own weight", Actions: []machine.Action{{Kind: machine.Weight,
	Force: r3.Vec{Z: -machine.StandardGravity}}}}

func (b *Builder) followPath(ctx context.Context, m *machine.Machine, p *machine.Path, r *answer.Result) error {
	var axes []*runningAxis
	for _, n := range p.Axes {
		a := &m.Axes[n]
		axes = append(axes, &runningAxis{axis: a, at: pathPositions(p, a)})
	}
	run, err := b.run(ctx, m, axes)
	if err != nil {
		return err
	}
	var loads []*machine.Load
	for _, n := range p.Loads {
		loads = append(loads, &m.Loads[n])
	}
	if len(axes) == 2 {
		c, err := run.chart(loads)
		if err != nil {
			return err
		}
		found, err := c.plane(p)
		if err != nil {
			return err
		}
		r.Maps = append(r.Maps, *found)
		return b.holdAgainst(ctx, m, r, map[string]float64{found.Axes[0]: found.Softest.AtMM[0],
			found.Axes[1]: found.Softest.AtMM[1]}, found.Softest.Value)
	}
	c, err := run.chart(append(loads, &ownWeight))
	if err != nil {
		return err
	}
	found, lines, err := c.line(p)
	if err != nil {
		return err
	}
	r.Travel = append(r.Travel, found...)
	r.Straight = longest(r.Straight, lines)
	if len(found) == 0 {
		return nil
	}
	softest := floats.MinIdx(found[0].SoftestNPerUm)
	return b.holdAgainst(ctx, m, r, map[string]float64{found[0].Axis: found[0].AtMM[softest]},
		found[0].SoftestNPerUm[softest])
}

// Where positions share nodes, under faces that slide, an answer may be off by some thousandths from that of the
// machine built there; what is more than offUnsaid is told, and beyond offWrong something is wrong.
const (
	offUnsaid = 1e-3
	offWrong  = 0.05
)

// holdAgainst holds a stiffness found in a position against the machine built and solved whole there. Meshed bodies are
// not built again for that.
func (b *Builder) holdAgainst(ctx context.Context, m *machine.Machine, r *answer.Result, at map[string]float64,
	softest float64) error {
	if b.Detail != Section {
		return nil
	}
	moved, err := m.At(at)
	if err != nil {
		return err
	}
	model, err := b.Build(ctx, moved)
	if err != nil {
		return err
	}
	tip, err := model.tipStiffness()
	if err != nil {
		return err
	}
	var places []string
	for _, name := range slices.Sorted(maps.Keys(at)) {
		places = append(places, fmt.Sprintf("%s at %s", name, machine.MM(at[name])))
	}
	off := math.Abs(softest/tip.StiffnessNPerUm.Softest - 1)
	switch {
	case !(off <= offWrong):
		return fmt.Errorf("with %s the tip came out %.2g %% off from the machine built there: the structure is too "+
			"unevenly stiff to be followed; ask for %s", strings.Join(places, ", "), 100*off, b.Asks.ForPositions())
	case off > offUnsaid:
		r.Notes = append(r.Notes,
			fmt.Sprintf("travel: with %s the stiffness is %.1g %% off from that of the machine built there",
				strings.Join(places, ", "), 100*off))
	}
	return nil
}
