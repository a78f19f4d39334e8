package solid

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/sparse"
)

// Invented metals of round numbers.
var (
	soft = beam.Material{Key: "soft", E: 70000, Nu: 0.33, Density: 2.7e-9, Expansion: 23e-6}
	hard = beam.Material{Key: "hard", E: 210000, Nu: 0.28, Density: 7.85e-9, Expansion: 12e-6}
)

func blockOf(name string, made beam.Material, from, to r3.Vec) Part {
	return Part{Name: name, Made: made, Block: &Block{from, to}}
}

// patchOn is a zone over a rectangle of a plane.
func patchOn(part int, s span) Zone {
	u, v := across(s.normal())
	return Zone{Part: part, At: s.middle(), Normal: s.normal(), Polygon: rectangle([2]float64{s.From[u], s.From[v]},
		[2]float64{s.To[u], s.To[v]})}
}

func heldOn(part int, s span) Region { return Region{part, s.normal(), s.From, s.To, s.middle()} }

func reduced(t require.TestingT, b *Body, mesh float64) *Reduced {
	r, err := b.Reduce(context.Background(), Settings{Mesh: mesh})
	require.NoError(t, err)
	return r
}

// reducedIfApart skips bodies whose zones were drawn on one place.
func reducedIfApart(t *rapid.T, b *Body) *Reduced {
	r, err := b.Reduce(context.Background(), Settings{Mesh: coarse})
	var zones *ZoneError
	if errors.As(err, &zones) {
		t.Skip(err)
	}
	require.NoError(t, err)
	return r
}

func drawMetal(t *rapid.T, label string) beam.Material {
	return beam.Material{Key: label, E: math.Exp(rapid.Float64Range(8, 13).Draw(t, label+" log E")),
		Nu: rapid.Float64Range(0, 0.45).Draw(t, label+" nu"), Density: 3e-9, Expansion: 2e-5}
}

func drawFace(t *rapid.T, p *Part, label string) span {
	lo, hi := p.Box()
	n := rapid.IntRange(0, 2).Draw(t, label+" normal")
	s := span{lo, hi}
	at := rapid.SampledFrom([]float64{lo[n], hi[n], (lo[n] + hi[n]) / 2}).Draw(t, label+" plane")
	s.From[n], s.To[n] = at, at
	u, v := across(n)
	for _, k := range []int{u, v} {
		a := float64(rapid.IntRange(-1, 6).Draw(t, label+" from")) / 10
		b := a + float64(rapid.IntRange(3, 6).Draw(t, label+" size"))/10
		s.From[k], s.To[k] = lo[k]+a*(hi[k]-lo[k]), lo[k]+b*(hi[k]-lo[k])
	}
	return s
}

