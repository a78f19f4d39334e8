package frame_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
)

// crane is a post and an arm, tied by a constraint whose arm has a length, on a spring.
type crane struct{ height, reach, offset, width, stiffness float64 }

// built gives the frame and the movement of the arm's end along a skew direction.
func (c crane) built(t require.TestingT) (*frame.Frame, frame.Form) {
	section, err := beam.Rect{Width: c.width, Height: 31}.Section(0.3)
	require.NoError(t, err)
	made := beam.Material{E: 70e3, Nu: 0.3}
	f := &frame.Frame{}
	foot, top := f.AddNode(r3.Vec{}), f.AddNode(r3.Vec{Z: c.height})
	root, end := f.AddNode(r3.Vec{X: c.offset, Z: c.height}), f.AddNode(r3.Vec{X: c.offset + c.reach, Z: c.height})
	f.AddMember(frame.Member{Ends: [2]int{foot, top}, Up: r3.Vec{Y: 1}, Section: section, Made: made, Source: "post"})
	f.AddMember(frame.Member{Ends: [2]int{root, end}, Up: r3.Vec{Z: 1}, Section: section, Made: made, Source: "arm"})
	for _, d := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		f.Constrain(
			frame.Constraint{
				Form: frame.Move(root, r3.Vec{}, d).Plus(-1, frame.Move(top, r3.Vec{X: c.offset}, d)),
				Name: "weld",
			},
		)
		f.Constrain(frame.Constraint{Form: frame.Turn(root, d).Plus(-1, frame.Turn(top, d)), Name: "weld"})
	}
	for k := range 5 {
		f.Hold(foot, k, "foot")
	}
	f.AddSpring(frame.Spring{Form: frame.Turn(foot, r3.Vec{Z: 1}), Stiffness: c.stiffness, Source: "pivot"})
	return f, frame.Move(end, r3.Vec{Z: -17}, r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}))
}

// TestTrial: to first order the potential at the movements of the solution changes as the compliance does, whether a
// length, a stiffness, a section, or what a constraint or a load act on changes: central differences of both agree.
func TestTrial(t *testing.T) {
	const step, agreed = 1e-3, 1e-6
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		c := crane{
			size("height", 100, 400),
			size("reach", 100, 400),
			size("offset", 10, 60),
			size("width", 10, 40),
			size("stiffness", 1e6, 1e9),
		}
		f, b := c.built(t)
		s, err := f.Factor()
		require.NoError(t, err)
		u, err := s.Solve(frame.Load{Pushes: []frame.Push{{Form: b, Force: 1}}})
		require.NoError(t, err)
		itself, ok := s.Try(f)
		require.True(t, ok)
		compliance := u.Value(b)
		require.InEpsilon(t, compliance, itself.Potential(b, s.Hold(u.U)), 1e-9)
		for name, change := range map[string]func(c *crane) *float64{
			"height": func(c *crane) *float64 { return &c.height }, "reach": func(c *crane) *float64 { return &c.reach },
			"offset": func(c *crane) *float64 { return &c.offset }, "width": func(c *crane) *float64 { return &c.width },
			"stiffness": func(c *crane) *float64 { return &c.stiffness },
		} {
			var tried, whole [4]float64 // at +h, −h, +h/2, −h/2
			h := step * *change(&c)
			for i, by := range [4]float64{h, -h, h / 2, -h / 2} {
				other := c
				*change(&other) += by
				of, ob := other.built(t)
				trial, ok := s.Try(of)
				require.True(t, ok)
				tried[i] = trial.Potential(ob, s.Hold(u.U))
				require.LessOrEqual(t, tried[i], compliance*2)
				system, err := of.Factor()
				require.NoError(t, err)
				v, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: ob, Force: 1}}})
				require.NoError(t, err)
				whole[i] = v.Value(ob)
				require.LessOrEqual(t, tried[i], whole[i]*(1+1e-9), "the solution's is the most the potential can be")
			}
			slope := func(v [4]float64) float64 { return (8*(v[2]-v[3]) - (v[0] - v[1])) / (6 * h) }
			scale := compliance / *change(&c)
			require.InDelta(t, slope(whole)/scale, slope(tried)/scale, agreed, name)
		}
	})
}

// TestTrialOfAnotherFrame: frames with other freedoms cannot be held against one another.
func TestTrialOfAnotherFrame(t *testing.T) {
	c := crane{200, 150, 30, 20, 1e8}
	f, _ := c.built(t)
	s, err := f.Factor()
	require.NoError(t, err)
	more, _ := c.built(t)
	more.AddNode(r3.Vec{})
	_, ok := s.Try(more)
	require.False(t, ok)
	held, _ := c.built(t)
	held.Hold(0, 5, "pivot")
	_, ok = s.Try(held)
	require.False(t, ok)
}
