package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/sparse"
)

// Equal elements share a matrix, and it is theirs: blocks and gussets of two metals, one twice as large as another,
// lines with rounding in them, and a bent element.
func TestStiffnessesOfEqualElements(t *testing.T) {
	m := &Mesh{Metals: []beam.Material{{E: 70e3, Nu: .33}, {E: 200e3, Nu: .3}, {E: 70e3, Nu: .33}}}
	tenths := []float64{0, .1, .2, .1 + .2, .4}
	m.AddBlock(0, [3][]float64{tenths, {0, 1, 2, 4}, {0, 1, 2}})
	m.AddBlock(1, [3][]float64{tenths, {0, 1}, {0, 1}})
	m.AddBlock(2, [3][]float64{{7, 7.1, 7.2}, {0, 2}, {0, 1}})
	m.AddBlock(0, [3][]float64{{0, .2}, {0, 2}, {0, 2}})
	m.AddGusset(0, r3.Vec{X: 3}, [2]r3.Vec{{X: 2}, {Y: 4}}, r3.Vec{Z: -1}, []float64{0, .25, .5, .75, 1}, []float64{0, 1})
	bent := len(m.Elements)
	m.AddBlock(0, [3][]float64{{0, .1}, {0, 1}, {0, 1}})
	m.Nodes[m.Elements[bent].Nodes[8]].Y += .01
	stiffness := m.stiffnesses()
	different := map[*float64]bool{}
	for e := range m.Elements {
		got, want := stiffness(e), m.ElementStiffness(e)
		different[&got[0]] = true
		require.Len(t, got, len(want))
		largest := 0.
		for _, v := range want {
			largest = math.Max(largest, math.Abs(v))
		}
		for i, v := range want {
			require.InDelta(t, v, got[i], 1e-10*largest) // edges that differ by 1e-12
		}
	}
	// Two boxes of the first block, one of the second, one of the third, the larger, two of the gusset, the bent one.
	require.Len(t, different, 2+1+0+1+2+1)
}

func BenchmarkElementStiffness(b *testing.B) {
	m := &Mesh{Metals: []beam.Material{{E: 70e3, Nu: .33}}}
	m.AddBlock(0, [3][]float64{{0, 1}, {0, 1}, {0, 1}})
	m.AddGusset(0, r3.Vec{}, [2]r3.Vec{{X: 1}, {Y: 1}}, r3.Vec{Z: 1}, []float64{0, 1}, []float64{0, 1})
	for e, name := range []string{"brick", "wedge"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m.ElementStiffness(e)
			}
		})
	}
}

// The matrix of a plate 520 × 540 × 40 of about 100,000 unknowns, the pattern aside.
func BenchmarkAssembly(b *testing.B) {
	m := &Mesh{Metals: []beam.Material{{E: 70e3, Nu: .33}}}
	m.AddBlock(0, [3][]float64{Lines([]float64{0, 520}, nil, 2, 11), Lines([]float64{0, 540}, nil, 2, 11),
		{0, 13, 26, 40}})
	sizes, coupled := make([]int, len(m.Nodes)), make([][]int, len(m.Elements))
	for i := range sizes {
		sizes[i] = 3
	}
	for e, el := range m.Elements {
		coupled[e] = el.Nodes
	}
	pattern := sparse.NewPattern(sizes, coupled)
	b.ReportAllocs()
	for b.Loop() {
		k, stiffness := pattern.NewMatrix(), m.stiffnesses()
		for e, el := range m.Elements {
			k.AddBlock(el.Nodes, stiffness(e))
		}
	}
	b.ReportMetric(float64(3*len(m.Nodes)), "unknowns")
}