// drawBody draws one block, or two bonded on a face on non-matching meshes, or a block with a gusset on it, with two to
// three zones; held is how many regions hold it.
func drawBody(t *rapid.T, held int) *Body {
	num := func(label string) float64 { return float64(rapid.IntRange(20, 60).Draw(t, label)) }
	// Shares are tenths: places that differ by less than a cell but more than rounding make cells like leaves.
	share := func(label string, from, to int) float64 { return float64(rapid.IntRange(from, to).Draw(t, label)) / 10 }
	b := &Body{Parts: []Part{blockOf("a", drawMetal(t, "a"), r3.Vec{}, r3.Vec{X: num("x"), Y: num("y"), Z: num("z")})}}
	lo, hi := b.Parts[0].Box()
	switch rapid.IntRange(0, 2).Draw(t, "second part") {
	case 1:
		n := rapid.IntRange(0, 2).Draw(t, "tied across")
		var from, to [3]float64
		u, v := across(n)
		for _, k := range []int{u, v} {
			from[k] = hi[k] * share("from", -4, 5)
			to[k] = from[k] + hi[k]*share("size", 6, 11)
		}
		from[n], to[n] = hi[n], hi[n]+num("height")
		if rapid.Bool().Draw(t, "below") {
			from[n], to[n] = lo[n]-num("height"), lo[n]
		}
		b.Parts = append(b.Parts, blockOf("b", drawMetal(t, "b"), vector(from), vector(to)))
	case 2:
		legs := [2]r3.Vec{{X: hi[0] * share("leg", 4, 9)}, {Z: num("leg up")}}
		if rapid.Bool().Draw(t, "swapped") {
			legs[0], legs[1] = legs[1], legs[0]
		}
		b.Parts = append(b.Parts, Part{Name: "g", Made: drawMetal(t, "g"), Gusset: &Gusset{r3.Vec{Z: hi[2]}, legs,
			r3.Vec{Y: hi[1] * share("thickness", 2, 8)}}})
	}
	b.Ties = bonds(b.Parts)
	for i := range rapid.IntRange(1, 2).Draw(t, "zones") + 1 {
		part := i % len(b.Parts)
		if b.Parts[part].Gusset != nil { // on its side
			g := b.Parts[part].Gusset
			c := components(g.Corner)
			legs := r3.Add(g.Legs[0], g.Legs[1])
			b.Zones = append(b.Zones, patchOn(part, span{[3]float64{c[0], c[1], c[2]}, [3]float64{c[0] + 0.6*legs.X, c[1],
				c[2] + 0.6*legs.Z}}))
			continue
		}
		face := drawFace(t, &b.Parts[part], "zone")
		if held > 0 && face.normal() == 2 && face.From[2] == 0 { // a zone on a held face reads next to nothing
			face.From[2], face.To[2] = hi[2]/2, hi[2]/2
		}
		z := patchOn(part, face)
		if rapid.Bool().Draw(t, "ring") {
			z.Inner, z.Outer = 2, 9
		}
		b.Zones = append(b.Zones, z)
	}
	for i := range held {
		z := [3]float64{0, 0, 0}
		to := [3]float64{hi[0], hi[1] * 0.3, 0}
		if i == 1 {
			z[1], to[1] = hi[1]*0.7, hi[1]
		}
		s := heldOn(0, span{z, to})
		s.At = r3.Vec{X: rapid.Float64Range(-50, 50).Draw(t, "held at"), Z: 7}
		b.Held = append(b.Held, s)
	}
	return b
}

// coarse makes the least mesh: two cells in every direction and what hard lines add.
const coarse = 20

