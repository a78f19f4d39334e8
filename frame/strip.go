package frame

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Strip is a wide plate as a line of nodes along its middle whose sections may bend and warp.
//
// A Timoshenko member keeps its section flat. That is right for a bar and wrong for a bed plate: one held along two
// ribs sags between them, and a corner that hangs over drags only its own side down. So a section of a strip has, on
// top of the six freedoms of its node, shapes across its width: with ξ along the strip, η across it and ζ square to
// the plate, and Legendre polynomials P_k(2η/b),
//
//	u = u₀ − η·θ_ζ + ζ·a(η),   v = v₀ + ζ·c(η),   w = Σ w_k·P_k
//	a = θ_η + Σ a_k·P_k,       c = −θ_ξ + Σ c_k·P_k,   k = 1..8
//
// which is a shear-deformable plate (Mindlin, J. Appl. Mech. 18 (1951) 31) in Kantorovich's reduction to one dimension
// (Kantorovich & Krylov, Approximate Methods of Higher Analysis, 1958, ch. IV). In its own plane the strip stays a
// Timoshenko member. The lowest shapes are those of beam theory, so that a long strip bends and twists as a member
// does; torsion with restrained warping, bending across, and the curling of a bent plate come with the others. The
// torsion constant too: with its transverse shear on 5/6 of the thickness, a plate with two free edges twists as
// Saint-Venant's rectangle.
//
// Between two nodes every field runs straight but for a: on the way from one turning of the section to the next it bows
// as the bending of a straight line has it, x·(1 − x) for every P_k, and the bows find their own rest and are
// eliminated. Shear is taken at the middle. That is exact for a member, as is the same done with the shear's
// flexibility, increased by h²/(12·E·I), in the strip's plane (MacNeal, A simple quadrilateral shell element, Comput.
// Struct. 8 (1978) 175, residual bending flexibility). A bow is better than more flexibility: shear that comes from
// twisting, not from bending, is left alone. w and c stay straight so that what is held at two nodes is held between
// them.
type Strip struct {
	frame    *Frame
	axes     [3]r3.Vec // ξ, η, ζ
	width    float64
	thick    float64
	nodes    []int
	at       []float64 // places of the nodes along ξ, mm from the first
	shapes   [][]int   // by node: w₁, a₁, c₁, w₂, a₂, c₂, …
	block    int       // the first of the blocks between nodes
	material beam.Material
}

// widthShapes is the highest degree of the shapes across: eight draw a plate held along lines, and the turning round of
// its torsion at the edges, within 1 %.
const widthShapes = 8

// Freedoms of one section in the order of its matrix: u₀, v₀, θ_ζ, then w, a, c for k = 0..widthShapes.
const sectionFreedoms = 3 + 3*(widthShapes+1)

// bows of a between two sections, one for every shape.
const bows = widthShapes + 1

// mindlinShear is the share of the thickness that carries transverse shear in a plate (Reissner, J. Appl. Mech. 12
// (1945) A69).
const mindlinShear = 5. / 6

// sameLength is the length by which two stretches of a strip may differ and share one matrix, mm: the rounding of
// places.
const sameLength = 1e-9

// AddStrip adds a strip whose middle runs from a point along a unit direction, with nodes at the given ascending places
// (at least two), width along a second unit direction.
func (f *Frame) AddStrip(
	from, along, across r3.Vec,
	places []float64,
	width, thick float64,
	m beam.Material,
	source string,
) *Strip {
	if len(places) < 2 || !(width > 0) || !(thick > 0) {
		panic(fmt.Sprintf("frame: strip %s with %d places, %g x %g mm", source, len(places), width, thick))
	}
	s := &Strip{
		frame:    f,
		axes:     [3]r3.Vec{along, across, r3.Cross(along, across)},
		width:    width,
		thick:    thick,
		at:       places,
		material: m,
		block:    len(f.blocks),
	}
	for _, p := range places {
		s.nodes = append(s.nodes, f.AddNode(r3.Add(from, r3.Scale(p, along))))
		s.shapes = append(s.shapes, f.AddFreedoms(s.nodes[len(s.nodes)-1], 3*widthShapes))
	}
	turned := s.turnedIn()
	made := map[float64]*mat.SymDense{} // most stretches are of one length
	for i := range places[1:] {
		h := places[i+1] - places[i]
		if !(h > 0) {
			panic(fmt.Sprintf("frame: places %g and %g of strip %s do not ascend", places[i], places[i+1], source))
		}
		half := m.Density * width * thick * h / 2
		length := math.Round(h/sameLength) * sameLength
		if made[length] == nil {
			made[length] = symmetric(
				turned,
				s.between(h),
			) // not of length, so that a matrix goes smoothly with the sizes of a machine
		}
		b := Block{K: made[length], Source: source}
		for _, n := range []int{i, i + 1} {
			for d := range NodeFreedoms {
				b.Freedoms = append(b.Freedoms, NodeFreedoms*s.nodes[n]+d)
			}
			b.Freedoms = append(b.Freedoms, s.shapes[n]...)
			still := r3.Vec{}
			b.Mass = append(b.Mass, MassPoint{Mass: half, Move: [3]Form{
				Move(s.nodes[n], still, r3.Vec{X: 1}), Move(s.nodes[n], still, r3.Vec{Y: 1}), Move(s.nodes[n], still, r3.Vec{Z: 1}),
			}})
		}
		f.AddBlock(b)
	}
	return s
}

