package solid

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// A plate that weighs moves at ports and places as its field says there, zone by zone (Field.Mean integrates the mesh's
// shapes anew).
func TestMovedIsTheFieldsMean(t *testing.T) {
	disc := func(x, y float64) Zone {
		return Zone{At: r3.Vec{X: x, Y: y, Z: 20}, Normal: 2, Outer: 12, Polygon: [][2]float64{{0, 0}, {200, 0}, {200, 120},
			{0, 120}}}
	}
	body := &Body{
		Part: Part{Name: "plate", Made: beam.Material{E: 70e3, Nu: 0.33, Density: 2.7e-9},
			Block: &Block{To: r3.Vec{X: 200, Y: 120, Z: 20}}},
		Zones: []Zone{disc(20, 20), disc(180, 60), disc(30, 100)},
	}
	reduced, err := body.Reduce(context.Background(), Settings{})
	require.NoError(t, err)
	v := make([]float64, 18)
	for i := range v {
		v[i] = float64(i%5) * 1e-3
	}
	field := reduced.Recover(v, Load{Gravity: r3.Vec{Z: -9806.65}})
	some := []Zone{disc(60, 40), disc(64, 41), disc(100, 100), disc(140, 20)}
	many := slices.Clone(some) // more forms than unknowns under them
	for i := range 150 {
		many = append(many, disc(15+float64(i), 60))
	}
	for _, zones := range [][]Zone{some, many} {
		ports, err := reduced.Ports(zones...)
		require.NoError(t, err)
		places, err := reduced.ReadBeside(ports, zones...)
		require.NoError(t, err)
		touched, means := ports.Moved(field), places.Means(field)
		for i, z := range zones {
			want := field.Mean(z)
			for k := range want {
				got := 0.0
				for _, term := range ports.Zones[i][k] {
					got += term.Factor * touched[term.Unknown]
				}
				require.InDelta(t, want[k], got, 1e-12)
				require.InDelta(t, want[k], means[i][k], 1e-12)
			}
		}
	}
}
