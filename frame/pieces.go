package frame

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/sparse"
)

// Pieces is a frame cut where something runs: what moves along an axis, and what it moves on, with none of the springs
// that hold the two together. A piece does not change by being moved, so it is factored once; a position is then no more
// than a few springs that join places of pieces, and is solved for the forces in these alone.
//
// Let P be the springs' forms, D their stiffnesses, F what the pieces give by themselves and g what acts on them. The forces
// s in the springs follow from their stretch,
//
//	(D⁻¹ + Pᵀ·F·P)·s = Pᵀ·F·g,    u = F·(g − P·s),
//
// the force method of statics, with F known beforehand at all places that any position uses (in dynamics the same coupling
// goes by the name of receptances: Bishop & Johnson, The Mechanics of Vibration, 1960, ch. 1).
//
// A piece that nothing else holds has no F. It is anchored by six springs to the ground, at one of its nodes, and by one for
// every way in which it is loose in itself; each position takes them out again, as springs of the opposite stiffness:
// D⁻¹ = −1/k. What is left is exact: of a piece that only the anchors hold, Pᵀ·F·P of the anchors is 1/k, and the equations
// say no more than that forces are in balance.
type Pieces struct {
	sys     *System
	of      []int // piece of each node
	anchors []Spring
	skins   []skin
	order   int // freedoms of the frame and of the skins

	place  []int32 // of each unknown and each freedom of a skin among the watched, -1: not watched
	pieces []piece
	anchor [][]float64 // F·e of each anchor's form over all watched places
	own    []float64   // eᵀ·F·e − 1/k between the anchors, row by row
	rows   []places    // the anchors' forms
}

// piece is the compliance between the watched places of one piece, row by row. Places of a piece have numbers in a row.
type piece struct {
	from, count int
	f           []float64
}

// skin is places of a body that are none of its freedoms.
type skin struct {
	first   int // number of the first as a freedom
	weights []Form
	local   *mat.SymDense
	piece   int
}

// places is a form over watched places.
type places []placeTerm

type placeTerm struct {
	at     int32
	factor float64
}

// of is the form's value.
func (p places) of(u []float64) float64 {
	sum := 0.0
	for _, t := range p {
		sum += t.factor * u[t.at]
	}
	return sum
}

// anchorStiffness is that of the springs that anchor loose pieces, N/mm, and, with a reach of anchorReach, N·mm/rad: of the
// size of a machine's own, so that taking them out again cancels no digits.
const (
	anchorStiffness = 1e4
	anchorReach     = 100 // mm
)

// mostLoose is how many ways a frame's pieces may be loose in themselves.
const mostLoose = 60

// Detach factors a frame of which pieces may be loose from one another and from the ground, and in themselves, as two parts
// on a hinge that what runs keeps apart. The error is a *LooseError when there are too many ways in which they are.
func (f *Frame) Detach() (*Pieces, error) {
	p := &Pieces{of: f.components()}
	held := *f
	held.springs = slices.Clone(f.springs)
	for _, first := range f.loosePieces(p.of) {
		for _, direction := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			p.anchors = append(p.anchors,
				Spring{Form: Move(first, r3.Vec{}, direction), Stiffness: anchorStiffness},
				Spring{Form: Turn(first, direction), Stiffness: anchorStiffness * anchorReach * anchorReach})
		}
	}
	held.springs = append(held.springs, p.anchors...)
	for most := len(p.anchors) + mostLoose; ; {
		sys, err := held.Factor()
		var loose *LooseError
		if errors.As(err, &loose) && len(p.anchors) < most {
			against := f.anchorAgainst(loose.Motion)
			p.anchors, held.springs = append(p.anchors, against), append(held.springs, against)
			continue
		}
		if err != nil {
			return nil, err
		}
		p.sys, p.order = sys, sys.size
		return p, nil
	}
}

// anchorAgainst is a spring to the ground where a free motion moves a node most.
func (f *Frame) anchorAgainst(motion []float64) Spring {
	most, size := 0, 0.0
	for i, v := range motion[:nodeFreedoms*len(f.nodes)] {
		if v = math.Abs(v); i%nodeFreedoms >= 3 {
			v *= anchorReach
		}
		if v > size {
			most, size = i, v
		}
	}
	s := Spring{Form: Form{{most, 1}}, Stiffness: anchorStiffness}
	if most%nodeFreedoms >= 3 {
		s.Stiffness *= anchorReach * anchorReach
	}
	return s
}

