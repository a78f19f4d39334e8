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

// Strip is a plate as a line of nodes along its middle whose sections may bend, warp and stretch across.
//
// A Timoshenko member keeps its section flat. That is right for a bar and wrong for a bed plate: one held along two
// ribs sags between them, and a corner that hangs over drags only its own side down. So a section of a strip has, on
// top of the six freedoms of its node, shapes across its width: with ξ along the strip, η across it and ζ square to
// the plate, and Legendre polynomials P_k(2η/b),
//
//	u = Σ u_k·P_k + ζ·a,   v = Σ v_k·P_k + ζ·c                      k = 0..4
//	w = Σ w_k·P_k,         a = Σ a_k·P_k,         c = Σ c_k·P_k     k = 0..8
//
// with u₀, v₀, w₀, a₀ = θ_η, c₀ = −θ_ξ and u₁ = −b/2·θ_ζ those of the node. That is a sheet in plane stress and a
// shear-deformable plate (Mindlin, J. Appl. Mech. 18 (1951) 31), both in Kantorovich's reduction to one dimension
// (Kantorovich & Krylov, Approximate Methods of Higher Analysis, 1958, ch. IV). The lowest shapes are those of beam
// theory, so that a long strip bends, shears and twists as a member does; torsion with restrained warping, bending
// across, shear lag and the curling of a bent plate come with the others. The torsion constant too: with its transverse
// shear on 5/6 of the thickness, a plate with two free edges twists as Saint-Venant's rectangle.
//
// Between two nodes every field runs straight but for u and a: on the way from one turning of the section to the next
// they bow as the bending of a straight line has it, x·(1 − x) for every P_k, and the bows find their own rest and are
// eliminated. Shear is taken at the middle. That is exact for a member. w, v and c stay straight so that what is held
// at two nodes is held between them.
//
// Plate theory knows nothing of what happens over less than the thickness: a force on a narrow plate spreads in three
// dimensions, which is the seat's matter. So the outside feels a shape only as far as its waves are long against the
// thickness; see felt.
type Strip struct {
	frame    *Frame
	axes     [3]r3.Vec // ξ, η, ζ
	width    float64
	thick    float64
	nodes    []int
	at       []float64 // places of the nodes along ξ, mm from the first
	shapes   [][]int   // by node: v₁, w₁, a₁, c₁, u₂, v₂, w₂, a₂, c₂, u₃, …
	felt     [widthShapes + 1]float64
	block    int // the first of the blocks between nodes
	material beam.Material
}

// The highest degrees of the shapes across. Eight draw a plate held along lines, and the turning round of its torsion
// at the edges, within 1 %. In the plane four draw shear, shear lag and the stretching between two sides; of what is
// narrower, a point of force, plate theory knows less than the seat.
const (
	widthShapes = 8
	sheetShapes = 4
)

// The fields across a section.
const (
	fieldU = iota
	fieldV
	fieldW
	fieldA
	fieldC
	fields
)

// degree is the highest of a field's shapes.
func degree(field int) int {
	if field < fieldW {
		return sheetShapes
	}
	return widthShapes
}

// inSection is the freedom of a section that is the factor of P_k in a field.
func inSection(k, field int) int {
	if k <= sheetShapes {
		return fields*k + field
	}
	return fields*(sheetShapes+1) + (fields-fieldW)*(k-sheetShapes-1) + field - fieldW
}

const (
	sectionFreedoms = fields*(sheetShapes+1) + (fields-fieldW)*(widthShapes-sheetShapes)
	shapeFreedoms   = sectionFreedoms - NodeFreedoms    // beyond those of the node
	bows            = sheetShapes + 1 + widthShapes + 1 // of u and a between two sections
)

// beyondNode is the freedom of a section, of those beyond the node's, that is the factor of P_k in a field; k ≥ 1, and
// u₁ is the node's.
func beyondNode(k, field int) int { return inSection(k, field) - NodeFreedoms }

// mindlinShear is the share of the thickness that carries transverse shear in a plate (Reissner, J. Appl. Mech. 12
// (1945) A69).
const mindlinShear = 5. / 6

// sameLength is the length by which two stretches of a strip may differ and share one matrix, mm: the rounding of
// places.
const sameLength = 1e-9

