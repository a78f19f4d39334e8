package solid_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/solid"
)

// one is a mesh of a single element, its nodes moved about by up to a tenth of its size.
func one(t *rapid.T, kind solid.Kind, made beam.Material) *solid.Mesh {
	m := &solid.Mesh{Metals: []beam.Material{made}}
	if kind == solid.Brick {
		m.AddBlock(0, [3][]float64{{0, 1}, {0, 2}, {0, 3}})
	} else {
		m.AddGusset(0, r3.Vec{}, [2]r3.Vec{{X: 1}, {Y: 2}}, r3.Vec{Z: 3}, []float64{0, 1}, []float64{0, 1})
	}
	for i, x := range m.Nodes {
		m.Nodes[i] = r3.Add(x, r3.Scale(0.05, drawVec(t, "node")))
	}
	return m
}

func drawInside(t *rapid.T, kind solid.Kind) [3]float64 {
	f := rapid.Float64Range(-1, 1)
	xi := [3]float64{f.Draw(t, "r"), f.Draw(t, "s"), f.Draw(t, "t")}
	if kind == solid.Wedge {
		r := (1 + xi[0]) / 2
		return [3]float64{r, (1 - r) * (1 + xi[1]) / 2, xi[2]}
	}
	return xi
}

var kinds = map[string]solid.Kind{"brick": solid.Brick, "wedge": solid.Wedge}

// A shape function is 1 at its node and 0 at the others; all sum to 1; gradients are those of differences; places are
// found back.
func TestShapes(t *testing.T) {
	const step = 1e-6
	for name, kind := range kinds {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				m := one(t, kind, aluminium)
				xi := drawInside(t, kind)
				n, grad := m.Shape(0, xi)
				require.Len(t, n, len(m.Elements[0].Nodes))
				sum, slope := 0., r3.Vec{}
				for a, v := range n {
					sum += v
					slope = r3.Add(slope, grad[a])
				}
				require.InDelta(t, 1, sum, 1e-14)
				require.InDelta(t, 0, r3.Norm(slope), 1e-13)
				at := m.Place(0, xi)
				back, inside := m.Local(0, at)
				require.True(t, inside)
				for k := range 3 {
					require.InDelta(t, xi[k], back[k], 1e-12)
					ahead, _ := m.Local(0, r3.Add(at, r3.Scale(step, axes[k])))
					behind, _ := m.Local(0, r3.Sub(at, r3.Scale(step, axes[k])))
					next, _ := m.Shape(0, ahead)
					last, _ := m.Shape(0, behind)
					for a := range n {
						require.InDelta(t, (next[a]-last[a])/(2*step), r3.Dot(grad[a], axes[k]), 1e-8)
					}
				}
				for i, node := range m.Elements[0].Nodes {
					xi, inside := m.Local(0, m.Nodes[node])
					require.True(t, inside)
					n, _ := m.Shape(0, xi)
					for a, v := range n {
						want := 0.
						if a == i {
							want = 1
						}
						require.InDelta(t, want, v, 1e-9)
					}
				}
			})
		})
	}
}

// Nodes stand where Element's comment says: corners of both kinds, middles of edges between the corners named there.
func TestNodesInTheirPlaces(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium}}
	m.AddBlock(0, [3][]float64{{0, 1}, {0, 2}, {0, 3}})
	m.AddGusset(0, r3.Vec{}, [2]r3.Vec{{X: 1}, {Y: 2}}, r3.Vec{Z: 3}, []float64{0, 1}, []float64{0, 1})
	for e, want := range []struct {
		corners []r3.Vec
		edges   [][2]int
	}{
		{
			[]r3.Vec{{}, {X: 1}, {X: 1, Y: 2}, {Y: 2}, {Z: 3}, {X: 1, Z: 3}, {X: 1, Y: 2, Z: 3}, {Y: 2, Z: 3}},
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 4}, {1, 5}, {2, 6}, {3, 7}, {4, 5}, {5, 6}, {6, 7}, {7, 4}},
		},
		{
			[]r3.Vec{{}, {X: 1}, {Y: 2}, {Z: 3}, {X: 1, Z: 3}, {Y: 2, Z: 3}},
			[][2]int{{0, 1}, {1, 2}, {2, 0}, {0, 3}, {1, 4}, {2, 5}, {3, 4}, {4, 5}, {5, 3}},
		},
	} {
		nodes := m.Elements[e].Nodes
		for i, x := range want.corners {
			require.Equal(t, x, m.Nodes[nodes[i]])
		}
		for i, pair := range want.edges {
			middle := r3.Scale(.5, r3.Add(want.corners[pair[0]], want.corners[pair[1]]))
			require.Equal(t, middle, m.Nodes[nodes[len(want.corners)+i]])
		}
	}
}

// The only motions without strain of a single element, however bent, are the six rigid ones: no others hide from the
// places of integration, nearly incompressible metal included.
func TestElementsHaveSixFreeMotions(t *testing.T) {
	for name, kind := range kinds {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				made := aluminium
				made.Nu = rapid.SampledFrom([]float64{-.5, 0, .33, .499}).Draw(t, "nu")
				m := one(t, kind, made)
				n := 3 * len(m.Nodes)
				k := m.ElementStiffness(0)
				for i := range n {
					for j := range n {
						require.Equal(t, k[i*n+j], k[j*n+i])
					}
				}
				var eigen mat.EigenSym
				require.True(t, eigen.Factorize(mat.NewSymDense(n, k), false))
				values := eigen.Values(nil)
				require.Less(t, values[5], 1e-12*values[n-1], "six rigid motions")
				require.Greater(t, values[6], 1e-7*values[n-1], "and no more")
			})
		})
	}
}

func TestLocalOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, kind := range kinds {
			m := one(t, kind, aluminium)
			_, inside := m.Local(0, r3.Add(r3.Vec{X: .5, Y: 1, Z: 1.5},
				r3.Scale(4, r3.Unit(r3.Add(drawVec(t, "away"), r3.Vec{X: 2})))))
			require.False(t, inside)
		}
	})
}

// Where the mapping is flat no step leads on: there is no answer, and no endless search.
func TestLocalInAFlatElement(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium}}
	m.AddBlock(0, [3][]float64{{0, 1}, {0, 1}, {0, 1}})
	for i := range m.Nodes {
		m.Nodes[i].Z = 0
	}
	_, inside := m.Local(0, r3.Vec{X: .5, Y: .5, Z: .5})
	require.False(t, inside)
}

func TestFoldedElementsPanic(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium}}
	m.AddBlock(0, [3][]float64{{0, 1}, {0, 1}, {0, 1}})
	for i := range m.Nodes {
		m.Nodes[i].Z = -m.Nodes[i].Z
	}
	require.PanicsWithValue(t, "solid: element 0 is folded over", func() { m.ElementStiffness(0) })
	m.Elements[0].Nodes = m.Elements[0].Nodes[:8]
	require.Panics(t, func() { m.ElementStiffness(0) })
}

func TestElasticityIsHookes(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{{E: 200e3, Nu: .25}}}
	d := m.Elasticity(0)
	// Pulled along x alone: strain 1, −ν, −ν for stress E; sheared: G.
	for i, want := range [6]float64{200e3, 0, 0, 0, 0, 0} {
		require.InDelta(t, want, d[i][0]-.25*d[i][1]-.25*d[i][2], 1e-9)
	}
	for i := 3; i < 6; i++ {
		require.InDelta(t, 80e3, d[i][i], 1e-9)
	}
	m.Metals[0].Nu = .5
	require.Panics(t, func() { m.Elasticity(0) })
}
