package solid

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// mirroredBody is a body with every coordinate times ±1 and shifted, and its zones in the opposite order.
func mirroredBody(b *Body, sign, shift [3]float64) *Body {
	at := func(v r3.Vec) r3.Vec {
		c := components(v)
		for k := range c {
			c[k] = c[k]*sign[k] + shift[k]
		}
		return vector(c)
	}
	along := func(v r3.Vec) r3.Vec { return r3.Sub(at(v), vector(shift)) }
	out := &Body{Part: Part{Name: "mirrored", Made: b.Part.Made}}
	if p := b.Part.Block; p != nil {
		from, to := components(at(p.From)), components(at(p.To))
		for k := range from {
			from[k], to[k] = min(from[k], to[k]), max(from[k], to[k])
		}
		out.Part.Block = &Block{From: vector(from), To: vector(to)}
	}
	if g := b.Part.Gusset; g != nil {
		out.Part.Gusset = &Gusset{at(g.Corner), [2]r3.Vec{along(g.Legs[0]), along(g.Legs[1])}, along(g.Thickness)}
	}
	for _, z := range b.Zones {
		u, v := across(z.Normal)
		z.At = at(z.At)
		z.Polygon = slices.Clone(z.Polygon)
		for i, corner := range z.Polygon {
			z.Polygon[i] = [2]float64{corner[0]*sign[u] + shift[u], corner[1]*sign[v] + shift[v]}
		}
		if sign[u] != sign[v] {
			slices.Reverse(z.Polygon)
		}
		out.Zones = append(out.Zones, z)
	}
	slices.Reverse(out.Zones)
	for _, h := range b.Held {
		lo, hi := components(at(vector(h.Lo))), components(at(vector(h.Hi)))
		for k := range lo {
			lo[k], hi[k] = min(lo[k], hi[k]), max(lo[k], hi[k])
		}
		out.Held = append(out.Held, Region{h.Normal, lo, hi, at(h.At)})
	}
	return out
}

func placedOf(t require.TestingT, b *Body) *Placed {
	shape, err := b.Shape()
	require.NoError(t, err)
	r, err := shape.Reduce(context.Background(), Settings{Mesh: coarse})
	require.NoError(t, err)
	return shape.Place(r)
}

// alikeShare is the largest difference between two ways of reducing one body, as a share of the largest number beside
// it: the rounding of a factorisation. What a gauge gives, its weights and what a field moves are differences of larger
// numbers where the gauge lies on a zone: 1.5e-7 of them was seen in 1000 draws.
const (
	alikeShare = 1e-8
	giveShare  = 1e-6
)

// A length as those of the drawn bodies brings movements and rotations, forces and moments, to one scale.
const drawnLength = 50.0

// requireAlike compares numbers by freedom, those of rotations times arm.
func requireAlike(t *rapid.T, want, got []float64, arm, share float64, what string) {
	size, off := 0.0, 0.0
	for i, v := range want {
		by := 1.0
		if i%6 >= 3 {
			by = arm
		}
		size, off = max(size, by*math.Abs(v)), max(off, by*math.Abs(v-got[i]))
	}
	if !(off <= share*size) {
		t.Fatalf("%s: off by %g of %g", what, off, size)
	}
}

