package coupling

import (
	"gonum.org/v1/gonum/floats"

	"tiploop/frame"
)

// Joined is the pieces held together by the springs of up to two axes, position by position. The matrix takes them in
// three groups: the springs of a first axis, factored once for all positions of a second; those of the second; and the
// anchors, which come out again. That of the first two groups is positive definite and what is left of the anchors'
// negative definite, so that L·D·Lᵀ needs no pivots.
type Joined struct {
	probe *Probe
	first *Connection
	l     [][]float64 // rows of L left of the diagonal
	inv   []float64   // 1/D
	raw   []float64   // a row of L·D
	sum   []float64
	edge  [][]float64 // of each anchor: its row of L·D at the first axis's springs
	none  *Connection

	// By push of a tip, then by state:
	tips, ends [][]float64 // what tips and anchors read of it
	right      [][]float64 // L⁻¹ times the stretch of all springs
	scaled     [][]float64 // D⁻¹ times that
	seen       *places     // of the target that they are of
}

// Join holds the pieces by a first axis's springs; nil holds nothing. The connection must be of this probe.
func (q *Probe) Join(first *Connection) *Joined {
	j := &Joined{probe: q, first: first, none: q.Connect(nil)}
	if first == nil {
		j.first = j.none
	}
	j.tips, j.ends = q.read(q.forms, q.tip), q.read(springForms(q.pieces.anchors), q.pieces.rows)
	n := len(j.first.rows)
	j.reserve(n)
	for i := range n {
		j.factor(i, 0, j.first.own[i*n:], j.first.own[i*n+i])
	}
	for a := range q.pieces.rows {
		edge := make([]float64, n)
		for c := range n {
			edge[c] = j.first.anchors[a*n+c] - dot(edge[:c], j.l[c])
		}
		j.edge = append(j.edge, edge)
	}
	return j
}

// reserve makes room for a matrix of an order.
func (j *Joined) reserve(order int) {
	for i := len(j.l); i < order; i++ {
		j.l = append(j.l, make([]float64, i))
		j.inv = append(j.inv, 0)
	}
	if len(j.raw) >= order {
		return
	}
	j.raw, j.sum = make([]float64, order), make([]float64, order)
	j.right, j.scaled, j.seen = nil, nil, nil
	for range j.tips {
		j.right, j.scaled = append(j.right, make([]float64, order)), append(j.scaled, make([]float64, order))
	}
}

// factor is row i of L and D. Its entries of L·D before begin stand in raw; given are those of the matrix from there to
// the diagonal, and on the diagonal.
func (j *Joined) factor(i, begin int, left []float64, diagonal float64) {
	raw, l := j.raw[:i], j.l[i]
	for c := begin; c < i; c++ {
		raw[c] = left[c-begin] - dot(raw[:c], j.l[c])
	}
	for c, v := range raw {
		l[c] = v * j.inv[c]
	}
	j.inv[i] = 1 / (diagonal - dot(raw, l))
}

