package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/solid"
)

// drawShares are lines from 0 to 1.
func drawShares(t *rapid.T, name string) []float64 {
	lines := drawLines(t, name)
	from, span := lines[0], lines[len(lines)-1]-lines[0]
	shares := make([]float64, len(lines))
	for i, x := range lines {
		shares[i] = (x - from) / span
	}
	shares[len(shares)-1] = 1
	return shares
}

// A gusset with its legs along any two axes, either way: its volume and centroid are a right triangle's, elements are
// the right way round, nodes on its legs stand where the shares say and the others within it.
func TestGussetsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation([]int{0, 1, 2}).Draw(t, "axes")
		size := func(name string) float64 {
			return rapid.SampledFrom([]float64{-1, 1}).Draw(t, name) * rapid.Float64Range(5, 200).Draw(t, name)
		}
		legs := [2]r3.Vec{r3.Scale(size("leg"), axes[order[0]]), r3.Scale(size("leg"), axes[order[1]])}
		thickness, corner := r3.Scale(size("thickness"), axes[order[2]]), r3.Scale(100, drawVec(t, "corner"))
		shares, through := drawShares(t, "shares"), drawShares(t, "through")
		m := &solid.Mesh{Metals: []beam.Material{aluminium}}
		m.AddGusset(0, corner, legs, thickness, shares, through)
		requireWhole(t, m)
		n, deep := len(shares)-1, len(through)-1
		wedges := 0
		for e, el := range m.Elements {
			if el.Kind == solid.Wedge {
				wedges++
			}
			m.ElementStiffness(e) // panics if folded over
		}
		require.Equal(t, n*deep, wedges)
		require.Len(t, m.Elements, n*(n+1)/2*deep)
		want := r3.Norm(legs[0]) * r3.Norm(legs[1]) * r3.Norm(thickness) / 2
		require.InEpsilon(t, want, volume(m), 1e-12)

		var moment r3.Vec
		weight := m.Weight(r3.Vec{Z: 1 / aluminium.Density})
		for i, x := range m.Nodes {
			moment = r3.Add(moment, r3.Scale(weight[3*i+2], r3.Sub(x, corner)))
		}
		centroid := r3.Add(r3.Scale(1./3, r3.Add(legs[0], legs[1])), r3.Scale(.5, thickness))
		require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Scale(1/want, moment), centroid)), 1e-10)

		const rounding = 1e-12
		onLegs := [2]map[float64]bool{{}, {}}
		for _, x := range m.Nodes {
			away := r3.Sub(x, corner)
			p, q := r3.Dot(away, legs[0])/r3.Norm2(legs[0]), r3.Dot(away, legs[1])/r3.Norm2(legs[1])
			require.GreaterOrEqual(t, p, -rounding)
			require.GreaterOrEqual(t, q, -rounding)
			require.LessOrEqual(t, p+q, 1+rounding)
			if math.Abs(q) < rounding {
				onLegs[0][math.Round(p*1e9)] = true
			}
			if math.Abs(p) < rounding {
				onLegs[1][math.Round((1-q)*1e9)] = true
			}
		}
		for leg := range 2 {
			require.Len(t, onLegs[leg], 2*n+1)
			for _, s := range shares {
				require.Contains(t, onLegs[leg], math.Round(s*1e9))
			}
		}
	})
}

func TestGussetsRefuse(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium}}
	legs, thickness, good := [2]r3.Vec{{X: 1}, {Y: 1}}, r3.Vec{Z: 1}, []float64{0, 1}
	require.Panics(t, func() { m.AddGusset(0, r3.Vec{}, legs, thickness, []float64{0, .5}, good) })
	require.Panics(t, func() { m.AddGusset(0, r3.Vec{}, legs, thickness, good, []float64{.5, 1}) })
	require.Panics(t, func() { m.AddGusset(0, r3.Vec{}, legs, thickness, []float64{0, .7, .5, 1}, good) })
	require.Panics(t, func() { m.AddGusset(0, r3.Vec{}, legs, r3.Vec{X: 1}, good, good) })
	require.Empty(t, m.Nodes)
}
