package structure

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/shopwork"
)

// The step of a slope, as a share of the number, and its bounds: a length far below any that matters in a machine.
const (
	slopeStep   = 2e-4
	longestStep = 0.02    // mm
	stepFromNil = 1e-2    // mm, or the consistent unit, for a number that is zero
	finerStep   = 1. / 16 // where the first step meets another arrangement of nodes on both sides
)

// A second difference falls to a quarter when the step is halved, and stays above straightening only when the model
// jumps or bends there; rounding leaves wobble of the compliance itself.
const (
	straightening = 0.4
	wobble        = 1e-10
)

// adjoint holds the solved machine against slightly different ones.
type adjoint struct {
	model *Model
	push  [][6]float64  // forces and moments of the tip on the work: the softest direction, then each load
	names []string      // of the loads
	moved []*frame.Held // movements under each push
	still []float64     // potential of each at the machine itself: what it moves along itself
	force []float64     // size of each push's force
}

// stepOf is how far a number is moved to see what it does, in consistent units.
func stepOf(v machine.Variable) float64 {
	x := v.At * v.PerUnit
	switch {
	case x == 0:
		return stepFromNil
	case v.Length:
		return math.Min(slopeStep*math.Abs(x), longestStep)
	}
	return slopeStep * math.Abs(x)
}

func (m *Model) newAdjoint() (*adjoint, error) {
	tip, err := m.tipStiffness()
	if err != nil {
		return nil, err
	}
	a := &adjoint{model: m}
	softest := tip.StiffnessNPerUm.SoftestDirection
	a.push = append(a.push, [6]float64{softest[0], softest[1], softest[2]})
	for i := range m.machine.Loads {
		l := &m.machine.Loads[i]
		push := tipPush(l)
		if push[0] != 0 || push[1] != 0 || push[2] != 0 {
			a.push, a.names = append(a.push, push), append(a.names, l.Name)
		}
	}
	itself, ok := m.system.Try(m.frame)
	if !ok {
		panic("structure: a frame has not the freedoms of itself")
	}
	for _, push := range a.push {
		b := m.pushed(push)
		s, err := m.system.Solve(frame.Load{Pushes: []frame.Push{{Form: b, Force: 1}}})
		if err != nil {
			return nil, m.nameUneven(err)
		}
		held := m.system.Hold(s.U)
		a.moved = append(a.moved, held)
		a.still = append(a.still, itself.Potential(b, held))
		a.force = append(a.force, norm([3]float64{push[0], push[1], push[2]}))
	}
	return a, nil
}

// pushed is what a force and moment of the tip on the work push on.
func (m *Model) pushed(push [6]float64) (b frame.Form) {
	for k, form := range m.against(m.tool.gauge) {
		if push[k] != 0 {
			b = b.Plus(push[k], form)
		}
	}
	return b
}

// slopes are what one more of something does.
type slopes struct {
	moved      []float64 // of each push along itself, N·mm per unit
	mass       float64   // kg per unit
	operations int
	side       answer.Side
	step       float64 // with which moved was found
	whole      bool    // moved is the difference that one more makes, not a slope
}

// times is the slopes per another unit.
func (s slopes) times(factor float64) slopes {
	s.moved = slices.Clone(s.moved)
	for i := range s.moved {
		s.moved[i] *= factor
	}
	s.mass *= factor
	return s
}

// trial is the potential of each push on a machine with something a little different; nil when there is none with the
// same freedoms, or places that stood on one node begin to part (wideSlope).
type trial struct {
	potential []float64
	mass      float64
}

func (a *adjoint) try(draw func(by float64) (*Model, error), by float64) (*trial, error) {
	other, err := draw(by)
	if err != nil {
		return nil, err
	}
	if err := other.fillTrial(); err != nil {
		return nil, err
	}
	t, ok := a.model.system.Try(other.frame)
	if !ok || math.Abs(other.besideNodes()-a.model.besideNodes()) > sharedRounding {
		return nil, nil
	}
	found := &trial{mass: other.mass()}
	for i, push := range a.push {
		found.potential = append(found.potential, t.Potential(other.pushed(push), a.moved[i]))
	}
	return found, nil
}

