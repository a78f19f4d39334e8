package solid

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// A field that is linear in the place is read exactly everywhere in the metal, by bricks and wedges, of a body that
// stands mirrored and shifted: the elements' shapes hold linear fields (patch test: Irons and Razzaque, 1972). Beside the metal
// the nearest of it is read.
func TestProbeOfALinearField(t *testing.T) {
	linear := func(p r3.Vec) r3.Vec {
		return r3.Vec{X: 0.1 + 1e-3*p.X - 2e-3*p.Z, Y: 3e-3 * p.Y, Z: -0.2 + 1e-3*p.Y + 2e-3*p.X}
	}
	steel := beam.Material{E: 200e3, Nu: 0.3, Density: 7.85e-9}
	for _, tt := range []struct {
		name   string
		part   Part
		inside []r3.Vec
	}{
		{"block", Part{Made: steel, Block: &Block{From: r3.Vec{X: -50, Y: 10, Z: 5}, To: r3.Vec{X: 70, Y: 90, Z: 25}}},
			[]r3.Vec{{X: -50, Y: 10, Z: 5}, {X: 70, Y: 90, Z: 25}, {X: 3, Y: 44, Z: 17}, {X: -50, Y: 33.3, Z: 25}}},
		{"gusset", Part{Made: steel, Gusset: &Gusset{Corner: r3.Vec{X: 80, Y: 5, Z: 10}, Legs: [2]r3.Vec{{X: -60}, {Z: 80}},
			Thickness: r3.Vec{Y: 12}}},
			[]r3.Vec{{X: 80, Y: 5, Z: 10}, {X: 20, Y: 17, Z: 10}, {X: 80, Y: 5, Z: 90}, {X: 50, Y: 11, Z: 50}, {X: 71, Y: 9, Z: 31}}},
	} {
		at := vector(func() (lo [3]float64) { lo, _ = tt.part.Box(); return lo }())
		body := Body{Part: tt.part, Zones: []Zone{{At: tt.inside[0], Normal: 1, Outer: 10, Lone: true,
			Polygon: [][2]float64{{-1e3, -1e3}, {1e3, -1e3}, {1e3, 1e3}, {-1e3, 1e3}}}}}
		body.Zones[0].At.Y = at.Y
		shape, err := body.Shape()
		require.NoError(t, err)
		reduced, err := shape.Reduce(context.Background(), Settings{Mesh: 4})
		require.NoError(t, err)
		placed := shape.Place(reduced)
		f := &Field{U: make([]float64, 3*len(placed.Mesh().Nodes)), reduced: reduced, place: &shape.place}
		for n, node := range placed.Mesh().Nodes {
			u := shape.place.turned(linear(shape.place.outward(node)))
			f.U[3*n], f.U[3*n+1], f.U[3*n+2] = u.X, u.Y, u.Z
		}
		for i, got := range placed.Probe(tt.inside...).Moved(f) {
			require.InDelta(t, 0, r3.Norm(r3.Sub(got, linear(tt.inside[i]))), 1e-9, "%s at %v", tt.name, tt.inside[i])
		}
		beside := r3.Vec{X: tt.inside[0].X, Y: at.Y - 30, Z: tt.inside[0].Z}
		nearest := r3.Vec{X: beside.X, Y: at.Y, Z: beside.Z}
		require.InDelta(t, 0, r3.Norm(r3.Sub(placed.Probe(beside).Moved(f)[0], linear(nearest))), 1e-9, tt.name)
	}
}
