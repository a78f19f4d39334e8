package frame

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/sparse"
)

// worstResidual is the largest equilibrium residual, relative to the loads, that is still an answer.
const worstResidual = 1e-6

// mostPasses bounds the steps of a solution: one of a thin sheet takes four.
const mostPasses = 6

// Prescribed movements whose forces cancel to less than this share of their terms strain nothing: a frame that goes
// along with its ground. What rounding leaves, some 1e-15 of the terms, is then within worstResidual of that share.
const strainFree = 1e-8

// System is a frame with its matrix factored.
type System struct {
	frame  *Frame
	placed []placed
	k      [][12][12]float64 // members, between node freedoms
	spring []Form            // over freedoms
	block  [][]int
	red    reduction
	factor *sparse.Factor
	size   int // freedoms
}

// LooseError says that something can move without resistance, and how.
type LooseError struct {
	Motion []float64 // a movement of all freedoms, node n's at 6n, scaled to a largest entry of 1
}

// Error says no more than the numbers can; whoever knows the parts names them.
func (e *LooseError) Error() string { return "frame: something is loose" }

// UnevenError says that stiff and soft parts are too far apart for sixteen digits: forces do not balance.
type UnevenError struct {
	Residual float64 // what is out of balance, over the load
	Node     int     // where it is most
}

// Error says no more than the numbers can; whoever knows the parts names them.
func (e *UnevenError) Error() string {
	return fmt.Sprintf("frame: forces are out of balance by %.1e of the load: the structure is too unevenly stiff to be "+
		"solved", e.Residual)
}

// Factor assembles and factors the frame. The error is a *LooseError when part of it can move freely.
func (f *Frame) Factor() (*System, error) {
	s := f.elements(f.reduce())
	matrix := sparse.NewPattern(s.red.sizes, s.coupled()).NewMatrix()
	s.assemble(matrix)
	factor, err := matrix.Factorize()
	var loose *sparse.LooseError
	if errors.As(err, &loose) {
		u := make([]float64, s.size)
		s.red.toFreedoms(u, loose.Motion, make([]float64, len(f.constraints)))
		floats.Scale(1/floats.Norm(u, math.Inf(1)), u)
		return nil, &LooseError{Motion: u}
	}
	if err != nil {
		return nil, err
	}
	s.factor = factor
	return s, nil
}

// elements works out the frame's members, springs and blocks, which Factor then adds up.
func (f *Frame) elements(red reduction) *System {
	s := &System{frame: f, red: red, size: f.freedoms()}
	for _, m := range f.members {
		p := f.place(m)
		s.placed = append(s.placed, p)
		s.k = append(s.k, p.stiffness())
	}
	for _, sp := range f.springs {
		s.spring = append(s.spring, f.numbered(sp.Form))
	}
	for _, bl := range f.blocks {
		ids := make([]int, len(bl.Freedoms))
		for i, id := range bl.Freedoms {
			ids[i] = f.index(id)
		}
		s.block = append(s.block, ids)
	}
	return s
}

// coupled lists the nodes whose unknowns each element couples.
func (s *System) coupled() [][]int {
	var list [][]int
	add := func(nodes []int) {
		slices.Sort(nodes)
		list = append(list, slices.Compact(nodes))
	}
	ofFreedoms := func(freedoms []int) {
		var nodes []int
		for _, f := range freedoms {
			for _, t := range s.red.t[f] {
				nodes = append(nodes, s.red.owner[t.Freedom])
			}
		}
		add(nodes)
	}
	for m := range s.placed {
		ofFreedoms(s.placed[m].freedoms[:])
	}
	for _, ids := range s.block {
		ofFreedoms(ids)
	}
	// Forms over unknowns are made again where they are used: of plates bonded all over there are thousands of long ones.
	var unknowns Form
	for _, form := range s.spring {
		unknowns = s.red.appendForm(unknowns[:0], form)
		var nodes []int
		for _, t := range unknowns {
			if n := s.red.owner[t.Freedom]; len(nodes) == 0 || nodes[len(nodes)-1] != n {
				nodes = append(nodes, n)
			}
		}
		add(nodes)
	}
	return list
}

