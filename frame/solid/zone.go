package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a zone reads
//
// Let A be the area of a zone, n its normal, p and q the other two axes in ascending order, ξ and η the coordinates
// along them from the middle of the area, and u the movement. Means are
//
//	movement  ū = 1/A ∫ u dA,
//	tilt      the a, b that minimise ∫ (u_n − ū_n − a·ξ − b·η)² dA:  [∫ξξ ∫ξη; ∫ξη ∫ηη]·[a; b] = [∫ξ·u_n; ∫η·u_n],
//	spin      the ω that minimises ∫ |u_pq − ū_pq − ω × (ξ, η)|² dA:  ω = ∫ s·(ξ·u_q − η·u_p) dA / ∫ (ξξ + ηη) dA,
//
// with s = 1 where p, q, n are right-handed (n = x or z), else −1. A rotation θ makes u_n = s·(θ_p·η −
// θ_q·ξ), so θ_p = s·b and θ_q = −s·a; θ_n = ω. The movement of At is ū + θ × (At − middle). A rigid
// motion is read exactly.
//
// All of this is linear in the movements of the mesh's nodes: u = Σ N_a·u_a. A zone is therefore three weights a
// node, ∫N_a dA, ∫ξ·N_a dA and ∫η·N_a dA, integrated exactly: the zone's outline is clipped by each cell's
// section with the plane and the pieces are integrated by a rule that is exact for such products. Loads on a zone's six
// freedoms are the tractions that do work on these readings: even ones for forces, linear ones for moments.

// share is what the movement of one unknown of the mesh adds to the six readings.
type share struct {
	unknown int // 3·node + axis
	reads   [6]float64
}

// form is the six readings of a zone.
type form []share

// reading is what a zone reads of the mesh and the give of its own that the mesh holds back; see missed.
type reading struct {
	form
	missed [6][6]float64
}

// outline is the zone's area as convex polygons, the first added, the second (if any) taken off.
func (z *Zone) outline() []polygon {
	u, v := across(z.Normal)
	at := components(z.At)
	centre := [2]float64{at[u], at[v]}
	outer := polygon(z.Polygon)
	if z.Outer > 0 {
		outer = outer.clip(circle(centre, z.Outer))
	}
	if z.Inner == 0 || outer == nil {
		return []polygon{outer}
	}
	if inner := outer.clip(circle(centre, z.Inner)); inner != nil {
		return []polygon{outer, inner}
	}
	return []polygon{outer}
}

// reading of zone i.
func (r *Reduced) reading(i int) (reading, error) {
	f, wrong := r.reads(&r.body.Zones[i])
	if wrong != "" {
		return reading{}, &ZoneError{Zones: []int{i}, What: r.body.zoneName(i) + " " + wrong}
	}
	return f, nil
}

// reads is the six readings of a zone, or what is wrong with it.
func (r *Reduced) reads(z *Zone) (reads reading, wrong string) {
	by := r.gather()
	defer r.scratches.Put(by)
	about := r.gatherZone(z, by)
	if reach := r.body.Part.longest(); !(about.area > sameShare*reach*reach) {
		return reads, "has no metal under it"
	}
	mx, my := about.x/about.area, about.y/about.area
	about.xx, about.xy, about.yy = about.xx-about.x*mx, about.xy-about.x*my, about.yy-about.y*my
	sum := about.xx + about.yy
	det := about.xx*about.yy - about.xy*about.xy
	if !(det > sliver*sum*sum) {
		return reads, "is too narrow to have a rotation"
	}
	u, v := across(z.Normal)
	s := 1.0
	if z.Normal == 1 {
		s = -1
	}
	arm := z.arm(mx, my, about.area)
	out := make(form, 0, 3*len(by.nodes))
	for i, node := range by.nodes {
		g := by.sums[i]
		one, x, y := g.one/about.area, g.x-g.one*mx, g.y-g.one*my
		for k := range 3 {
			var move, turn [3]float64
			move[k] = one
			switch k {
			case z.Normal:
				a, b := (about.yy*x-about.xy*y)/det, (about.xx*y-about.xy*x)/det
				turn[u], turn[v] = s*b, -s*a
			case u:
				turn[z.Normal] = -s * y / sum
			case v:
				turn[z.Normal] = s * x / sum
			}
			carried := components(r3.Cross(vector(turn), arm))
			h := share{unknown: 3*node + k}
			for c := range 3 {
				h.reads[c], h.reads[3+c] = move[c]+carried[c], turn[c]
			}
			out = append(out, h)
		}
	}
	reads.form = out
	if z.Lone {
		reads.missed = r.missed(z, about, r.cellsUnder(z), arm)
	}
	return reads, ""
}

// arm is the way to At from the middle of an area, which lies mx and my from At along the other two axes. Where it is
// nothing but rounding it is nothing: then a form has no terms that mean nothing.
func (z *Zone) arm(mx, my, area float64) r3.Vec {
	u, v := across(z.Normal)
	at := components(z.At)
	middle := plane{z.Normal, at[z.Normal]}.lift([2]float64{at[u] + mx, at[v] + my})
	arm := components(r3.Sub(z.At, middle))
	for k := range arm {
		if arm[k]*arm[k] < roundedArm*roundedArm*area {
			arm[k] = 0
		}
	}
	return vector(arm)
}

