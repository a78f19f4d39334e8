package solid

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// ringed is a plate with the rings of M6 screws on its faces.
func ringed(size r3.Vec, at []r3.Vec) *Body {
	b := &Body{Part: blockOf("plate", soft, r3.Vec{}, size)}
	for _, p := range at {
		b.Zones = append(b.Zones, Zone{At: p, Normal: 2, Inner: 3.3, Outer: 9, Polygon: rectangle([2]float64{0, 0},
			[2]float64{size.X, size.Y})})
	}
	return b
}

// rows are evenly spread places.
func rows(nx, ny int, x0, x1, y0, y1, z float64) (at []r3.Vec) {
	step := func(i, n int, from, to float64) float64 {
		if n == 1 {
			return from
		}
		return from + (to-from)*float64(i)/float64(n-1)
	}
	for i := range nx {
		for j := range ny {
			at = append(at, r3.Vec{X: step(i, nx, x0, x1), Y: step(j, ny, y0, y1), Z: z})
		}
	}
	return at
}

var (
	upright = ringed(r3.Vec{X: 300, Y: 150, Z: 40}, append(rows(2, 3, 20, 280, 20, 130, 40), rows(4, 1, 30, 270, 75, 75,
		0)...))
	base = ringed(r3.Vec{X: 520, Y: 540, Z: 40}, append(append(rows(4, 3, 60, 460, 60, 480, 40),
		rows(2, 4, 130, 390, 100, 440, 40)...), rows(2, 2, 20, 500, 20, 520, 0)...))
)

// Plates with dozens of screws stay small: the budget of a machine's parts.
func TestMeshesOfScrewedPlatesAreSmall(t *testing.T) {
	for _, c := range []struct {
		name  string
		body  *Body
		zones int
		most  int
	}{{"upright 300 x 150 x 40", upright, 10, 15000}, {"base 520 x 540 x 40", base, 24, 40000}} {
		require.Len(t, c.body.Zones, c.zones)
		n := 3 * meshOf(c.body, 1)
		t.Logf("%s: %d unknowns", c.name, n)
		require.Less(t, n, c.most)
	}
}

// What the rule promises: lines at hard edges, small cells beside them, no cell larger than allowed, two across.
func TestMeshRule(t *testing.T) {
	b := &Body{
		Part:  blockOf("plate", soft, r3.Vec{}, r3.Vec{X: 200, Y: 100, Z: 20}),
		Zones: []Zone{patchOn(span{[3]float64{120, 40, 20}, [3]float64{140, 60, 20}})},
		Held:  []Region{heldOn(span{[3]float64{50, 0, 0}, [3]float64{70, 100, 0}})},
	}
	b.Zones[0].Aligned = true
	usualWishes := b.wishes(1, plainly(b))
	lines := usualWishes.profile(0).lines()
	for _, x := range []float64{0, 50, 70, 120, 140, 200} {
		require.Contains(t, lines, x)
	}
	for i := 1; i < len(lines); i++ {
		require.LessOrEqual(t, lines[i]-lines[i-1], largestShare*20+1e-9)
		if lines[i-1] == 50 || lines[i] == 50 || lines[i-1] == 70 || lines[i] == 70 {
			require.LessOrEqual(t, lines[i]-lines[i-1], growth*innerShare*20, "beside an inward corner")
		}
	}
	for k := range 3 {
		w := b.wishes(coarse, plainly(b))
		require.GreaterOrEqual(t, len(w.profile(k).lines()), 1+leastCells)
		require.EqualValues(t, w.profile(k).most(), len(w.profile(k).lines())-1, "counted before they are made")
	}
	fewer, usual, more := meshOf(b, 2), meshOf(b, 1), meshOf(b, 0.5)
	require.Less(t, fewer, usual)
	require.Less(t, usual, more)
}

// meshOf is the number of a mesh's nodes.
func meshOf(b *Body, times float64) int {
	return len(b.mesh(b.plan(Settings{Mesh: times}, nil)).Nodes)
}

func BenchmarkReduce(b *testing.B) {
	cases := map[string]*Body{"upright": upright, "base": base}
	names := []string{"upright", "base"}
	for _, c := range readSolidCases(b, "solid-reference.yaml", 7)[:2] {
		cases[c.ID] = c.body(b)
		names = append(names, c.ID)
	}
	for _, name := range names {
		b.Run(fmt.Sprintf("body=%s", name), func(b *testing.B) {
			b.ReportAllocs()
			unknowns := 0
			for b.Loop() {
				unknowns = reduced(b, cases[name], 1).Unknowns()
			}
			b.ReportMetric(float64(unknowns), "unknowns")
		})
	}
}
