package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Probe reads the movement of a body at places of its metal.
type Probe struct {
	place  *placement
	places [][]nodeShare
}

// nodeShare is how much a node of the mesh counts at a place.
type nodeShare struct {
	node  int
	share float64
}

// besideElement is how far beside the box round an element a place may lie and still be looked for in it, mm: rounding
// of places on a face.
const besideElement = 1e-6

// Probe makes one for places in the world, mm. A place beside the metal is read at the nearest element.
func (p *Placed) Probe(at ...r3.Vec) *Probe {
	mesh, q := p.Mesh(), &Probe{place: &p.shape.place, places: make([][]nodeShare, len(at))}
	lo, hi := make([]r3.Vec, len(mesh.Elements)), make([]r3.Vec, len(mesh.Elements))
	for e, el := range mesh.Elements {
		lo[e], hi[e] = mesh.Nodes[el.Nodes[0]], mesh.Nodes[el.Nodes[0]]
		for _, n := range el.Nodes[1:] {
			lo[e], hi[e] = least(lo[e], mesh.Nodes[n]), most(hi[e], mesh.Nodes[n])
		}
	}
	for i, world := range at {
		place := q.place.inward(world)
		e, xi := mesh.find(place, lo, hi)
		for k, share := range mesh.family(e).sample(xi).n {
			q.places[i] = append(q.places[i], nodeShare{mesh.Elements[e].Nodes[k], share})
		}
	}
	return q
}

// find is the element that a place lies in, or the nearest, and the local coordinates there; lo and hi are the boxes
// round the elements.
func (m *Mesh) find(at r3.Vec, lo, hi []r3.Vec) (element int, xi [3]float64) {
	nearest := math.Inf(1)
	for e := range m.Elements {
		apart := r3.Norm(r3.Sub(at, most(lo[e], least(hi[e], at))))
		if apart > besideElement && apart >= nearest {
			continue
		}
		local, inside := m.Local(e, at)
		if inside {
			return e, local
		}
		for _, x := range local {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				local = m.family(e).Middle
			}
		}
		local = m.Elements[e].Kind.into(local)
		if d := r3.Norm(r3.Sub(m.Place(e, local), at)); d < nearest {
			nearest, element, xi = d, e, local
		}
	}
	return element, xi
}

// into moves local coordinates into the element.
func (k Kind) into(xi [3]float64) [3]float64 {
	clamp := func(x, lo float64) float64 { return math.Max(lo, math.Min(1, x)) }
	if k == Brick {
		return [3]float64{clamp(xi[0], -1), clamp(xi[1], -1), clamp(xi[2], -1)}
	}
	r, s := clamp(xi[0], 0), clamp(xi[1], 0)
	if over := r + s - 1; over > 0 {
		r, s = math.Max(0, r-over/2), math.Max(0, s-over/2)
		r, s = r/math.Max(1, r+s), s/math.Max(1, r+s)
	}
	return [3]float64{r, s, clamp(xi[2], -1)}
}

// Moved is the movement at each of the places in a field of the same body, in the world, mm.
func (q *Probe) Moved(f *Field) []r3.Vec {
	list := make([]r3.Vec, len(q.places))
	for i, nodes := range q.places {
		var sum r3.Vec
		for _, n := range nodes {
			sum = r3.Add(sum, r3.Scale(n.share, r3.Vec{X: f.U[3*n.node], Y: f.U[3*n.node+1], Z: f.U[3*n.node+2]}))
		}
		list[i] = q.place.turned(sum)
	}
	return list
}