// areaMoments are an area, its first moments and its second ones about a place.
type areaMoments struct{ area, x, y, xx, xy, yy float64 }

// add adds those of a piece, or takes them off.
func (m *areaMoments) add(sign float64, p areaMoments) {
	m.area, m.x, m.y = m.area+sign*p.area, m.x+sign*p.x, m.y+sign*p.y
	m.xx, m.xy, m.yy = m.xx+sign*p.xx, m.xy+sign*p.xy, m.yy+sign*p.yy
}

// gatherZone integrates the shape functions over a zone, x and y counted from its At, and returns its moments about At.
func (r *Reduced) gatherZone(z *Zone, by *gathered) (about areaMoments) {
	u, v := across(z.Normal)
	at := components(z.At)
	p, from := plane{z.Normal, at[z.Normal]}, [2]float64{at[u], at[v]}
	var rule []samplePoint
	for k, shape := range z.outline() {
		if shape == nil {
			continue
		}
		sign := 1.0
		if k > 0 {
			sign = -1
		}
		lo, hi := shape.bounds()
		whole := shape.area()
		for _, c := range r.cuts(p, lo, hi) {
			piece := c.area.clip(shape)
			if piece == nil || piece.area() < roundedPiece*whole {
				continue
			}
			if r.mesh.Elements[c.element].box {
				about.add(sign, r.boxWeights(c.element, p, piece, from, func(node int, w weights) {
					by.add(node, weights{sign * w.one, sign * w.x, sign * w.y})
				}))
				continue
			}
			rule = piece.samplePoints(rule[:0])
			for _, s := range rule {
				x, y, w := s.at[0]-from[0], s.at[1]-from[1], sign*s.weight
				about.area += w
				about.x += w * x
				about.y += w * y
				about.xx += w * x * x
				about.xy += w * x * y
				about.yy += w * y * y
				n := r.shapes(c.element, p.lift(s.at))
				for a, node := range r.mesh.Elements[c.element].Nodes {
					if n[a] != 0 {
						by.add(node, weights{w * n[a], w * n[a] * x, w * n[a] * y})
					}
				}
			}
		}
	}
	return about
}

// roundedPiece is the share of a zone below which a piece of it is rounding of two lines that are meant to be one.
const roundedPiece = 1e-12

// sliver is the least ratio of a zone's second moments of area, squared over their sum: a zone a thousand times longer
// than wide has 1e-6.
const sliver = 1e-10

// roundedArm is what rounding leaves of the way from a zone's middle to At, over the zone's size.
const roundedArm = 1e-12

// gathered is the weights of nodes.
type gathered struct {
	nodes  []int // in the order found: sums must not hang on any other
	sums   []weights
	number []int32 // by node of the mesh, from 1
}

func (r *Reduced) gather() *gathered {
	g, _ := r.scratches.Get().(*gathered)
	if g == nil {
		return &gathered{number: make([]int32, len(r.mesh.Nodes))}
	}
	for _, node := range g.nodes {
		g.number[node] = 0
	}
	g.nodes, g.sums = g.nodes[:0], g.sums[:0]
	return g
}

func (g *gathered) add(node int, w weights) {
	i := g.number[node] - 1
	if i < 0 {
		g.nodes, g.sums = append(g.nodes, node), append(g.sums, w)
		g.number[node] = int32(len(g.nodes))
		return
	}
	s := &g.sums[i]
	s.one += w.one
	s.x += w.x
	s.y += w.y
}

// lift is the place in space of a point of the plane.
func (p plane) lift(at [2]float64) r3.Vec {
	u, v := across(p.normal)
	var c [3]float64
	c[p.normal], c[u], c[v] = p.at, at[0], at[1]
	return vector(c)
}

// shapes are the values of an element's shape functions at a place, exact zeros where they vanish but for rounding.
func (r *Reduced) shapes(e int, at r3.Vec) []float64 {
	xi, _ := r.mesh.Local(e, at)
	n := r.mesh.family(e).sample(xi).n
	for a := range n {
		if math.Abs(n[a]) < roundedShape {
			n[a] = 0
		}
	}
	return n
}

// roundedShape is what rounding leaves of a shape function on a face where it vanishes.
const roundedShape = 1e-13

// rigid is the movement of a place when the place about it moves by the first three freedoms and turns by the others.
func rigid(at, about r3.Vec) (unknown [3][6]float64) {
	d := r3.Sub(at, about)
	for k := range 3 {
		unknown[k][k] = 1
	}
	// θ × d
	unknown[0][4], unknown[0][5] = d.Z, -d.Y
	unknown[1][5], unknown[1][3] = d.X, -d.Z
	unknown[2][3], unknown[2][4] = d.Y, -d.X
	return unknown
}

// carry is the 6 x 6 matrix that takes a rigid body's motion at one place to its motion at another.
func carry(from, to r3.Vec) (c [6][6]float64) {
	move := rigid(to, from)
	for k := range 3 {
		c[k] = move[k]
		c[3+k][3+k] = 1
	}
	return c
}
