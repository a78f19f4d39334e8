package solid

import (
	"slices"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// Ports are zones along which something may be joined to a body that was reduced without them, all known together: the
// places of a carriage along its rail. None is a freedom of K.
//
// Zones that overlap read the same movements of the mesh, so that their number counts little: each is six forms over the
// touched unknowns, those of the mesh that any of them reads, or the zones' own freedoms where these are fewer. With φᵢ the
// form of a freedom and v the freedoms of K, it moves by
//
//	φᵢ·(Weights·v + Local·Σⱼ φⱼ·fⱼ)
//
// under forces fⱼ on all the ports' freedoms, and these are felt on the freedoms of K as Weightsᵀ·Σⱼ φⱼ·fⱼ. Weights and Local
// are a Reading's (see there), of touched unknowns.
type Ports struct {
	Zones   [][6][]sparse.Term // the freedoms of each, as sums of touched unknowns, numbered from 0
	Weights *mat.Dense         // movement of each touched unknown by each freedom of K, in K's order
	Local   *mat.SymDense      // movement of each touched unknown by a unit force on each, freedoms of K held

	loads [][]sparse.Term // unit forces on the touched unknowns, by unknown of the mesh
}

// Ports makes zones, which must lie on metal, to ports.
func (r *Reduced) Ports(zones ...Zone) (*Ports, error) {
	forms, err := r.formsOf(zones)
	if err != nil {
		return nil, err
	}
	p := &Ports{Weights: &mat.Dense{}, Local: &mat.SymDense{}}
	if len(zones) == 0 {
		return p, nil
	}
	p.loads, p.Zones = touched(forms)
	response := r.respond(p.loads)
	p.Weights, p.Local = response.weights, response.local
	return p, nil
}

// Reading is zone i by itself.
func (p *Ports) Reading(i int) Reading {
	reading := Reading{Local: p.Between(i, i)}
	for k, terms := range p.Zones[i] {
		reading.Weights[k] = weighed(terms, p.Weights)
	}
	return reading
}

// Between is the movement of each freedom of zone i by a unit force on each of zone j, freedoms of K held.
func (p *Ports) Between(i, j int) (moves [6][6]float64) {
	for l, pushed := range p.Zones[j] {
		for k, read := range p.Zones[i] {
			for _, a := range read {
				for _, b := range pushed {
					moves[k][l] += a.Factor * b.Factor * p.Local.At(a.Unknown, b.Unknown)
				}
			}
		}
	}
	return moves
}

// weighed is the sum of rows of a matrix.
func weighed(terms []sparse.Term, m *mat.Dense) []float64 {
	_, n := m.Dims()
	sum := make([]float64, n)
	for _, t := range terms {
		for j, v := range m.RawRowView(t.Unknown) {
			sum[j] += t.Factor * v
		}
	}
	return sum
}

// touched are unit forces on as few unknowns as tell all readings of zones: those of the mesh that any of them reads, or
// the zones' freedoms where these are fewer; and the zones as sums of them.
func touched(forms []form) (loads [][]sparse.Term, zones [][6][]sparse.Term) {
	number := map[int]int{}
	var unknowns []int
	for _, f := range forms {
		for _, s := range f {
			if _, ok := number[s.unknown]; !ok {
				number[s.unknown] = 0
				unknowns = append(unknowns, s.unknown)
			}
		}
	}
	zones = make([][6][]sparse.Term, len(forms))
	if len(unknowns) > 6*len(forms) {
		for i, f := range forms {
			for k := range 6 {
				zones[i][k] = []sparse.Term{{Unknown: len(loads), Factor: 1}}
				loads = append(loads, f.terms(k, func(unknown int) int { return unknown }))
			}
		}
		return loads, zones
	}
	slices.Sort(unknowns)
	for i, u := range unknowns {
		number[u] = i
		loads = append(loads, []sparse.Term{{Unknown: u, Factor: 1}})
	}
	for i, f := range forms {
		for k := range 6 {
			zones[i][k] = f.terms(k, func(unknown int) int { return number[unknown] })
		}
	}
	return loads, zones
}

// terms of one of the six readings.
func (f form) terms(k int, number func(unknown int) int) []sparse.Term {
	var terms []sparse.Term
	for _, s := range f {
		if s.reads[k] != 0 {
			terms = append(terms, sparse.Term{Unknown: number(s.unknown), Factor: s.reads[k]})
		}
	}
	return terms
}
