package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// gauge is a spot of a part that is pushed and read but joins nothing: a point, or the work under the tool. On a meshed
// part it is none of the frame's nodes: it goes as the nodes of its body make it go, and the metal round it gives by
// itself under what is pushed on it or weighs inside the body.
type gauge struct {
	spot  *spot
	forms [6]frame.Form // movements along x, y, z, then rotations, as the frame's freedoms make them
	local [6][6]float64 // give of the metal at the spot with the body's nodes held, mm/N, 1/N, 1/(N·mm)
	body  int           // that the spot is on, in Model.solids; -1: on none
	zone  solid.Zone
	arm   r3.Vec // from the spot to the place on a rigid block on it that is pushed and read, mm; forms, local: of that
}

// raised is the gauge of a place on a rigid block that stands on the spot: of the work where the tool cuts it.
func (g *gauge) raised(arm r3.Vec) *gauge {
	out := *g
	out.arm = r3.Add(g.arm, arm)
	for k := range 3 {
		for i, c := range lever(arm, k) {
			out.forms[k] = out.forms[k].Plus(c, g.forms[3+i])
		}
	}
	out.local = onArms(arm, g.local)
	return &out
}

// lever is what each rotation of a rigid block moves the end of an arm along an axis: e·(θ × r) = θ·(r × e).
func lever(arm r3.Vec, axis int) [3]float64 {
	return array(r3.Cross(arm, machine.Axis(axis).Direction()))
}

// onArms is the give of the end of an arm for that of its foot.
func onArms(arm r3.Vec, give [6][6]float64) [6][6]float64 {
	for range 2 { // the movements, then by symmetry the forces
		for k := range 3 {
			for i, c := range lever(arm, k) {
				for l := range give {
					give[k][l] += c * give[3+i][l]
				}
			}
		}
		for k := range give {
			for l := range k {
				give[k][l], give[l][k] = give[l][k], give[k][l]
			}
		}
	}
	return give
}

// gauges makes the gauges of spots of a part, once the frame's nodes are there.
func (m *Model) gauges(b *body, spots ...*spot) ([]*gauge, error) {
	list, _, err := b.read(m, &solid.Ports{}, spots)
	return list, err
}

// form spreads weights on a body's freedoms over those of the frame.
func (s *solidBody) form(weights []float64) frame.Form {
	var form frame.Form
	for i, w := range weights {
		if w != 0 {
			form = append(form, frame.Term{Freedom: 6*s.nodes[i/6] + i%6, Factor: w})
		}
	}
	return form
}

// state is what a load does: to the frame, and inside every solid body.
type state struct {
	*frame.Solution
	fields []*solid.Field // of Model.solids
}

// of are the movements and rotations of a gauge.
func (s *state) of(r *gauge) (v [6]float64) {
	if r.body >= 0 {
		v = s.fields[r.body].Mean(r.zone)
		for k := range 3 {
			for i, c := range lever(r.arm, k) {
				v[k] += c * v[3+i]
			}
		}
		return v
	}
	for k := range v {
		v[k] = s.Value(r.forms[k])
	}
	return v
}

// solve finds what a load does with the work at a gauge.
func (m *Model) solve(l *machine.Load, work *gauge) (*state, error) {
	states, _, err := m.solveAll([]*machine.Load{l}, work)
	if err != nil {
		return nil, err
	}
	return states[0], nil
}

// solveAll is solve of several loads, which together take less than one after the other. With an error goes the number
// of the first load that has one.
func (m *Model) solveAll(loads []*machine.Load, work *gauge) (states []*state, failed int, err error) {
	var onFrame []frame.Load
	for _, l := range loads {
		onFrame = append(onFrame, m.frameLoad(l, work))
	}
	solutions, failed, err := m.system.SolveAll(onFrame...)
	if err != nil {
		return nil, failed, m.nameUneven(err)
	}
	return m.statesOf(solutions, loads, work), 0, nil
}

// stateOf recovers what a load does inside the solid bodies.
func (m *Model) stateOf(solution *frame.Solution, l *machine.Load, work *gauge) *state {
	return m.statesOf([]*frame.Solution{solution}, []*machine.Load{l}, work)[0]
}

