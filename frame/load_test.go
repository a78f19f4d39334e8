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
	"tiploop/testdata/checks"
)

// A structure of one material that is free to grow keeps its shape, α·ΔT larger, and feels nothing (Boley & Weiner,
// Theory of Thermal Stresses, 1960; from memory). Rigid arms do not grow, so there are none; a strip grows along
// itself.
func TestFreeGrowthGivesNoForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 10))}
		const size = 400.
		made := c.material(memberModulus)
		rise := c.between(-50, 50)
		f := &frame.Frame{}
		var nodes []int
		for range 4 {
			nodes = append(nodes, f.AddNode(r3.Scale(size, c.direction())))
		}
		var load frame.Load
		var members []int
		link := func(a, b int) {
			n := f.AddMember(frame.Member{Ends: [2]int{a, b}, Up: c.direction(), Section: c.section(30), Made: made})
			members = append(members, n)
			load.Warm = append(load.Warm, frame.Warm{Member: n, Mean: rise})
		}
		for n := 1; n < len(nodes); n++ {
			link(nodes[c.IntN(n)], nodes[n])
		}
		link(nodes[0], nodes[len(nodes)-1])
		basis := c.basis()
		st := f.AddStrip(r3.Scale(size, c.direction()), basis[0], basis[1], []float64{0, 90, 250}, 150, 15, made, "strip")
		load.Swollen = append(load.Swollen, st.Warmed(rise, r3.Vec{})...)
		basis = c.basis()
		corner := r3.Scale(size, c.direction())
		tri := f.AddTriangle(
			corner,
			[2]r3.Vec{r3.Scale(120, basis[0]), r3.Scale(80, basis[1])},
			r3.Scale(15, basis[2]),
			made,
			"triangle",
		)
		load.Swollen = append(load.Swollen, tri.Warmed(rise))
		for _, n := range []int{st.Nodes()[0], st.Nodes()[2], tri.Node()} {
			link(nodes[1], n)
			link(nodes[2], n)
		}
		for _, d := range c.basis() {
			f.Constrain(frame.Constraint{Form: frame.Move(nodes[0], still, d)})
			f.Constrain(frame.Constraint{Form: frame.Turn(nodes[0], d)})
		}
		s := solve(t, f, load)

		strain := made.Expansion * rise
		grown := func(at r3.Vec) r3.Vec { return r3.Scale(strain, r3.Sub(at, f.Node(nodes[0]))) }
		tolerance := randomTolerance * math.Abs(strain) * size
		for _, n := range append(append([]int{tri.Node()}, nodes...), st.Nodes()...) {
			for _, d := range world {
				require.InDelta(t, r3.Dot(d, grown(f.Node(n))), s.Value(frame.Move(n, still, d)), tolerance)
				require.InDelta(t, 0, size*s.Value(frame.Turn(n, d)), tolerance)
			}
		}
		middle := r3.Add(f.Node(st.Nodes()[0]), r3.Scale(0.3, r3.Sub(f.Node(st.Nodes()[2]), f.Node(st.Nodes()[0]))))
		face := r3.Add(corner, r3.Add(r3.Scale(50, basis[0]), r3.Add(r3.Scale(20, basis[1]), r3.Scale(7.5, basis[2]))))
		for _, d := range world {
			require.InDelta(t, r3.Dot(d, grown(middle)), s.Value(st.Move(middle, d)), tolerance)
			require.InDelta(t, r3.Dot(d, grown(face)), s.Value(tri.Move(face, d)), tolerance)
		}
		for _, n := range members {
			for k, v := range s.EndForces(n) {
				if !(math.Abs(v) <= randomTolerance*math.Abs(strain)*made.E*30*30*[]float64{1, size}[k/3%2]) {
					t.Fatalf("member %d: end force %g", n, v)
				}
			}
		}
	})
}

// A spring that stands on something that has grown pushes: k·By where it is held, and moved by −By where it is not.
func TestStretchedSpring(t *testing.T) {
	const stiffness, by = 500., 0.02
	f := &frame.Frame{}
	held, free := f.AddNode(still), f.AddNode(axisX)
	feet := hold(f, held, clamped)
	hold(f, free, "01345")
	tight := f.AddSpring(frame.Spring{Form: frame.Move(held, still, axisZ), Stiffness: stiffness})
	loose := f.AddSpring(frame.Spring{Form: frame.Move(free, still, axisZ), Stiffness: stiffness})
	s := solve(t, f, frame.Load{Stretched: []frame.Stretched{{Spring: tight, By: by}, {Spring: loose, By: by}}})
	require.InDelta(t, stiffness*by, s.SpringForce(tight), 1e-12)
	require.InDelta(t, stiffness*by, s.Reaction(feet[2]), 1e-12)
	require.InDelta(t, -by, s.Value(frame.Move(free, still, axisZ)), 1e-15)
	require.InDelta(t, 0, s.SpringForce(loose), 1e-12)
}

// A held bar under heat: E·A·α·ΔT (Gere & Timoshenko, Mechanics of Materials; from memory).
func TestHeldGrowth(t *testing.T) {
	m := beam.Material{E: 7e4, Nu: 0.3, Expansion: 23e-6}
	f := &frame.Frame{}
	nodes, members := chain(f, slender(100, 1000), m, axisZ, still, r3.Vec{X: 70, Y: 20}, r3.Vec{X: 140, Y: 40})
	hold(f, nodes[0], clamped)
	hold(f, nodes[2], clamped)
	s := solve(t, f, frame.Load{Warm: []frame.Warm{{Member: members[0], Mean: 20}, {Member: members[1], Mean: 20}}})
	for _, n := range members {
		checks.CloseTo(t, "thrust", s.EndForces(n)[0], m.E*100*m.Expansion*20, 1e-12)
	}
}

// Loads of one case add up, and no load moves nothing.
func TestLoadsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		b := p.build(upright)
		system, err := b.Factor()
		require.NoError(t, err)
		load := b.load()
		all, err := system.Solve(load)
		require.NoError(t, err)
		sum := make([]float64, len(all.U))
		for _, part := range []frame.Load{{Pushes: load.Pushes}, {Lines: load.Lines}, {Gravity: load.Gravity}} {
			s, err := system.Solve(part)
			require.NoError(t, err)
			for i, v := range s.U {
				sum[i] += v
			}
		}
		requireAlike(t, sum, all.U, randomTolerance, "sum of loads")
		none, err := system.Solve(frame.Load{})
		require.NoError(t, err)
		require.Zero(t, largest(none.U))
		require.Zero(t, none.Residual)
	})
}