// stretch is all that the matrix between two sections depends on.
type stretch struct {
	axes                 [3]r3.Vec
	width, thick, length float64
	made                 beam.Material
}

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
		felt:     felt(width / thick),
	}
	for _, p := range places {
		s.nodes = append(s.nodes, f.AddNode(r3.Add(from, r3.Scale(p, along))))
		s.shapes = append(s.shapes, f.AddFreedoms(s.nodes[len(s.nodes)-1], shapeFreedoms))
	}
	turn := s.turnedIn()
	made := map[float64]*mat.SymDense{} // most stretches are of one length
	for i := range places[1:] {
		h := places[i+1] - places[i]
		if !(h > 0) {
			panic(fmt.Sprintf("frame: places %g and %g of strip %s do not ascend", places[i], places[i+1], source))
		}
		half := m.Density * width * thick * h / 2
		length := math.Round(h/sameLength) * sameLength
		if made[length] == nil {
			// not of length, so that a matrix goes smoothly with the sizes of a machine
			made[length] = f.matrix(stretch{s.axes, width, thick, h, m}, func() *mat.SymDense {
				return turned(turn, s.between(h))
			})
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

// Of a plate of width b and thickness t, P_k has waves of about 2·b/k. Where (b/t − feltFrom)/k is feltAll or more,
// waves longer than twice the thickness, a shape is felt whole, and up to feltNone not at all; between them in part, so
// that nothing jumps when a plate becomes a little wider. P₁ holds how the section turns.
const (
	feltFrom = 1.5
	feltNone = 0.25
	feltAll  = 1.0
)

// felt is how much of each shape the outside feels, of a width over the thickness.
func felt(slimness float64) (share [widthShapes + 1]float64) {
	share[0], share[1] = 1, 1
	for k := 2; k <= widthShapes; k++ {
		share[k] = math.Min(math.Max(((slimness-feltFrom)/float64(k)-feltNone)/(feltAll-feltNone), 0), 1)
	}
	return share
}

// turnedIn takes the freedoms of a node to the first NodeFreedoms of its section: rows are section freedoms. The others
// are the same.
func (s *Strip) turnedIn() *mat.Dense {
	t := mat.NewDense(NodeFreedoms, NodeFreedoms, nil)
	set := func(row, first int, v r3.Vec) {
		for i, c := range [3]float64{v.X, v.Y, v.Z} {
			t.Set(row, first+i, c)
		}
	}
	set(inSection(0, fieldU), 0, s.axes[0])
	set(inSection(0, fieldV), 0, s.axes[1])
	set(inSection(0, fieldW), 0, s.axes[2])
	set(inSection(0, fieldA), 3, s.axes[1])
	set(inSection(0, fieldC), 3, r3.Scale(-1, s.axes[0]))
	set(inSection(1, fieldU), 3, r3.Scale(-s.width/2, s.axes[2]))
	return t
}

// turned is the stiffness k between two sections in the freedoms of their nodes, which t takes to theirs.
func turned(t *mat.Dense, k *mat.SymDense) *mat.SymDense {
	full := mat.DenseCopyOf(k)
	n, _ := full.Dims()
	for e := range 2 {
		at := e * sectionFreedoms
		columns := full.Slice(0, n, at, at+NodeFreedoms).(*mat.Dense)
		columns.Mul(mat.DenseCopyOf(columns), t)
		rows := full.Slice(at, at+NodeFreedoms, 0, n).(*mat.Dense)
		rows.Mul(t.T(), mat.DenseCopyOf(rows))
	}
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
	data := k.RawSymmetric()
	// add puts in ½·stiffness·strain², the strain a form in the freedoms of the two sections and the bows.
	add := func(stiffness float64, strain strain) {
		for _, ti := range strain {
			row, f := data.Data[ti.Freedom*data.Stride:], stiffness*ti.Factor
			for _, tj := range strain {
				if tj.Freedom >= ti.Freedom {
					row[tj.Freedom] += f * tj.Factor
				}
			}
		}
	}
	none := make(strain, 0, 5*(widthShapes+1)) // room for the longest
	shear := mindlinShear * m.G() * t
	sheet := m.E * t / (1 - m.Nu*m.Nu)
	var x, wx [widthShapes + 1]float64
	quad.Legendre{}.FixedLocations(x[:], wx[:], -1, 1)
	for q := range x {
		p, dp := legendre(x[q])
		var slope [widthShapes + 1]float64 // dP/dη
		for i := range slope {
			slope[i] = dp[i] * 2 / b
		}
		const mean = 1. / 6 // of a bow; also its value at Gauss's points
		rate, middle := [2]float64{-1 / h, 1 / h}, [2]float64{0.5, 0.5}
		weight := wx[q] * b / 2 * h

		// γ_ξζ = w' + a
		add(weight*shear, none.shared(1, fieldW, p, rate).shared(1, fieldA, p, middle).bowed(mean, fieldA, p))
		for _, g := range gauss2 {
			value := [2]float64{(1 - g) / 2, (1 + g) / 2}
			// γ_ηζ = ∂w/∂η + c
			add(weight/2*shear, none.shared(1, fieldW, slope, value).shared(1, fieldC, p, value))
		}
		// The sheet stretches as the plate bends: u for a, v for c.
		for _, layer := range []struct {
			along, across int
			stiffness     float64
		}{{fieldU, fieldV, sheet}, {fieldA, fieldC, sheet * t * t / 12}} {
			for _, g := range gauss2 {
				value := [2]float64{(1 - g) / 2, (1 + g) / 2}
				stretched := func(s strain, factor float64) strain {
					return s.shared(factor, layer.along, p, rate).bowed(-factor*g/h, layer.along, p)
				}
				// D·(εx² + 2ν·εx·εy + εy²) = D(1−ν²)·εx² + D·(εy + ν·εx)²
				add(weight/2*layer.stiffness*(1-m.Nu*m.Nu), stretched(none, 1))
				add(weight/2*layer.stiffness, stretched(none.shared(1, layer.across, slope, value), m.Nu))
			}
			add(weight*layer.stiffness*(1-m.Nu)/2, none.shared(1, layer.along, slope, middle).
				bowed(mean, layer.along, slope).shared(1, layer.across, p, rate))
		}
	}
	return relaxed(k, 2*sectionFreedoms)
}

// strain is a form in the freedoms of two sections and the bows between them, no freedom twice.
type strain []Term

// shared is the strain with factor·Σ_k values_k·field_k between the two sections, the field by its shares of the two.
func (s strain) shared(factor float64, field int, values [widthShapes + 1]float64, share [2]float64) strain {
	for k, v := range values[:degree(field)+1] {
		at := inSection(k, field)
		s = append(s, Term{at, factor * v * share[0]}, Term{sectionFreedoms + at, factor * v * share[1]})
	}
	return s
}

// bowed is the strain with factor·Σ_k values_k·bow_k of field u or a.
func (s strain) bowed(factor float64, field int, values [widthShapes + 1]float64) strain {
	first := 2 * sectionFreedoms
	if field == fieldA {
		first += sheetShapes + 1
	}
	for k, v := range values[:degree(field)+1] {
		s = append(s, Term{first + k, factor * v})
	}
	return s
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
	form, shapes := make(Form, 0, 2*sectionFreedoms), make(Form, 0, 2*shapeFreedoms) // ascending each
	for e, share := range [2]float64{1 - x, x} {
		bend := bow * float64(2*e-1)    // of the section's turning into deflection
		a := du*share*zeta + dw*bend    // factor of a(η)
		c := dv * share * zeta          // of c(η)
		turn := -du*share*eta - dv*bend // of θ_ζ
		node, id := s.nodes[n+e], s.shapes[n+e]
		form = append(form, nodeForm(node, r3.Scale(share, direction),
			r3.Add(r3.Add(r3.Scale(turn, s.axes[2]), r3.Scale(a, s.axes[1])), r3.Scale(-c, s.axes[0])))...)
		for k := 1; k <= widthShapes; k++ {
			for field, factor := range [fields]float64{du * share, dv * share, dw * share, a, c} {
				if n := beyondNode(k, field); factor != 0 && n >= 0 && k <= degree(field) {
					shapes = append(shapes, Term{id[n], factor * s.felt[k] * p[k]})
				}
			}
		}
	}
	form = append(form, shapes...)
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
			id, at := s.shapes[n+e], share*s.felt[k]*p[k]
			form = append(form, Term{id[beyondNode(k, fieldA)], dy * at}, Term{id[beyondNode(k, fieldC)], -dx * at})
		}
	}
	return form.tidy()
}

