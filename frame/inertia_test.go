package frame_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
)

// Inertia that acts on everything is gravity (Einstein's lift, by the definition of both), and that of two halves of
// the frame adds up to it: in all movements, and in what members carry inside.
func TestInertiaIsGravity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		b := p.build(upright)
		system, err := b.Factor()
		require.NoError(t, err)
		var half [2]frame.Inertia
		into := func() *frame.Inertia { return &half[rapid.IntRange(0, 1).Draw(t, "half")] }
		for m := range p.members {
			i := into()
			i.Members = append(i.Members, m)
		}
		for _, s := range b.strips {
			i := into()
			i.Blocks = append(i.Blocks, s.Blocks()...)
		}
		for _, tr := range b.triangles {
			i := into()
			i.Blocks = append(i.Blocks, tr.Block())
		}
		want, err := system.Solve(frame.Load{Gravity: p.gravity})
		require.NoError(t, err)
		half[0].Felt, half[1].Felt = p.gravity, p.gravity
		got, err := system.Solve(frame.Load{Inertia: half[:]})
		require.NoError(t, err)
		requireAlike(t, got.U, want.U, randomTolerance, "everything")
		for m := range p.members {
			require.Equal(t, want.EndForces(m)[0], got.EndForces(m)[0], "axial force of member %d", m)
		}
		half[1].Felt = r3.Scale(-1, p.gravity)
		apart, err := system.Solve(frame.Load{Gravity: p.gravity, Inertia: half[:]})
		require.NoError(t, err)
		only, err := system.Solve(
			frame.Load{
				Inertia: []frame.Inertia{{Members: half[0].Members, Blocks: half[0].Blocks, Felt: r3.Scale(2, p.gravity)}},
			},
		)
		require.NoError(t, err)
		requireAlike(t, apart.U, only.U, randomTolerance, "one half twice, the other not at all")
	})
}

// A cantilever whose outer half alone is speeded up along itself is pulled by ρ·A·a·L/2 over its inner half, and
// strained by that over E·A: u = ρ·a·(L/2)·(L/2)/E + ρ·a·(L/2)²/(2·E) at the end (bar under its own weight, Gere &
// Timoshenko).
func TestInertiaOfHalfABar(t *testing.T) {
	f := &frame.Frame{}
	m := beam.Material{E: 2.1e5, Nu: 0.3, Density: 7.85e-9}
	nodes, members := chain(f, slender(100, 1000), m, axisZ, still, r3.Vec{X: 300}, r3.Vec{X: 600})
	hold(f, nodes[0], clamped)
	const a = 5000.0
	s := solve(t, f, frame.Load{Inertia: []frame.Inertia{{Members: members[1:], Felt: r3.Vec{X: a}}}})
	pull := m.Density * 100 * a * 300
	require.InEpsilon(t, -pull, s.EndForces(members[0])[0], 1e-9)
	require.InEpsilon(t, pull, s.EndForces(members[0])[6], 1e-9)
	require.InEpsilon(t, m.Density*a*300*300*1.5/m.E, s.Value(frame.Move(nodes[2], still, axisX)), 1e-9)
}
