package frame_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame"
	"tiploop/testdata/checks"
)

// requireLoose fails unless a frame is loose, and costs no force to move as its error says. It returns the motion.
func requireLoose(t require.TestingT, f *frame.Frame) []float64 {
	_, err := f.Factor()
	var loose *frame.LooseError
	require.True(t, errors.As(err, &loose), "not loose: %v", err)
	require.EqualError(t, err, "frame: something is loose")
	require.InDelta(t, 1, largest(loose.Motion), 1e-12)
	return loose.Motion
}

// costs is what it takes to move a frame so, as a share of what moving one freedom at a time would take: the frame is
// held everywhere and all its freedoms are prescribed.
func costs(t require.TestingT, f *frame.Frame, motion []float64) float64 {
	var load frame.Load
	for freedom := range motion {
		c := f.Constrain(frame.Constraint{Form: frame.Form{{Freedom: freedom, Factor: 1}}})
		load.Moved = append(load.Moved, frame.Moved{Constraint: c, Value: motion[freedom]})
	}
	system, err := f.Factor()
	require.NoError(t, err)
	energy := func(load frame.Load) (sum float64) {
		s, err := system.Solve(load)
		require.NoError(t, err)
		for _, e := range s.Energy() {
			sum += e.Energy
		}
		return sum
	}
	parts := 0.0
	for i := range motion {
		parts += energy(frame.Load{Moved: load.Moved[i : i+1]})
	}
	return energy(load) / parts
}

// A frame of members and springs with all its supports taken away moves as a whole.
func TestFrameWithoutSupportsIsLoose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t).withoutBeds()
		p.strips, p.triangles, p.pushes = nil, nil, nil // a block's own freedoms have handles of their own
		var ties []tie
		for _, tie := range p.ties {
			if tie.a.on == node && tie.b.on == node {
				ties = append(ties, tie)
			}
		}
		p.ties = ties
		b := p.build(upright)
		motion := requireLoose(t, &b.Frame)
		for _, tie := range p.ties {
			if tie.stiffness == 0 {
				value := b.form(tie.a, tie.motion, tie.direction).Plus(-1, b.form(tie.b, tie.motion, tie.direction)).Of(motion)
				require.InDelta(t, 0, value, 1e-9*p.size, "a constraint is broken")
			}
		}
		free := *p
		free.ties = nil
		if e := costs(t, &free.build(upright).Frame, motion); !(e <= 1e-9) {
			t.Fatalf("moving so costs %g", e)
		}
	})
}

// A chain of bars, hinged to one another, has a mechanism; with a spring in the hinge it has none.
func TestHingeChainIsLoose(t *testing.T) {
	chained := func() (*frame.Frame, frame.Form) {
		f := &frame.Frame{}
		left, first := f.AddNode(still), f.AddNode(r3.Vec{X: 100})
		second, right := f.AddNode(r3.Vec{X: 100}), f.AddNode(r3.Vec{X: 200})
		for _, ends := range [][2]int{{left, first}, {second, right}} {
			f.AddMember(frame.Member{Ends: ends, Up: axisZ, Section: slender(100, 1000), Made: aluminium})
		}
		hold(f, left, "01235") // free to turn about y
		hold(f, right, "12")
		for _, d := range world {
			f.Constrain(frame.Constraint{Form: frame.Move(first, still, d).Plus(-1, frame.Move(second, still, d))})
		}
		for _, d := range []r3.Vec{axisX, axisZ} {
			f.Constrain(frame.Constraint{Form: frame.Turn(first, d).Plus(-1, frame.Turn(second, d))})
		}
		return f, frame.Turn(first, axisY).Plus(-1, frame.Turn(second, axisY))
	}
	f, hinge := chained()
	motion := requireLoose(t, f)
	require.InDelta(t, 1, math.Abs(motion[6+2]), 1e-12, "the hinge goes up or down most")
	require.InDelta(t, 2./100, math.Abs(hinge.Of(motion)), 1e-9)

	f, hinge = chained()
	f.AddSpring(frame.Spring{Form: hinge, Stiffness: 1e-3})
	_, err := f.Factor()
	require.NoError(t, err)
}

func TestLooseNodesAndBlocks(t *testing.T) {
	f := &frame.Frame{}
	n := f.AddNode(still)
	motion := requireLoose(t, f)
	require.Len(t, motion, 6)
	hold(f, n, "01245")
	motion = requireLoose(t, f)
	require.InDelta(t, 1, math.Abs(motion[3]), 0, "all that is free is to turn about x")

	s := newSheet(100, 60, 5, aluminium, 4)
	hold(&s.Frame, s.strip.Nodes()[0], "01234") // a strip that may swing in its plane
	motion = requireLoose(t, &s.Frame)
	require.Greater(t, math.Abs(motion[6*s.strip.Nodes()[4]+1]), 0.99)

	g := newGusset(100, 60, 5, aluminium)
	hold(&g.Frame, g.Triangle.Node(), "0345")
	requireLoose(t, &g.Frame)
}

// A soft spring is a support, and a bar of a thousand pieces is no mechanism.
func TestSoftIsNotLoose(t *testing.T) {
	f := &frame.Frame{}
	nodes, _ := chain(f, slender(1000, 1e5), aluminium, axisZ, still, r3.Vec{X: 200})
	hold(f, nodes[0], "12345")
	// Members of 3.5e5 N/mm on 1e-4 N/mm: nine digits of sixteen are gone.
	f.AddSpring(frame.Spring{Form: frame.Move(nodes[1], still, axisX), Stiffness: 1e-4})
	s := solve(t, f, push(nodes[1], axisX, 1e-3))
	checks.CloseTo(t, "on a soft spring", s.Value(frame.Move(nodes[1], still, axisX)), 10, 1e-6)

	for _, end := range []int{0, 1} { // from whichever end it is eliminated
		f, tip := cantilever(400, end)
		s = solve(t, f, push(tip, axisZ, 1))
		// The condition of the matrix is some 1e11: what that leaves of sixteen digits.
		checks.CloseTo(t, "slender", s.Value(frame.Move(tip, still, axisZ)), 1e9/(3*7e4*1000), 1e-6)

		f, _ = cantilever(1000, end)
		_, err := f.Factor()
		require.NoError(t, err)
	}
}

// cantilever is a bar 1000 mm long in many pieces, held at one of its ends, and its tip.
func cantilever(pieces, end int) (f *frame.Frame, tip int) {
	var places []r3.Vec
	for i := range pieces + 1 {
		places = append(places, r3.Vec{X: 1000 * float64(i) / float64(pieces)})
	}
	f = &frame.Frame{}
	nodes, _ := chain(f, slender(100, 1000), aluminium, axisZ, places...)
	hold(f, nodes[end*pieces], clamped)
	return f, nodes[(1-end)*pieces]
}

// What is too unevenly stiff for sixteen digits is refused, not answered: forces of the pieces, 12·E·I/h³ on the
// movements, cancel to the load, and 4·n³ is then 1e12.
func TestTooUnevenlyStiff(t *testing.T) {
	f, tip := cantilever(6000, 0)
	system, err := f.Factor()
	if err == nil {
		_, err = system.Solve(push(tip, axisZ, 1))
	}
	require.Error(t, err)
}
