package frame_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// BedForce and the ground's reactions carry the load between them.
func TestBedForceCarriesWhatSupportsDoNot(t *testing.T) {
	f := &frame.Frame{}
	root, far := f.AddNode(still), f.AddNode(r3.Vec{X: 30, Y: 40})
	bar := f.AddMember(
		frame.Member{
			Ends:    [2]int{root, far},
			Up:      axisZ,
			Section: slender(100, 1000),
			Made:    beam.Material{E: 7e4, Nu: 0.3},
			Bed:     [2]float64{0.5, 2},
		},
	)
	held := hold(f, root, clamped)
	load := r3.Vec{X: 1, Y: 2, Z: 3}
	s := solve(t, f, frame.Load{Pushes: []frame.Push{
		{
			Form:  frame.Move(far, still, axisX),
			Force: load.X,
		}, {Form: frame.Move(far, still, axisY), Force: load.Y}, {Form: frame.Move(far, still, axisZ), Force: load.Z},
	}})
	ground := r3.Vec{X: s.Reaction(held[0]), Y: s.Reaction(held[1]), Z: s.Reaction(held[2])}
	require.Less(t, r3.Norm(r3.Add(load, r3.Add(ground, s.BedForce(bar)))), 1e-9)
	require.Negative(t, s.BedForce(bar).Z)
}

// End forces of a cantilever bar of known statics, about the bar's ends and not its nodes: a push Q down at the tip on
// an arm a beyond the bar gives Q·(L+a) at the root and Q·a at the bar's own end.
func TestEndForcesAreAboutTheEnds(t *testing.T) {
	const force, length, arm = 10., 200., 30.
	f := &frame.Frame{}
	root, tip := f.AddNode(r3.Vec{X: -arm}), f.AddNode(r3.Vec{X: length + arm})
	bar := f.AddMember(frame.Member{
		Ends: [2]int{root, tip}, Arms: [2]r3.Vec{{X: arm}, {X: -arm}}, Up: axisZ,
		Section: slender(10, 100), Made: beam.Material{E: 7e4, Nu: 0.3},
	})
	held := hold(f, root, clamped)
	s := solve(t, f, push(tip, axisZ, -force))
	got := s.EndForces(bar)
	// z up, y = z × x = world y: a moment about y at the root balances the force down.
	want := [12]float64{2: force, 4: -force * (length + arm), 8: -force, 10: force * arm}
	require.InDeltaSlice(t, want[:], got[:], 1e-9*force*length)
	require.InDelta(t, -force*(length+2*arm), s.Reaction(held[4]), 1e-9*force*length)
}

// Line loads act between the ends: the forces on the ends carry them, and no end force is left at a free end.
func TestEndForcesCarryTheSpan(t *testing.T) {
	const q, length = 2., 150.
	f := &frame.Frame{}
	nodes, members := chain(f, slender(10, 100), beam.Material{E: 7e4, Nu: 0.3}, axisZ, still, r3.Vec{X: length})
	hold(f, nodes[0], clamped)
	s := solve(
		t,
		f,
		frame.Load{Lines: []frame.Line{{Member: members[0], To: length, AtFrom: r3.Vec{Z: -q}, AtTo: r3.Vec{Z: -q}}}},
	)
	got := s.EndForces(members[0])
	want := [12]float64{2: q * length, 4: -q * length * length / 2}
	require.InDeltaSlice(t, want[:], got[:], 1e-9*q*length*length)
}
