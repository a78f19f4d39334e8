package coupling_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/coupling"
)

// gantry is a frame of 40 members and 41 nodes, 246 freedoms, in three pieces, with two axes between them: each of two
// carriages that hold in all six ways, so that 24 springs couple 48 freedoms of eight nodes.
type gantry struct {
	frame.Frame
	base, middle, top []int
}

func newGantry() *gantry {
	g := &gantry{}
	chain := func(count int, from, step r3.Vec) (nodes []int) {
		for i := range count {
			nodes = append(nodes, g.AddNode(r3.Add(from, r3.Scale(float64(i), step))))
		}
		for i := range count - 1 {
			g.AddMember(frame.Member{Ends: [2]int{nodes[i], nodes[i+1]}, Up: axisZ, Section: round(40), Made: aluminium})
		}
		return nodes
	}
	g.base = chain(19, r3.Vec{}, r3.Vec{X: 40})
	g.middle = chain(13, r3.Vec{X: 100, Z: 100}, r3.Vec{Y: 40})
	g.top = chain(9, r3.Vec{X: 100, Y: 100, Z: 250}, r3.Vec{Z: -20})
	for _, ends := range [][2]int{{g.base[0], g.base[9]}, {g.middle[0], g.middle[6]}} {
		g.AddMember(frame.Member{
			Ends: ends, Arms: [2]r3.Vec{{Z: -60}, {Z: -60}}, Up: axisZ, Section: round(25), Made: aluminium,
		})
	}
	for k := range 6 {
		g.Hold(g.base[0], k, "ground")
		g.Hold(g.base[18], k, "ground")
	}
	return g
}

// carriages are the springs of an axis at a share of its travel: two carriages on two nodes of the lower piece, along
// which they go, and two of the upper.
func (g *gantry) carriages(lower, upper []int, share float64) (springs []frame.Spring) {
	for k := range 2 {
		from, to := lower[2+6*k], upper[4*k]
		for _, d := range world {
			move := frame.Move(to, r3.Vec{Z: -30}, d).Plus(-1, frame.Move(from, r3.Vec{X: 20 * share, Y: 10}, d))
			springs = append(springs,
				frame.Spring{Form: move, Stiffness: 2e5 * (1 + share)},
				frame.Spring{Form: frame.Turn(to, d).Plus(-1, frame.Turn(from, d)), Stiffness: 3e8})
		}
	}
	return springs
}

// condensed is a gantry with all but its coupled freedoms condensed.
type condensed struct {
	freedom map[int]int // number among the coupled
	k       *mat.SymDense
	push    *mat.Dense // on the coupled freedoms by unit pushes of the tool on the work
	own     float64    // of the first tip with the coupled held
	solved  mat.Dense
	chol    mat.Cholesky
}

func newCondensed(g *gantry, against []frame.Form, coupling []frame.Spring) *condensed {
	c := &condensed{freedom: map[int]int{}}
	var forms []frame.Form
	for _, s := range coupling {
		for _, t := range s.Form {
			n := t.Freedom / 6
			for k := range 6 {
				if _, known := c.freedom[6*n+k]; !known {
					c.freedom[6*n+k] = len(forms)
					forms = append(forms, frame.Form{{Freedom: 6*n + k, Factor: 1}})
				}
			}
		}
	}
	n := len(forms)
	const anchor = 1e6 // of loose pieces, at coupled nodes; taken out again
	anchored := map[int]bool{}
	f := g.Frame
	for _, node := range [2]int{g.middle[0], g.top[0]} {
		for k := range 6 {
			f.AddSpring(frame.Spring{Form: frame.Form{{Freedom: 6*node + k, Factor: 1}}, Stiffness: anchor})
			anchored[c.freedom[6*node+k]] = true
		}
	}
	sys, err := f.Factor()
	if err != nil {
		panic(err)
	}
	all := append(forms, against...)
	rows := sys.Compliance(all, all)
	give := mat.NewSymDense(n, nil)
	across := mat.NewDense(n, len(against), nil)
	for i := range n {
		for j := range i + 1 {
			give.SetSym(i, j, rows[i][j])
		}
		for j := range against {
			across.Set(i, j, rows[i][n+j])
		}
	}
	c.k = mat.NewSymDense(n, nil)
	if !c.chol.Factorize(give) {
		panic("not positive definite")
	}
	if err := c.chol.InverseTo(c.k); err != nil {
		panic(err)
	}
	c.push = mat.NewDense(n, len(against), nil)
	c.push.Mul(c.k, across)
	c.own = rows[n][n]
	for i := range n {
		c.own -= across.At(i, 0) * c.push.At(i, 0)
		if anchored[i] {
			c.k.SetSym(i, i, c.k.At(i, i)-anchor)
		}
	}
	return c
}