// statesOf is stateOf of several loads.
func (m *Model) statesOf(solutions []*frame.Solution, loads []*machine.Load, work *gauge) []*state {
	states := make([]*state, len(loads))
	for n, solution := range solutions {
		states[n] = &state{Solution: solution, fields: make([]*solid.Field, len(m.solids))}
	}
	var wait sync.WaitGroup
	for i, body := range m.solids {
		wait.Go(func() {
			moved, inside := make([][]float64, len(loads)), make([]solid.Load, len(loads))
			for n, l := range loads {
				moved[n], inside[n] = body.movements(solutions[n]), m.within(l, work, i)
			}
			for n, f := range body.reduced.RecoverAll(moved, inside) {
				states[n].fields[i] = f
			}
		})
	}
	wait.Wait()
	return states
}

// within is what acts on the inside of a solid body in a load.
func (m *Model) within(l *machine.Load, work *gauge, body int) (inside solid.Load) {
	push := func(r *gauge, sign float64, force, moment r3.Vec) {
		if r.body != body {
			return
		}
		f, t := array(force), array(r3.Add(moment, r3.Cross(r.arm, force)))
		p := solid.Push{Zone: r.zone}
		for k := range 3 {
			p.Force[k], p.Force[3+k] = sign*f[k], sign*t[k]
		}
		inside.Pushes = append(inside.Pushes, p)
	}
	for _, a := range l.Actions {
		m.eachHung(a, func(h *hungMass, force r3.Vec) { push(h.gauge, 1, force, r3.Vec{}) })
		switch a.Kind {
		case machine.OnTip:
			push(work, -1, a.Force, a.Moment)
		case machine.OnPoint:
			push(m.points[a.Point].gauge, 1, a.Force, a.Moment)
		case machine.Weight:
			inside.Gravity.X += a.Force.X
			inside.Gravity.Y += a.Force.Y
			inside.Gravity.Z += a.Force.Z
		case machine.Accelerating:
			if m.goes(&m.machine.Axes[a.Axis], m.solids[body].b) {
				inside.Gravity = r3.Sub(inside.Gravity, a.Force)
			}
		case machine.Warming:
			if b := m.solids[body].b; m.warms(a, b) {
				inside.Warm = append(inside.Warm, solid.Warm{Mean: a.Rise, Gradient: b.slope(a.Across)})
			}
		}
	}
	return inside
}

// against is the movement and rotation of the tip against the work at a gauge.
func (m *Model) against(work *gauge) (forms [6]frame.Form) {
	for k := range forms {
		tip := m.tool.tip[k%3]
		if k >= 3 {
			tip = m.tool.turn[k%3]
		}
		forms[k] = tip.Plus(-1, work.forms[k])
	}
	return forms
}

// compliance is how far the tip moves against the work at a gauge under unit forces and moments of the tip on it:
// [movement][push], mm/N and 1/N.
func (m *Model) compliance(work *gauge) [][]float64 {
	forms := m.against(work)
	c := m.system.Compliance(forms[:3], forms[:])
	for d := range c {
		for e := range c[d] {
			c[d][e] += work.local[d][e]
		}
	}
	return c
}

// tipAgainst is the movement of the tip against the work at a gauge in a state, mm.
func (m *Model) tipAgainst(l *machine.Load, s *state, work *gauge) [3]float64 {
	return less(m.tipAndWork(l, s, work))
}

