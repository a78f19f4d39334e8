package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Moments by Green's theorem along the sides (momentByGreen), in coordinates from the middle of a rectangle.
func TestMomentsAreExact(t *testing.T) {
	powers := [momentsCount][2]int{m00: {0, 0}, m10: {1, 0}, m01: {0, 1}, m20: {2, 0}, m11: {1, 1}, m02: {0, 2},
		m21: {2, 1},
		m12: {1, 2}, m30: {3, 0}, m03: {0, 3}, m31: {3, 1}, m22: {2, 2}, m13: {1, 3}}
	rapid.Check(t, func(t *rapid.T) {
		p := drawPolygon(t, "p")
		lo := [2]float64{rapid.Float64Range(-1, 1).Draw(t, "x"), rapid.Float64Range(-1, 1).Draw(t, "y")}
		hi := [2]float64{lo[0] + rapid.Float64Range(1, 9).Draw(t, "width"), lo[1] + rapid.Float64Range(1, 9).Draw(t,
			"height")}
		local := make(polygon, len(p))
		for i, v := range p {
			for k := range 2 {
				local[i][k] = (2*v[k] - lo[k] - hi[k]) / (hi[k] - lo[k])
			}
		}
		scale := (hi[0] - lo[0]) * (hi[1] - lo[1]) / 4
		for i, got := range p.moments(lo, hi) {
			require.InDelta(t, scale*momentByGreen(local, powers[i][0], powers[i][1]), got, 1e-11*scale*math.Pow(13,
				float64(2+powers[i][0]+powers[i][1])))
		}
	})
}

// The products add up to the brick's shape functions wherever the plane lies.
func TestProductsAreTheShapeFunctions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var xi [3]float64
		for k := range xi {
			xi[k] = rapid.SampledFrom([]float64{-1, -0.3, 0, 0.7, 1}).Draw(t, "xi")
		}
		normal := rapid.IntRange(0, 2).Draw(t, "normal")
		u, v := across(normal)
		x, y := xi[u], xi[v]
		n, d := make([]float64, 20), make([][3]float64, 20)
		brickShapes(xi, n, d)
		for i, s := range brickPlaces {
			c, vanishes := brickProducts(s[u], s[v], s[normal], xi[normal])
			sum := 0.0
			for k, p := range [productsCount]float64{1, x, y, x * x, x * y, y * y, x * x * y, x * y * y} {
				sum += c[k] * p
			}
			require.InDelta(t, n[i], sum, 1e-14, "node %d", i)
			require.True(t, !vanishes || sum == 0)
		}
	})
}

// The reference is the rule of points at which shape functions are sampled one by one, as on gussets.
func TestZonesOnBlocksReadAsByPoints(t *testing.T) {
	b := &Body{Part: blockOf("a", soft, r3.Vec{X: -3}, r3.Vec{X: 61, Y: 43, Z: 21})}
	b.Zones = []Zone{patchOn(span{[3]float64{10, 8, 21}, [3]float64{30, 32, 21}})}
	r, err := b.meshed(Settings{}, plainly(b))
	require.NoError(t, err)
	worst := 0.0
	for normal, planes := range [][]float64{{-3, 11, 61}, {0, 17, 43}, {0, 5, 21}} {
		u, v := across(normal)
		for _, at := range planes {
			whole := r.cuts(plane{normal, at}, [2]float64{-9, -9}, [2]float64{99, 99})
			require.NotEmpty(t, whole)
			for _, c := range whole {
				lo, hi := c.area.bounds()
				piece := c.area.clip(circle([2]float64{lo[0] + 0.6*(hi[0]-lo[0]), hi[1]}, 0.7*(hi[0]-lo[0])))
				require.NotNil(t, piece)
				from := [2]float64{20, 20}
				p := plane{normal, at}
				want := map[int]weights{}
				var sums [6]float64
				for _, s := range piece.samplePoints(nil) {
					x, y := s.at[0]-from[0], s.at[1]-from[1]
					for i, m := range [6]float64{1, x, y, x * x, x * y, y * y} {
						sums[i] += s.weight * m
					}
					n := r.shapes(c.element, p.lift(s.at))
					for a, node := range r.mesh.Elements[c.element].Nodes {
						if n[a] != 0 {
							w := want[node]
							want[node] = weights{w.one + s.weight*n[a], w.x + s.weight*n[a]*x, w.y + s.weight*n[a]*y}
						}
					}
				}
				got := map[int]weights{}
				m := r.boxWeights(c.element, p, piece, from, func(node int, w weights) { got[node] = w })
				for i, s := range [6]float64{m.area, m.x, m.y, m.xx, m.xy, m.yy} {
					require.InDelta(t, sums[i], s, 1e-12*m.area*2500)
				}
				require.Len(t, got, len(want), "plane %d at %g", normal, at)
				for node, w := range want {
					e := max(math.Abs(got[node].one-w.one), math.Abs(got[node].x-w.x)/50, math.Abs(got[node].y-w.y)/50) / m.area
					worst = max(worst, e)
					require.LessOrEqual(t, e, 1e-13, "plane %d at %g, axes %d and %d", normal, at, u, v)
				}
			}
		}
	}
	t.Logf("worst %.1e", worst)
}
