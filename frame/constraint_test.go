package frame_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
)

// In whatever order constraints and springs are given, the answer is one.
func TestOrderOfConstraintsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		b, s := solvePlan(t, p, upright)
		q := p.clone()
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order seed"), 7))}
		c.Shuffle(len(q.ties), func(i, j int) { q.ties[i], q.ties[j] = q.ties[j], q.ties[i] })
		other, answer := solvePlan(t, q, upright)
		requireAlike(t, other.readings(answer), b.readings(s), randomTolerance, "shuffled")
	})
}

// A prescribed value comes out exactly, and the force that it takes is the one whose work is stored.
func TestPrescribedMovement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		p.ties = append(p.ties, tie{a: p.nodeSpot(chance{rand.New(rand.NewPCG(1, 1))}, 1, 0.05), direction: axisX})
		b := p.build(upright)
		last := p.ties[len(p.ties)-1]
		moved := b.ties[len(b.ties)-1]
		const by = 0.7
		s := solve(
			t,
			&b.Frame,
			frame.Load{Moved: []frame.Moved{{Constraint: moved, Value: by / 2}, {Constraint: moved, Value: by / 2}}},
		) // add up
		for i, tie := range p.ties {
			if tie.stiffness > 0 {
				continue
			}
			want := 0.0
			if b.ties[i] == moved {
				want = by
			}
			value := s.Value(b.form(tie.a, tie.motion, tie.direction)) - s.Value(b.form(tie.b, tie.motion, tie.direction))
			size := math.Max(by, largest(b.readings(s)))
			if tie.motion == turning {
				size /= p.size
			}
			if !(math.Abs(value-want) <= 1e-8*size) { // eliminations one after another round
				t.Fatalf("tie %d is %g, want %g of size %g", i, value, want, size)
			}
		}
		energy := 0.0
		for _, e := range s.Energy() {
			energy += e.Energy
		}
		closeToRapid(t, "work of the reaction", s.Reaction(moved)*by/2, energy, randomTolerance)

		// The same force on the same form, with the constraint gone, moves it as far.
		free := p.clone()
		free.ties = free.ties[:len(free.ties)-1]
		freed := free.build(upright)
		form := freed.form(last.a, last.motion, last.direction)
		answer := solve(t, &freed.Frame, frame.Load{Pushes: []frame.Push{{Form: form, Force: s.Reaction(moved)}}})
		closeToRapid(t, "movement", answer.Value(form), by, randomTolerance)
	})
}

// A constraint that follows from the others is no harm while its value fits theirs.
func TestSurplusConstraints(t *testing.T) {
	f := &frame.Frame{}
	a, b := f.AddNode(still), f.AddNode(r3.Vec{X: 100})
	f.AddMember(
		frame.Member{Ends: [2]int{a, b}, Up: axisZ, Section: slender(10, 100), Made: beam.Material{E: 7e4, Nu: 0.3}},
	)
	held := hold(f, a, clamped)
	again := f.Constrain(frame.Constraint{Form: frame.Move(a, r3.Vec{Z: 20}, axisX), Name: "the same foot"})
	nothing := f.Constrain(
		frame.Constraint{Form: frame.Move(b, still, axisX).Plus(-1, frame.Move(b, still, axisX)), Name: "nothing"},
	)
	system, err := f.Factor()
	require.NoError(t, err)

	s, err := system.Solve(push(b, axisZ, 5))
	require.NoError(t, err)
	require.InDelta(t, -5, s.Reaction(held[2]), 1e-9)
	require.Zero(t, s.Reaction(again))

	// u + 20·θy of the held node: the values must fit.
	_, err = system.Solve(
		frame.Load{
			Moved: []frame.Moved{
				{Constraint: held[0], Value: 1},
				{Constraint: held[4], Value: 0.1},
				{Constraint: again, Value: 3},
			},
		},
	)
	require.NoError(t, err)
	_, err = system.Solve(frame.Load{Moved: []frame.Moved{{Constraint: held[0], Value: 1}}})
	require.EqualError(t, err, "frame: the same foot is moved against what other supports already hold")
	_, err = system.Solve(frame.Load{Moved: []frame.Moved{{Constraint: nothing, Value: 1}}})
	require.EqualError(t, err, "frame: nothing is moved against what other supports already hold")
}

// A surplus constraint at rest does not mind a movement that reaches it only by rounding.
func TestSurplusConstraintIgnoresRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 8))}
		f := &frame.Frame{}
		n := f.AddNode(still)
		basis, other := c.basis(), c.basis()
		var held []int
		for _, d := range basis {
			held = append(held, f.Constrain(frame.Constraint{Form: frame.Move(n, still, d), Name: "foot"}))
			f.Constrain(frame.Constraint{Form: frame.Turn(n, d), Name: "foot"})
		}
		// Square to the first direction of the foot, so that it does not follow it.
		square := r3.Unit(r3.Sub(other[0], r3.Scale(r3.Dot(other[0], basis[0]), basis[0])))
		f.Constrain(frame.Constraint{Form: frame.Move(n, still, square), Name: "guide"})
		system, err := f.Factor()
		require.NoError(t, err)
		s, err := system.Solve(frame.Load{Moved: []frame.Moved{{Constraint: held[0], Value: 1}}})
		require.NoError(t, err)
		require.InDelta(t, 1, s.Value(frame.Move(n, still, basis[0])), 1e-12)
	})
}

// When everything that holds a frame moves alike, all that is left of the forces is rounding, and that is no imbalance.
func TestStrainFreeSettlement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9))}
		f := &frame.Frame{}
		const size = 300.
		ends := [2]int{f.AddNode(r3.Scale(size, c.direction())), f.AddNode(r3.Scale(size, c.direction()))}
		f.AddMember(frame.Member{Ends: ends, Up: c.direction(), Section: c.section(20), Made: c.material(memberModulus)})
		shift := c.direction()
		var load frame.Load
		for _, n := range ends {
			for _, d := range c.basis() {
				load.Moved = append(load.Moved, frame.Moved{
					Constraint: f.Constrain(frame.Constraint{Form: frame.Move(n, still, d)}), Value: r3.Dot(shift, d),
				})
			}
		}
		f.Constrain(frame.Constraint{Form: frame.Turn(ends[0], r3.Unit(r3.Sub(f.Node(ends[1]), f.Node(ends[0]))))})
		s := solve(t, f, load)
		for _, n := range ends {
			for k, d := range world {
				require.InDelta(t, r3.Dot(shift, d), s.U[6*n+k], 1e-12)
				require.InDelta(t, 0, s.U[6*n+3+k]*size, 1e-9)
			}
		}
	})
}