// assemble adds up the matrix of the unknowns.
func (s *System) assemble(matrix *sparse.Matrix) {
	for m := range s.placed {
		s.addBetween(matrix, s.placed[m].freedoms[:], func(i, j int) float64 { return s.k[m][i][j] })
	}
	var over Form
	var unknowns []int
	var factors []float64
	for n, form := range s.spring {
		over, unknowns, factors = s.red.appendForm(over[:0], form), unknowns[:0], factors[:0]
		for _, t := range over {
			unknowns, factors = append(unknowns, t.Freedom), append(factors, t.Factor)
		}
		matrix.AddOuter(s.frame.springs[n].Stiffness, unknowns, factors)
	}
	for n, ids := range s.block {
		s.addBetween(matrix, ids, s.frame.blocks[n].K.At)
	}
}

// addBetween adds a symmetric matrix k between freedoms. A freedom that is named twice takes both k_ij and k_ji.
func (s *System) addBetween(matrix *sparse.Matrix, freedoms []int, k func(i, j int) float64) {
	for i, fi := range freedoms {
		s.add(matrix, fi, fi, k(i, i))
		for j, fj := range freedoms[:i] {
			v := k(i, j)
			if fi == fj {
				v *= 2
			}
			s.add(matrix, fi, fj, v)
		}
	}
}

// add adds one entry between two freedoms (fi, fj and its mirror when fi ≠ fj) to the matrix of the unknowns:
// Tᵢᵀ·v·Tⱼ and, for the mirror, its transpose. The matrix wants every unordered pair of unknowns once.
func (s *System) add(matrix *sparse.Matrix, fi, fj int, v float64) {
	if v == 0 {
		return
	}
	for i, ti := range s.red.t[fi] {
		for j, tj := range s.red.t[fj] {
			w := v * ti.Factor * tj.Factor
			switch {
			case fi == fj && j > i:
				continue // the same pair as (j, i)
			case fi != fj && ti.Freedom == tj.Freedom:
				w *= 2 // the mirror falls on the same diagonal entry
			}
			matrix.Add(ti.Freedom, tj.Freedom, w)
		}
	}
}

// Unknowns is the number of free unknowns.
func (s *System) Unknowns() int { return s.red.unknowns }

// Freedoms is the number of all freedoms, those that constraints express among them.
func (s *System) Freedoms() int { return s.size }

// UnknownNode is the node that a free unknown belongs to.
func (s *System) UnknownNode(unknown int) int { return s.red.owner[unknown] }

// Reduce turns a form in the freedoms into the same form in the free unknowns, by their numbers: of u = T·q + V·v it
// keeps T·q, so that prescribed movements do not count.
func (s *System) Reduce(form Form) Form { return s.red.form(s.frame.numbered(form)) }

// Value reads a form under movements u of all freedoms.
func (s *System) Value(form Form, u []float64) float64 { return s.frame.numbered(form).Of(u) }

// Factored is the factor of the matrix of the free unknowns, for what works on these themselves (Reduce).
func (s *System) Factored() *sparse.Factor { return s.factor }

// forces spreads a load over the freedoms; strain-free states enter as the forces that would hold them straight.
func (s *System) forces(load Load) []float64 {
	f := make([]float64, s.size)
	for _, p := range load.Pushes {
		for _, t := range s.frame.numbered(p.Form) {
			f[t.Freedom] += p.Force * t.Factor
		}
	}
	if load.Lines != nil || load.Warm != nil || load.Gravity != (r3.Vec{}) || load.Inertia != nil {
		for m := range s.placed {
			for i, v := range s.placed[m].toNodes(s.memberLoad(m, load)) {
				f[s.placed[m].freedoms[i]] += v
			}
		}
	}
	for b, bl := range s.frame.blocks {
		felt := load.feltByBlock(b)
		if felt == (r3.Vec{}) {
			continue
		}
		for _, mp := range bl.Mass {
			for k, g := range [...]float64{felt.X, felt.Y, felt.Z} {
				for _, t := range s.frame.numbered(mp.Move[k]) {
					f[t.Freedom] += mp.Mass * g * t.Factor
				}
			}
		}
	}
	for _, sw := range load.Swollen {
		k, ids := s.frame.blocks[sw.Block].K, s.block[sw.Block]
		for i, fi := range ids {
			for j, by := range sw.By {
				f[fi] += k.At(i, j) * by
			}
		}
	}
	for _, st := range load.Stretched {
		for _, t := range s.spring[st.Spring] {
			f[t.Freedom] -= s.frame.springs[st.Spring].Stiffness * st.By * t.Factor
		}
	}
	return f
}