// A body shifted and mirrored has the shape of the other, bit for bit, and put in its place the reduced shape does what
// the body reduced where it stands does: stiffness, weight, growth, gauges beside ports, and the field inside.
func TestPlacedBodyIsReducedInPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drawn := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		var sign, shift [3]float64
		for k := range sign {
			sign[k] = float64(1 - 2*rapid.IntRange(0, 1).Draw(t, "mirror"))
			shift[k] = rapid.Float64Range(-900, 900).Draw(t, "shift")
		}
		b := mirroredBody(drawn, sign, shift)
		first, err := drawn.Shape()
		require.NoError(t, err)
		shape, err := b.Shape()
		require.NoError(t, err)
		// Whether a zone is too like others goes by their order, which is another in the shape: then one mesh would be finer.
		p, r := shape.Place(reducedIfApart(t, &shape.Body)), reducedIfApart(t, b)
		require.Equal(t, first.Body.numbers(), p.shape.Body.numbers(), "one shape")
		require.Equal(t, first.Body.Part.Block, p.shape.Body.Part.Block)
		require.Equal(t, first.Body.Part.Gusset, p.shape.Body.Part.Gusset)

		n := r.K.SymmetricDim()
		even, by := scaled(r.K)
		other := mat.NewSymDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				other.SetSym(i, j, p.K.At(i, j)*by[i]*by[j])
			}
		}
		requireAlike(t, even.RawSymmetric().Data, other.RawSymmetric().Data, 1, alikeShare, "stiffness")
		for k, w := range r.Weight() {
			requireAlike(t, w, p.Weight()[k], 1/drawnLength, alikeShare, "weight")
		}
		warm := Warm{Mean: 3, Gradient: r3.Vec{X: 0.2, Y: -0.1, Z: 0.05}}
		requireAlike(t, r.Warmth(warm), p.Warmth(warm), 1/drawnLength, alikeShare, "growth")

		zones := drawPlaces(t, drawn, 2)
		zones = mirroredBody(&Body{Zones: zones, Part: drawn.Part}, sign, shift).Zones
		ports, err := r.Ports(zones[0])
		require.NoError(t, err)
		placedPorts, err := p.Ports(zones[0])
		require.NoError(t, err)
		places, err := r.ReadBeside(ports, zones[1:]...)
		require.NoError(t, err)
		placed, err := p.ReadBeside(placedPorts, zones[1:]...)
		require.NoError(t, err)
		v := make([]float64, n)
		for i := range v {
			v[i] = rapid.Float64Range(-1, 1).Draw(t, "v")
		}
		load := Load{Gravity: r3.Vec{X: 300, Y: -900, Z: 9e3}, Warm: []Warm{warm}, Pushes: []Push{{zones[1],
			[6]float64{100, -70, 40, 900, 500, -300}}}}
		f, g := r.Recover(v, load), p.Recover(v, load)
		for i := range zones[1:] {
			a, b := places.Gauge(i), placed.Gauge(i)
			for k := range 6 {
				requireAlike(t, a.Weights[k], b.Weights[k], 1/drawnLength, giveShare, "gauge")
				for l := range 6 {
					scale := math.Sqrt(giveOf(r, a.Local[k][k], k) * giveOf(r, a.Local[l][l], l))
					require.InDelta(t, a.Local[k][l]/scale, b.Local[k][l]/scale, giveShare, "give")
				}
				for l, terms := range ports.Zones[0] {
					want, got := 0.0, 0.0
					for _, term := range terms {
						want += term.Factor * a.Across[k][term.Unknown]
					}
					for _, term := range placedPorts.Zones[0][l] {
						got += term.Factor * b.Across[k][term.Unknown]
					}
					scale := math.Sqrt(giveOf(r, a.Local[k][k], k) * giveOf(r, localOf(ports, l), l))
					require.InDelta(t, want/scale, got/scale, giveShare, "across")
				}
			}
			want, got := f.Mean(zones[1+i]), g.Mean(zones[1+i])
			requireAlike(t, want[:], got[:], drawnLength, giveShare, "mean")
			wanted, gotten := places.Means(f)[i], placed.Means(g)[i]
			requireAlike(t, wanted[:], gotten[:], drawnLength, giveShare, "means")
		}
		require.InEpsilon(t, f.Energy(), g.Energy(), alikeShare)
		require.InEpsilon(t, f.MeshDoubt(), g.MeshDoubt(), 1e-6, "of a small difference")
		worst, _ := f.Worst()
		placedWorst, _ := g.Worst()
		require.InEpsilon(t, worst.Stress, placedWorst.Stress, 1e-7)
		require.Less(t, r3.Norm(r3.Sub(worst.At, placedWorst.At)), 1e-6)
	})
}

// giveOf is a give of a freedom, or where it is held a thousandth of that of a bar of the body's size.
func giveOf(r *Reduced, give float64, freedom int) float64 {
	bar := 1e-3 / (r.body.Part.Made.E * drawnLength)
	if freedom >= 3 {
		bar /= drawnLength * drawnLength
	}
	return max(give, bar)
}

// localOf is the give of freedom l of the first port.
func localOf(p *Ports, l int) (give float64) {
	for _, a := range p.Zones[0][l] {
		for _, b := range p.Zones[0][l] {
			give += a.Factor * b.Factor * p.Local.At(a.Unknown, b.Unknown)
		}
	}
	return give
}
