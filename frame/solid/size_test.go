package solid

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// sheetWith is a sheet with so many zones, 4 mm wide, in rows of forty.
func sheetWith(name string, thick float64, zones int) *Body {
	b := &Body{Part: blockOf(name, soft, r3.Vec{}, r3.Vec{X: 300, Y: 300, Z: thick})}
	for i := range zones {
		x, y := 10+5*float64(i%40), 10+5*float64(i/40)
		b.Zones = append(b.Zones, patchOn(span{[3]float64{x, y, thick}, [3]float64{x + 4, y + 4, thick}}))
		b.Zones[i].Aligned = false
	}
	return b
}

// Bodies that would each do are refused together, by their meshes or by their zones, and the largest is named.
func TestBodiesTooLargeTogether(t *testing.T) {
	quick := Settings{Mesh: 2.5}
	for name, tt := range map[string]struct {
		bodies []*Body
		want   string
	}{
		"meshes": {[]*Body{sheetWith("a", 0.6, 4), sheetWith("b", 0.5, 4), sheetWith("c", 0.6, 4), sheetWith("d", 0.6, 4)},
			`the meshes of all parts, the largest of which is part "b", would have`},
		"zones": {[]*Body{sheetWith("a", 20, 700), sheetWith("b", 20, 730)}, `730 of them on part "b"`},
	} {
		for _, b := range tt.bodies {
			_, err := CheckSizes([]*Body{b}, quick)
			require.NoError(t, err, name)
		}
		largest, err := CheckSizes(tt.bodies, quick)
		var size *SizeError
		require.ErrorAs(t, err, &size, name)
		require.Equal(t, 1, largest, name)
		require.ErrorContains(t, err, tt.want, name)
		require.Greater(t, size.Count, size.Most, name)
		require.Equal(t, name == "zones", size.Coupled, name)
	}
}

// What is planned is about what is meshed: by it a machine is refused or not.
func TestPlannedUnknowns(t *testing.T) {
	meshes := []float64{1, 2.5}
	if thorough() {
		meshes = append(meshes, 0.5)
	}
	for _, mesh := range meshes {
		b := sheetWith("a", 20, 40)
		r, err := b.Reduce(context.Background(), Settings{Mesh: mesh})
		require.NoError(t, err)
		planned := b.plan(Settings{Mesh: mesh}, nil).unknowns()
		require.InEpsilon(t, planned, r.Unknowns(), 0.5, "mesh %g", mesh)
	}
}
