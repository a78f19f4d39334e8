package solid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Stress
//
// In a quadratic element stress is best at the 2 x 2 x 2 Gauss points (Barlow, Int. J. Numer. Meth. Eng. 10 (1976)), in
// a wedge at three points of the triangle times two. From there it is carried to the element's corners by the linear
// function through these points (Hinton & Campbell, ibid. 8 (1974)) and averaged over the elements of a part that meet
// in a corner; the largest of these means, by von Mises, is the part's peak. A stress that is linear in the place comes
// out exactly.
//
// At the edges of held regions and zones the stress of linear elasticity has no bound: the finer the mesh, the
// larger. A peak there says where to look, not how much. So a second peak leaves out all corners nearer to such an edge
// than a quarter of the part's thickness (its least extent): beyond that the stress converges as the mesh gets finer.
const clearShare = 0.25

// Peak is the largest von Mises stress over some places of a part.
type Peak struct {
	Stress float64 // MPa
	At     r3.Vec
	AtEdge bool // nearer to the edge of a held region or a zone than a quarter of the part's thickness
}

// sampling is how stress is carried from the points of an element where it is best to its corners: corner c has
// Σ Share[c][i] times that at point i. Back at point i, what is linear between the corners has Σ Linear[i][c] of
// them.
type sampling struct {
	Points [][3]float64
	Weight float64 // of each point, in local volume
	Share  [][]float64
	Linear [][]float64

	sampled []sample // the shapes at the points
}

var samplings = func() [2]sampling {
	all := [2]sampling{Brick: brickSampling(), Wedge: wedgeSampling()}
	for k := range all {
		s := &all[k]
		for _, p := range s.Points {
			s.sampled = append(s.sampled, families[k].sample(p))
		}
	}
	return all
}()

func brickSampling() (s sampling) {
	at := 1 / math.Sqrt(3)
	s.Weight = 1
	for _, c := range brickCorners {
		s.Points = append(s.Points, [3]float64{at * c[0], at * c[1], at * c[2]})
	}
	for _, p := range s.Points {
		var row []float64
		for _, c := range brickCorners {
			row = append(row, (1+c[0]*p[0])*(1+c[1]*p[1])*(1+c[2]*p[2])/8)
		}
		s.Linear = append(s.Linear, row)
	}
	for _, c := range brickCorners {
		var row []float64
		for _, p := range brickCorners {
			f := 1.0
			for k := range 3 {
				f *= (1 + c[k]*p[k]/at) / 2
			}
			row = append(row, f)
		}
		s.Share = append(s.Share, row)
	}
	return s
}

// wedgeSampling has the points at two thirds of the way from the middle of the triangle to its corners, halved: area
// coordinates 2/3, 1/6, 1/6. With the linear L_i of those points a corner has 5/3 of its own and −1/3 of the others.
func wedgeSampling() (s sampling) {
	at := 1 / math.Sqrt(3)
	s.Weight = 1. / 6
	for c := range 6 {
		t := at * wedgePlaces[c][2]
		p := [3]float64{1. / 6, 1. / 6, t}
		if c%3 > 0 {
			p[c%3-1] = 2. / 3
		}
		s.Points = append(s.Points, p)
		var row []float64
		for i := range 6 {
			area := [3]float64{1 - p[0] - p[1], p[0], p[1]}[i%3]
			row = append(row, area*(1+wedgePlaces[i][2]*t)/2)
		}
		s.Linear = append(s.Linear, row)
	}
	for c := range 6 {
		var row []float64
		for i := range 6 {
			f := -1. / 3
			if i%3 == c%3 {
				f = 5. / 3
			}
			row = append(row, f*(1+wedgePlaces[c][2]*wedgePlaces[i][2]/at)/2)
		}
		s.Share = append(s.Share, row)
	}
	return s
}

// stressState is the stress of a field: in the points of its elements where it is best, and at their corners the mean
// of all elements that meet there, in the order of the nodes; count is the number of those.
type stressState struct {
	raw   [][][6]float64
	nodal [][6]float64
	count []int
}