// Nodes are the strip's nodes in order.
func (s *Strip) Nodes() []int { return s.nodes }

// Blocks are the strip's blocks in order, one between every two nodes.
func (s *Strip) Blocks() []int {
	list := make([]int, len(s.nodes)-1)
	for i := range list {
		list[i] = s.block + i
	}
	return list
}

// turnedIn takes the freedoms of two nodes and their shapes to those of the two sections: rows are section freedoms.
func (s *Strip) turnedIn() *mat.Dense {
	n := NodeFreedoms + 3*widthShapes
	t := mat.NewDense(2*sectionFreedoms, 2*n, nil)
	for e := range 2 {
		row, col := e*sectionFreedoms, e*n
		set := func(r, c int, v r3.Vec, sign float64) {
			t.Set(row+r, col+c, sign*v.X)
			t.Set(row+r, col+c+1, sign*v.Y)
			t.Set(row+r, col+c+2, sign*v.Z)
		}
		set(0, 0, s.axes[0], 1)  // u₀
		set(1, 0, s.axes[1], 1)  // v₀
		set(2, 3, s.axes[2], 1)  // θ_ζ
		set(3, 0, s.axes[2], 1)  // w₀
		set(4, 3, s.axes[1], 1)  // a₀ = θ_η
		set(5, 3, s.axes[0], -1) // c₀ = −θ_ξ
		for k := range 3 * widthShapes {
			t.Set(row+6+k, col+NodeFreedoms+k, 1)
		}
	}
	return t
}

// symmetric is Tᵀ·K·T.
func symmetric(t *mat.Dense, k *mat.SymDense) *mat.SymDense {
	var kt, full mat.Dense
	kt.Mul(k, t)
	full.Mul(t.T(), &kt)
	n, _ := full.Dims()
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, (full.At(i, j)+full.At(j, i))/2)
		}
	}
	return out
}

// legendre gives P_k and dP_k/dx for k = 0..widthShapes.
func legendre(x float64) (p, dp [widthShapes + 1]float64) {
	p[0], p[1], dp[1] = 1, x, 1
	for k := 2; k <= widthShapes; k++ {
		n := float64(k)
		p[k] = ((2*n-1)*x*p[k-1] - (n-1)*p[k-2]) / n
		dp[k] = dp[k-2] + (2*n-1)*p[k-1]
	}
	return p, dp
}

