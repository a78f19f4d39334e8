package frame

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Triangle is a flat right-angled triangular plate, a gusset: one polynomial field over the whole of it.
//
// In its plane it is a sheet in plane stress whose two displacements are complete polynomials of degree four; out of it
// a thin plate (Kirchhoff) whose deflection is one of degree five, so that both strain as cubics. The rigid movements
// belong to a node at the centroid, the straining and the bending shapes are freedoms of a block, so that the edges may
// be held anywhere. Strain energy is integrated exactly. A field that is too poor is too stiff, never too soft: held
// along one leg it is 2 to 4 % stiffer than the true plate, most where the held leg is the longer. A strut in its place
// would have to guess the width that carries. Source of the two energies: Timoshenko & Woinowsky-Krieger, Theory of
// Plates and Shells, 2nd ed., art. 9 and art. 21; the method is Ritz's.
type Triangle struct {
	frame     *Frame
	node      int
	corner    r3.Vec
	axes      [3]r3.Vec  // along the first leg, the second leg, the thickness
	size      [3]float64 // leg, leg, thickness, mm
	hand      float64    // +1 when the axes are right-handed, -1 when they are not: rotations change sign with it
	shapes    []int      // handles of the straining and bending shapes
	block     int
	expansion float64
}

// Monomials from degree two on, as powers of the two scaled coordinates: to degree four for each displacement in the
// plane, to degree five for the deflection.
var curved = [18][2]int{
	{2, 0}, {1, 1}, {0, 2},
	{3, 0}, {2, 1}, {1, 2}, {0, 3},
	{4, 0}, {3, 1}, {2, 2}, {1, 3}, {0, 4},
	{5, 0}, {4, 1}, {3, 2}, {2, 3}, {1, 4}, {0, 5},
}

// Numbers of shapes: three uniform strains and the curved monomials to degree four for each displacement in the plane,
// then the curved monomials of the deflection.
const (
	toFour    = 12
	straining = 3 + 2*toFour
	bending   = len(curved)
)

// trigon is all that the matrix of a triangle's shapes depends on.
type trigon struct {
	size [3]float64
	made beam.Material
}

// AddTriangle adds a triangle. The legs and the thickness start at the corner and must be square to one another.
func (f *Frame) AddTriangle(corner r3.Vec, legs [2]r3.Vec, thickness r3.Vec, m beam.Material, source string) *Triangle {
	t := &Triangle{frame: f, corner: corner, expansion: m.Expansion}
	for k, v := range [3]r3.Vec{legs[0], legs[1], thickness} {
		t.size[k] = r3.Norm(v)
		if t.size[k] == 0 {
			panic("frame: triangle without size")
		}
		t.axes[k] = r3.Unit(v)
	}
	if math.Abs(
		r3.Dot(t.axes[0], t.axes[1]),
	)+math.Abs(
		r3.Dot(t.axes[0], t.axes[2]),
	)+math.Abs(
		r3.Dot(t.axes[1], t.axes[2]),
	) > squareness {
		panic(fmt.Sprintf("frame: triangle at %v is not square", corner))
	}
	t.hand = math.Copysign(1, r3.Dot(r3.Cross(t.axes[0], t.axes[1]), t.axes[2]))
	t.node = f.AddNode(t.Centroid())
	t.shapes = f.AddFreedoms(t.node, straining+bending)
	t.block = len(f.blocks)
	still := r3.Vec{}
	f.AddBlock(Block{
		Freedoms: t.shapes,
		K:        f.matrix(trigon{t.size, m}, func() *mat.SymDense { return t.stiffness(m) }),
		Mass: []MassPoint{{
			Mass: m.Density * t.size[0] * t.size[1] / 2 * t.size[2],
			Move: [3]Form{
				Move(t.node, still, r3.Vec{X: 1}),
				Move(t.node, still, r3.Vec{Y: 1}),
				Move(t.node, still, r3.Vec{Z: 1}),
			},
		}},
		Source: source,
	})
	return t
}

