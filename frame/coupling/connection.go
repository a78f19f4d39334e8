package coupling

import (
	"fmt"

	"gonum.org/v1/gonum/floats"

	"tiploop/frame"
)

// Probe is what is asked of every position: how one form of a piece, such as a tool's tip, moves against another that
// differs from position to position, such as the work under it.
type Probe struct {
	pieces *Pieces
	forms  []frame.Form // of the tips
	tip    []places
	gives  [][]float64 // F·tip of each tip over all watched places
	states [][]float64 // values of all freedoms, those of the skins last
}

// Probe asks for the movement of tips and of states, the free movements that loads make of the pieces by themselves. A
// state is the value of all freedoms, those of the skins last.
func (p *Pieces) Probe(tips []frame.Form, states ...[]float64) *Probe {
	q := &Probe{pieces: p, forms: tips, tip: p.over(tips), states: states}
	for _, t := range q.tip {
		q.gives = append(q.gives, p.give(t))
	}
	for _, s := range states {
		if len(s) != p.order {
			panic(fmt.Sprintf("coupling: state of %d values of %d freedoms", len(s), p.order))
		}
	}
	return q
}

// read is what some forms, also given over watched places, read of each tip's push and of each state: [form of each
// field].
func (q *Probe) read(forms []frame.Form, rows []places) (values [][]float64) {
	for _, g := range q.gives {
		line := make([]float64, len(rows))
		for i, row := range rows {
			line[i] = row.of(g)
		}
		values = append(values, line)
	}
	for _, u := range q.states {
		line := make([]float64, len(forms))
		for i, form := range forms {
			line[i] = q.pieces.sys.Value(form, u) // prescribed movements are in the freedoms, not in the places
		}
		values = append(values, line)
	}
	return values
}

// Connection is the springs by which an axis in one position holds what moves along it.
type Connection struct {
	rows    []places
	gives   []float64   // F·P: what each watched place moves under each spring, [place][spring]
	own     []float64   // D⁻¹ + Pᵀ·F·P between the springs, row by row
	anchors []float64   // eᵀ·F·P: [anchor][spring]
	stretch [][]float64 // [push of a tip, then state][spring]
	merged  bool        // rows are fewer than the springs, which they stand for together
}

// Connect works out what does not depend on other axes. Stretched is, for each state of the probe that has any, by how
// much more than their forms say the springs are stretched in it: by the growth of what they stand on.
func (q *Probe) Connect(springs []frame.Spring, stretched ...[]float64) *Connection {
	p, g := q.pieces, &Connection{}
	forms := springForms(springs)
	g.rows, g.stretch = p.over(forms), q.read(forms, p.over(forms))
	for s, by := range stretched {
		floats.Add(g.stretch[len(q.tip)+s], by)
	}
	stiffness := make([]float64, len(springs))
	for i, s := range springs {
		if !(s.Stiffness > 0) {
			panic("coupling: an axis held by a spring of no stiffness")
		}
		stiffness[i] = s.Stiffness
	}
	if len(springs) > fewSprings {
		g.merged = true
		g.rows, stiffness, g.stretch = fewer(g.rows, stiffness, g.stretch)
	}
	n := len(g.rows)
	g.gives = make([]float64, p.watched()*n)
	for c, row := range g.rows {
		for at, v := range p.give(row) {
			g.gives[at*n+c] = v
		}
	}
	g.own = make([]float64, n*n)
	for i, row := range g.rows {
		g.under(row, g.own[i*n:(i+1)*n])
		g.own[i*n+i] += 1 / stiffness[i]
	}
	g.anchors = make([]float64, len(p.rows)*n)
	for i, e := range p.rows {
		g.under(e, g.anchors[i*n:(i+1)*n])
	}
	return g
}

// under writes into sum how far a form moves under each spring: formᵀ·F·P.
func (g *Connection) under(form places, sum []float64) {
	clear(sum)
	n := len(g.rows)
	for _, t := range form {
		for c, v := range g.gives[int(t.at)*n:][:len(sum)] {
			sum[c] += t.factor * v
		}
	}
}
