package solid

import "gonum.org/v1/gonum/spatial/r3"

// AddGusset adds a right triangle, extruded by thickness, to the mesh as metal of that part: bricks below the slope,
// wedges along it. Its right angle is at corner; legs and thickness are along three different axes, either way. Grid
// lines stand at the shares of the first leg, from 0 to 1, and at 1 − share of the second, so that they meet on the
// slope; through are the shares of the thickness, from 0 to 1. It panics if either does not run so or the directions
// lie in a plane.
//
//	1 \
//	  |_\        shares 0, 0.4, 1: lines at 0.4 of the first leg and 0.6 of the second,
//	  |  |\      two wedges and a brick
//	0 |__|_\
//	  0     1
func (m *Mesh) AddGusset(part int, corner r3.Vec, legs [2]r3.Vec, thickness r3.Vec, shares, through []float64) {
	checkLines("shares along a leg", shares)
	checkLines("shares through the thickness", through)
	for _, s := range [][]float64{shares, through} {
		if s[0] != 0 || s[len(s)-1] != 1 {
			panic("solid: shares of a gusset must run from 0 to 1")
		}
	}
	turn := r3.Dot(r3.Cross(legs[0], legs[1]), thickness)
	if turn == 0 {
		panic("solid: legs and thickness of a gusset lie in a plane")
	}
	n := len(shares) - 1
	other := make([]float64, n+1) // shares of the second leg
	for i := range other {
		other[i] = 1 - shares[n-i]
	}
	// A left-handed gusset is built with its legs swapped: the same triangle, the right way round.
	a, b := shares, other
	if turn < 0 {
		legs[0], legs[1] = legs[1], legs[0]
		a, b = b, a
	}
	g := newGrid(m, [3]int{n, n, len(through) - 1}, func(at [3]int) r3.Vec {
		return r3.Add(corner, r3.Add(r3.Scale(halfway(a, at[0]), legs[0]),
			r3.Add(r3.Scale(halfway(b, at[1]), legs[1]), r3.Scale(halfway(through, at[2]), thickness))))
	})
	for k := range g.cells[2] {
		for j := range n {
			for i := range n - 1 - j {
				g.addBrick(part, [3]int{i, j, k})
			}
			g.addWedge(part, [3]int{n - 1 - j, j, k})
		}
	}
}

// addWedge fills the half of a cell that lies towards its lower corner.
func (g *grid) addWedge(part int, cell [3]int) {
	nodes := make([]int, len(wedgePlaces))
	for i, p := range wedgePlaces {
		half := [3]int{2*cell[0] + int(2*p[0]), 2*cell[1] + int(2*p[1]), 2*cell[2] + 1 + int(p[2])}
		nodes[i] = g.at(half)
	}
	g.mesh.Elements = append(g.mesh.Elements, Element{Kind: Wedge, Nodes: nodes, Part: part})
}