// Centroid is a third of the way along both legs, in the middle of the thickness.
func (t *Triangle) Centroid() r3.Vec {
	at := t.corner
	for k, share := range [3]float64{1. / 3, 1. / 3, 1. / 2} {
		at = r3.Add(at, r3.Scale(share*t.size[k], t.axes[k]))
	}
	return at
}

// Node is the node at the centroid.
func (t *Triangle) Node() int { return t.node }

// Block is the number of the block of the triangle's shapes, which has its mass.
func (t *Triangle) Block() int { return t.block }

// shape is what one shape does at a spot: movement along and rotation about the triangle's axes, strains in the plane
// (direct, direct, shear) and curvatures (∂²w/∂s², ∂²w/∂t², 2·∂²w/∂s∂t).
type shape struct {
	move      [3]float64
	turn      [3]float64
	strain    [3]float64
	curvature [3]float64
}

// at evaluates all shapes at distances s and t along the legs and n from the middle plane. Coordinates are measured
// from the centroid and scaled by the legs, so that shapes are of like size.
func (t *Triangle) at(s, u, n float64) []shape {
	a, b := t.size[0], t.size[1]
	x, y := s/a-1./3, u/b-1./3
	list := make([]shape, 0, straining+bending)
	list = append(list,
		shape{move: [3]float64{x}, strain: [3]float64{1 / a}},
		shape{move: [3]float64{1: y}, strain: [3]float64{1: 1 / b}},
		shape{move: [3]float64{y * b / (a + b), x * a / (a + b)}, strain: [3]float64{2: 2 / (a + b)}},
	)
	for _, p := range curved[:toFour] {
		v, dx, dy := monomial(x, y, p[0], p[1]), slope(x, y, p[0], p[1], 0)/a, slope(x, y, p[0], p[1], 1)/b
		list = append(list,
			shape{move: [3]float64{v}, turn: [3]float64{2: -dy / 2}, strain: [3]float64{0: dx, 2: dy}},
			shape{move: [3]float64{1: v}, turn: [3]float64{2: dx / 2}, strain: [3]float64{1: dy, 2: dx}},
		)
	}
	for _, p := range curved {
		dx, dy := slope(x, y, p[0], p[1], 0)/a, slope(x, y, p[0], p[1], 1)/b
		list = append(list, shape{
			move: [3]float64{-n * dx, -n * dy, monomial(x, y, p[0], p[1])},
			turn: [3]float64{dy, -dx, 0},
			curvature: [3]float64{
				float64(p[0]*(p[0]-1)) * monomial(x, y, p[0]-2, p[1]) / (a * a),
				float64(p[1]*(p[1]-1)) * monomial(x, y, p[0], p[1]-2) / (b * b),
				2 * float64(p[0]*p[1]) * monomial(x, y, p[0]-1, p[1]-1) / (a * b),
			},
		})
	}
	return list
}

// monomial is x^i·y^j; a negative power stands for a derivative that has vanished.
func monomial(x, y float64, i, j int) float64 {
	if i < 0 || j < 0 {
		return 0
	}
	v := 1.0
	for range i {
		v *= x
	}
	for range j {
		v *= y
	}
	return v
}

// slope is the derivative of x^i·y^j by x (0) or y (1).
func slope(x, y float64, i, j, by int) float64 {
	if by == 0 {
		return float64(i) * monomial(x, y, i-1, j)
	}
	return float64(j) * monomial(x, y, i, j-1)
}