func TestBadBodies(t *testing.T) {
	good := func() *Body {
		b := &Body{
			Parts: []Part{blockOf("a", soft, r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}), blockOf("b", soft, r3.Vec{Z: 10},
				r3.Vec{X: 10, Y: 10, Z: 20})},
			Zones: []Zone{patchOn(1, span{[3]float64{2, 2, 20}, [3]float64{8, 8, 20}})},
			Held:  []Region{heldOn(0, span{[3]float64{0, 0, 0}, [3]float64{10, 10, 0}})},
		}
		b.Ties = bonds(b.Parts)
		return b
	}
	require.NoError(t, good().check())
	reduced(t, good(), coarse)
	for _, c := range []struct {
		name, want string
		spoil      func(b *Body)
	}{
		{"no parts", "without parts", func(b *Body) { *b = Body{} }},
		{"felt nowhere", "felt nowhere", func(b *Body) { b.Zones, b.Held = nil, nil }},
		{"neither block nor gusset", `"a" must be either`, func(b *Body) { b.Parts[0].Block = nil }},
		{"inside out", `"b" is -10 mm along z`, func(b *Body) { b.Parts[1].Block.To.Z = 0 }},
		{"infinite", "along x", func(b *Body) { b.Parts[1].Block.To.X = math.Inf(1) }},
		{"bad metal", `part "a": material`, func(b *Body) { b.Parts[0].Made.E = 0 }},
		{"metal that cannot be squeezed", "Poisson", func(b *Body) { b.Parts[0].Made.Nu = 0.5 }},
		{"skew gusset", "legs and the thickness", func(b *Body) {
			b.Parts[0] = Part{Name: "a", Made: soft, Gusset: &Gusset{Legs: [2]r3.Vec{{X: 1}, {X: 1, Y: 1}},
				Thickness: r3.Vec{Z: 1}}}
		}},
		{"tie with itself", "must join two parts", func(b *Body) { b.Ties[0].B = b.Ties[0].A }},
		{"tie off the faces", "look at one another", func(b *Body) { b.Ties[0].Lo[2], b.Ties[0].Hi[2] = 5, 5 }},
		{"tie beside", "share nothing", func(b *Body) { b.Ties[0].Lo[0], b.Ties[0].Hi[0] = 20, 30 }},
		{"loose part", `"b" is tied to nothing`, func(b *Body) { b.Ties = nil }},
		{"zone off the part", "the zone at (5, 5, 21) on part \"b\" has no metal", func(b *Body) { b.Zones[0].At.Z = 21 }},
		{"zone of no known part", "zone 0 must lie", func(b *Body) { b.Zones[0].Part = 2 }},
		{"zone's radii", "inner < outer", func(b *Body) { b.Zones[0].Inner, b.Zones[0].Outer = 3, 2 }},
		{"zone like a line", "too narrow", func(b *Body) {
			b.Zones[0].Polygon = rectangle([2]float64{2, 2}, [2]float64{8, 2 + 1e-6})
		}},
		{"zone on held metal", "nothing can move", func(b *Body) {
			b.Zones[0] = patchOn(0, span{[3]float64{0, 0, 0}, [3]float64{10, 10, 0}})
		}},
		{"two zones on one place", "the zone at (5, 5, 20) on part \"b\" and the zone at (5, 5, 20)",
			func(b *Body) { b.Zones = append(b.Zones, b.Zones[0]) }},
		{"held nothing", "no metal of part \"a\"", func(b *Body) { b.Held[0].Lo[2], b.Held[0].Hi[2] = -5, -5 }},
		{"held twice", "another does not hold", func(b *Body) { b.Held = append(b.Held, b.Held[0]) }},
		{"held line", "held region 0 must be", func(b *Body) { b.Held[0].Lo[0] = b.Held[0].Hi[0] }},
	} {
		b := good()
		c.spoil(b)
		_, err := b.Reduce(context.Background(), Settings{Mesh: coarse})
		require.ErrorContains(t, err, c.want, c.name)
	}
	_, err := good().Reduce(context.Background(), Settings{Mesh: -1})
	require.ErrorContains(t, err, "mesh of -1")
	var zones *ZoneError
	b := good()
	b.Zones = append(b.Zones, b.Zones[0])
	_, err = b.Reduce(context.Background(), Settings{Mesh: coarse})
	require.ErrorAs(t, err, &zones)
	require.Equal(t, []int{0, 1}, zones.Zones)
}

func TestCancelledReductionStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	b := &Body{Parts: []Part{blockOf("a", soft, r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10})},
		Zones: []Zone{patchOn(0, span{[3]float64{2, 2, 10}, [3]float64{8, 8, 10}})}}
	_, err := b.Reduce(ctx, Settings{})
	require.ErrorIs(t, err, context.Canceled)
}

// A loose part is named: the unknown that cannot be eliminated is one of its nodes'.
func TestLooseMatrixNamesThePart(t *testing.T) {
	b := readSolidCases(t, "solid-reference.yaml", 7)[2].body(t)
	r := reduced(t, b, coarse)
	last := r.nodes[1][len(r.nodes[1])-1]
	err := r.loose(&sparse.LooseError{Unknown: r.free[3*last+1]})
	require.ErrorContains(t, err, `part "block2" is loose`)
	require.Equal(t, context.Canceled, r.loose(context.Canceled))
}

func TestMeshTooFineIsRefused(t *testing.T) {
	b := &Body{Parts: []Part{{Name: "cube", Made: beam.Material{E: 70e3, Nu: 0.33},
		Block: &Block{To: r3.Vec{X: 100, Y: 100, Z: 100}}}}}
	b.Held = []Region{{Normal: 2, Hi: [3]float64{100, 100, 0}}}
	_, err := b.Reduce(context.Background(), Settings{Mesh: 0.009})
	require.ErrorContains(t, err, "is too fine to be solved here")
}