// Warmed are the strain-free states of the strip's blocks after a temperature rise, K, with a gradient, K/mm: it grows
// along ξ and η, bends in its plane and, by the gradient g through its thickness, curls to w = −½·α·g·(ξ² + η²).
func (s *Strip) Warmed(rise float64, gradient r3.Vec) (list []Swollen) {
	alpha := s.material.Expansion
	along, across, through := r3.Dot(gradient, s.axes[0]), r3.Dot(gradient, s.axes[1]), r3.Dot(gradient, s.axes[2])
	state := func(n int) []float64 {
		x, half := s.at[n]-s.at[0], s.width/2
		u := make([]float64, sectionFreedoms)
		set := func(k, field int, value float64) { u[inSection(k, field)] = alpha * value }
		// η = b/2·P₁, η² = b²/4·(P₀ + 2·P₂)/3.
		square := [3]float64{half * half / 3, 0, half * half * 2 / 3}
		set(0, fieldU, rise*x+along/2*(x*x-square[0]))
		set(1, fieldU, across*x*half)
		set(2, fieldU, -along/2*square[2])
		set(0, fieldV, across/2*(square[0]-x*x))
		set(1, fieldV, (rise+along*x)*half)
		set(2, fieldV, across/2*square[2])
		set(0, fieldW, -through/2*(x*x+square[0]))
		set(2, fieldW, -through/2*square[2])
		set(0, fieldA, through*x)
		set(1, fieldC, through*half)
		return u
	}
	var turn mat.LU
	turn.Factorize(s.turnedIn())
	for i := range s.at[1:] {
		var by []float64
		for _, u := range [][]float64{state(i), state(i + 1)} {
			node := mat.NewVecDense(NodeFreedoms, u[:NodeFreedoms]) // from the section's freedoms to those of the node
			if err := turn.SolveVecTo(node, false, node); err != nil {
				panic(fmt.Sprintf("frame: axes of a strip are none: %v", err))
			}
			by = append(by, u...)
		}
		list = append(list, Swollen{Block: s.block + i, By: by})
	}
	return list
}