// between is the stiffness between two sections at a distance h.
func (s *Strip) between(h float64) *mat.SymDense {
	m, b, t := s.material, s.width, s.thick
	k := mat.NewSymDense(2*sectionFreedoms+bows, nil)
	// add puts in ½·stiffness·strain², the strain a tidy form in the freedoms of the two sections and the bows.
	add := func(stiffness float64, strain Form) {
		for i, ti := range strain {
			for _, tj := range strain[i:] {
				v := stiffness * ti.Factor * tj.Factor
				k.SetSym(ti.Freedom, tj.Freedom, k.At(ti.Freedom, tj.Freedom)+v)
			}
		}
	}
	const second = sectionFreedoms
	area, inertia := b*t, t*b*b*b/12
	// In the plane: stretch, bending, shear at the middle.
	add(m.E*area/h, []Term{{0, -1}, {second, 1}})
	add(m.E*inertia/h, []Term{{2, -1}, {second + 2, 1}})
	add(
		h/(1/(mindlinShear*m.G()*area)+h*h/(12*m.E*inertia)),
		[]Term{{1, -1 / h}, {2, -0.5}, {second + 1, 1 / h}, {second + 2, -0.5}},
	)

	plate := m.E * t * t * t / (12 * (1 - m.Nu*m.Nu))
	twist := (1 - m.Nu) / 2 * plate
	shear := mindlinShear * m.G() * t
	var x, wx [widthShapes + 1]float64
	quad.Legendre{}.FixedLocations(x[:], wx[:], -1, 1)
	for q := range x {
		p, dp := legendre(x[q])
		var slope [widthShapes + 1]float64 // dP/dη
		for i := range slope {
			slope[i] = dp[i] * 2 / b
		}
		const w, a, c = 0, 1, 2
		const mean = 1. / 6 // of a bow; also its value at Gauss's points
		rate, middle := [2]float64{-1 / h, 1 / h}, [2]float64{0.5, 0.5}
		weight := wx[q] * b / 2 * h

		add(weight*shear, shareOf(w, p, rate).Plus(1, shareOf(a, p, middle)).Plus(mean, bowed(p))) // γ_ξζ = w' + a
		for _, g := range gauss2 {
			value := [2]float64{(1 - g) / 2, (1 + g) / 2}
			curvX := shareOf(a, p, rate).Plus(-g/h, bowed(p)) // a'
			// D·(κx² + 2ν·κx·κy + κy²) = D(1−ν²)·κx² + D·(κy + ν·κx)²
			add(weight/2*plate*(1-m.Nu*m.Nu), curvX)
			add(weight/2*plate, shareOf(c, slope, value).Plus(m.Nu, curvX))
			add(weight/2*twist, shareOf(a, slope, value).Plus(mean, bowed(slope)).Plus(1, shareOf(c, p, rate)))
			add(weight/2*shear, shareOf(w, slope, value).Plus(1, shareOf(c, p, value))) // γ_ηζ = ∂w/∂η + c
		}
	}
	return relaxed(k, 2*sectionFreedoms)
}

// shareOf is Σ_k values_k·field_k between two sections, the field by its shares of the two.
func shareOf(field int, values [widthShapes + 1]float64, share [2]float64) (row Form) {
	for i, v := range values {
		k := 3 + 3*i + field
		row = append(row, Term{k, v * share[0]}, Term{sectionFreedoms + k, v * share[1]})
	}
	return row
}

// bowed is Σ_k values_k·bow_k of the rotations a between two sections.
func bowed(values [widthShapes + 1]float64) (row Form) {
	for i, v := range values {
		row = append(row, Term{2*sectionFreedoms + i, v})
	}
	return row
}

// relaxed is a stiffness matrix with its freedoms from keep on left to find their own rest: K₁₁ − K₁₂·K₂₂⁻¹·K₂₁.
func relaxed(k *mat.SymDense, keep int) *mat.SymDense {
	n := k.SymmetricDim()
	var inner mat.Cholesky
	if !inner.Factorize(k.SliceSym(keep, n)) {
		panic("frame: what is to be relaxed is not stiff")
	}
	across := mat.NewDense(n-keep, keep, nil)
	for i := range n - keep {
		for j := range keep {
			across.Set(i, j, k.At(keep+i, j))
		}
	}
	var solved, drop mat.Dense
	if err := inner.SolveTo(&solved, across); err != nil {
		panic(fmt.Sprintf("frame: what is to be relaxed is all but loose: %v", err))
	}
	drop.Mul(across.T(), &solved)
	out := mat.NewSymDense(keep, nil)
	for i := range keep {
		for j := i; j < keep; j++ {
			out.SetSym(i, j, k.At(i, j)-(drop.At(i, j)+drop.At(j, i))/2)
		}
	}
	return out
}

// nearest is the place of the strip's length and width nearest to a point, and the way from there to the point. Beside
// the metal polynomials run away, so what stands there goes with the metal next to it as on a rigid arm, in what it is
// moved by and in what it does to the strip.
func (s *Strip) nearest(at r3.Vec) (near, arm r3.Vec) {
	from := r3.Sub(at, s.frame.Node(s.nodes[0]))
	xi, eta := r3.Dot(from, s.axes[0]), r3.Dot(from, s.axes[1])
	length := s.at[len(s.at)-1] - s.at[0]
	arm = r3.Add(r3.Scale(beyond(xi, 0, length), s.axes[0]), r3.Scale(beyond(eta, -s.width/2, s.width/2), s.axes[1]))
	return r3.Sub(at, arm), arm
}

// rounding is by how much a place may lie beside metal and count as on it, mm.
const rounding = 1e-9

// beyond is how far a number lies outside a range, with its sign; zero within.
func beyond(x, lo, hi float64) float64 {
	switch {
	case x > hi+rounding:
		return x - hi
	case x < lo-rounding:
		return x - lo
	}
	return 0
}

