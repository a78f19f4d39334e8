package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// byHand are the estimates a handbook's closed form gives for a load, beside what the frame says of the same thing.
func (m *Model) byHand(l *machine.Load, s *frame.Solution) (list []answer.Hand) {
	if h, ok := m.toolByHand(l, s); ok {
		list = append(list, h)
	}
	return append(list, m.cantileverByHand(l, s)...)
}

// toolByHand is the cutter alone as a cantilever under the force across it.
func (m *Model) toolByHand(l *machine.Load, s *frame.Solution) (answer.Hand, bool) {
	if m.tool == nil || m.tool.node < 0 {
		return answer.Hand{}, false
	}
	var force r3.Vec
	for _, a := range l.Actions {
		if a.Kind == machine.OnTip {
			force = r3.Add(force, a.Force)
			if a.Moment != (r3.Vec{}) {
				return answer.Hand{}, false
			}
		}
	}
	back := m.tool.back()
	across := r3.Sub(force, r3.Scale(r3.Dot(force, back), back))
	if r3.Norm(across) <= stirring*r3.Norm(force) {
		return answer.Hand{}, false
	}
	direction := r3.Unit(across)
	t := m.tool.tool
	var slices []beam.Slice // from the tip
	for _, stretch := range toolStretches(t) {
		section := toolRound(t, stretch.diameter)
		slice := beam.Slice{Length: stretch.length, EI: t.Material.E * section.Iy, GA: t.Material.G() * section.Az}
		slices = append([]beam.Slice{slice}, slices...)
	}
	hand := beam.SteppedCantilever(r3.Norm(across), slices)
	formula := "F·L³/(3·E·I) + F·L/(G·A)"
	if len(slices) > 1 {
		formula = "F·Σ((b³−a³)/(3·E·I) + (b−a)/(G·A)), a to b behind the tip"
	}
	carried := frame.Move(m.tool.foot, r3.Sub(t.At, m.tool.root.at), direction)
	bent := s.Value(frame.Move(m.tool.node, r3.Vec{}, direction).Plus(-1, carried))
	return answer.Hand{What: "tool alone, under " + l.Name, Formula: formula, HandUm: hand * constant.UmPerMM, SolvedUm: bent * constant.UmPerMM}, true
}

// cantileverByHand applies to a frame of one bar that is held in all freedoms at one end: point loads across it.
func (m *Model) cantileverByHand(l *machine.Load, s *frame.Solution) (list []answer.Hand) {
	if len(m.bodies) != 1 || !m.bodies[0].slender() || len(m.grounds) != 1 {
		return nil
	}
	b, g := m.bodies[0], m.grounds[0]
	if g.ground.Hold != [6]bool{true, true, true, true, true, true} || len(l.Actions) != 1 || l.Actions[0].Kind != machine.OnPoint {
		return nil
	}
	a := l.Actions[0]
	point := m.points[a.Point]
	up := b.up
	f := r3.Dot(a.Force, up)
	reach := math.Abs(b.along(point.point.At) - b.along(g.places[0]))
	if a.Moment != (r3.Vec{}) || math.Abs(f) < (1-stirring)*r3.Norm(a.Force) || b.section.Iyz != 0 || reach == 0 || math.Abs(r3.Dot(up, b.direction())) > stirring {
		return nil
	}
	hand, _, _ := beam.CantileverTipLoad(f, reach, b.part.Material.E*b.section.Iy)
	solved := s.Value(b.move(m.frame, point.spot, up))
	return []answer.Hand{{What: "bar " + b.part.Name + " as a cantilever, under " + l.Name, Formula: "F·L³/(3·E·I), no shear", HandUm: hand * constant.UmPerMM, SolvedUm: solved * constant.UmPerMM}}
}
