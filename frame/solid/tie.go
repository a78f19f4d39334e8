package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ties
//
// Two parts have meshes of their own, which need not match where they touch. They are bonded by the symmetric form of
// Nitsche's method (Nitsche, Abh. Math. Sem. Hamburg 36 (1971); for meshes that do not match Becker, Hansbo & Stenberg,
// M2AN 37 (2003); Hansbo, GAMM-Mitteilungen 28 (2005)): to the strain energy of both comes, over the shared face,
//
//	−∫ [u]·{t} dA + ½ ∫ [u]·Γ·[u] dA,
//
// with the jump [u] = u_A − u_B and a mean {t} = w_A·t_A + w_B·t_B of the tractions t = σ·n, n out of A. The first term
// is the work that the traction does on the jump: with it the true movement, which has no jump, makes the energy
// stationary whatever Γ is, so that a field both meshes can follow is met exactly. The second keeps the jump small.
// There are no new unknowns and the matrix stays positive definite if Γ is large enough:
//
// In a direction k, let a be the stiffness of the metal against it, λ+2μ along n and μ across (the acoustic tensor A =
// Nᵀ·D·N, t = Nᵀ·σ): then tᵀ·A⁻¹·t ≤ εᵀ·D·ε. In an element, t is a polynomial of degree 2 along the normal at most, so
// that its square over a face is at most c/h times that over the element of extent h behind: c = (p+1)² = 9 in a brick
// and at a wedge's triangles, c = (p+1)·(p+2) = 12 at a wedge's legs (Warburton & Hesthaven, CMAME 192 (2003), eq. 14
// with p = 2 over a right triangle). With e such faces on an element each gets the e-th part of its energy. Then
//
//	2·∫ [u]·{t} dA ≤ Σ_A,B ( share/σ of its energy + σ·w²·e·c·a/h ∫ [u]² dA )
//
// for any σ > 1, and Γ = σ·(w_A²·g_A + w_B²·g_B), g = e·c·a/h, keeps 1 − 1/σ of the energy. The weights that need the
// least Γ are w_A = g_B/(g_A+g_B), w_B = g_A/(g_A+g_B): then Γ = σ·g_A·g_B/(g_A+g_B), and a soft or finely cut side
// takes most of the traction's weight. tieSafety is σ.
//
// Integrals run over the common pieces of both sides' faces, found by clipping, and are exact.
const tieSafety = 1.2

// contact is a piece of a tied face between two elements.
type contact struct {
	a, b  int // elements
	plane plane
	out   float64 // +1 when A lies below the plane: the sign of n along the axis
	area  polygon
}

// Trace constants c: a polynomial of degree 2 on the face of a brick, of a wedge's leg.
const (
	brickTrace = 9
	legTrace   = 12
)

// tieContacts cuts every tie's area into contacts and counts the tied faces of each element.
func (r *Reduced) tieContacts() error {
	r.tiedFaces = make([]int, len(r.mesh.Elements))
	for i, t := range r.body.Ties {
		u, v := across(t.Normal)
		lo, hi := [2]float64{t.Lo[u], t.Lo[v]}, [2]float64{t.Hi[u], t.Hi[v]}
		p := plane{t.Normal, t.Lo[t.Normal]}
		out, err := r.body.sides(i)
		if err != nil {
			return err
		}
		whole := rectangle(lo, hi)
		onA, onB := r.cuts(t.A, p, lo, hi), r.cuts(t.B, p, lo, hi)
		area := 0.0
		tied := map[int]bool{}
		for _, ca := range onA {
			within := ca.area.clip(whole)
			if within == nil {
				continue
			}
			la, ha := within.bounds()
			for _, cb := range onB {
				if lb, hb := cb.area.bounds(); lb[0] >= ha[0] || hb[0] <= la[0] || lb[1] >= ha[1] || hb[1] <= la[1] {
					continue
				}
				piece := within.clip(cb.area)
				if piece == nil || !(piece.area() > roundedPiece*min(ca.area.area(), cb.area.area())) {
					continue
				}
				area += piece.area()
				tied[ca.element], tied[cb.element] = true, true
				r.contacts = append(r.contacts, contact{ca.element, cb.element, p, out, piece})
			}
		}
		if !(area > 0) {
			return fmt.Errorf("tie %d: parts %q and %q share nothing there", i, r.body.Parts[t.A].Name, r.body.Parts[t.B].Name)
		}
		for e := range tied {
			r.tiedFaces[e]++
		}
	}
	return nil
}

// roundedPiece is the share of a face, or of a zone, below which a common piece is rounding of two lines that are meant
// to be one.
const roundedPiece = 1e-12

