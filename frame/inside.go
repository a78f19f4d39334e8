package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// MemberMoved is how the section of a member moves and turns at a distance from its first end, mm and rad along and
// about the world's axes: exactly as Timoshenko's theory has it under what the member carries between its ends, but for
// an elastic bed, which it feels in the shapes that [beam.Member] says. A distance beyond an end is that end.
func (s *Solution) MemberMoved(member int, x float64) (move, turn r3.Vec) {
	p := &s.sys.placed[member]
	x = math.Max(0, math.Min(p.own.Length, x))
	_, local := p.own.Inside(x, p.toEnds(s.U), s.sys.spanLoads(member, s.load))
	for k, axis := range p.axes {
		move = r3.Add(move, r3.Scale(local[k], axis))
		turn = r3.Add(turn, r3.Scale(local[3+k], axis))
	}
	return move, turn
}
