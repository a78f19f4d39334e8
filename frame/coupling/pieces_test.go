package coupling_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/coupling"
)

// The world's axes.
var (
	axisX, axisZ = r3.Vec{X: 1}, r3.Vec{Z: 1}
	world        = [3]r3.Vec{axisX, {Y: 1}, axisZ}
)

var aluminium = beam.Material{E: 70e3, Nu: 0.33, Density: 2.7e-9}

// round is a solid round bar without shear deflection.
func round(diameter float64) beam.Section {
	inertia := math.Pi / 64 * math.Pow(diameter, 4)
	return beam.Section{A: math.Pi / 4 * diameter * diameter, Iy: inertia, Iz: inertia, J: 2 * inertia}
}

// chance is the source of a structure's numbers, from a seed that rapid draws.
type chance struct{ *rand.Rand }

// log draws evenly over the logarithm.
func (c chance) log(lo, hi float64) float64 {
	return lo * math.Pow(hi/lo, c.Float64())
}

func (c chance) direction() r3.Vec {
	return r3.Unit(r3.Vec{X: c.NormFloat64(), Y: c.NormFloat64(), Z: c.NormFloat64()})
}

// A piece with pendulums on it is loose in itself once for each; Detach bears that up to a number.
func TestDetachedPiecesMayBeLooseInThemselves(t *testing.T) {
	detach := func(pendulums int) error {
		f := &frame.Frame{}
		pivot := f.AddNode(r3.Vec{})
		for i := range pendulums {
			top, end := f.AddNode(r3.Vec{}), f.AddNode(r3.Vec{Y: float64(i), Z: -100})
			f.AddMember(frame.Member{Ends: [2]int{top, end}, Up: axisX, Section: round(12), Made: aluminium})
			for _, d := range world {
				f.Constrain(frame.Constraint{Form: frame.Move(top, r3.Vec{}, d).Plus(-1, frame.Move(pivot, r3.Vec{}, d))})
			}
			for _, d := range []r3.Vec{axisX, axisZ} {
				f.Constrain(frame.Constraint{Form: frame.Turn(top, d).Plus(-1, frame.Turn(pivot, d))})
			}
		}
		_, err := coupling.Detach(f)
		return err
	}
	require.NoError(t, detach(60))
	var loose *frame.LooseError
	require.ErrorAs(t, detach(61), &loose)
}