// solve gives the compliance of the first tip with springs in place.
func (c *condensed) solve(springs []frame.Spring) float64 {
	k := mat.NewSymDense(c.k.SymmetricDim(), nil)
	k.CopySym(c.k)
	for _, s := range springs {
		for i, t := range s.Form {
			for _, o := range s.Form[:i+1] {
				a, b := c.freedom[t.Freedom], c.freedom[o.Freedom]
				k.SetSym(a, b, k.At(a, b)+s.Stiffness*t.Factor*o.Factor)
			}
		}
	}
	if !c.chol.Factorize(k) {
		panic("not positive definite")
	}
	if err := c.chol.SolveTo(&c.solved, c.push); err != nil {
		panic(err)
	}
	give := c.own
	for i := range k.SymmetricDim() {
		give += c.push.At(i, 0) * c.solved.At(i, 0)
	}
	return give
}

// BenchmarkPositions solves a plane of 100 by 100 positions under three loads on the tool, in three ways: by pieces;
// with everything but the coupled freedoms condensed beforehand, the way a careful script does it; and whole, in fewer
// positions.
func BenchmarkPositions(b *testing.B) {
	const side, condensedRows, wholes = 100, 10, 100
	g := newGantry()
	var tips, work []frame.Form
	for _, d := range world {
		tips = append(tips, frame.Move(g.top[8], r3.Vec{Z: -80}, d))
		work = append(work, frame.Move(g.base[9], r3.Vec{Z: 30}, d))
	}
	against := make([]frame.Form, 3)
	for d := range against {
		against[d] = tips[d].Plus(-1, work[d])
	}
	share := func(i int) float64 { return float64(i) / (side - 1) }
	at := func(i, k int) []frame.Spring {
		return append(g.carriages(g.base, g.middle, share(i)), g.carriages(g.middle, g.top, share(k))...)
	}
	var pieces, condensed, whole time.Duration
	for range b.N {
		begun := time.Now()
		p, err := coupling.Detach(&g.Frame)
		require.NoError(b, err)
		var first, second [][]frame.Spring
		forms := append(append([]frame.Form{}, tips...), work...)
		for i := range side {
			first = append(first, g.carriages(g.base, g.middle, share(i)))
			second = append(second, g.carriages(g.middle, g.top, share(i)))
			for _, s := range append(append([]frame.Spring{}, first[i]...), second[i]...) {
				forms = append(forms, s.Form)
			}
		}
		p.Watch(forms...)
		probe := p.Probe(tips)
		var connections []*coupling.Connection
		for i := range side {
			connections = append(connections, probe.Connect(second[i]))
		}
		target := probe.Target(work)
		var r coupling.Response
		corner := 0.0
		for i := range side {
			joined := probe.Join(probe.Connect(first[i]))
			for k := range side {
				joined.At(connections[k], target, &r)
				if i == 0 && k == 0 {
					corner = r.Compliance[0][0]
				}
			}
		}
		pieces += time.Since(begun)

		begun = time.Now()
		for i := range wholes {
			f := g.Frame
			for _, s := range at(i, 0) {
				f.AddSpring(s)
			}
			sys, err := f.Factor()
			require.NoError(b, err)
			c := sys.Compliance(against, against)
			if i == 0 {
				require.InEpsilon(b, c[0][0], corner, 1e-8)
			}
		}
		whole += time.Since(begun)

		begun = time.Now()
		c := newCondensed(g, against, at(0, 0))
		require.InEpsilon(b, c.solve(at(0, 0)), corner, 1e-8)
		for i := range condensedRows {
			for k := range side {
				c.solve(at(i, k))
			}
		}
		condensed += time.Since(begun)
	}
	n := float64(b.N)
	perPiece := pieces.Seconds() / n / (side * side)
	b.ReportMetric(1/perPiece, "positions/s")
	b.ReportMetric(whole.Seconds()/n/wholes/perPiece, "whole/piece")
	b.ReportMetric(condensed.Seconds()/n/(condensedRows*side)/perPiece, "condensed/piece")
}

// BenchmarkVariant assembles, factors and solves the same frame under 20 loads: what a design variant costs.
func BenchmarkVariant(b *testing.B) {
	g := newGantry()
	for _, s := range append(g.carriages(g.base, g.middle, 0.5), g.carriages(g.middle, g.top, 0.5)...) {
		g.AddSpring(s)
	}
	var loads []frame.Load
	for i := range 20 {
		form := frame.Move(g.top[i%9], r3.Vec{X: 5}, world[i%3])
		loads = append(loads, frame.Load{Pushes: []frame.Push{{Form: form, Force: 100}}})
	}
	b.ReportAllocs()
	for b.Loop() {
		sys, err := g.Factor()
		require.NoError(b, err)
		for _, l := range loads {
			_, err := sys.Solve(l)
			require.NoError(b, err)
		}
	}
}
