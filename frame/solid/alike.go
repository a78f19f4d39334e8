package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// figure is the shape of a straight-edged element with parallel faces: its metal's constants and its edges at one
// corner, in steps of a small share of their length.
type figure struct {
	kind     Kind
	e, nu    float64
	exponent int // the steps are sameEdge·2^exponent
	edges    [3][3]int64
}

// Edges that differ by less than sameEdge of the longest are taken for the same: grid lines are sums and shares of a
// drawing's numbers, and their differences carry some 1e-16 of the part's size.
const sameEdge = 1e-12

// stiffnesses gives the elements' stiffness matrices. Elements of the same figure and metal share one, which the caller
// must not change: a block's grid has few different boxes.
func (m *Mesh) stiffnesses() func(e int) []float64 {
	known := map[figure][]float64{}
	return func(e int) []float64 {
		f, ok := m.figure(e)
		if !ok {
			return m.ElementStiffness(e)
		}
		k := known[f]
		if k == nil {
			k = m.ElementStiffness(e)
			known[f] = k
		}
		return k
	}
}

// figure of an element, if all its nodes are where the edges at its first corner put them.
func (m *Mesh) figure(e int) (figure, bool) {
	f, el := m.family(e), m.Elements[e]
	along := [3]int{1, 3, 4}
	if el.Kind == Wedge {
		along = [3]int{1, 2, 3}
	}
	origin := m.Nodes[el.Nodes[0]]
	var edges [3]r3.Vec
	size := 0.
	for k := range 3 {
		edges[k] = r3.Sub(m.Nodes[el.Nodes[along[k]]], origin)
		size = math.Max(size, r3.Norm(edges[k]))
	}
	for i, p := range f.Places {
		at := origin
		for k := range 3 {
			span := f.Places[along[k]][k] - f.Places[0][k]
			at = r3.Add(at, r3.Scale((p[k]-f.Places[0][k])/span, edges[k]))
		}
		if !(r3.Norm(r3.Sub(at, m.Nodes[el.Nodes[i]])) <= sameEdge*(size+r3.Norm(origin))) {
			return figure{}, false
		}
	}
	_, exponent := math.Frexp(size)
	step := math.Ldexp(sameEdge, exponent)
	made := m.Metals[el.Part]
	fig := figure{kind: el.Kind, e: made.E, nu: made.Nu, exponent: exponent}
	for k, v := range edges {
		fig.edges[k] = [3]int64{int64(math.Round(v.X / step)), int64(math.Round(v.Y / step)), int64(math.Round(v.Z / step))}
	}
	return fig, true
}