// fillTrial fills the frame of a machine that was drawn as a trial, with the meshes of what has no other model.
func (m *Model) fillTrial() error {
	if err := m.reduceSolids(context.Background(), m.builder); err != nil {
		return err
	}
	return m.fillFrame()
}

// slope is the slope of each push's movement along itself: a central difference of the potential, extrapolated to no
// step at all (Richardson), or where the model jumps or bends at this very number, a difference to one side, more
// before less. It says why when there is none.
func (a *adjoint) slope(draw func(by float64) (*Model, error), step float64) (s slopes, why string) {
	for _, h := range []float64{step, finerStep * step} {
		if s, why = a.slopeAt(draw, h); why == "" {
			s.step = h
			return s, ""
		}
	}
	if wide, ok := a.wideSlope(draw, step); ok {
		return wide, ""
	}
	return s, why
}

// slopeAt is the slope found with one step, or why there is none.
func (a *adjoint) slopeAt(draw func(by float64) (*Model, error), h float64) (slopes, string) {
	t := &stepTrials{adjoint: a, draw: draw, h: h}
	if s, smooth := t.central(); smooth {
		return s, ""
	}
	for side, name := range []answer.Side{answer.MoreOnly, answer.LessOnly} {
		if s, smooth := t.oneSided(side); smooth {
			s.side = name
			return s, ""
		}
	}
	switch {
	case t.faults[0] != nil && t.faults[1] != nil:
		return slopes{}, "any change makes the model wrong: " + whyNot(t.faults[0])
	case t.faults[0] != nil:
		return slopes{}, "more makes the model wrong (" + whyNot(t.faults[0]) + "), and at less it jumps"
	}
	return slopes{}, "the model jumps at this very number"
}

// stepTrials are the trials round a number, each made when it is first asked for.
type stepTrials struct {
	adjoint *adjoint
	draw    func(by float64) (*Model, error)
	h       float64
	trials  [2][3]*trial // more, less; at h, h/2, h/4
	faults  [2]error
}

// good tells whether there are the first n trials on a side.
func (t *stepTrials) good(side, n int) bool {
	for k := range n {
		if t.trials[side][k] == nil && t.faults[side] == nil {
			by := t.h / float64(int(1)<<k) * float64(1-2*side)
			t.trials[side][k], t.faults[side] = t.adjoint.try(t.draw, by)
		}
		if t.trials[side][k] == nil {
			return false
		}
	}
	return true
}

// central is the slope of a central difference, and whether it is one of a smooth curve.
func (t *stepTrials) central() (s slopes, smooth bool) {
	if !t.good(0, 2) || !t.good(1, 2) {
		return s, false
	}
	h := t.h
	s = slopes{side: answer.BothSides, mass: (t.trials[0][0].mass - t.trials[1][0].mass) / (2 * h)}
	smooth = true
	for i, still := range t.adjoint.still {
		more, less := [2]float64{}, [2]float64{}
		for n := range 2 {
			more[n], less[n] = t.trials[0][n].potential[i], t.trials[1][n].potential[i]
		}
		smooth = smooth && straight(more[0]+less[0]-2*still, more[1]+less[1]-2*still, still)
		wide, narrow := (more[0]-less[0])/(2*h), (more[1]-less[1])/h
		s.moved = append(s.moved, (4*narrow-wide)/3)
	}
	return s, smooth
}

// oneSided is the slope of a difference to one side, and whether it is one of a smooth curve.
func (t *stepTrials) oneSided(side int) (s slopes, smooth bool) {
	if !t.good(side, 3) {
		return s, false
	}
	sign := float64(1 - 2*side)
	s = slopes{mass: sign * (t.trials[side][0].mass - t.adjoint.model.mass()) / t.h}
	smooth = true
	for i, still := range t.adjoint.still {
		var at [3]float64
		for n := range at {
			at[n] = t.trials[side][n].potential[i]
		}
		slope, straight := slopeToOneSide(still, at, t.h)
		smooth = smooth && straight
		s.moved = append(s.moved, sign*slope)
	}
	return s, smooth
}

