package solid

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// holdRegions gives every unknown of the mesh that a held region moves the number of that region. A body that nothing
// holds is held at six unknowns that keep it from moving as a whole; free then takes their forces off again.
func (r *Reduced) holdRegions() error {
	r.holder = make([]int, 3*len(r.mesh.Nodes))
	for i := range r.holder {
		r.holder[i] = -1
	}
	for i, h := range r.body.Held {
		near := sameShare * r.body.Part.longest()
		found := 0
		for node, at := range r.mesh.Nodes {
			if !within(components(at), h.Lo, h.Hi, near) || r.holder[3*node] >= 0 {
				continue
			}
			for k := range 3 {
				r.holder[3*node+k] = i
			}
			found++
		}
		if found < 3 {
			name := r.body.Part.Name
			return fmt.Errorf("held region %d has no metal of part %q under it that another does not hold already", i, name)
		}
	}
	if len(r.body.Held) > 0 {
		r.base = r.body.Held[0].At
		return nil
	}
	r.base = r.mesh.Nodes[0]
	for _, unknown := range r.isostatic() {
		r.holder[unknown] = 0
	}
	return nil
}

// within reports whether a place lies in a box, or no more than near outside.
func within(at, lo, hi [3]float64, near float64) bool {
	for k := range at {
		if at[k] < lo[k]-near || at[k] > hi[k]+near {
			return false
		}
	}
	return true
}

// isostatic picks six unknowns of three nodes far apart that hold a body without straining it. Of the nodes' nine
// unknowns those are taken, one after the other, whose reading of a rigid motion differs most from those taken before
// (Gram-Schmidt with pivoting).
func (r *Reduced) isostatic() (taken [6]int) {
	farthest := func(measure func(r3.Vec) float64) int {
		best, most := 0, -1.0
		for node, at := range r.mesh.Nodes {
			if d := measure(at); d > most {
				best, most = node, d
			}
		}
		return best
	}
	from := func(at r3.Vec) func(r3.Vec) float64 {
		return func(x r3.Vec) float64 { return r3.Norm(r3.Sub(x, at)) }
	}
	a := farthest(from(r.mesh.Nodes[0]))
	b := farthest(from(r.mesh.Nodes[a]))
	along := r3.Unit(r3.Sub(r.mesh.Nodes[b], r.mesh.Nodes[a]))
	c := farthest(func(x r3.Vec) float64 { return r3.Norm(r3.Cross(along, r3.Sub(x, r.mesh.Nodes[a]))) })

	size := r.body.Part.longest()
	var rows [9][6]float64
	var unknowns [9]int
	for i, node := range []int{a, b, c} {
		move := rigid(r.mesh.Nodes[node], r.base)
		for k := range 3 {
			for j := 3; j < 6; j++ {
				move[k][j] /= size // rotations count by the movement they make
			}
			rows[3*i+k], unknowns[3*i+k] = move[k], 3*node+k
		}
	}
	for step := range taken {
		best, most := 0, -1.0
		for i, row := range rows {
			if s := dot6(row, row); s > most*(1+sameShare) {
				best, most = i, s
			}
		}
		taken[step] = unknowns[best]
		q := rows[best]
		for i := range rows {
			f := dot6(rows[i], q) / most
			for j := range q {
				rows[i][j] -= f * q[j]
			}
		}
		rows[best] = [6]float64{}
	}
	return taken
}

func dot6(a, b [6]float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// prescribed is the movement of a held unknown by the six freedoms of its region.
func (r *Reduced) prescribed(unknown int) [6]float64 {
	about := r.base
	if h := r.holder[unknown]; h > 0 {
		about = r.body.Held[h].At
	}
	return rigid(r.mesh.Nodes[unknown/3], about)[unknown%3]
}
