package solid_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/solid"
)

func drawLines(t *rapid.T, name string) []float64 {
	lines := []float64{rapid.Float64Range(-100, 100).Draw(t, name)}
	for range rapid.IntRange(1, 4).Draw(t, name) {
		lines = append(lines, lines[len(lines)-1]+rapid.Float64Range(.5, 50).Draw(t, name))
	}
	return lines
}

// volume of a mesh by its weight.
func volume(m *solid.Mesh) (sum float64) {
	for i, f := range m.Weight(r3.Vec{X: 1}) {
		if i%3 == 0 {
			sum += f
		}
	}
	return sum / m.Metals[0].Density
}

// every node belongs to an element and no two are in one place.
func requireWhole(t require.TestingT, m *solid.Mesh) {
	places, used := map[r3.Vec]bool{}, make([]bool, len(m.Nodes))
	for _, x := range m.Nodes {
		require.False(t, places[x], "two nodes in one place")
		places[x] = true
	}
	for _, el := range m.Elements {
		for _, n := range el.Nodes {
			used[n] = true
		}
	}
	require.NotContains(t, used, false)
}

// A grid of a × b × c bricks has so many nodes: corners, and the middles of edges along each axis.
func TestBlocksAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := [3][]float64{drawLines(t, "x"), drawLines(t, "y"), drawLines(t, "z")}
		m := &solid.Mesh{Metals: []beam.Material{aluminium}}
		m.AddBlock(0, lines)
		a, b, c := len(lines[0]), len(lines[1]), len(lines[2])
		require.Len(t, m.Elements, (a-1)*(b-1)*(c-1))
		require.Len(t, m.Nodes, a*b*c+(a-1)*b*c+a*(b-1)*c+a*b*(c-1))
		requireWhole(t, m)
		want := (lines[0][a-1] - lines[0][0]) * (lines[1][b-1] - lines[1][0]) * (lines[2][c-1] - lines[2][0])
		require.InEpsilon(t, want, volume(m), 1e-12)
	})
}

// Another block keeps its own nodes and its part.
func TestBlocksShareNoNodes(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium, {E: 1}}}
	one := [3][]float64{{0, 1}, {0, 1}, {0, 1}}
	m.AddBlock(0, one)
	m.AddBlock(1, one)
	require.Len(t, m.Nodes, 40)
	require.Equal(t, 1, m.Elements[1].Part)
	require.GreaterOrEqual(t, m.Elements[1].Nodes[0], 20)
}

func TestBlocksRefuse(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium}}
	good := []float64{0, 1}
	for name, bad := range map[string][]float64{"none": nil, "one": {0}, "descending": {1, 0}, "twice": {0, 1, 1}} {
		for axis := range 3 {
			lines := [3][]float64{good, good, good}
			lines[axis] = bad
			require.Panics(t, func() { m.AddBlock(0, lines) }, name)
		}
	}
	require.Empty(t, m.Nodes)
}
