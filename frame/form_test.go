package frame_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame"
)

// A form of a spot on an arm is what a rotation of the arm says: the end of the arm, turned by Rodrigues' formula,
// moves by θ×a and terms of second order.
func TestMoveFollowsAFiniteRotation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 4))}
		const angle = 1e-6 // so that the second order is 1e-12
		axis, arm, direction := c.direction(), r3.Scale(c.log(1, 100), c.direction()), c.direction()
		shift := c.direction()
		moved := r3.Sub(r3.NewRotation(angle, axis).Rotate(arm), arm)
		u := make([]float64, 12)
		u[6], u[7], u[8] = shift.X, shift.Y, shift.Z
		u[9], u[10], u[11] = angle*axis.X, angle*axis.Y, angle*axis.Z
		want := r3.Dot(direction, r3.Add(shift, moved))
		require.InDelta(t, want, frame.Move(1, arm, direction).Of(u), r3.Norm(arm)*angle*angle)
		require.InDelta(t, angle*r3.Dot(axis, direction), frame.Turn(1, direction).Of(u), 1e-15)
	})
}

func TestPlusAddsUpAndTidies(t *testing.T) {
	f := frame.Form{{Freedom: 3, Factor: 2}, {Freedom: 1, Factor: 1}, {Freedom: 3, Factor: -1}}
	kept := slices.Clone(f)
	sum := f.Plus(2, frame.Form{{Freedom: 0, Factor: 1}, {Freedom: 1, Factor: -0.5}, {Freedom: -1, Factor: 4}})
	require.Equal(t, kept, f, "Plus must leave its receiver alone")
	for freedom, want := range map[int]float64{-1: 8, 0: 2, 3: 1} {
		require.Contains(t, sum, frame.Term{Freedom: freedom, Factor: want})
	}
	u := []float64{10, 20, 30, 40}
	require.Equal(t, f.Of(u)+2*(10-0.5*20), frame.Form(sum[1:]).Of(u))
	for _, term := range f.Plus(-1, f) {
		require.Zero(t, term.Factor)
	}
	require.Empty(t, frame.Form(nil).Plus(1, nil))
}

func TestPlusIsLinear(t *testing.T) {
	term := rapid.Custom(func(t *rapid.T) frame.Term {
		return frame.Term{
			Freedom: rapid.IntRange(0, 5).Draw(t, "freedom"),
			Factor:  rapid.Float64Range(-1, 1).Draw(t, "factor"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		f, g := rapid.SliceOf(term).Draw(t, "f"), rapid.SliceOf(term).Draw(t, "g")
		u := rapid.SliceOfN(rapid.Float64Range(-1, 1), 6, 6).Draw(t, "u")
		sum := frame.Form(f).Plus(0.3, g)
		want := frame.Form(f).Of(u) + 0.3*frame.Form(g).Of(u)
		if !scalar.EqualWithinAbs(sum.Of(u), want, 1e-13*float64(1+len(f)+len(g))) {
			t.Fatalf("got %g, want %g", sum.Of(u), want)
		}
		require.True(t, slices.IsSortedFunc(sum, func(a, b frame.Term) int { return a.Freedom - b.Freedom }))
	})
}