// stiffness is ∫ εᵀ·D·ε·h dA + ∫ κᵀ·D·κ·h³/12 dA.
func (t *Triangle) stiffness(m beam.Material) *mat.SymDense {
	a, b, h := t.size[0], t.size[1], t.size[2]
	plane := m.E / (1 - m.Nu*m.Nu)
	stress := func(e [3]float64) [3]float64 {
		return [3]float64{plane * (e[0] + m.Nu*e[1]), plane * (e[1] + m.Nu*e[0]), m.G() * e[2]}
	}
	n := straining + bending
	k := mat.NewSymDense(n, nil)
	for _, g := range gauss4 { // exact: the energy of cubic strains on the collapsed square
		for _, l := range gauss4 {
			// The square (g, l) collapses onto the triangle: s = a·g, u = b·(1−g)·l.
			weight := g[1] * l[1] * (1 - g[0]) * a * b
			shapes := t.at(a*g[0], b*(1-g[0])*l[0], 0)
			for i := range n {
				force, couple := stress(shapes[i].strain), stress(shapes[i].curvature)
				for j := i; j < n; j++ {
					sum := 0.0
					for c := range 3 {
						sum += force[c]*shapes[j].strain[c]*h + couple[c]*shapes[j].curvature[c]*h*h*h/12
					}
					k.SetSym(i, j, k.At(i, j)+weight*sum)
				}
			}
		}
	}
	return k
}

// Nearest is the place over the triangle's metal nearest to a spot, and the way from there to the spot: what stands
// beside a gusset goes with the metal next to it as on a rigid arm, as with a strip.
func (t *Triangle) Nearest(at r3.Vec) (near, arm r3.Vec) {
	from := r3.Sub(at, t.corner)
	a, b := t.size[0], t.size[1]
	s, u := r3.Dot(from, t.axes[0]), r3.Dot(from, t.axes[1])
	p, q := s-beyond(s, 0, a), u-beyond(u, 0, b)
	if s >= 0 && u >= 0 && (s/a+u/b-1)*math.Min(a, b) > rounding {
		share := math.Max(0, math.Min(1, (s*a+(b-u)*b)/(a*a+b*b))) // of the slope, from the second leg's end
		p, q = share*a, (1-share)*b
	}
	arm = r3.Add(r3.Scale(s-p, t.axes[0]), r3.Scale(u-q, t.axes[1]))
	return r3.Sub(at, arm), arm
}

// Move is the movement along a direction (a unit vector) of a spot of the triangle, or of one beside it on a rigid arm.
func (t *Triangle) Move(at, direction r3.Vec) Form {
	form := Move(t.node, r3.Sub(at, t.frame.Node(t.node)), direction)
	near, arm := t.Nearest(at)
	form = t.shaped(form, near, direction, func(s shape) [3]float64 { return s.move })
	if arm != (r3.Vec{}) {
		form = t.shaped(form, near, r3.Cross(arm, direction), t.turned)
	}
	return form
}

// Turn is the rotation about a direction (a unit vector) of the metal at a spot or nearest to it.
func (t *Triangle) Turn(at, direction r3.Vec) Form {
	near, _ := t.Nearest(at)
	return t.shaped(Turn(t.node, direction), near, direction, t.turned)
}

// turned is the rotation that a shape makes.
func (t *Triangle) turned(s shape) [3]float64 {
	return [3]float64{t.hand * s.turn[0], t.hand * s.turn[1], t.hand * s.turn[2]}
}

// shaped adds to a form what the shapes do at a spot along or about a direction.
func (t *Triangle) shaped(form Form, at, direction r3.Vec, does func(shape) [3]float64) Form {
	from := r3.Sub(at, t.corner)
	s, u, n := r3.Dot(from, t.axes[0]), r3.Dot(from, t.axes[1]), r3.Dot(from, t.axes[2])-t.size[2]/2
	for i, sh := range t.at(s, u, n) {
		factor := 0.0
		for k, v := range does(sh) {
			factor += v * r3.Dot(direction, t.axes[k])
		}
		if factor != 0 {
			form = append(form, Term{t.shapes[i], factor})
		}
	}
	return form
}

// Warmed is the strain-free state of the triangle after a uniform temperature rise, K.
func (t *Triangle) Warmed(rise float64) Swollen {
	by := make([]float64, straining+bending)
	by[0] = t.expansion * rise * t.size[0]
	by[1] = t.expansion * rise * t.size[1]
	return Swollen{Block: t.block, By: by}
}