// stress is worked out when it is first asked for.
func (f *Field) stress() *stressState {
	f.once.Do(func() {
		m := f.reduced.mesh
		t := &f.stresses
		t.raw = make([][][6]float64, len(m.Elements))
		t.nodal, t.count = make([][6]float64, len(m.Nodes)), make([]int, len(m.Nodes))
		for e, el := range m.Elements {
			s := &samplings[el.Kind]
			at := make([][6]float64, len(s.Points))
			for i := range s.Points {
				at[i] = f.at(e, s.sampled[i])
			}
			t.raw[e] = at
			for c, row := range s.Share {
				node := el.Nodes[c]
				t.count[node]++
				for i, share := range row {
					for k := range at[i] {
						t.nodal[node][k] += share * at[i][k]
					}
				}
			}
		}
		for node, n := range t.count {
			for k := range t.nodal[node] {
				t.nodal[node][k] /= float64(max(1, n))
			}
		}
	})
	return &f.stresses
}

// at is the stress at a sample of an element, what free growth would strain taken off.
func (f *Field) at(e int, s sample) [6]float64 {
	m := f.reduced.mesh
	el := m.Elements[e]
	var scratch [20]r3.Vec
	grad := scratch[:len(el.Nodes)]
	m.gradients(e, s, grad)
	strain := strainOf(grad, el.Nodes, f.U)
	if len(f.warm) > 0 {
		at, _ := m.place(e, s)
		grown := f.grown(at)
		for k := range 3 {
			strain[k] -= grown
		}
	}
	return hooke(m.Metals[el.Part], strain)
}

// grown is the free thermal strain at a place.
func (f *Field) grown(at r3.Vec) float64 {
	part, t := &f.reduced.body.Part, 0.0
	for _, w := range f.warm {
		t += w.Mean + r3.Dot(w.Gradient, r3.Sub(at, part.middle()))
	}
	return t * part.Made.Expansion
}

// VonMises is the equivalent stress of a state xx, yy, zz, xy, yz, zx.
func VonMises(s [6]float64) float64 {
	a, b, c := s[0]-s[1], s[1]-s[2], s[2]-s[0]
	return math.Sqrt((a*a+b*b+c*c)/2 + 3*(s[3]*s[3]+s[4]*s[4]+s[5]*s[5]))
}

// Worst returns the part's largest von Mises stress, and the largest away from edges where it has no bound; the second
// is zero where no corner of an element is that far away.
func (f *Field) Worst() (worst, away Peak) {
	r := f.reduced
	edges := r.edges()
	near := clearShare * r.body.Part.thickness()
	t := f.stress()
	for node, stress := range t.nodal {
		if t.count[node] == 0 {
			continue
		}
		p := Peak{Stress: VonMises(stress), At: r.mesh.Nodes[node]}
		if p.Stress <= worst.Stress && p.Stress <= away.Stress {
			continue
		}
		p.AtEdge = slices.ContainsFunc(edges, func(s [2]r3.Vec) bool { return apart(p.At, s) < near*(1-sameShare) })
		if p.Stress > worst.Stress {
			worst = p
		}
		if p.Stress > away.Stress && !p.AtEdge {
			away = p
		}
	}
	if f.place != nil {
		worst.At, away.At = f.place.outward(worst.At), f.place.outward(away.At)
	}
	return worst, away
}

// edges are the stretches along which a part's stress has no bound.
func (r *Reduced) edges() (all [][2]r3.Vec) {
	add := func(p plane, shape polygon) {
		for i := range shape {
			all = append(all, [2]r3.Vec{p.lift(shape[i]), p.lift(shape[(i+1)%len(shape)])})
		}
	}
	rect := func(normal int, lo, hi [3]float64) {
		u, v := across(normal)
		add(plane{normal, lo[normal]}, rectangle([2]float64{lo[u], lo[v]}, [2]float64{hi[u], hi[v]}))
	}
	for _, h := range r.body.Held {
		rect(h.Normal, h.Lo, h.Hi)
	}
	for i := range r.body.Zones {
		z := &r.body.Zones[i]
		for _, shape := range z.outline() {
			add(plane{z.Normal, components(z.At)[z.Normal]}, shape)
		}
	}
	return all
}

// apart is the distance of a place from a stretch.
func apart(x r3.Vec, stretch [2]r3.Vec) float64 {
	d := r3.Sub(stretch[1], stretch[0])
	s := 0.0
	if l := r3.Norm2(d); l > 0 {
		s = min(max(r3.Dot(r3.Sub(x, stretch[0]), d)/l, 0), 1)
	}
	return r3.Norm(r3.Sub(x, r3.Add(stretch[0], r3.Scale(s, d))))
}
