package frame

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// Basis is a solved frame cut down to a few of its movements, in which it is solved again for other numbers.
//
// All that is not known of a frame makes springs and bodies stiffer or softer, each part of it by one factor:
// K = Σ θ_p·K_p. Movements V at hand, each part is a small matrix VᵀK_pV, whatever the numbers, so that a draw costs the
// sum of those and the solution of as many equations as there are movements. The movements are the solutions at typical
// numbers and what is missing of those at some draws (Enrich); on them the potential energy is least. The energy that a
// solution lacks is the square of its error in energy, and for a load read by itself, as the tip is under a cut, that is
// the error of the movement itself. Another reading errs by no more than the root of the product of its own error and
// the load's (Hesthaven, Rozza & Stamm, Certified Reduced Basis Methods, 2016, ch. 3 and 4).
type Basis struct {
	sys    *System
	doubts Doubts
	sides  []side // loads, then forms
	loads  int

	products
	parts             []part    // the first is what is known
	ofMember, ofBlock []int     // part of each
	ofSpring          [][]share // of each: what it is made of
	ofSource          map[string]int

	vectors blas64.General // the movements, row by row
	stretch blas64.General // forms of the springs on each
	// What the parts do between the movements, a row of parts for each pair: the first with itself, the second with the
	// first and with itself, and so on; and to the probes, a row for each probe of each movement.
	pairs, probed blas64.General
	probes        *probes
	packed        *packed // nil: the movements have changed since
}

// side is a right-hand side.
type side struct {
	force    []float64 // over freedoms, but for what is strained
	strained *strained // what goes with the stiffness; nil: nothing
	slack    float64   // by how much more of it may be lacking
}

// dependent is the share of a movement's energy below which it is made of those before it.
const dependent = 1e-12

// Aim is a form that a basis has to know: pushed with a unit force, or only read.
type Aim struct {
	Form Form
	// Slack is by how much more of its energy than of a load's its solution may lack; 1 for what matters as much. A form
	// that is only read errs by the root of its own lack and the load's.
	Slack float64
}

// NewBasis begins with the solutions under some loads and under unit forces on forms, so that all of them are found
// again. Of a load that prescribes movements, and of one under which something grows, it knows what gives beside the
// movement that is prescribed. It panics when a law is not that of its spring.
func (s *System) NewBasis(doubts Doubts, loads []Load, aims []Aim) (*Basis, error) {
	b := &Basis{sys: s, doubts: doubts, loads: len(loads), vectors: general(0, s.size), stretch: general(0, len(s.spring))}
	b.sort()
	b.pairs, b.probed = general(0, len(b.parts)), general(0, len(b.parts))
	b.probe()
	slacks := make([]float64, len(loads))
	for i := range slacks {
		slacks[i] = 1
	}
	for _, a := range aims {
		loads, slacks = append(loads[:len(loads):len(loads)], Load{Pushes: []Push{{Form: a.Form, Force: 1}}}), append(slacks, a.Slack)
	}
	solutions, _, err := s.SolveAll(loads...)
	if err != nil {
		return nil, err
	}
	for i, load := range loads {
		strained, held := b.strain(load)
		if strained != nil {
			floats.Sub(solutions[i].U, held)
		}
		b.sides = append(b.sides, side{force: s.forces(load.steady()), strained: strained, slack: slacks[i]})
	}
	for _, solution := range solutions {
		b.add(solution.U)
	}
	return b, nil
}

// Size is the number of movements.
func (b *Basis) Size() int { return b.vectors.Rows }

// add takes a movement in, free of those that are there, in energy at typical numbers; one made of them is left out.
func (b *Basis) add(u []float64) {
	typical := b.typical()
	moved, along := general(1, len(u)), make([]float64, b.Size())
	copy(moved.Data, u)
	before, left := 0.0, 0.0
	for pass := range 2 { // once more for what the first pass leaves of rounding
		inner := b.forces(moved, typical)
		left = floats.Dot(moved.Data, inner.Data)
		if pass == 0 {
			before = left
		}
		if b.Size() > 0 {
			blas64.Gemv(blas.NoTrans, 1, b.vectors, vector(inner.Data), 0, vector(along))
			blas64.Gemv(blas.Trans, -1, b.vectors, vector(along), 1, vector(moved.Data))
			left -= floats.Dot(along, along)
		}
	}
	if !(left > dependent*before) {
		return
	}
	floats.Scale(1/math.Sqrt(left), moved.Data)
	b.vectors = appended(b.vectors, moved.Data)
	b.project()
	b.packed = nil
}

// project adds the newest movement to what is known between movements.
func (b *Basis) project() {
	n := b.Size()
	u := general(1, b.sys.size)
	copy(u.Data, row(b.vectors, n-1))
	stretch := make([]float64, len(b.sys.spring))
	for i, form := range b.sys.spring {
		stretch[i] = form.Of(u.Data)
	}
	b.stretch = appended(b.stretch, stretch)
	pairs, probed := general(n, len(b.parts)), general(probeCount, len(b.parts))
	for k := range b.parts {
		p := &b.parts[k]
		if p.elements != nil {
			moved := p.gathered(u)
			p.moved = appended(p.moved, moved.Data)
			force := vector(p.forces(moved.Data))
			blas64.Gemv(blas.NoTrans, 1, p.moved, force, 0, column(pairs, k))
			blas64.Gemv(blas.NoTrans, 1, p.probes, force, 0, column(probed, k))
		}
		for _, h := range p.springs {
			force := h.stiffness * stretch[h.spring]
			blas64.Axpy(force, column(b.stretch, h.spring), column(pairs, k))
			blas64.Axpy(force, column(b.probes.stretch, h.spring), column(probed, k))
		}
	}
	b.pairs, b.probed = appended(b.pairs, pairs.Data), appended(b.probed, probed.Data)
}

// On is a form on each of the movements.
func (b *Basis) On(form Form) []float64 {
	form = b.sys.frame.numbered(form)
	on := make([]float64, b.Size())
	for j := range on {
		on[j] = form.Of(row(b.vectors, j))
	}
	return on
}

// OnSpring is the form of a spring on each of the movements.
func (b *Basis) OnSpring(spring int) []float64 { return b.On(b.sys.frame.springs[spring].Form) }
