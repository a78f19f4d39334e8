package coupling

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
)

// Pieces is a frame cut where something runs: what moves along an axis, and what it moves on, with none of the springs
// that hold the two together. A piece does not change by being moved, so it is factored once; a position is then no
// more than a few springs that join places of pieces, and is solved for the forces in these alone.
//
// Let P be the springs' forms, D their stiffnesses, F what the pieces give by themselves and g what acts on them. The
// forces s in the springs follow from their stretch,
//
//	(D⁻¹ + Pᵀ·F·P)·s = Pᵀ·F·g,    u = F·(g − P·s),
//
// the force method of statics, with F known beforehand at all places that any position uses (in dynamics the same
// coupling goes by the name of receptances: Bishop & Johnson, The Mechanics of Vibration, 1960, ch. 1).
//
// A piece that nothing else holds has no F. It is anchored by six springs to the ground, at one of its nodes, and by
// one for every way in which it is loose in itself; each position takes them out again, as springs of the opposite
// stiffness: D⁻¹ = −1/k. What is left is exact: of a piece that only the anchors hold, Pᵀ·F·P of the anchors is 1/k,
// and the equations say no more than that forces are in balance.
type Pieces struct {
	frame   *frame.Frame // with the anchors in it
	sys     *frame.System
	of      []int // piece of each node
	count   int   // of pieces
	anchors []frame.Spring
	skins   []skin
	order   int // freedoms of the frame and of the skins

	place  []int32 // of each unknown and each freedom of a skin among the watched, -1: not watched
	pieces []piece
	anchor [][]float64 // F·e of each anchor's form over all watched places
	own    []float64   // eᵀ·F·e − 1/k between the anchors, row by row
	rows   []places    // the anchors' forms
}

// anchorStiffness is that of the springs that anchor loose pieces, N/mm, and, with a reach of anchorReach, N·mm/rad: of
// the size of a machine's own, so that taking them out again cancels no digits.
const (
	anchorStiffness = 1e4
	anchorReach     = 100 // mm
)

// mostLoose is how many ways a frame's pieces may be loose in themselves.
const mostLoose = 60

// Detach factors a frame of which pieces may be loose from one another and from the ground, and in themselves, as two
// parts on a hinge that what runs keeps apart. The error is a *frame.LooseError when there are too many ways in which
// they are.
func Detach(f *frame.Frame) (*Pieces, error) {
	held := f.Clone()
	p := &Pieces{frame: held}
	p.of, p.count = f.Components()
	anchor := func(s frame.Spring) {
		p.anchors = append(p.anchors, s)
		held.AddSpring(s)
	}
	for _, first := range loosePieces(f, p.of, p.count) {
		for _, direction := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			anchor(frame.Spring{Form: frame.Move(first, r3.Vec{}, direction), Stiffness: anchorStiffness})
			anchor(frame.Spring{Form: frame.Turn(first, direction), Stiffness: anchorStiffness * anchorReach * anchorReach})
		}
	}
	for most := len(p.anchors) + mostLoose; ; {
		sys, err := held.Factor()
		var loose *frame.LooseError
		if errors.As(err, &loose) && len(p.anchors) < most {
			anchor(anchorAgainst(loose.Motion[:frame.NodeFreedoms*f.Nodes()]))
			continue
		}
		if err != nil {
			return nil, err
		}
		p.sys, p.order = sys, sys.Freedoms()
		return p, nil
	}
}

// anchorAgainst is a spring to the ground where a free motion of the nodes moves one most.
func anchorAgainst(motion []float64) frame.Spring {
	most, size := 0, 0.0
	for i, v := range motion {
		if v = math.Abs(v); i%frame.NodeFreedoms >= 3 {
			v *= anchorReach
		}
		if v > size {
			most, size = i, v
		}
	}
	s := frame.Spring{Form: frame.Form{{Freedom: most, Factor: 1}}, Stiffness: anchorStiffness}
	if most%frame.NodeFreedoms >= 3 {
		s.Stiffness *= anchorReach * anchorReach
	}
	return s
}

// firmly is the least share of the stiffest way a piece is held that the softest way must have to need no anchor.
const firmly = 1e-6

// loosePieces are the first nodes of the pieces that their own springs and constraints do not hold against every rigid
// motion.
func loosePieces(f *frame.Frame, of []int, count int) (first []int) {
	first = make([]int, count)
	for n := len(of) - 1; n >= 0; n-- {
		first[of[n]] = n
	}
	held := make([]*mat.SymDense, count)
	for k := range held {
		held[k] = mat.NewSymDense(6, nil)
	}
	// Freedoms beyond a node's six are shapes, which a rigid motion leaves alone.
	rigid := func(form frame.Form) (motion [6]float64, piece int) {
		piece = -1
		for _, t := range form {
			if frame.IsShape(t.Freedom) {
				continue
			}
			n, k := t.Freedom/frame.NodeFreedoms, t.Freedom%frame.NodeFreedoms
			piece = of[n]
			if k >= 3 {
				motion[k] += t.Factor / anchorReach
				continue
			}
			var axis [3]float64
			axis[k] = t.Factor
			arm := r3.Sub(f.Node(n), f.Node(first[piece]))
			turn := r3.Scale(1./anchorReach, r3.Cross(arm, r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]}))
			motion[k] += t.Factor
			motion[3] += turn.X
			motion[4] += turn.Y
			motion[5] += turn.Z
		}
		return motion, piece
	}
	hold := func(form frame.Form, stiffness float64) {
		motion, piece := rigid(form)
		if piece < 0 {
			return
		}
		held[piece].SymRankOne(held[piece], stiffness, mat.NewVecDense(6, motion[:]))
	}
	for _, s := range f.Springs() {
		hold(s.Form, s.Stiffness)
	}
	for _, c := range f.Constraints() {
		hold(c.Form, anchorStiffness)
	}
	var loose []int
	for k := range held {
		var eigen mat.EigenSym
		if !eigen.Factorize(held[k], false) {
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

// Solve finds what a load does to the pieces by themselves, anchored. Its forces on loose pieces are borne by the
// anchors until a position takes these out.
func (p *Pieces) Solve(load frame.Load) (*frame.Solution, error) { return p.sys.Solve(load) }
