package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

func TestNodesKeepTheirPlaces(t *testing.T) {
	f := &frame.Frame{}
	require.Equal(t, 0, f.AddNode(axisX))
	require.Equal(t, 1, f.AddNode(axisY))
	require.Equal(t, 2, f.Nodes())
	require.Equal(t, axisY, f.Node(1))
}

// Freedoms beyond a node's six keep their handles while nodes are still added.
func TestHandlesOutliveLaterNodes(t *testing.T) {
	f := &frame.Frame{}
	first := f.AddNode(still)
	own := f.AddFreedoms(first, 2)
	more := f.AddFreedoms(f.AddNode(axisX), 1)
	f.AddBlock(frame.Block{Freedoms: own, K: mat.NewSymDense(2, []float64{2, -1, -1, 2}), Source: "pair"})
	f.AddSpring(frame.Spring{Form: frame.Form{{Freedom: more[0], Factor: 1}}, Stiffness: 4, Source: "spring"})
	f.AddNode(axisY)
	for n := range f.Nodes() {
		hold(f, n, clamped)
	}
	s := solve(t, f, frame.Load{Pushes: []frame.Push{
		{Form: frame.Form{{Freedom: own[0], Factor: 1}}, Force: 3},
		{Form: frame.Form{{Freedom: more[0], Factor: 1}}, Force: 8},
	}})
	require.InDelta(t, 2, s.Value(frame.Form{{Freedom: own[0], Factor: 1}}), 1e-14) // (2 −1; −1 2)⁻¹ = (2 1; 1 2)/3
	require.InDelta(t, 1, s.Value(frame.Form{{Freedom: own[1], Factor: 1}}), 1e-14)
	require.InDelta(t, 2, s.Value(frame.Form{{Freedom: more[0], Factor: 1}}), 1e-14)
}

// A block that names a freedom twice is the same as one with the two rows and columns added up.
func TestBlockMayNameAFreedomTwice(t *testing.T) {
	f := &frame.Frame{}
	n := f.AddNode(still)
	hold(f, n, "2345")
	f.AddBlock(
		frame.Block{Freedoms: []int{0, 1, 0}, K: mat.NewSymDense(3, []float64{5, 1, 2, 1, 7, 3, 2, 3, 9}), Source: "block"},
	)
	s := solve(t, f, frame.Load{Pushes: []frame.Push{{Form: frame.Move(n, still, axisX), Force: 110}}})
	// [5+9+2·2, 1+3; 4, 7] = [18 4; 4 7], its determinant 110.
	require.InDeltaSlice(t, []float64{7, -4}, s.U[:2], 1e-12)
	require.InDelta(t, 110*7./2, s.Energy()[0].Energy, 1e-10)
}

// A member with both ends on arms of one node is stressed by nothing but its bed.
func TestMemberBetweenArmsOfOneNode(t *testing.T) {
	const length, bed = 20., 3.
	f := &frame.Frame{}
	n := f.AddNode(still)
	f.AddMember(frame.Member{
		Ends: [2]int{n, n}, Arms: [2]r3.Vec{{X: -length / 2}, {X: length / 2}}, Up: axisZ,
		Section: slender(10, 100), Made: beam.Material{E: 7e4, Nu: 0.3}, Bed: [2]float64{0, bed},
	})
	hold(f, n, "0135")
	s := solve(t, f, frame.Load{Pushes: []frame.Push{
		{Form: frame.Move(n, still, axisZ), Force: 1}, {Form: frame.Turn(n, axisY), Force: 1},
	}})
	// A rigid foot of length L on a bed k: force per sinking k·L, moment per turn k·L³/12.
	checks.CloseTo(t, "sinks", s.U[2], 1/(bed*length), 1e-9)
	checks.CloseTo(t, "turns", s.U[4], 12/(bed*length*length*length), 1e-9)
}

func TestFrameRefusesWhatIsNone(t *testing.T) {
	f := &frame.Frame{}
	a, b := f.AddNode(still), f.AddNode(still)
	require.PanicsWithValue(
		t,
		"frame: member of no length between nodes 0 and 1",
		func() { f.AddMember(frame.Member{Ends: [2]int{a, b}}) },
	)
	for _, k := range []float64{-1, math.NaN(), math.Inf(1)} {
		require.Panics(t, func() { f.AddSpring(frame.Spring{Stiffness: k}) })
	}
	require.PanicsWithValue(t, "frame: block of 1 freedoms with a matrix of order 2", func() {
		f.AddBlock(frame.Block{Freedoms: []int{0}, K: mat.NewSymDense(2, nil)})
	})
}