// slopeToOneSide is the slope at zero of a curve that is still there and goes through three numbers at h, h/2 and h/4,
// and whether it is a smooth one.
func slopeToOneSide(still float64, at [3]float64, h float64) (slope float64, smooth bool) {
	var chord [3]float64
	for n := range chord {
		chord[n] = (at[n] - still) / h * float64(int(1)<<n)
	}
	half, quarter := 2*chord[1]-chord[0], 2*chord[2]-chord[1]
	return (4*quarter - half) / 3, straight((chord[0]-chord[1])*h, (chord[1]-chord[2])*h/2, still)
}

// straight tells whether second differences at a step and at half of it fall as those of a smooth curve do.
func straight(whole, half, size float64) bool {
	return math.Abs(half) <= straightening*math.Abs(whole)+wobble*math.Abs(size)
}

// oneMore is the difference that one more makes, or where that is too many, one less.
func (a *adjoint) oneMore(draw func(by float64) (*Model, error)) (slopes, string) {
	s, wrong := a.difference(draw, 1)
	if wrong == nil {
		s.side = answer.MoreOnly
		return s, ""
	}
	s, err := a.difference(draw, -1)
	if err != nil {
		return slopes{}, "one more makes the model wrong: " + whyNot(wrong)
	}
	s.side = answer.LessOnly
	return s, ""
}

// difference is what the machine gains by a whole step of something, per unit of it.
func (a *adjoint) difference(draw func(by float64) (*Model, error), by float64) (slopes, error) {
	other, along, err := a.solved(draw, by)
	if err != nil {
		return slopes{}, err
	}
	s := slopes{mass: (other.mass() - a.model.mass()) / by, whole: true}
	for i, c := range along {
		s.moved = append(s.moved, (c-a.still[i])/by)
	}
	s.operations = (other.operations() - a.model.operations()) * int(by)
	return s, nil
}

// solved is a machine with something different, solved, and what each push moves along itself on it.
func (a *adjoint) solved(draw func(by float64) (*Model, error), by float64) (*Model, []float64, error) {
	other, err := draw(by)
	if err != nil {
		return nil, nil, err
	}
	if err := other.fillTrial(); err != nil {
		return nil, nil, err
	}
	if other.system, err = other.frame.Factor(); err != nil {
		return nil, nil, other.nameLoose(err)
	}
	var along []float64
	for _, push := range a.push {
		form := []frame.Form{other.pushed(push)}
		along = append(along, other.system.Compliance(form, form)[0][0])
	}
	return other, along, nil
}

// oneMoreOf is the difference that one more makes by the first way that fits.
func (a *adjoint) oneMoreOf(ways []func(by float64) (*Model, error)) (s slopes, why string) {
	for _, draw := range ways {
		s, err := a.difference(draw, 1)
		if err == nil {
			s.side = answer.MoreOnly
			return s, ""
		}
		if why == "" {
			why = whyNot(err)
		}
	}
	return slopes{}, why
}

// mass of all parts, kg.
func (m *Model) mass() (kg float64) {
	for _, b := range m.bodies {
		tonne, _ := b.mass()
		kg += tonne * constant.KgPerTonne
	}
	return kg
}

// operations are those of drilling all holes.
func (m *Model) operations() int {
	list, _ := m.holes()
	return shopwork.Count(list).Operations
}

// massPerThickness is what a part weighs more per mm of thickness, kg.
func (b *body) massPerThickness() float64 {
	tonne, _ := b.mass()
	metal, _ := b.metal()
	return tonne * constant.KgPerTonne / metal
}

// thickened is the section of a plate of thicker metal.
func (b *body) thickened() beam.Section {
	s, err := beam.Rect{Width: b.width(), Height: b.fills.size(b.upAxis()) + b.thicker}.Section(b.part.Material.Nu)
	if err != nil {
		panic(fmt.Sprintf("structure: part %s thicker by %g mm: %v", b.part.Name, b.thicker, err))
	}
	return s
}