// memberLoad is the load on one member as forces on its own ends, local axes.
func (s *System) memberLoad(m int, load Load) (local [12]float64) {
	p := &s.placed[m]
	add := func(g [12]float64) {
		for i, v := range g {
			local[i] += v
		}
	}
	for _, l := range load.Lines {
		if l.Member == m {
			add(p.own.LineLoad(l.From, l.To, p.toLocal(l.AtFrom), p.toLocal(l.AtTo)))
		}
	}
	for _, w := range load.Warm {
		if w.Member == m {
			add(p.own.ThermalLoad(w.Mean, w.GradY, w.GradZ))
		}
	}
	if felt := load.feltByMember(m); felt != (r3.Vec{}) {
		q := p.toLocal(r3.Scale(p.own.MassPerLength(), felt))
		add(p.own.LineLoad(0, p.own.Length, q, q))
	}
	return local
}

// innerForces is K·u over all freedoms, element by element.
func (s *System) innerForces(u []float64) []float64 {
	g := make([]float64, s.size)
	for m := range s.placed {
		ids := &s.placed[m].freedoms
		for i, fi := range ids {
			sum := 0.0
			for j, fj := range ids {
				sum += s.k[m][i][j] * u[fj]
			}
			g[fi] += sum
		}
	}
	for i, form := range s.spring {
		force := s.frame.springs[i].Stiffness * form.Of(u)
		for _, t := range form {
			g[t.Freedom] += force * t.Factor
		}
	}
	for b, ids := range s.block {
		for i, force := range s.frame.blocks[b].forces(s.blockMoved(b, u)) {
			g[ids[i]] += force
		}
	}
	return g
}

// blockMoved are the movements u of a block's own freedoms.
func (s *System) blockMoved(b int, u []float64) []float64 {
	moved := make([]float64, len(s.block[b]))
	for i, fi := range s.block[b] {
		moved[i] = u[fi]
	}
	return moved
}

// forces are those that hold a block with its freedoms at u.
func (b *Block) forces(u []float64) []float64 {
	force := make([]float64, len(u))
	blas64.Symv(1, b.K.RawSymmetric(), blas64.Vector{N: len(u), Data: u, Inc: 1}, 0,
		blas64.Vector{N: len(u), Data: force, Inc: 1})
	return force
}

// largestTerm is the largest force of any element on any freedom if its terms did not cancel: Σ|k_ij·u_j|.
func (s *System) largestTerm(u []float64) (largest float64) {
	within := func(freedoms []int, k func(i, j int) float64) {
		for i := range freedoms {
			sum := 0.0
			for j, fj := range freedoms {
				sum += math.Abs(k(i, j) * u[fj])
			}
			largest = math.Max(largest, sum)
		}
	}
	for m := range s.placed {
		within(s.placed[m].freedoms[:], func(i, j int) float64 { return s.k[m][i][j] })
	}
	for b, ids := range s.block {
		within(ids, s.frame.blocks[b].K.At)
	}
	for i, form := range s.spring {
		for _, t := range form {
			for _, r := range form {
				largest = math.Max(largest, s.frame.springs[i].Stiffness*math.Abs(t.Factor*r.Factor*u[r.Freedom]))
			}
		}
	}
	return largest
}
