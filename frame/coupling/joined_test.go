package coupling_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame"
	"tiploop/frame/coupling"
)

// stack is a base on the ground with two floating pieces above it, each a row of bars, the springs of two axes that
// hold them in some positions, a tool on the last piece and places of work on the base.
type stack struct {
	frame.Frame
	first, second [][]frame.Spring // by position
	tips          []frame.Form
	work          [][]frame.Form
	load          frame.Load
}

const (
	stackNodes   = 7
	stackBar     = 150.0 // mm
	stackTargets = 3
	stackWay     = 3  // positions of an axis
	stackPerRow  = 6  // pairs of springs of an axis
	stackMost    = 40 // as of a slide, more than its places can tell apart
)

func newStack(c chance) *stack {
	s := &stack{}
	row := func(from r3.Vec) (nodes []int) {
		along := c.direction()
		for i := range stackNodes {
			nodes = append(nodes, s.AddNode(r3.Add(from, r3.Scale(stackBar*float64(i), along))))
		}
		for i := range stackNodes - 1 {
			s.AddMember(frame.Member{
				Ends: [2]int{nodes[i], nodes[i+1]}, Up: c.direction(), Section: round(c.log(10, 60)), Made: aluminium,
			})
		}
		return nodes
	}
	base, middle, top := row(r3.Vec{}), row(r3.Vec{Z: 200}), row(r3.Vec{Y: 90, Z: 350})
	for _, n := range []int{base[0], base[3]} {
		for _, d := range world {
			s.AddSpring(frame.Spring{Form: frame.Move(n, r3.Vec{}, d), Stiffness: c.log(1e3, 1e5)})
			s.AddSpring(frame.Spring{Form: frame.Turn(n, d), Stiffness: c.log(1e7, 1e9)})
		}
	}
	any := func(nodes []int) int { return nodes[c.IntN(len(nodes))] }
	at := func(nodes []int, direction r3.Vec) frame.Form {
		return frame.Move(any(nodes), r3.Scale(c.log(1, 60), c.direction()), direction)
	}
	axis := func(lower, upper []int) (positions [][]frame.Spring) {
		pairs := stackPerRow
		if c.IntN(3) == 0 {
			pairs = stackMost
		}
		for range stackWay {
			var springs []frame.Spring
			for k := range pairs {
				d := world[k%3]
				springs = append(springs,
					frame.Spring{Form: at(upper, d).Plus(-1, at(lower, d)), Stiffness: c.log(1e3, 1e6)},
					frame.Spring{Form: frame.Turn(any(upper), d).Plus(-1, frame.Turn(any(lower), d)), Stiffness: c.log(1e6, 1e9)})
			}
			positions = append(positions, springs)
		}
		return positions
	}
	s.first, s.second = axis(base, middle), axis(middle, top)
	if c.IntN(2) == 0 { // both axes on one piece
		s.second = axis(base, top)
	}
	n, arm := any(top), r3.Scale(80, c.direction())
	for _, d := range world {
		s.tips = append(s.tips, frame.Move(n, arm, d))
	}
	for range stackTargets {
		n, arm := any(base), r3.Scale(40, c.direction())
		var forms []frame.Form
		for _, d := range world {
			forms = append(forms, frame.Move(n, arm, d))
		}
		if c.IntN(2) == 0 { // of several pieces, that of the tips among them
			forms[0] = forms[0].Plus(0.5, at(middle, c.direction()))
			forms[1] = at(middle, c.direction())
			forms[2] = at(top, c.direction())
		}
		s.work = append(s.work, forms)
	}
	s.load = frame.Load{
		Gravity: r3.Vec{Z: -9810},
		Pushes:  []frame.Push{{Form: at(middle, c.direction()), Force: 100}, {Form: at(base, c.direction()), Force: -50}},
	}
	return s
}

// held is the same with the springs of one position in it.
func (s *stack) held(i, k int) frame.Frame {
	f := s.Frame
	for _, spring := range append(append([]frame.Spring{}, s.first[i]...), s.second[k]...) {
		f.AddSpring(spring)
	}
	return f
}

// forms are all that a stack's positions use.
func (s *stack) forms() (list []frame.Form) {
	for _, axis := range [][][]frame.Spring{s.first, s.second} {
		for _, springs := range axis {
			for _, spring := range springs {
				list = append(list, spring.Form)
			}
		}
	}
	list = append(list, s.tips...)
	for _, w := range s.work {
		list = append(list, w...)
	}
	return list
}