// components numbers the pieces of a frame and gives each node's.
func (f *Frame) components() []int {
	root := make([]int, len(f.nodes))
	for i := range root {
		root[i] = i
	}
	find := func(n int) int {
		for root[n] != n {
			root[n] = root[root[n]]
			n = root[n]
		}
		return n
	}
	var first int
	join := func(n int) {
		a, b := find(first), find(n)
		root[max(a, b)] = min(a, b)
	}
	together := func(freedoms []int) {
		for i, freedom := range freedoms {
			n := f.owner(f.index(freedom))
			if i == 0 {
				first = n
			}
			join(n)
		}
	}
	ofForm := func(form Form) {
		freedoms := make([]int, len(form))
		for i, t := range form {
			freedoms[i] = t.Freedom
		}
		together(freedoms)
	}
	for _, m := range f.members {
		first = m.Ends[0]
		join(m.Ends[1])
	}
	for _, b := range f.blocks {
		together(b.Freedoms)
	}
	for _, s := range f.springs {
		if s.Stiffness > 0 {
			ofForm(s.Form)
		}
	}
	for _, c := range f.constraints {
		ofForm(c.Form)
	}
	number := map[int]int{}
	of := make([]int, len(f.nodes))
	for n := range of {
		r := find(n)
		if _, known := number[r]; !known {
			number[r] = len(number)
		}
		of[n] = number[r]
	}
	return of
}

// firmly is the least share of the stiffest way a piece is held that the softest way must have to need no anchor.
const firmly = 1e-6

// loosePieces are the first nodes of the pieces that their own springs and constraints do not hold against every rigid
// motion.
func (f *Frame) loosePieces(of []int) (first []int) {
	count := 0
	for _, k := range of {
		count = max(count, k+1)
	}
	first = make([]int, count)
	for n := len(of) - 1; n >= 0; n-- {
		first[of[n]] = n
	}
	grip := make([]*mat.SymDense, count)
	for k := range grip {
		grip[k] = mat.NewSymDense(6, nil)
	}
	// Freedoms beyond a node's six are shapes, which a rigid motion leaves alone.
	rigid := func(form Form) (motion [6]float64, piece int) {
		piece = -1
		for _, t := range form {
			if t.Freedom < 0 {
				continue
			}
			n, k := t.Freedom/nodeFreedoms, t.Freedom%nodeFreedoms
			piece = of[n]
			if k >= 3 {
				motion[k] += t.Factor / anchorReach
				continue
			}
			var axis [3]float64
			axis[k] = t.Factor
			arm := r3.Sub(f.nodes[n], f.nodes[first[piece]])
			turn := r3.Scale(1./anchorReach, r3.Cross(arm, r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]}))
			motion[k] += t.Factor
			motion[3] += turn.X
			motion[4] += turn.Y
			motion[5] += turn.Z
		}
		return motion, piece
	}
	hold := func(form Form, stiffness float64) {
		motion, piece := rigid(form)
		if piece < 0 {
			return
		}
		grip[piece].SymRankOne(grip[piece], stiffness, mat.NewVecDense(6, motion[:]))
	}
	for _, s := range f.springs {
		hold(s.Form, s.Stiffness)
	}
	for _, c := range f.constraints {
		hold(c.Form, anchorStiffness)
	}
	var loose []int
	for k := range grip {
		var eigen mat.EigenSym
		if !eigen.Factorize(grip[k], false) {
			loose = append(loose, first[k])
			continue
		}
		values := eigen.Values(nil)
		if !(values[0] > firmly*values[5]) {
			loose = append(loose, first[k])
		}
	}
	return loose
}

// AddSkin adds places to a body that are none of the frame's freedoms: they move as weights say with the frame's, and by
// local under forces on one another. It returns the number by which forms name the first of them. All weights must be on
// one piece.
func (p *Pieces) AddSkin(weights []Form, local *mat.SymDense) (first int) {
	if local.SymmetricDim() != len(weights) {
		panic(fmt.Sprintf("frame: skin of %d places with a compliance of order %d", len(weights), local.SymmetricDim()))
	}
	if p.place != nil {
		panic("frame: skin added after Watch")
	}
	s := skin{first: p.order, weights: weights, local: local, piece: -1}
	for _, form := range weights {
		for _, t := range form {
			s.piece = p.of[p.sys.frame.owner(p.sys.frame.index(t.Freedom))]
		}
	}
	p.skins = append(p.skins, s)
	p.order += len(weights)
	return s.first
}

// terms are a form's over unknowns, and over freedoms of skins counted on from there.
func (p *Pieces) terms(form Form) Form {
	var inner, skins Form
	for _, t := range form {
		if t.Freedom >= p.sys.size {
			skins = append(skins, Term{t.Freedom - p.sys.size + p.sys.red.unknowns, t.Factor})
		} else {
			inner = append(inner, t)
		}
	}
	return append(p.sys.red.form(p.sys.frame.settle(inner)), skins.tidy()...)
}

