package solid

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
)

// An invented metal of round numbers.
var (
	soft = beam.Material{Key: "soft", E: 70000, Nu: 0.33, Density: 2.7e-9, Expansion: 23e-6}
)

func blockOf(name string, made beam.Material, from, to r3.Vec) Part {
	return Part{Name: name, Made: made, Block: &Block{From: from, To: to}}
}

// patchOn is a zone over a rectangle of a plane.
func patchOn(s span) Zone {
	u, v := across(s.normal())
	return Zone{At: s.middle(), Normal: s.normal(), Polygon: rectangle([2]float64{s.From[u], s.From[v]},
		[2]float64{s.To[u], s.To[v]})}
}

func heldOn(s span) Region { return Region{s.normal(), s.From, s.To, s.middle()} }

// plainly has cells no finer than the mesh rule says.
func plainly(b *Body) []float64 {
	finer := make([]float64, len(b.Zones))
	for i := range finer {
		finer[i] = 1
	}
	return finer
}

func reduced(t require.TestingT, b *Body, mesh float64) *Reduced {
	r, err := b.Reduce(context.Background(), Settings{Mesh: mesh})
	require.NoError(t, err)
	return r
}

// reducedIfApart skips bodies whose zones were drawn on one place, or too near for the mesh as it is: refined at its
// zones, an enlarged body would have another mesh.
func reducedIfApart(t *rapid.T, b *Body) *Reduced {
	r, err := b.reduceOn(context.Background(), Settings{Mesh: coarse}, plainly(b))
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

// drawBody draws a block or, where nothing holds it, a gusset, with two to three zones; held is how many regions hold
// it.
func drawBody(t *rapid.T, held int) *Body {
	num := func(label string) float64 { return float64(rapid.IntRange(20, 60).Draw(t, label)) }
	b := &Body{Part: blockOf("a", drawMetal(t, "a"), r3.Vec{}, r3.Vec{X: num("x"), Y: num("y"), Z: num("z")})}
	_, hi := b.Part.Box()
	if held == 0 && rapid.Bool().Draw(t, "gusset") {
		legs := [2]r3.Vec{{X: num("leg")}, {Z: num("leg up")}}
		if rapid.Bool().Draw(t, "swapped") {
			legs[0], legs[1] = legs[1], legs[0]
		}
		b.Part = Part{Name: "a", Made: b.Part.Made, Gusset: &Gusset{r3.Vec{Z: hi[2]}, legs, r3.Vec{Y: num("thickness")}}}
	}
	for i := range rapid.IntRange(1, 2).Draw(t, "zones") + 1 {
		if g := b.Part.Gusset; g != nil { // on its sides, of different reach
			c := components(g.Corner)
			c[1] += g.Thickness.Y * float64(i%2)
			legs := r3.Scale(0.6-0.1*float64(i), r3.Add(g.Legs[0], g.Legs[1]))
			b.Zones = append(b.Zones, patchOn(span{c, [3]float64{c[0] + legs.X, c[1], c[2] + legs.Z}}))
			continue
		}
		face := drawFace(t, &b.Part, "zone")
		if held > 0 && face.normal() == 2 && face.From[2] == 0 { // a zone on a held face reads next to nothing
			face.From[2], face.To[2] = hi[2]/2, hi[2]/2
		}
		z := patchOn(face)
		if rapid.Bool().Draw(t, "ring") {
			z.Inner, z.Outer = 2, 9
		}
		z.Lone = rapid.Bool().Draw(t, "lone")
		b.Zones = append(b.Zones, z)
	}
	for i := range held {
		z := [3]float64{0, 0, 0}
		to := [3]float64{hi[0], hi[1] * 0.3, 0}
		if i == 1 {
			z[1], to[1] = hi[1]*0.7, hi[1]
		}
		s := heldOn(span{z, to})
		s.At = r3.Vec{X: rapid.Float64Range(-50, 50).Draw(t, "held at"), Z: 7}
		b.Held = append(b.Held, s)
	}
	return b
}

// coarse makes the least mesh: two cells in every direction and what hard lines add.
const coarse = 20

func TestBadBodies(t *testing.T) {
	good := func() *Body {
		return &Body{
			Part:  blockOf("b", soft, r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 20}),
			Zones: []Zone{patchOn(span{[3]float64{2, 2, 20}, [3]float64{8, 8, 20}})},
			Held:  []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{10, 10, 0}})},
		}
	}
	require.NoError(t, good().check())
	reduced(t, good(), coarse)
	for _, c := range []struct {
		name, want string
		spoil      func(b *Body)
	}{
		{"felt nowhere", "felt nowhere", func(b *Body) { b.Zones, b.Held = nil, nil }},
		{"nothing at all", "felt nowhere", func(b *Body) { *b = Body{} }},
		{"neither block nor gusset", `"b" must be either`, func(b *Body) { b.Part.Block = nil }},
		{"inside out", `"b" is -10 mm along z`, func(b *Body) { b.Part.Block.To.Z = -10 }},
		{"infinite", "along x", func(b *Body) { b.Part.Block.To.X = math.Inf(1) }},
		{"bad metal", `part "b": material`, func(b *Body) { b.Part.Made.E = 0 }},
		{"metal that cannot be squeezed", "Poisson", func(b *Body) { b.Part.Made.Nu = 0.5 }},
		{"skew gusset", "legs and the thickness", func(b *Body) {
			b.Part = Part{Name: "a", Made: soft, Gusset: &Gusset{Legs: [2]r3.Vec{{X: 1}, {X: 1, Y: 1}},
				Thickness: r3.Vec{Z: 1}}}
		}},
		{"zone off the part", "the zone at (5, 5, 21) on part \"b\" has no metal", func(b *Body) { b.Zones[0].At.Z = 21 }},
		{"zone of no known axis", "zone 0 must be square", func(b *Body) { b.Zones[0].Normal = 3 }},
		{"zone's radii", "inner < outer", func(b *Body) { b.Zones[0].Inner, b.Zones[0].Outer = 3, 2 }},
		{"zone like a line", "too narrow", func(b *Body) {
			b.Zones[0].Polygon = rectangle([2]float64{2, 2}, [2]float64{8, 2 + 1e-6})
		}},
		{"zone on held metal", "nothing can move", func(b *Body) {
			b.Zones[0] = patchOn(span{[3]float64{0, 0, 0}, [3]float64{10, 10, 0}})
		}},
		{"two zones on one place", "the zone at (5, 5, 20) on part \"b\" and the zone at (5, 5, 20)",
			func(b *Body) { b.Zones = append(b.Zones, b.Zones[0]) }},
		{"held nothing", "no metal of part \"b\"", func(b *Body) { b.Held[0].Lo[2], b.Held[0].Hi[2] = -5, -5 }},
		{"held twice", "another does not hold", func(b *Body) { b.Held = append(b.Held, b.Held[0]) }},
		{"held line", "held region 0 must be", func(b *Body) { b.Held[0].Lo[0] = b.Held[0].Hi[0] }},
	} {
		b := good()
		c.spoil(b)
		_, err := b.Reduce(context.Background(), Settings{Mesh: coarse})
		require.ErrorContains(t, err, c.want, c.name)
		if c.name == "two zones on one place" {
			var zones *ZoneError
			require.ErrorAs(t, err, &zones)
			require.Equal(t, []int{0, 1}, zones.Zones)
		}
	}
	_, err := good().Reduce(context.Background(), Settings{Mesh: -1})
	require.ErrorContains(t, err, "mesh of -1")
}

func TestCancelledReductionStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}),
		Zones: []Zone{patchOn(span{[3]float64{2, 2, 10}, [3]float64{8, 8, 10}})}}
	_, err := b.Reduce(ctx, Settings{})
	require.ErrorIs(t, err, context.Canceled)
}

// A mesh beyond what can be solved is refused before it is made: a plate a hundredth of a millimetre thick would have a
// thousand million cells.
func TestMeshTooFineIsRefused(t *testing.T) {
	thin := r3.Vec{X: 300, Y: 300, Z: 0.01}
	for name, p := range map[string]Part{
		"plate":  {Name: "sheet", Made: soft, Block: &Block{To: thin}},
		"gusset": {Name: "sheet", Made: soft, Gusset: &Gusset{Legs: [2]r3.Vec{{X: 300}, {Y: 300}}, Thickness: r3.Vec{Z: 0.01}}},
		"tip":    {Name: "sheet", Made: soft, Block: &Block{To: r3.Vec{X: 1e9, Y: 1e9, Z: 1e-9}}},
	} {
		b := &Body{Part: p, Zones: []Zone{patchOn(span{[3]float64{10, 10, 0}, [3]float64{30, 30, 0}})}}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := b.Reduce(context.Background(), Settings{})
		runtime.ReadMemStats(&after)
		var size *SizeError
		require.ErrorAs(t, err, &size, name)
		require.ErrorContains(t, err, `the mesh of part "sheet" would have`)
		require.Greater(t, size.Count, 1e7, name)
		require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1e6), name)
	}
}

// However coarse the mesh, zones side by side are told apart, for cells are made smaller there; two on one place are
// not.
func TestMeshRefinesItselfWhereZonesAreAlike(t *testing.T) {
	for _, mesh := range []float64{1, 4, coarse} {
		b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 200, Y: 100, Z: 20})}
		for _, x := range []float64{90, 95, 100} {
			b.Zones = append(b.Zones, patchOn(span{[3]float64{x, 45, 20}, [3]float64{x + 5, 55, 20}}))
		}
		b.Zones = append(b.Zones, patchOn(span{[3]float64{0, 0, 0}, [3]float64{20, 20, 0}}))
		for i := range b.Zones {
			b.Zones[i].Lone = true
		}
		r := reduced(t, b, mesh)
		require.Equal(t, 24, r.K.SymmetricDim())
		if mesh < coarse {
			continue
		}
		b.Zones = append(b.Zones, b.Zones[1])
		_, err := b.Reduce(context.Background(), Settings{Mesh: mesh})
		var alike *ZoneError
		require.ErrorAs(t, err, &alike)
		require.True(t, alike.Alike)
		require.Contains(t, alike.Zones, 4)
	}
}