// Pieces joined in a position are the same frame with that position's springs in it, assembled and factored whole.
func TestJoinedIsTheWholeFrame(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		s := newStack(chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 8))})
		pieces, err := coupling.Detach(&s.Frame)
		require.NoError(t, err)
		pieces.Watch(s.forms()...)
		free, err := pieces.Solve(s.load)
		require.NoError(t, err)
		probe := pieces.Probe(s.tips, free.U)
		var response coupling.Response
		var targets []coupling.Target
		for _, w := range s.work {
			targets = append(targets, probe.Target(w))
		}
		for i := range s.first {
			joined := probe.Join(probe.Connect(s.first[i]))
			for n := range stackTargets * stackWay { // a target stays while the second axis runs
				work, k := s.work[n/stackWay], n%stackWay
				whole := s.held(i, k)
				sys, err := whole.Factor()
				require.NoError(t, err)
				solution, err := sys.Solve(s.load)
				require.NoError(t, err)
				joined.At(probe.Connect(s.second[k]), targets[n/stackWay], &response)
				var against []frame.Form
				for n := range s.tips {
					against = append(against, s.tips[n].Plus(-1, work[n]))
				}
				c := sys.Compliance(against, against)
				size, moved := 0.0, 0.0
				for a := range c {
					size = math.Max(size, c[a][a])
					moved = math.Max(moved, math.Abs(solution.Value(against[a])))
				}
				for a := range c {
					for b := range c {
						worst = math.Max(worst, math.Abs(response.Compliance[a][b]-c[a][b])/size)
					}
					worst = math.Max(worst, math.Abs(response.Moved[0][a]-solution.Value(against[a]))/moved)
				}
				if !(worst <= 1e-7) {
					t.Fatalf("off by %g", worst)
				}
			}
		}
	})
	t.Logf("worst %.1e", worst)
}

// Held are the forces that the whole frame has in the springs of a position, stretched ones among them.
func TestHeldIsWhatTheWholeFrameHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newStack(chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 10))})
		s.Frame.AddSpring(frame.Spring{Form: s.tips[0], Stiffness: 1e3}) // the second axis is left out
		for _, k := range s.second[0] {
			s.Frame.AddSpring(k)
		}
		pieces, err := coupling.Detach(&s.Frame)
		require.NoError(t, err)
		pieces.Watch(s.forms()...)
		free, err := pieces.Solve(s.load)
		require.NoError(t, err)
		probe := pieces.Probe(nil, free.U)
		for _, springs := range s.first {
			stretched := make([]float64, len(springs))
			load := s.load
			whole := s.Frame
			var numbers []int
			for i, k := range springs {
				stretched[i] = 0.01 * float64(i%3)
				numbers = append(numbers, whole.AddSpring(k))
				load.Stretched = append(load.Stretched, frame.Stretched{Spring: numbers[i], By: stretched[i]})
			}
			forces, ok := probe.Join(probe.Connect(springs, stretched)).Held()
			require.Equal(t, len(springs) < stackMost, ok)
			if !ok {
				continue
			}
			sys, err := whole.Factor()
			require.NoError(t, err)
			solution, err := sys.Solve(load)
			require.NoError(t, err)
			for i, n := range numbers {
				most := springs[i].Stiffness * 0.02
				require.InDelta(t, solution.SpringForce(n), forces[0][i], 1e-6*math.Max(most, math.Abs(solution.SpringForce(n))))
			}
		}
	})
}

