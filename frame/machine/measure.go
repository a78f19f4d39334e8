package machine

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// LeastSize is the smallest size a part can have and the shortest way anything can go, mm; below it nothing could be
// made or told apart.
const LeastSize = 1e-3

// LeastThickness is how thick a plate must be, mm, for its two faces to be told apart.
const LeastThickness = 10 * Touching

// squareSlack is the component below which an edge or a side counts as zero, mm: far below any size that can be made,
// far above the rounding of sums and products of millimetres.
const squareSlack = 1e-9

// barSlack is how far past its end a load along a bar may reach, as a share of the bar's length: the rounding of its
// length.
const barSlack = 1e-9

// RunsAlong counts the world's axes that an edge, mm, runs along, and returns the last of them. It is none of them when
// the edge is shorter than can be made.
func RunsAlong(edge r3.Vec) (along Axis, count int) {
	for k := X; k <= Z; k++ {
		if math.Abs(Component(edge, k)) >= squareSlack {
			along, count = k, count+1
		}
	}
	if count == 1 && math.Abs(Component(edge, along)) < LeastSize {
		return along, 0
	}
	return along, count
}

// Sides counts the sides of a region that are zero, one when it lies in a face, and lists the axes along which From is
// beyond To.
func (r *Region) Sides() (zero int, backwards []Axis) {
	for k := X; k <= Z; k++ {
		switch size := Component(r.To, k) - Component(r.From, k); {
		case math.Abs(size) < squareSlack:
			zero++
		case size < 0:
			backwards = append(backwards, k)
		}
	}
	return zero, backwards
}

// GoesSomewhere reports whether a stretch, mm, leads forward, by what can be told apart.
func GoesSomewhere(from, to float64) bool { return to-from >= LeastSize }

// LiesOnBar reports whether a stretch from one place to another, mm from a bar's From end, is one of a bar of that
// length.
func LiesOnBar(from, to, length float64) bool {
	slack := barSlack * length
	return from >= -slack && to <= length+slack && GoesSomewhere(from, to)
}

// Collide reports whether carriages of the guide that stand at two places along the axis, mm, run into each other.
func (g *Guide) Collide(a, b float64) bool {
	return math.Abs(a-b) < max(g.CarriageLength()-Touching, Touching)
}

// CarriageLength returns how long a carriage is along the rail, mm: Length, or that of Rail; 0 when neither is said.
func (g *Guide) CarriageLength() float64 {
	if g.Length == 0 && g.Rail != nil {
		return g.Rail.Length
	}
	return g.Length
}

// FollowedUnder returns the loads, as indices, that a path is followed under: its own, or without any those that
// Path.Loads speaks of.
func (m *Machine) FollowedUnder(p *Path) (loads []int) {
	if p.Loads != nil {
		return p.Loads
	}
	for i := range m.Loads {
		if len(p.Axes) > 0 || m.Loads[i].OnTip() {
			loads = append(loads, i)
		}
	}
	return loads
}
