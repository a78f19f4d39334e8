package solid

import (
	"math"
	"slices"
)

// plane is the one square to an axis at a place along it.
type plane struct {
	normal int
	at     float64
}

// cut is an element and the area in which a plane meets it.
type cut struct {
	element int
	area    polygon
}

// cuts returns where the plane meets the part's elements, within the bounds lo, hi along the other two axes.
// Elements on both sides of a plane between them meet it in the same area: only those below are taken, or those above
// where the plane is a face that looks down.
func (r *Reduced) cuts(p plane, lo, hi [2]float64) []cut {
	near := sameShare * r.body.Part.longest()
	least, _ := r.body.Part.Box()
	lowest := math.Abs(p.at-least[p.normal]) <= near
	sawn := r.body.Part.sawn()
	u, v := across(p.normal)
	var found, above []cut
	for e, b := range r.bounds {
		if b.lo[p.normal] > p.at+near || b.hi[p.normal] < p.at-near ||
			b.lo[u] > hi[0] || b.hi[u] < lo[0] || b.lo[v] > hi[1] || b.hi[v] < lo[1] {
			continue
		}
		into := &found
		if !lowest && b.lo[p.normal] > p.at-near {
			if sawn == nil {
				continue
			}
			into = &above
		}
		if r.mesh.Elements[e].box {
			*into = append(*into, cut{e, rectangle([2]float64{b.lo[u], b.lo[v]}, [2]float64{b.hi[u], b.hi[v]})})
			continue
		}
		if area := r.section(e, p, near); area != nil {
			*into = append(*into, cut{e, area})
		}
	}
	// A sawn block has faces that look down above its lowest one.
	below := len(found)
	for _, c := range above {
		if mid := c.area.middle(); !slices.ContainsFunc(found[:below], func(b cut) bool { return b.area.holds(mid) }) {
			found = append(found, c)
		}
	}
	return found
}

// section is the convex polygon in which a plane meets an element with flat faces, nil when it only touches it in an
// edge or a corner.
func (r *Reduced) section(e int, p plane, near float64) polygon {
	u, v := across(p.normal)
	el := r.mesh.Elements[e]
	f := r.mesh.family(e)
	var met polygon
	add := func(at [3]float64) {
		q := [2]float64{at[u], at[v]}
		for _, m := range met {
			if math.Abs(m[0]-q[0]) <= near && math.Abs(m[1]-q[1]) <= near {
				return
			}
		}
		met = append(met, q)
	}
	for _, edge := range f.Edges {
		a, b := components(r.mesh.Nodes[el.Nodes[edge[0]]]), components(r.mesh.Nodes[el.Nodes[edge[1]]])
		da, db := a[p.normal]-p.at, b[p.normal]-p.at
		if math.Abs(da) <= near {
			add(a)
		}
		if math.Abs(db) <= near {
			add(b)
		}
		if da < -near && db > near || da > near && db < -near {
			s := da / (da - db)
			for k := range a {
				a[k] += s * (b[k] - a[k])
			}
			add(a)
		}
	}
	if len(met) < 3 {
		return nil
	}
	return around(met)
}

// around puts the corners of a convex polygon in order, anticlockwise, from its lower left one.
func around(p polygon) polygon {
	mid := p.middle()
	// Angles from the lower left direction on, so that a rectangle starts with its lower left corner.
	angle := func(v [2]float64) float64 {
		a := math.Atan2(v[1]-mid[1], v[0]-mid[0]) + math.Pi
		return a
	}
	slices.SortFunc(p, func(a, b [2]float64) int {
		if angle(a) < angle(b) {
			return -1
		}
		return 1
	})
	if !(p.area() > 0) {
		return nil
	}
	return p
}