// A skin moves with the freedoms it was condensed out of: a body of four nodes known by its whole stiffness, and the
// same body reduced to two of them with the other two as a skin, held to a row of bars (static condensation, Guyan,
// AIAA Journal 3 (1965)).
func TestSkinIsWhatWasCondensed(t *testing.T) {
	const kept, all = 12, 24
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9))}
		k := mat.NewSymDense(all, nil)
		for range 2 * all {
			v := make([]float64, all)
			for i := range v {
				v[i] = c.NormFloat64()
			}
			k.SymRankOne(k, 1e4, mat.NewVecDense(all, v))
		}
		block := func(f *frame.Frame, k *mat.SymDense) (freedoms []int) {
			for range k.SymmetricDim() / 6 {
				n := f.AddNode(c.direction())
				for i := range 6 {
					freedoms = append(freedoms, 6*n+i)
				}
			}
			f.AddBlock(frame.Block{Freedoms: freedoms, K: k})
			return freedoms
		}
		row := func(f *frame.Frame) (a, b int) {
			a, b = f.AddNode(r3.Vec{X: 100}), f.AddNode(r3.Vec{X: 300})
			f.AddMember(frame.Member{Ends: [2]int{a, b}, Up: axisZ, Section: round(30), Made: aluminium})
			return a, b
		}
		tipsAt := func(n int) []frame.Form {
			return []frame.Form{frame.Move(n, r3.Vec{Y: 20}, axisX), frame.Move(n, r3.Vec{Y: 20}, axisZ)}
		}
		var seeds [8]float64
		for i := range seeds {
			seeds[i] = c.NormFloat64()
		}
		springs := func(a, b int, body func(int) int) (list []frame.Spring) {
			for i := range 6 {
				for n, node := range [2]int{a, b} {
					list = append(list, frame.Spring{Stiffness: 1e4 * (1 + float64(i)), Form: frame.Form{
						{Freedom: 6*node + i, Factor: 1},
						{Freedom: body(6*n + i), Factor: seeds[i]},
						{Freedom: body(6*n + (i+1)%6), Factor: seeds[i+1]},
					}})
				}
			}
			return list
		}
		var whole frame.Frame
		freedoms := block(&whole, k)
		a, b := row(&whole)
		for _, s := range springs(a, b, func(i int) int { return freedoms[kept+i] }) {
			whole.AddSpring(s)
		}
		wholeFreedoms, wholeEnd := freedoms, b
		sys, err := whole.Factor()
		require.NoError(t, err)

		var inner mat.Cholesky
		require.True(t, inner.Factorize(k.SliceSym(kept, all)))
		local := mat.NewSymDense(all-kept, nil)
		require.NoError(t, inner.InverseTo(local))
		cross := mat.NewDense(all-kept, kept, nil)
		for i := range all - kept {
			for j := range kept {
				cross.Set(i, j, k.At(kept+i, j))
			}
		}
		var weights, drop mat.Dense
		weights.Mul(local, cross)
		drop.Mul(cross.T(), &weights)
		condensed := mat.NewSymDense(kept, nil)
		for i := range kept {
			for j := range i + 1 {
				condensed.SetSym(i, j, k.At(i, j)-drop.At(i, j))
			}
		}
		var cut frame.Frame
		freedoms = block(&cut, condensed)
		a, b = row(&cut)
		pieces, err := coupling.Detach(&cut)
		require.NoError(t, err)
		var skin []frame.Form
		for i := range all - kept {
			var form frame.Form
			for j, freedom := range freedoms {
				form = append(form, frame.Term{Freedom: freedom, Factor: -weights.At(i, j)})
			}
			skin = append(skin, form)
		}
		// A skin that moves as the body does, without give of its own, is the body's freedoms by another name. One of the
		// bars stands between the body's two.
		rigid := mat.NewSymDense(2, nil)
		same := pieces.AddSkin([]frame.Form{
			{{Freedom: freedoms[0], Factor: 1}}, {{Freedom: freedoms[1], Factor: 1}},
		}, rigid)
		pieces.AddSkin([]frame.Form{frame.Move(a, r3.Vec{}, axisX), frame.Move(b, r3.Vec{}, axisX)}, rigid)
		first := pieces.AddSkin(skin, local)
		held := springs(a, b, func(i int) int { return first + i })
		tips := tipsAt(b)
		work := []frame.Form{{{Freedom: first + 2, Factor: 1}}, {{Freedom: same + 1, Factor: 1}}}
		all := append(append([]frame.Form{}, tips...), work...)
		for _, s := range held {
			all = append(all, s.Form)
		}
		pieces.Watch(append(all, skin[2])...)
		probe := pieces.Probe(tips)
		var response coupling.Response
		probe.Join(probe.Connect(held)).At(nil, probe.Target(work), &response)

		against := tipsAt(wholeEnd)
		against[0] = against[0].Plus(-1, frame.Form{{Freedom: wholeFreedoms[kept+2], Factor: 1}})
		against[1] = against[1].Plus(-1, frame.Form{{Freedom: wholeFreedoms[1], Factor: 1}})
		want := sys.Compliance(against, against)
		for i := range want {
			for j := range want {
				require.InDelta(t, want[i][j], response.Compliance[i][j], 1e-8*math.Max(want[0][0], want[1][1]))
			}
		}

		// The same place of the body as a target that is none of the skin but beside it: it moves as the freedoms say, and
		// the skin with it under a force there. What it gives by itself is the caller's to add.
		target := probe.Target([]frame.Form{skin[2], work[1]})
		across := [][]float64{mat.Row(nil, 2, local), make([]float64, len(skin))}
		probe.Beside(&target, first, across)
		probe.Join(probe.Connect(held)).At(nil, target, &response)
		response.Compliance[0][0] += local.At(2, 2)
		for i := range want {
			for j := range want {
				require.InDelta(t, want[i][j], response.Compliance[i][j], 1e-8*math.Max(want[0][0], want[1][1]))
			}
		}
	})
}