// dot is the inner product of two rows of the same length: gonum's from the length on at which calling it pays.
func dot(a, b []float64) (sum float64) {
	if len(a) >= 8 {
		return floats.Dot(a, b)
	}
	b = b[:len(a)]
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// Target is a place that the tips act on and are read against, such as a spot of the work: a form for each tip.
type Target struct {
	rows []places
	read [][]float64 // [push of a tip, then state][form]
	ends [][]float64 // [form][anchor]: what the anchors feel of a push

	// What pushes on the target move in a skin beside it, and forces there at the target, with the freedoms under both
	// held; nil: there is none. across[i] is over the watched places from beside on.
	across [][]float64
	beside int32
}

// Target makes a target of forms, one for each tip. More is, for each state of the probe that has any, what the target
// moves in it beyond what the freedoms say.
func (q *Probe) Target(forms []frame.Form, more ...[]float64) Target {
	if len(forms) != len(q.tip) {
		panic("coupling: a target has a form for each tip")
	}
	rows := q.pieces.over(forms)
	s := Target{rows: rows, read: q.read(forms, rows)}
	for _, row := range rows {
		ends := make([]float64, len(q.pieces.anchor))
		for a, u := range q.pieces.anchor {
			ends[a] = row.of(u)
		}
		s.ends = append(s.ends, ends)
	}
	for n, by := range more {
		floats.Add(s.read[len(q.tip)+n], by)
	}
	return s
}

// Beside tells how the target and a skin of the same body move each other: across[i] is the movement of all places of
// the skin, whose first is given, under a unit force on form i.
func (q *Probe) Beside(s *Target, first int, across [][]float64) {
	p := q.pieces
	s.across, s.beside = make([][]float64, len(across)), -1
	for k := range across[0] {
		at := p.place[p.sys.Unknowns()+first-p.sys.Freedoms()+k]
		if at < 0 {
			continue
		}
		if s.beside < 0 {
			s.beside = at
		}
		for i := range across {
			s.across[i] = append(s.across[i], across[i][k])
		}
	}
}

// moves is what a push on form i of the target moves by its being beside a skin.
func (s *Target) moves(i int, row places) (sum float64) {
	line := s.across[i]
	for _, t := range row {
		if k := int(t.at - s.beside); k >= 0 && k < len(line) {
			sum += t.factor * line[k]
		}
	}
	return sum
}

// Response is what the tips do against a target in one position. Compliance[i][k] is how far tip i moves under a unit
// push of tip k on the target, and Moved[s][i] how far tip i moves in state s. What a target gives by itself is for the
// caller to add.
type Response struct {
	Compliance [][]float64
	Moved      [][]float64
}

// At answers for a position: the first axis where Join has it, a second one by its connection (nil: none), and the
// target. The response is valid until the next one is made with the same r.
func (j *Joined) At(second *Connection, s Target, r *Response) {
	if second == nil {
		second = j.none
	}
	order := j.complete(second)
	j.rightSides(second, s, order)
	tips := len(j.probe.tip)
	r.shape(tips, len(j.probe.states))
	for i := range tips {
		for k := range tips {
			r.Compliance[i][k] = j.tips[k][i] - s.read[k][i] - s.read[i][k] - dot(j.scaled[i][:order], j.right[k][:order])
		}
		for n := range j.probe.states {
			f := tips + n
			r.Moved[n][i] = j.tips[f][i] - s.read[f][i] - dot(j.scaled[i][:order], j.right[f][:order])
		}
	}
	j.probe.pieces.targetGive(s, r.Compliance)
}

// Held are the forces in the springs of the first axis in each state of the probe, with no second axis:
// [state][spring], each the spring's stiffness times what its form says and its stretch. They are known only of
// connections whose springs are taken as they are; it is not ok when there are more.
func (j *Joined) Held() (forces [][]float64, ok bool) {
	n := len(j.first.rows)
	if j.first.merged {
		return nil, false
	}
	order := j.complete(j.none)
	for s := range j.probe.states {
		f := len(j.probe.tip) + s
		right := make([]float64, order)
		copy(right, j.first.stretch[f])
		copy(right[n:], j.ends[f])
		for i := range order {
			right[i] -= dot(right[:i], j.l[i])
		}
		for i := range order {
			right[i] *= j.inv[i]
		}
		for i := order - 1; i >= 0; i-- { // the rows of L are the columns of what is left to solve
			for k, v := range j.l[i] {
				right[k] -= v * right[i]
			}
		}
		forces = append(forces, right[:n])
	}
	return forces, true
}

// shape makes r as large as its numbers.
func (r *Response) shape(tips, states int) {
	if len(r.Compliance) == tips && len(r.Moved) == states {
		return
	}
	r.Compliance, r.Moved = make([][]float64, tips), make([][]float64, states)
	for i := range r.Compliance {
		r.Compliance[i] = make([]float64, tips)
	}
	for i := range r.Moved {
		r.Moved[i] = make([]float64, tips)
	}
}

// targetGive adds what a target moves under unit forces on itself.
func (p *Pieces) targetGive(s Target, sum [][]float64) {
	for i, a := range s.rows {
		for k, b := range s.rows[:i+1] {
			v := 0.0
			for _, t := range a {
				c := p.pieceAt(int(t.at))
				line := c.f[(int(t.at)-c.from)*c.count:][:c.count]
				for _, o := range b {
					if at := int(o.at) - c.from; at >= 0 && at < c.count {
						v += t.factor * o.factor * line[at]
					}
				}
			}
			sum[i][k] += v
			if k < i {
				sum[k][i] += v
			}
		}
	}
}

// complete factors the rows of the second axis's springs and of the anchors, and returns the order of the whole.
func (j *Joined) complete(second *Connection) int {
	n, m, anchors := len(j.first.rows), len(second.rows), len(j.edge)
	order := n + m + anchors
	j.reserve(order)
	for i, row := range second.rows {
		j.first.under(row, j.sum[:n])
		copy(j.sum[n:], second.own[i*m:i*m+i])
		j.factor(n+i, 0, j.sum, second.own[i*m+i])
	}
	own := j.probe.pieces.own
	for a := range anchors {
		copy(j.raw, j.edge[a])
		copy(j.sum, second.anchors[a*m:(a+1)*m])
		copy(j.sum[m:], own[a*anchors:a*anchors+a])
		j.factor(n+m+a, n, j.sum, own[a*anchors+a])
	}
	return order
}

// rightSides works out L⁻¹ times the stretch that each push and state makes in the springs: of a push, that of the tip
// less that of the target. What the first axis's springs have of it stays as long as the target does.
func (j *Joined) rightSides(second *Connection, s Target, order int) {
	n, m := len(j.first.rows), len(second.rows)
	begun := 0
	if &s.rows[0] == j.seen {
		begun = n
	}
	j.seen = &s.rows[0]
	for k, right := range j.right {
		if begun == 0 {
			j.stretched(right[:n], j.first, k, &s)
		}
		j.stretched(right[n:n+m], second, k, &s)
		for a, v := range j.ends[k] {
			right[n+m+a] = v
			if k < len(s.rows) {
				right[n+m+a] -= s.ends[k][a]
			}
		}
		for i := begun; i < order; i++ {
			right[i] -= dot(right[:i], j.l[i])
			j.scaled[k][i] = right[i] * j.inv[i]
		}
	}
}

// stretched writes how a push or a state stretches an axis's springs.
func (j *Joined) stretched(to []float64, g *Connection, k int, s *Target) {
	if k >= len(s.rows) {
		copy(to, g.stretch[k])
		return
	}
	g.under(s.rows[k], to)
	if s.across != nil {
		for i, row := range g.rows {
			to[i] += s.moves(k, row)
		}
	}
	for i, v := range g.stretch[k] {
		to[i] = v - to[i]
	}
}
