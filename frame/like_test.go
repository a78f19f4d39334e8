package frame

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// twoPlates is a strip held at its root, a second one tied to its end on an arm, and a gusset on the second; it gives
// the movement of the gusset's corner.
func twoPlates(f *Frame, thick, arm float64) (corner Form) {
	steel, _ := beam.LookupMaterial("steel")
	x, y := r3.Vec{X: 1}, r3.Vec{Y: 1}
	first := f.AddStrip(r3.Vec{}, x, y, []float64{0, 30, 60, 100}, 80, thick, steel, "first")
	second := f.AddStrip(r3.Vec{Z: arm}, x, y, []float64{0, 25, 60, 100}, 80, 12, steel, "second")
	gusset := f.AddTriangle(r3.Vec{X: 40, Z: arm}, [2]r3.Vec{{X: 50}, {Z: 60}}, r3.Vec{Y: 8}, steel, "gusset")
	tie := func(move, turn func(at r3.Vec) (a, b Form), at r3.Vec) {
		for _, of := range []func(r3.Vec) (Form, Form){move, turn} {
			a, b := of(at)
			f.Constrain(Constraint{Form: a.Plus(-1, b), Name: "tie"})
		}
	}
	for _, d := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		f.Constrain(Constraint{Form: first.Move(r3.Vec{}, d), Name: "root"})
		f.Constrain(Constraint{Form: first.Turn(r3.Vec{}, d), Name: "root"})
		tie(func(at r3.Vec) (Form, Form) {
			return first.Move(at, d).Plus(1, first.Turn(at, r3.Cross(r3.Vec{Z: arm}, d))), second.Move(r3.Vec{X: 100, Z: arm}, d)
		}, func(at r3.Vec) (Form, Form) { return first.Turn(at, d), second.Turn(r3.Vec{X: 100, Z: arm}, d) }, r3.Vec{X: 100})
		tie(func(at r3.Vec) (Form, Form) { return second.Move(at, d), gusset.Move(at, d) },
			func(at r3.Vec) (Form, Form) { return second.Turn(at, d), gusset.Turn(at, d) }, r3.Vec{X: 40, Z: arm})
	}
	return gusset.Move(r3.Vec{X: 40, Z: arm + 60}, r3.Unit(r3.Vec{X: 1, Y: 2, Z: -1}))
}

// TestLikeSharesMatrices: what is the same in two frames has one matrix, what differs has its own.
func TestLikeSharesMatrices(t *testing.T) {
	f := &Frame{}
	twoPlates(f, 15, 20)
	g := f.Like()
	twoPlates(g, 16, 20)
	require.Len(t, g.blocks, 7)
	for b := range g.blocks {
		if b < 3 {
			require.NotSame(t, f.blocks[b].K, g.blocks[b].K, "block %d of the first strip", b)
		} else {
			require.Same(t, f.blocks[b].K, g.blocks[b].K, "block %d", b)
		}
	}
	again := g.Like()
	twoPlates(again, 15, 20)
	require.NotSame(t, f.blocks[0].K, again.blocks[0].K, "frames that nobody keeps keep nothing")
	require.Same(t, f.blocks[3].K, again.blocks[3].K)
}

// TestTrialOfSharedMatrices: a trial is the same whether it shares its matrices or has worked them out itself, also
// where a constraint moves an unchanged part otherwise.
func TestTrialOfSharedMatrices(t *testing.T) {
	f := &Frame{}
	b := twoPlates(f, 15, 20)
	s, err := f.Factor()
	require.NoError(t, err)
	u, err := s.Solve(Load{Pushes: []Push{{Form: b, Force: 1}}})
	require.NoError(t, err)
	held, still := s.Hold(u.U), u.Value(b)
	for _, by := range [][2]float64{{15, 20}, {15.2, 20}, {15, 20.3}, {15.2, 20.3}} {
		var potential [2]float64
		for i, other := range []*Frame{f.Like(), {}} {
			form := twoPlates(other, by[0], by[1])
			trial, ok := s.Try(other)
			require.True(t, ok)
			potential[i] = trial.Potential(form, held)
		}
		require.InEpsilon(t, potential[1], potential[0], 1e-9, "%v", by)
		if by != [2]float64{15, 20} {
			require.Greater(t, abs(potential[0]-still), 1e-4*still, "%v: it changes", by)
		}
	}
}

func abs(x float64) float64 { return max(x, -x) }