// Watch works out what the pieces give between all places that forms touch. It must be called once, with all forms that
// are used later.
func (p *Pieces) Watch(forms ...Form) {
	unknowns := p.sys.red.unknowns
	p.place = make([]int32, unknowns+p.order-p.sys.size)
	for i := range p.place {
		p.place[i] = -1
	}
	pieceOf := func(i int) int {
		if i < unknowns {
			return p.of[p.sys.red.owner[i]]
		}
		for _, s := range p.skins {
			if at := i - unknowns + p.sys.size - s.first; at >= 0 && at < len(s.weights) {
				return s.piece
			}
		}
		panic("frame: form on a freedom that is not there")
	}
	count := 0
	for _, k := range p.of {
		count = max(count, k+1)
	}
	touched := make([][]int, count)
	touch := func(form Form) {
		for _, t := range p.terms(form) {
			if p.place[t.Freedom] < 0 {
				p.place[t.Freedom] = 0
				k := pieceOf(t.Freedom)
				touched[k] = append(touched[k], t.Freedom)
			}
		}
	}
	for _, f := range forms {
		touch(f)
	}
	for _, a := range p.anchors {
		touch(a.Form)
	}
	next := 0
	for k := range touched {
		slices.Sort(touched[k])
		for i, u := range touched[k] {
			p.place[u] = int32(next + i)
		}
		p.pieces = append(p.pieces, piece{from: next, count: len(touched[k]), f: p.compliance(k, touched[k])})
		next += len(touched[k])
	}
	p.rows = p.over(springForms(p.anchors))
	p.anchor = make([][]float64, len(p.rows))
	for i, row := range p.rows {
		p.anchor[i] = p.give(row)
	}
	n := len(p.rows)
	p.own = make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			p.own[i*n+j] = p.rows[i].of(p.anchor[j])
		}
		p.own[i*n+i] -= 1 / p.anchors[i].Stiffness
	}
}

func springForms(springs []Spring) []Form {
	forms := make([]Form, len(springs))
	for i, s := range springs {
		forms[i] = s.Form
	}
	return forms
}

// compliance is that between places of a piece, row by row; places are unknowns first, then freedoms of skins.
func (p *Pieces) compliance(k int, places []int) []float64 {
	unknowns := p.sys.red.unknowns
	own, _ := slices.BinarySearch(places, unknowns) // so many are unknowns
	var skins []skin
	for _, s := range p.skins {
		if s.piece == k {
			skins = append(skins, s)
		}
	}
	columns := make([][]sparse.Term, 0, own)
	for _, u := range places[:own] {
		columns = append(columns, []sparse.Term{{Unknown: u, Factor: 1}})
	}
	for _, s := range skins {
		for _, w := range s.weights {
			var column []sparse.Term
			for _, t := range p.terms(w) {
				column = append(column, sparse.Term{Unknown: t.Freedom, Factor: t.Factor})
			}
			columns = append(columns, column)
		}
	}
	n := len(columns)
	all := make([]float64, n*n)
	p.sys.factor.ComplianceTo(all, columns)
	at := make([]int, len(places)) // column of each place
	for i, u := range places {
		at[i] = i
		if i >= own {
			at[i] = own
			for _, s := range skins {
				if k := u - unknowns + p.sys.size - s.first; k >= 0 && k < len(s.weights) {
					at[i] += k
					break
				}
				at[i] += len(s.weights)
			}
		}
	}
	from := own
	for _, s := range skins {
		for i := range s.weights {
			for j := range s.weights {
				all[(from+i)*n+from+j] += s.local.At(i, j)
			}
		}
		from += len(s.weights)
	}
	if len(places) == n {
		return all
	}
	f := make([]float64, len(places)*len(places))
	for i, a := range at {
		for j, b := range at {
			f[i*len(places)+j] = all[a*n+b]
		}
	}
	return f
}

// over turns forms into forms over watched places.
func (p *Pieces) over(forms []Form) []places {
	list := make([]places, len(forms))
	for i, f := range forms {
		for _, t := range p.terms(f) {
			if p.place[t.Freedom] < 0 {
				panic("frame: form on a place that is not watched")
			}
			list[i] = append(list[i], placeTerm{p.place[t.Freedom], t.Factor})
		}
		slices.SortFunc(list[i], func(a, b placeTerm) int { return int(a.at - b.at) })
	}
	return list
}

// watched is the number of watched places.
func (p *Pieces) watched() int {
	last := p.pieces[len(p.pieces)-1]
	return last.from + last.count
}

// give is how all watched places move under a unit force on a form: F·form.
func (p *Pieces) give(row places) []float64 {
	u := make([]float64, p.watched())
	for _, t := range row {
		c := p.pieceAt(int(t.at))
		line := c.f[(int(t.at)-c.from)*c.count:][:c.count]
		to := u[c.from : c.from+c.count]
		for i, v := range line {
			to[i] += t.factor * v
		}
	}
	return u
}

// pieceAt is the piece of a watched place.
func (p *Pieces) pieceAt(at int) *piece {
	k := 0
	for at >= p.pieces[k].from+p.pieces[k].count {
		k++
	}
	return &p.pieces[k]
}

// Solve finds what a load does to the pieces by themselves, anchored. Its forces on loose pieces are borne by the anchors
// until a position takes these out.
func (p *Pieces) Solve(load Load) (*Solution, error) { return p.sys.Solve(load) }
