package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawPolygon draws a convex polygon: points on an ellipse in the order of their angles.
func drawPolygon(t *rapid.T, label string) polygon {
	for {
		n := rapid.IntRange(3, 9).Draw(t, label+" corners")
		a, b := rapid.Float64Range(0.2, 3).Draw(t, label+" a"), rapid.Float64Range(0.2, 3).Draw(t, label+" b")
		x, y := rapid.Float64Range(-2, 2).Draw(t, label+" x"), rapid.Float64Range(-2, 2).Draw(t, label+" y")
		start := rapid.Float64Range(0, 6).Draw(t, label+" start")
		p := make(polygon, n)
		for i := range p {
			s, c := math.Sincos(start + 2*math.Pi*float64(i)/float64(n))
			p[i] = [2]float64{x + a*c, y + b*s}
		}
		if p.convex() {
			return p
		}
	}
}

// By definition: the common area of two sets does not depend on their order, lies in both, and is all of one that lies
// in the other.
func TestClippingIsIntersection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPolygon(t, "a"), drawPolygon(t, "b")
		ab, ba := a.clip(b), b.clip(a)
		var areaAB, areaBA float64
		if ab != nil {
			areaAB = ab.area()
		}
		if ba != nil {
			areaBA = ba.area()
		}
		require.InDelta(t, areaAB, areaBA, 1e-9)
		for _, v := range ab {
			for _, p := range []polygon{a, b} {
				for i := range p {
					require.GreaterOrEqual(t, turn(p[i], p[(i+1)%len(p)], v), -1e-9)
				}
			}
		}
		inside := make(polygon, len(a))
		lo, hi := a.bounds()
		for i, v := range a {
			inside[i] = [2]float64{(lo[0]+hi[0])/2 + 0.01*(v[0]-(lo[0]+hi[0])/2), (lo[1]+hi[1])/2 + 0.01*(v[1]-(lo[1]+hi[1])/2)}
		}
		if whole := inside.clip(rectangle(lo, hi)); whole == nil ||
			!(math.Abs(whole.area()-inside.area()) <= 1e-12*inside.area()) {
			t.Errorf("a polygon inside a rectangle was cut")
		}
	})
}

// ∫ xᵐ·yⁿ over a polygon by Green's theorem along its sides: ∮ xᵐ⁺¹/(m+1)·yⁿ dy, each side by a Gauss
// rule of its own.
func momentByGreen(p polygon, m, n int) float64 {
	sum := 0.0
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		for _, g := range gauss4 {
			x, y := a[0]+g[0]*(b[0]-a[0]), a[1]+g[0]*(b[1]-a[1])
			sum += g[1] * (b[1] - a[1]) * math.Pow(x, float64(m+1)) / float64(m+1) * math.Pow(y, float64(n))
		}
	}
	return sum
}

func TestRuleIsExactToDegreeSix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPolygon(t, "p")
		for m := range 7 {
			for n := range 7 - m {
				got := 0.0
				for _, s := range p.samplePoints(nil) {
					got += s.weight * math.Pow(s.at[0], float64(m)) * math.Pow(s.at[1], float64(n))
				}
				require.InDelta(t, momentByGreen(p, m, n), got, 1e-8*math.Pow(5, float64(m+n)))
			}
		}
	})
	// ∫₀¹∫₀² x⁴·y⁴ = 1/5 · 32/5
	got := 0.0
	for _, s := range rectangle([2]float64{0, 0}, [2]float64{1, 2}).samplePoints(nil) {
		got += s.weight * math.Pow(s.at[0]*s.at[1], 4)
	}
	require.InDelta(t, 32./25, got, 1e-13)
}

// A circle has the area π·r² and the second moment π·r⁴/4 about a diameter (any table of sections).
func TestCircle(t *testing.T) {
	c := circle([2]float64{3, -1}, 2)
	require.True(t, c.convex())
	require.InEpsilon(t, 4*math.Pi, c.area(), 1e-14)
	second := 0.0
	for _, s := range c.samplePoints(nil) {
		second += s.weight * (s.at[0] - 3) * (s.at[0] - 3)
	}
	require.InEpsilon(t, 4*math.Pi, second, 1e-4)
}

func TestConvex(t *testing.T) {
	for _, c := range []struct {
		name string
		p    polygon
		want bool
	}{
		{"square", rectangle([2]float64{0, 0}, [2]float64{1, 1}), true},
		{"corner on a side", polygon{{0, 0}, {1, 0}, {2, 0}, {0, 1}}, true},
		{"clockwise", polygon{{0, 0}, {0, 1}, {1, 0}}, false},
		{"dent", polygon{{0, 0}, {2, 0}, {0.2, 0.2}, {0, 2}}, false},
		{"two corners", polygon{{0, 0}, {1, 0}}, false},
		{"no area", polygon{{0, 0}, {1, 1}, {2, 2}}, false},
		{"not a number", polygon{{0, 0}, {math.NaN(), 0}, {1, 1}}, false},
		{"infinite", polygon{{0, 0}, {math.Inf(1), 0}, {1, 1}}, false},
	} {
		require.Equal(t, c.want, c.p.convex(), c.name)
	}
}
