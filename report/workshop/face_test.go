package workshop

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// outward are the directions that the faces of a block look in.
var outward = map[string]r3.Vec{"left": {X: -1}, "right": {X: 1}, "front": {Y: -1}, "back": {Y: 1}, "bottom": {Z: -1},
	"top": {Z: 1}}

// upward is up on the sheet: the machine's up, and away from the operator on faces that lie.
func upward(name string) r3.Vec {
	if name == "top" || name == "bottom" {
		return r3.Vec{Y: 1}
	}
	return r3.Vec{Z: 1}
}

// onSheet is where a place in the machine is seen on a face from outside, mm from the lower left corner of the box: by
// vectors alone. Who looks against outward with upward up has up × outward on the right.
func onSheet(name string, lo, hi, at r3.Vec) (right, up float64) {
	n, u := outward[name], upward(name)
	r := r3.Cross(u, n)
	corner := math.Min(r3.Dot(lo, r), r3.Dot(hi, r))
	return r3.Dot(at, r) - corner, r3.Dot(at, u) - math.Min(r3.Dot(lo, u), r3.Dot(hi, u))
}

func TestFacesAreSeenFromOutside(t *testing.T) {
	lo, hi := r3.Vec{X: -10, Y: 20, Z: 5}, r3.Vec{X: 90, Y: 70, Z: 17}
	p := &machine.Part{Plate: &machine.Plate{From: lo, To: hi}}
	line := answer.PartLine{SizeMM: [3]float64{100, 50, 12}, DatumMM: [3]float64{-10, 20, 5}}
	at := r3.Vec{X: 3, Y: 31, Z: 9} // 13, 11, 4 from the datum
	fromDatum := [3]float64{13, 11, 4}
	for k := machine.Left; k <= machine.Top; k++ {
		f := faceOf(p, line, k)
		a, b := k.Normal().Others()
		right, up := f.at(fromDatum[a], fromDatum[b])
		wantRight, wantUp := onSheet(k.String(), lo, hi, at)
		require.InDelta(t, wantRight, right, 1e-12, k)
		require.InDelta(t, wantUp, up, 1e-12, k)
		// The words along the sides are those of the faces that lie there.
		n, u := outward[k.String()], upward(k.String())
		require.Equal(t, r3.Cross(u, n), outward[f.edges.right], k)
		require.Equal(t, r3.Scale(-1, r3.Cross(u, n)), outward[f.edges.left], k)
		require.Equal(t, u, outward[f.edges.top], k)
		require.Equal(t, r3.Scale(-1, u), outward[f.edges.bottom], k)
	}
}

// A gusset's right angle is where it is in the machine, whichever way its legs go, and its slope opposite.
func TestGussetsAreSeenFromOutside(t *testing.T) {
	for _, y := range []float64{-60, 60} {
		for _, z := range []float64{-40, 40} {
			corner := r3.Vec{X: 10, Y: 5, Z: 7}
			g := &machine.Gusset{Corner: corner, Legs: [2]r3.Vec{{Y: y}, {Z: z}}, Thickness: r3.Vec{X: 15}}
			lo := r3.Vec{X: 10, Y: math.Min(5, 5+y), Z: math.Min(7, 7+z)}
			hi := r3.Vec{X: 25, Y: math.Max(5, 5+y), Z: math.Max(7, 7+z)}
			line := answer.PartLine{SizeMM: [3]float64{15, 60, 40}, DatumMM: [3]float64{10, 5, 7}}
			p := &machine.Part{Gusset: g}
			for k := machine.Left; k <= machine.Top; k++ {
				f := faceOf(p, line, k)
				require.Equal(t, k.Normal() == machine.X, f.triangle)
				right, up := f.at(0, 0)
				wantRight, wantUp := onSheet(k.String(), lo, hi, corner)
				require.InDelta(t, wantRight, right, 1e-12, k)
				require.InDelta(t, wantUp, up, 1e-12, k)
				tip := r3.Add(corner, g.Legs[0])
				if k.Normal() == machine.Y {
					tip = r3.Add(corner, g.Legs[1])
				}
				right, up = f.at(60, 0)
				switch k.Normal() {
				case machine.Y:
					right, up = f.at(0, 40)
				case machine.Z:
					right, up = f.at(0, 60)
				}
				wantRight, wantUp = onSheet(k.String(), lo, hi, tip)
				require.InDelta(t, wantRight, right, 1e-12, k)
				require.InDelta(t, wantUp, up, 1e-12, k)
				if f.triangle {
					require.Len(t, f.outlines()[0], 3)
					continue
				}
				// The sign of the right angle stands on its side.
				words := map[string]bool{f.edges.left: wantRight > 0, f.edges.right: wantRight == 0}
				if k.Normal() == machine.Z {
					words = map[string]bool{f.edges.bottom: wantUp > 0, f.edges.top: wantUp == 0}
				} else {
					words = map[string]bool{f.edges.bottom: wantUp > 0, f.edges.top: wantUp == 0}
				}
				require.True(t, words["90°"], "%v %+v", k, f.edges)
				require.False(t, words["tip"], "%v %+v", k, f.edges)
			}
		}
	}
}
