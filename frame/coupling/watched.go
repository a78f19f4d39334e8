package coupling

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame"
	"tiploop/frame/sparse"
)

// piece is the compliance between the watched places of one piece, row by row. Places of a piece have numbers in a row.
type piece struct {
	from, count int
	f           []float64
}

// skin is places of a body that are none of its freedoms.
type skin struct {
	first   int // number of the first as a freedom
	weights []frame.Form
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

// AddSkin adds places to a body that are none of the frame's freedoms: they move as weights say with the frame's, and
// by local under forces on one another. It returns the number by which forms name the first of them. All weights must
// be on one piece.
func (p *Pieces) AddSkin(weights []frame.Form, local *mat.SymDense) (first int) {
	if local.SymmetricDim() != len(weights) {
		panic(fmt.Sprintf("coupling: skin of %d places with a compliance of order %d", len(weights), local.SymmetricDim()))
	}
	if p.place != nil {
		panic("coupling: skin added after Watch")
	}
	s := skin{first: p.order, weights: weights, local: local, piece: -1}
	for _, form := range weights {
		for _, t := range form {
			s.piece = p.of[p.frame.Owner(t.Freedom)]
		}
	}
	p.skins = append(p.skins, s)
	p.order += len(weights)
	return s.first
}

// terms are a form's over unknowns, and over freedoms of skins counted on from there.
func (p *Pieces) terms(form frame.Form) frame.Form {
	var inner, skins frame.Form
	for _, t := range form {
		if t.Freedom >= p.sys.Freedoms() && !frame.IsShape(t.Freedom) {
			skins = append(skins, frame.Term{Freedom: t.Freedom - p.sys.Freedoms() + p.sys.Unknowns(), Factor: t.Factor})
		} else {
			inner = append(inner, t)
		}
	}
	return append(p.sys.Reduce(inner), frame.Form(nil).Plus(1, skins)...)
}

// Watch works out what the pieces give between all places that forms touch. It must be called once, with all forms that
// are used later.
func (p *Pieces) Watch(forms ...frame.Form) {
	unknowns := p.sys.Unknowns()
	p.place = make([]int32, unknowns+p.order-p.sys.Freedoms())
	for i := range p.place {
		p.place[i] = -1
	}
	pieceOf := func(i int) int {
		if i < unknowns {
			return p.of[p.sys.UnknownNode(i)]
		}
		for _, s := range p.skins {
			if at := i - unknowns + p.sys.Freedoms() - s.first; at >= 0 && at < len(s.weights) {
				return s.piece
			}
		}
		panic("coupling: form on a freedom that is not there")
	}
	touched := make([][]int, p.count)
	touch := func(form frame.Form) {
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

func springForms(springs []frame.Spring) []frame.Form {
	forms := make([]frame.Form, len(springs))
	for i, s := range springs {
		forms[i] = s.Form
	}
	return forms
}

// compliance is that between places of a piece, row by row; places are unknowns first, then freedoms of skins.
func (p *Pieces) compliance(k int, places []int) []float64 {
	unknowns := p.sys.Unknowns()
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
	p.sys.Factored().ComplianceTo(all, columns)
	at := make([]int, len(places)) // column of each place
	for i, u := range places {
		at[i] = i
		if i >= own {
			at[i] = own
			for _, s := range skins {
				if k := u - unknowns + p.sys.Freedoms() - s.first; k >= 0 && k < len(s.weights) {
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
func (p *Pieces) over(forms []frame.Form) []places {
	list := make([]places, len(forms))
	for i, f := range forms {
		for _, t := range p.terms(f) {
			if p.place[t.Freedom] < 0 {
				panic("coupling: form on a place that is not watched")
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
