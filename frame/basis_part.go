package frame

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// part is what is multiplied by one factor in a draw: members, blocks and springs, or some of the stiffness of these.
type part struct {
	law      compiled
	freedoms []int // that its members and blocks hold, in rising order
	elements []element
	springs  []held

	moved, probes blas64.General // the movements and the probes at its freedoms
}

// element is the stiffness of a member or block.
type element struct {
	freedoms []int
	at       []int // the same by their places among the part's
	k        blas64.General
}

// held is how much of the stiffness of a spring belongs to a part.
type held struct {
	spring    int
	stiffness float64
}

// compiled is a row of gives by the numbers of the products they go with, typically one together: its factor is the
// stiffness that comes of it.
type compiled []compiledGive

type compiledGive struct {
	typical float64
	product int
}

// products are the different powers that gives go with: of a thousand springs a few dozen.
type products struct {
	list   [][]Power
	places map[string]int
}

// known is the product of no powers.
const known = -1

// number finds the number of a product, a new one where it is not there yet.
func (p *products) number(powers []Power) int {
	if len(powers) == 0 {
		return known
	}
	key := fmt.Sprint(powers)
	n, ok := p.places[key]
	if !ok {
		if p.places == nil {
			p.places = map[string]int{}
		}
		n = len(p.list)
		p.places[key] = n
		p.list = append(p.list, powers)
	}
	return n
}

// sorter puts what goes with the same factor together.
type sorter struct {
	*Basis
	places map[string]int // of parts, by their laws
}

// sort puts all of the frame into parts: first what is known.
func (b *Basis) sort() {
	f := b.sys.frame
	b.parts = []part{{}}
	b.ofSource = map[string]int{}
	to := sorter{b, map[string]int{}}
	add := func(source string, powers []Power, freedoms []int, k blas64.General) (n int) {
		if product := b.number(powers); product != known {
			n = to.place(compiled{{1, product}})
			b.ofSource[source] = n
		}
		b.parts[n].elements = append(b.parts[n].elements, element{freedoms: freedoms, k: k})
		return n
	}
	for i, m := range f.members {
		k := general(len(b.sys.k[i]), len(b.sys.k[i]))
		for r := range b.sys.k[i] {
			copy(row(k, r), b.sys.k[i][r][:])
		}
		b.ofMember = append(b.ofMember, add(m.Source, b.doubts.of(m), b.sys.placed[i].freedoms[:], k))
	}
	whole := map[*mat.SymDense]blas64.General{} // strips share theirs
	for i, bl := range f.blocks {
		if _, ok := whole[bl.K]; !ok {
			whole[bl.K] = filled(bl.K)
		}
		b.ofBlock = append(b.ofBlock, add(bl.Source, b.doubts.Sources[bl.Source], b.sys.block[i], whole[bl.K]))
	}
	for n := range b.parts {
		b.parts[n].number()
	}
	b.sortSprings(to)
}

// sortSprings puts the springs into parts; of one with something beside its law that is known.
func (b *Basis) sortSprings(to sorter) {
	typical := make([]float64, b.doubts.Unknowns)
	put := func(spring, part int, stiffness float64) {
		if stiffness != 0 {
			b.parts[part].springs = append(b.parts[part].springs, held{spring, stiffness})
			b.ofSpring[spring] = append(b.ofSpring[spring], share{part, stiffness})
		}
	}
	b.ofSpring = make([][]share, len(b.sys.frame.springs))
	for i, s := range b.sys.frame.springs {
		law, ok := b.doubts.Springs[i]
		if !ok || len(law.Row) == 0 || s.Stiffness == 0 { // the last of a place without size, which nothing makes stiffer
			put(i, 0, s.Stiffness)
			continue
		}
		const rounding = 1e-9
		if k := law.Stiffness(typical); !(math.Abs(k-s.Stiffness) <= rounding*s.Stiffness) {
			panic(fmt.Sprintf("frame: the law of spring %d (%s) makes %g of its %g", i, s.Source, k, s.Stiffness))
		}
		put(i, 0, law.Beside)
		give := 0.0
		for _, g := range law.Row {
			give += g.Typical
		}
		var row compiled
		for _, g := range law.Row {
			row = append(row, compiledGive{g.Typical / give, b.number(g.Of)})
		}
		put(i, to.place(row), 1/give)
	}
}

// place finds the part that goes with a law, a new one where there is none yet.
func (s *sorter) place(law compiled) int {
	const rounding = 1e-12
	key := ""
	for _, g := range law {
		key += fmt.Sprint(math.Round(g.typical/rounding), g.product, ";")
	}
	n, ok := s.places[key]
	if !ok {
		n = len(s.parts)
		s.places[key] = n
		s.parts = append(s.parts, part{law: law})
	}
	return n
}

// share is a part's share of a spring.
type share struct {
	part      int
	stiffness float64
}

// number gives the freedoms of the part their places.
func (p *part) number() {
	for _, e := range p.elements {
		p.freedoms = append(p.freedoms, e.freedoms...)
	}
	slices.Sort(p.freedoms)
	p.freedoms = slices.Compact(p.freedoms)
	p.moved = general(0, len(p.freedoms))
	for i := range p.elements {
		e := &p.elements[i]
		for _, f := range e.freedoms {
			e.at = append(e.at, sort.SearchInts(p.freedoms, f))
		}
	}
}