// sides says on which side of tie i its part A lies: +1 below the plane, −1 above. The parts must lie on either side.
func (b *Body) sides(i int) (out float64, err error) {
	t := b.Ties[i]
	at := t.Lo[t.Normal]
	side := func(part int) float64 {
		p := &b.Parts[part]
		near := sameShare * p.longest()
		lo, hi := p.box()
		switch {
		case math.Abs(hi[t.Normal]-at) <= near:
			return 1
		case math.Abs(lo[t.Normal]-at) <= near:
			return -1
		}
		return 0
	}
	a, c := side(t.A), side(t.B)
	if a == 0 || c == 0 || a == c {
		const format = "tie %d: the place is not on faces of parts %q and %q that look at one another"
		return 0, fmt.Errorf(format, i, b.Parts[t.A].Name, b.Parts[t.B].Name)
	}
	return a, nil
}

// penalty is g = e·c·a/h of an element's face in the directions x, y, z.
func (r *Reduced) penalty(e int, p plane) (g [3]float64) {
	el := r.mesh.Elements[e]
	lambda, mu := lame(r.mesh.Metals[el.Part])
	c := float64(brickTrace)
	if el.Kind == Wedge && p.normal != axisOf(r.body.Parts[el.Part].Gusset.Thickness) {
		c = legTrace
	}
	b := r.bounds[e]
	scale := float64(max(1, r.tiedFaces[e])) * c / (b.hi[p.normal] - b.lo[p.normal])
	for k := range g {
		g[k] = scale * mu
		if k == p.normal {
			g[k] = scale * (lambda + 2*mu)
		}
	}
	return g
}

// bond is the matrix of a contact over the freedoms of A's nodes, then of B's, row by row.
func (r *Reduced) bond(c contact) []float64 {
	ga, gb := r.penalty(c.a, c.plane), r.penalty(c.b, c.plane)
	na := len(r.mesh.Elements[c.a].Nodes)
	nodes := na + len(r.mesh.Elements[c.b].Nodes)
	a, b := tiedSide{element: c.a, sign: 1}, tiedSide{element: c.b, sign: -1, first: na}
	var gamma [3]float64
	for k := range 3 {
		sum := ga[k] + gb[k]
		a.weight[k], b.weight[k], gamma[k] = c.out*(gb[k]/sum), c.out*(ga[k]/sum), tieSafety*ga[k]*gb[k]/sum
	}
	n := 3 * nodes
	k := make([]float64, n*n)
	t := newTraces(nodes)
	for _, s := range c.area.samplePoints(nil) {
		at := c.plane.lift(s.at)
		r.trace(&a, at, c.plane.normal, t)
		r.trace(&b, at, c.plane.normal, t)
		for node, jump := range t.jump {
			if jump == 0 {
				continue
			}
			w := s.weight * jump
			for d := range 3 {
				row := 3*node + d
				for col, pull := range t.pull[d] {
					k[row*n+col] -= w * pull
					k[col*n+row] -= w * pull
				}
				for other, jb := range t.jump {
					k[row*n+3*other+d] += w * gamma[d] * jb
				}
			}
		}
	}
	return k
}

// tiedSide is what a contact makes of one of its sides.
type tiedSide struct {
	element int
	sign    float64    // of its movement in the jump
	weight  [3]float64 // of its traction in the mean, by direction, with the sign of n along the axis
	first   int        // of its nodes among those of the contact
}

// traces are what unit movements of a contact's nodes make at a place of it.
type traces struct {
	jump []float64    // by node, along the movement
	pull [3][]float64 // the mean traction by direction, of each freedom
}

func newTraces(nodes int) *traces {
	t := &traces{jump: make([]float64, nodes)}
	for d := range t.pull {
		t.pull[d] = make([]float64, 3*nodes)
	}
	return t
}

// trace writes what one side adds at a place.
func (r *Reduced) trace(s *tiedSide, at r3.Vec, normal int, t *traces) {
	xi, _ := r.mesh.Local(s.element, at)
	shape, grad := r.mesh.Shape(s.element, xi)
	lambda, mu := lame(r.mesh.Metals[r.mesh.Elements[s.element].Part])
	for a, n := range shape {
		node := s.first + a
		t.jump[node] = s.sign * n
		if math.Abs(n) < roundedShape {
			t.jump[node] = 0
		}
		g := components(grad[a])
		for i := range 3 { // traction along i
			for k := range 3 { // of a movement along k
				pull := 0.0
				if i == normal {
					pull += lambda * g[k]
				}
				if i == k {
					pull += mu * g[normal]
				}
				if k == normal {
					pull += mu * g[i]
				}
				t.pull[i][3*node+k] = s.weight[i] * pull
			}
		}
	}
}
