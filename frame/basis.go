package frame

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// Basis is a solved frame cut down to a few of its movements, in which it is solved again for other numbers.
//
// All that is not known of a frame makes springs and bodies stiffer or softer: K = Σ kᵢ·fᵢ·fᵢᵀ + Σ s_g·K_g. Movements V
// at hand, each group of bodies is a small matrix VᵀK_gV and each spring a short row fᵢᵀV, whatever the numbers, so that
// a draw costs the solution of as many equations as there are movements. The movements are the solutions at typical
// numbers and what is missing of those at some draws (Enrich); on them the potential energy is least. The energy that a
// solution lacks is the square of its error in energy, and for a load read by itself, as the tip is under a cut, that is
// the error of the movement itself. Another reading errs by no more than the root of the product of its own error and
// the load's (Hesthaven, Rozza & Stamm, Certified Reduced Basis Methods, 2016, ch. 3 and 4).
type Basis struct {
	sys    *System
	doubts Doubts
	sides  []side // loads, then forms

	groups            []group // the first is what is known
	ofMember, ofBlock []int   // group of each
	sources           map[string]int

	certain  []int // springs without a law
	doubtful []int // springs with one, in their order
	products       // of the groups and of the gives of doubtful springs
	vectors  [][]float64
	stretch  [][]float64 // forms of the doubtful springs on each vector
	probes   *probes
	packed   *packed // nil: the movements have changed since
}

// side is a right-hand side.
type side struct {
	force    []float64 // over freedoms, but for what is strained
	strained *strained // what goes with the stiffness; nil: nothing
	slack    float64   // by how much more of it may be lacking
}

// group is what goes with the same powers: its stiffness between the vectors, row by row to the diagonal.
type group struct {
	product int
	rows    [][]float64
	probed  [][]float64 // forces on each movement, by probe
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
	b := &Basis{sys: s, doubts: doubts, groups: []group{{product: known}}}
	b.sort()
	b.probe()
	for _, load := range loads {
		if err := b.begin(load, 1); err != nil {
			return nil, err
		}
	}
	for _, a := range aims {
		if err := b.begin(Load{Pushes: []Push{{Form: a.Form, Force: 1}}}, a.Slack); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// begin takes in the solution under a load at typical numbers.
func (b *Basis) begin(load Load, slack float64) error {
	solution, err := b.sys.Solve(load)
	if err != nil {
		return err
	}
	strained, held := b.strain(load)
	if strained != nil {
		floats.Sub(solution.U, held)
	}
	b.add(solution.U)
	b.sides = append(b.sides, side{force: b.sys.forces(load.steady()), strained: strained, slack: slack})
	return nil
}

// sort puts what goes with the same powers together.
func (b *Basis) sort() {
	f := b.sys.frame
	b.sources = map[string]int{}
	place := func(source string, powers []Power) int {
		if len(powers) == 0 {
			return 0
		}
		if _, ok := b.sources[source]; !ok {
			b.sources[source] = len(b.groups)
			b.groups = append(b.groups, group{product: b.number(powers)})
		}
		return b.sources[source]
	}
	for _, m := range f.members {
		b.ofMember = append(b.ofMember, place(m.Source, b.doubts.of(m)))
	}
	for _, bl := range f.blocks {
		b.ofBlock = append(b.ofBlock, place(bl.Source, b.doubts.Sources[bl.Source]))
	}
	typical := make([]float64, b.doubts.Unknowns)
	for i, s := range f.springs {
		law, ok := b.doubts.Springs[i]
		if !ok || len(law.Row) == 0 || s.Stiffness == 0 { // the last of a place without size, which nothing makes stiffer
			b.certain = append(b.certain, i)
			continue
		}
		const rounding = 1e-9
		if k := law.Stiffness(typical); !(math.Abs(k-s.Stiffness) <= rounding*s.Stiffness) {
			panic(fmt.Sprintf("frame: the law of spring %d (%s) makes %g of its %g", i, s.Source, k, s.Stiffness))
		}
		b.doubtful = append(b.doubtful, i)
		row := compiled{beside: law.Beside}
		for _, g := range law.Row {
			row.gives = append(row.gives, compiledGive{g.Typical, b.number(g.Of)})
		}
		b.laws = append(b.laws, row)
	}
}

// Size is the number of movements.
func (b *Basis) Size() int { return len(b.vectors) }

// add takes a movement in, free of those that are there, in energy at typical numbers; one made of them is left out.
func (b *Basis) add(u []float64) {
	u = slices.Clone(u)
	inner := b.sys.innerForces(u)
	before := floats.Dot(u, inner)
	left := before
	for range 2 { // once more for what the first pass leaves of rounding
		for _, v := range b.vectors {
			floats.AddScaled(u, -floats.Dot(v, inner), v)
		}
		inner = b.sys.innerForces(u)
		left = floats.Dot(u, inner)
	}
	if !(left > dependent*before) {
		return
	}
	floats.Scale(1/math.Sqrt(left), u)
	b.vectors = append(b.vectors, u)
	b.project(u)
	b.packed = nil
}

// project adds the newest movement to what is known between movements.
func (b *Basis) project(u []float64) {
	s := b.sys
	n := len(b.vectors)
	for g := range b.groups {
		b.groups[g].rows = append(b.groups[g].rows, make([]float64, n))
		b.groups[g].probed = append(b.groups[g].probed, make([]float64, len(b.probes.moved)))
	}
	var moved, force []float64
	between := func(g int, freedoms []int, forces func(moved, force []float64)) {
		moved, force = slices.Grow(moved[:0], len(freedoms))[:len(freedoms)], slices.Grow(force[:0], len(freedoms))[:len(freedoms)]
		for i, f := range freedoms {
			moved[i], force[i] = u[f], 0
		}
		forces(moved, force)
		row := b.groups[g].rows[n-1]
		for j, v := range b.vectors {
			for i, f := range freedoms {
				row[j] += v[f] * force[i]
			}
		}
		probed := b.groups[g].probed[n-1]
		for k, v := range b.probes.moved {
			for i, f := range freedoms {
				probed[k] += v[f] * force[i]
			}
		}
	}
	for m := range s.placed {
		between(b.ofMember[m], s.placed[m].freedoms[:], func(moved, force []float64) {
			for i := range force {
				force[i] = floats.Dot(s.k[m][i][:], moved)
			}
		})
	}
	for i, ids := range s.block {
		between(b.ofBlock[i], ids, func(moved, force []float64) { copy(force, s.frame.blocks[i].forces(moved)) })
	}
	row := b.groups[0].rows[n-1]
	for _, i := range b.certain {
		force := s.frame.springs[i].Stiffness * s.spring[i].Of(u)
		for j, v := range b.vectors {
			row[j] += s.spring[i].Of(v) * force
		}
		for k, v := range b.probes.moved {
			b.groups[0].probed[n-1][k] += s.spring[i].Of(v) * force
		}
	}
	stretch := make([]float64, len(b.doubtful))
	for k, i := range b.doubtful {
		stretch[k] = s.spring[i].Of(u)
	}
	b.stretch = append(b.stretch, stretch)
}

// On is a form on each of the movements.
func (b *Basis) On(form Form) []float64 {
	form = b.sys.frame.numbered(form)
	on := make([]float64, len(b.vectors))
	for j, v := range b.vectors {
		on[j] = form.Of(v)
	}
	return on
}

// OnSpring is the form of a spring on each of the movements.
func (b *Basis) OnSpring(spring int) []float64 { return b.On(b.sys.frame.springs[spring].Form) }