// locate is where on the strip a point lies: between nodes n and n+1, at share x of the way, and at η and ζ.
func (s *Strip) locate(at r3.Vec) (n int, x, eta, zeta float64) {
	from := r3.Sub(at, s.frame.Node(s.nodes[0]))
	place := r3.Dot(from, s.axes[0]) + s.at[0]
	n = min(max(sort.SearchFloat64s(s.at, place)-1, 0), len(s.at)-2)
	x = (place - s.at[n]) / (s.at[n+1] - s.at[n])
	return n, math.Min(math.Max(x, 0), 1), r3.Dot(from, s.axes[1]), r3.Dot(from, s.axes[2])
}

// Move is the movement along a direction (a unit vector) of a point of the strip, or of one beside it on a rigid arm.
// Between two nodes every field runs straight, and the deflections follow the turning of the sections: w″ = −a′ and
// v″ = θ_ζ′, as the constant shear between the nodes has it.
func (s *Strip) Move(at, direction r3.Vec) Form {
	at, arm := s.nearest(at)
	n, x, eta, zeta := s.locate(at)
	h := s.at[n+1] - s.at[n]
	du, dv, dw := r3.Dot(direction, s.axes[0]), r3.Dot(direction, s.axes[1]), r3.Dot(direction, s.axes[2])
	p, _ := legendre(2 * eta / s.width)
	bow := h * x * (1 - x) / 2
	form := make(Form, 0, 2*sectionFreedoms)
	for e, share := range [2]float64{1 - x, x} {
		bend := bow * float64(2*e-1)    // of the section's turning into deflection
		a := du*share*zeta + dw*bend    // factor of a(η)
		c := dv * share * zeta          // of c(η)
		turn := -du*share*eta - dv*bend // of θ_ζ
		node := s.nodes[n+e]
		form = append(form, nodeForm(node, r3.Scale(share, direction),
			r3.Add(r3.Add(r3.Scale(turn, s.axes[2]), r3.Scale(a, s.axes[1])), r3.Scale(-c, s.axes[0])))...)
		for k := 1; k <= widthShapes; k++ {
			id := s.shapes[n+e][3*(k-1):]
			form = append(form, Term{id[0], dw * share * p[k]}, Term{id[1], a * p[k]}, Term{id[2], c * p[k]})
		}
	}
	if arm != (r3.Vec{}) {
		form = append(form, s.Turn(at, r3.Cross(arm, direction))...)
	}
	return form.tidy()
}

// Turn is the rotation of the plate's normal about a direction, at a point or at the metal nearest to it.
func (s *Strip) Turn(at, direction r3.Vec) Form {
	at, _ = s.nearest(at)
	n, x, eta, _ := s.locate(at)
	dx, dy := r3.Dot(direction, s.axes[0]), r3.Dot(direction, s.axes[1])
	p, _ := legendre(2 * eta / s.width)
	var form Form
	for e, share := range [2]float64{1 - x, x} {
		form = append(form, nodeForm(s.nodes[n+e], r3.Vec{}, r3.Scale(share, direction))...)
		for k := 1; k <= widthShapes; k++ {
			id := s.shapes[n+e][3*(k-1):]
			form = append(form, Term{id[1], share * dy * p[k]}, Term{id[2], -share * dx * p[k]})
		}
	}
	return form.tidy()
}

// Warmed are the strain-free states of the strip's blocks after a temperature rise, K, with gradients across its width
// and thickness, K/mm: it grows along ξ and curls to w = −½·α·g·(ξ² + η²).
func (s *Strip) Warmed(rise, acrossWidth, acrossThickness float64) (list []Swollen) {
	alpha := s.material.Expansion
	state := func(n int) []float64 {
		x := s.at[n] - s.at[0]
		u := make([]float64, sectionFreedoms)
		u[0] = alpha * rise * x
		u[1] = -alpha * acrossWidth * x * x / 2
		u[2] = -alpha * acrossWidth * x
		g := alpha * acrossThickness
		u[3] = -g * x * x / 2
		u[4] = g * x
		// η² = b²/4·(P₀ + 2·P₂)/3 and η = b/2·P₁.
		u[3] -= g / 2 * s.width * s.width / 12
		u[3+3*2] = -g / 2 * s.width * s.width / 6
		u[3+3*1+2] = g * s.width / 2
		return u
	}
	// Section freedoms to those of the block: the transpose of an orthogonal matrix.
	var by mat.VecDense
	for i := range s.at[1:] {
		both := append(state(i), state(i+1)...)
		by.MulVec(s.turnedIn().T(), mat.NewVecDense(len(both), both))
		list = append(list, Swollen{Block: s.block + i, By: mat.Col(nil, 0, &by)})
		by.Reset()
	}
	return list
}