// gathered are movements at the part's freedoms only, row by row.
func (p *part) gathered(moved blas64.General) blas64.General {
	out := general(moved.Rows, len(p.freedoms))
	for i := range moved.Rows {
		from, to := row(moved, i), row(out, i)
		for k, f := range p.freedoms {
			to[k] = from[f]
		}
	}
	return out
}

// forces are those of its elements when its freedoms move.
func (p *part) forces(moved []float64) []float64 {
	out := make([]float64, len(moved))
	var room room
	for i := range p.elements {
		e := &p.elements[i]
		e.addForces(out, moved, e.at, 1, &room)
	}
	return out
}

// room is where the movements and forces of one element are gathered.
type room struct{ moved, force []float64 }

// addForces adds the forces of an element times a factor where its freedoms stand.
func (e *element) addForces(out, moved []float64, at []int, factor float64, r *room) {
	n := len(at)
	r.moved, r.force = slices.Grow(r.moved[:0], n)[:n], slices.Grow(r.force[:0], n)[:n]
	for k, f := range at {
		r.moved[k] = moved[f]
	}
	blas64.Gemv(blas.NoTrans, factor, e.k, vector(r.moved), 0, vector(r.force))
	for k, f := range at {
		out[f] += r.force[k]
	}
}

// forces are those on all freedoms when they move, each part times its factor, row by row.
func (b *Basis) forces(moved blas64.General, factors []float64) blas64.General {
	out := general(moved.Rows, moved.Cols)
	var room room
	for n := range b.parts {
		for k := range b.parts[n].elements {
			e := &b.parts[n].elements[k]
			for i := range moved.Rows {
				e.addForces(row(out, i), row(moved, i), e.freedoms, factors[n], &room)
			}
		}
	}
	for n, form := range b.sys.spring {
		stiffness := b.stiffness(n, factors)
		for i := range moved.Rows {
			to, force := row(out, i), stiffness*form.Of(row(moved, i))
			for _, t := range form {
				to[t.Freedom] += force * t.Factor
			}
		}
	}
	return out
}

// stiffness is that of a spring in a draw.
func (b *Basis) stiffness(spring int, factors []float64) (stiffness float64) {
	for _, s := range b.ofSpring[spring] {
		stiffness += s.stiffness * factors[s.part]
	}
	return stiffness
}

// factors are what the parts are multiplied by in a draw.
func (b *Basis) factors(logs []float64) []float64 {
	of := make([]float64, len(b.list))
	for i, powers := range b.list {
		of[i] = Product(powers, logs)
	}
	factors := b.typical()
	for n, p := range b.parts {
		if p.law == nil {
			continue // it is known
		}
		give := 0.0
		for _, g := range p.law {
			if g.product == known {
				give += g.typical
			} else {
				give += g.typical / of[g.product]
			}
		}
		factors[n] = 1 / give
	}
	return factors
}

// typical are the factors at typical numbers.
func (b *Basis) typical() []float64 {
	factors := make([]float64, len(b.parts))
	floats.AddConst(1, factors)
	return factors
}

// least is the smallest share of its typical stiffness that anything has; at most one.
func (b *Basis) least(factors []float64) float64 {
	least := 1.0
	for n, p := range b.parts {
		if p.elements != nil {
			least = min(least, factors[n])
		}
	}
	for i, s := range b.sys.frame.springs {
		if s.Stiffness != 0 {
			least = min(least, b.stiffness(i, factors)/s.Stiffness)
		}
	}
	return least
}

// filled is a symmetric matrix with both its triangles.
func filled(k *mat.SymDense) blas64.General {
	n := k.SymmetricDim()
	out := general(n, n)
	for i := range n {
		for j := range n {
			out.Data[i*n+j] = k.At(i, j)
		}
	}
	return out
}

func general(rows, cols int) blas64.General {
	return blas64.General{Rows: rows, Cols: cols, Stride: max(1, cols), Data: make([]float64, rows*cols)}
}

func vector(data []float64) blas64.Vector { return blas64.Vector{N: len(data), Data: data, Inc: 1} }

// row is one of a matrix, in which rows follow one another without gaps.
func row(m blas64.General, i int) []float64 { return m.Data[i*m.Cols:][:m.Cols:m.Cols] }

func column(m blas64.General, j int) blas64.Vector {
	if m.Rows == 0 {
		return blas64.Vector{Inc: m.Stride}
	}
	return blas64.Vector{N: m.Rows, Data: m.Data[j:], Inc: m.Stride}
}

// appended is a matrix with more rows, of as many numbers as there are columns.
func appended(m blas64.General, rows []float64) blas64.General {
	if len(m.Data)+len(rows) > cap(m.Data) {
		m.Data = slices.Grow(m.Data, len(m.Data)+len(rows)) // twice as much, so that a basis is copied seldom while it grows
	}
	m.Data = append(m.Data, rows...)
	m.Rows = len(m.Data) / m.Stride
	return m
}
