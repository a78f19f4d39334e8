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
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// follow adds to the answer of a complete machine what its tip does while axes run: along each path of one axis, with the
// straightness of its motion, and over each plane of two. A machine without a tool has no such answer.
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
var ownWeight = machine.Load{Name: "own weight", Actions: []machine.Action{{Kind: machine.Weight, Force: r3.Vec{Z: -machine.StandardGravity}}}}

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
		return b.holdAgainst(ctx, m, r, map[string]float64{found.Axes[0]: found.Softest.AtMM[0], found.Axes[1]: found.Softest.AtMM[1]}, found.Softest.Value)
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
	return b.holdAgainst(ctx, m, r, map[string]float64{found[0].Axis: found[0].AtMM[softest]}, found[0].SoftestNPerUm[softest])
}

// Where positions share nodes, under faces that slide, an answer may be off by some thousandths from that of the machine built
// there; what is more than offUnsaid is told, and beyond offWrong something is wrong.
const (
	offUnsaid = 1e-3
	offWrong  = 0.05
)

// holdAgainst holds a stiffness found in a position against the machine built and solved whole there. Meshed bodies are not
// built again for that.
func (b *Builder) holdAgainst(ctx context.Context, m *machine.Machine, r *answer.Result, at map[string]float64, softest float64) error {
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
		return fmt.Errorf("with %s the tip came out %.2g %% off from the machine built there: the structure is too unevenly stiff to be followed; ask for %s", strings.Join(places, ", "), 100*off, b.Asks.ForPositions())
	case off > offUnsaid:
		r.Notes = append(r.Notes, fmt.Sprintf("travel: with %s the stiffness is %.1g %% off from that of the machine built there", strings.Join(places, ", "), 100*off))
	}
	return nil
}

// longest takes lines of an axis into a list that has those of the longest path of each.
func longest(list, lines []answer.Straightness) []answer.Straightness {
	length := func(s answer.Straightness) float64 { return s.AtMM[len(s.AtMM)-1] - s.AtMM[0] }
	i := slices.IndexFunc(list, func(s answer.Straightness) bool { return s.Axis == lines[0].Axis })
	switch {
	case i < 0:
		return append(list, lines...)
	case length(lines[0]) > length(list[i]):
		copy(list[i:], lines)
	}
	return list
}

// line follows one axis. The last of the chart's loads is the machine's own weight.
func (c *chart) line(p *machine.Path) (found []answer.Travel, straight []answer.Straightness, err error) {
	axis := c.running.axes[0].axis
	var at, leftOut, softest []float64
	moved := make([][][3]float64, len(c.loads))
	c.read(func(positions []int, s *tipState) {
		position := c.running.axes[0].at[positions[0]]
		if s == nil {
			leftOut = append(leftOut, position)
			return
		}
		at = append(at, position)
		softest = append(softest, s.softest())
		for n := range c.loads {
			moved[n] = append(moved[n], micrometres(s.moved[n]))
		}
	})
	if err := allFinite(softest, moved); err != nil {
		return nil, nil, err
	}
	last := len(c.loads) - 1
	for n, l := range c.loads[:last] {
		t := answer.Travel{Path: p.Name, Load: l.Name, ToleranceUm: p.Tolerance * constant.UmPerMM, AtMM: at, TipUm: moved[n], Axis: axis.Name, SoftestNPerUm: softest, LeftOutMM: leftOut}
		t.WithinMM = within(t.AtMM, t.TipUm, t.ToleranceUm, leftOut)
		found = append(found, t)
	}
	for k := machine.X; k <= machine.Z; k++ {
		if k != axis.Along {
			straight = append(straight, straightness(axis.Name, k, at, moved[last]))
		}
	}
	return found, straight, nil
}

// straightness is how far a motion leaves the line through its two ends, in one direction across it.
func straightness(axis string, across machine.Axis, at []float64, um [][3]float64) answer.Straightness {
	s := answer.Straightness{Axis: axis, Across: across.String(), AtMM: at}
	first, last := 0, len(at)-1
	lo, hi := 0.0, 0.0
	for i := range at {
		share := 0.0
		if last > 0 {
			share = (at[i] - at[first]) / (at[last] - at[first])
		}
		off := plain(um[i][across] - (1-share)*um[first][across] - share*um[last][across])
		lo, hi = math.Min(lo, off), math.Max(hi, off)
		s.OffUm = append(s.OffUm, off)
	}
	s.Um = hi - lo
	return s
}

// plane maps two axes.
func (c *chart) plane(p *machine.Path) (*answer.Map, error) {
	first, second := c.running.axes[0], c.running.axes[1]
	m := &answer.Map{
		Name: p.Name, Axes: [2]string{first.axis.Name, second.axis.Name}, AtMM: [2][]float64{first.at, second.at},
		ToleranceUm: p.Tolerance * constant.UmPerMM, SoftestNPerUm: make([][]*float64, len(first.at)),
	}
	for _, l := range c.loads {
		m.Loads = append(m.Loads, answer.MapLoad{Load: l.Name, TipUm: make([][]*[3]float64, len(first.at))})
	}
	for i := range first.at {
		m.SoftestNPerUm[i] = make([]*float64, len(second.at))
		for n := range m.Loads {
			m.Loads[n].TipUm[i] = make([]*[3]float64, len(second.at))
		}
	}
	places, kept := 0, make([]int, len(c.loads))
	var every []float64
	moved := make([][][3]float64, len(c.loads))
	c.read(func(positions []int, s *tipState) {
		if s == nil {
			return
		}
		i, k := positions[0], positions[1]
		where := [2]float64{first.at[i], second.at[k]}
		soft := s.softest()
		every = append(every, soft)
		m.SoftestNPerUm[i][k] = &soft
		if places == 0 || soft < m.Softest.Value {
			m.Softest = answer.MapSpot{AtMM: where, Value: soft}
		}
		for n := range m.Loads {
			um := micrometres(s.moved[n])
			moved[n] = append(moved[n], um)
			m.Loads[n].TipUm[i][k] = &um
			size := norm(um)
			if places == 0 || size > m.Loads[n].Worst.Value {
				m.Loads[n].Worst = answer.MapSpot{AtMM: where, Value: size}
			}
			if size <= m.ToleranceUm {
				kept[n]++
			}
		}
		places++
	})
	if m.ToleranceUm > 0 {
		for n := range m.Loads {
			percent := 100 * float64(kept[n]) / float64(places)
			m.Loads[n].WithinPercent = &percent
		}
	}
	return m, allFinite(every, moved)
}

// micrometres are those of a movement in mm.
func micrometres(mm [3]float64) (um [3]float64) {
	for k := range mm {
		um[k] = plain(mm[k] * constant.UmPerMM)
	}
	return um
}

// allFinite refuses an answer with a number that is none.
func allFinite(softest []float64, moved [][][3]float64) error {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for _, line := range moved {
		for _, v := range line {
			if slices.ContainsFunc(v[:], bad) {
				return fmt.Errorf("the movement of the tip is not a number; the model's sizes and stiffnesses are too far apart")
			}
		}
	}
	for _, v := range softest {
		if bad(v) || v <= 0 {
			return fmt.Errorf("the tip's stiffness came out as %g N/µm; the model's sizes and stiffnesses are too far apart", v)
		}
	}
	return nil
}