// less is a − b.
func less(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// tipAndWork are the movements of the tip and of the work at a gauge in a state, mm.
func (m *Model) tipAndWork(l *machine.Load, s *state, work *gauge) (tip, under [3]float64) {
	tip, under = m.growths(l, work.spot)
	at := s.of(work)
	for k := range tip {
		tip[k] += s.Value(m.tool.tip[k])
		under[k] += at[k]
	}
	return tip, under
}

// smallDifference is the share of either of two movements below which their difference is told to be small: an error
// of a tenth of each, in the same direction, is then half of it. Of a machine that moves as one piece rounding is all
// there is to their difference.
const (
	smallDifference = 1. / 5
	asOnePiece      = 1e-9
)

// muchAlike are the movements of tool and work when the tip's is a small difference of them; nil otherwise.
func muchAlike(tip, work [3]float64) *answer.Alike {
	difference := norm(less(tip, work))
	least := math.Min(norm(tip), norm(work))
	if difference >= smallDifference*least || difference <= asOnePiece*least {
		return nil
	}
	var a answer.Alike
	for k := range tip {
		a.ToolUm[k], a.WorkUm[k] = plain(tip[k]*constant.UmPerMM), plain(work[k]*constant.UmPerMM)
	}
	return &a
}

// tallWork is the height over its part from which on a work that nothing is said of is told to be taken as rigid, mm.
const tallWork = 10

// workNotes say what between the part that the work is on and the tip is taken as rigid, or is not there.
func (m *Model) workNotes() []string {
	if m.tool == nil {
		return nil
	}
	t := m.tool
	arm, height := r3.Sub(t.tool.At, t.spot.at), m.machine.Work.Height
	part, normal := t.work.part.Name, t.work.normalAt(t.spot.at)
	p, q := normal.Others()
	aside := math.Hypot(machine.Component(arm, p), machine.Component(arm, q))
	switch over := math.Abs(machine.Component(arm, normal)); {
	case t.holder == t.work:
		return []string{fmt.Sprintf("work: tool and work are both on %s: all that is between them is the tool. Put the work "+
			"on the part that holds it.", part)}
	case t.under() > machine.Touching:
		return []string{fmt.Sprintf("work: its place on %s is %s under the face towards the tip, and what is between is "+
			"taken as rigid. Say at: a place on that face, or leave it out.", part, machine.MM(t.under()))}
	case m.asDrawn() && aside > max(tallWork, t.tool.Diameter):
		return []string{fmt.Sprintf("work: its place on %s is %s aside of the tool's tip, on a rigid block that reaches so "+
			"far. Say at: under the tip, or leave it out.", part, machine.MM(aside))}
	case height > 0 && over > height+machine.Touching:
		return []string{fmt.Sprintf("work: the tip is %s over %s, %s above the top of the work: lower the tool, or give "+
			"the height of the work with what holds it.", machine.MM(over), part, machine.MM(over-height))}
	case height == 0 && r3.Norm(arm) > tallWork:
		return []string{fmt.Sprintf("work: one rigid block from %s to the tip, %s long. A vise, a block or a tall work "+
			"gives, too: draw it as a part, and say work: {part: …} of it; work: {height: …} says that it does not.", part,
			machine.MM(r3.Norm(arm)))}
	}
	return nil
}

// under is how deep the work's place is in the plate that it is on, from the face towards the tip, mm; 0 where the part
// is no plate or the tip is not outside of that face.
func (t *madeTool) under() float64 {
	n := t.work.normalAt(t.spot.at)
	at, tip, fills := array(t.spot.at)[n], array(t.tool.At)[n], t.work.fills
	switch {
	case t.work.part.Plate == nil:
		return 0
	case tip >= fills.hi[n]:
		return fills.hi[n] - at
	case tip <= fills.lo[n]:
		return at - fills.lo[n]
	}
	return 0
}

// asDrawn tells whether every axis stands where it is drawn.
func (m *Model) asDrawn() bool {
	return !slices.ContainsFunc(m.machine.Axes, func(a machine.FeedAxis) bool { return a.At != a.DrawnAt() })
}

// insideNotes name the parts that the tip of the tool is drawn in, but for the one that holds it.
func (m *Model) insideNotes() (notes []string) {
	if m.tool == nil {
		return nil
	}
	at := array(m.tool.tool.At)
	for _, b := range m.bodies {
		deep := math.Inf(1)
		for k := range at {
			deep = min(deep, at[k]-b.fills.lo[k], b.fills.hi[k]-at[k])
		}
		if b != m.tool.holder && deep > machine.Touching && b.off(m.tool.tool.At) == 0 {
			notes = append(notes, fmt.Sprintf("tool: its tip is inside %s, %s from the nearest face. Put the tip higher, or "+
				"the part lower; what is cut away is left out of a part.", b.part.Name, machine.MM(deep)))
		}
	}
	return notes
}

// alikeNotes say under which loads the tip's movement is a small difference.
func alikeNotes(loads []answer.LoadResult) []string {
	var names []string
	for _, l := range loads {
		if l.Alike != nil {
			names = append(names, l.Name)
		}
	}
	if names == nil {
		return nil
	}
	return []string{fmt.Sprintf("load %s: tool and work move nearly alike, more than %g times as far as the tip against "+
		"the work; the error of so small a difference is several times theirs.", strings.Join(names, ", "),
		1/smallDifference)}
}
