package surface

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// closed checks what holds for the surface of every solid: each side of a triangle is run once each way (Euler and
// Poincaré), so nothing is open and all triangles look outwards or all inwards; and the volume is that of the body.
func closed(t *testing.T, s Surface, volume float64) {
	t.Helper()
	sides := map[[2]int]int{}
	for _, tri := range s.Triangles {
		for k := range 3 {
			sides[[2]int{tri[k], tri[(k+1)%3]}]++
		}
	}
	for side, n := range sides {
		require.Equal(t, 1, n, "side %v", side)
		require.Equal(t, 1, sides[[2]int{side[1], side[0]}], "side %v the other way", side)
	}
	require.InEpsilon(t, volume, volumeOf(s), 1e-9)
	for _, e := range s.Edges {
		require.Positive(t, sides[e]+sides[[2]int{e[1], e[0]}], "edge %v is the side of some triangle", e)
	}
}

// volumeOf is what a surface encloses, mm³, by the theorem of Gauss: below zero where it is inside out.
func volumeOf(s Surface) float64 {
	sum := 0.0
	for _, t := range s.Triangles {
		sum += r3.Dot(s.At[t[0]], r3.Cross(s.At[t[1]], s.At[t[2]]))
	}
	return sum / 6
}

func rectangle(x, y, w, h, z float64) []r3.Vec {
	return []r3.Vec{{X: x, Y: y, Z: z}, {X: x + w, Y: y, Z: z}, {X: x + w, Y: y + h, Z: z}, {X: x, Y: y + h, Z: z}}
}

func reversed(loop []r3.Vec) []r3.Vec {
	out := make([]r3.Vec, len(loop))
	for i, p := range loop {
		out[len(loop)-1-i] = p
	}
	return out
}

// Volumes are those of the bodies' own formulas.
func TestSurfacesAreClosed(t *testing.T) {
	box := Box(r3.Vec{X: -1, Y: 2, Z: 3}, r3.Vec{X: 4, Y: 5, Z: 7}, [3]int{8, 2, 1})
	closed(t, box, 5*3*4)
	require.Len(t, box.At, 9*3*2)
	require.Len(t, box.Edges, 4*8+4*2+4)
	for _, legs := range [][2]r3.Vec{{{X: 60}, {Z: 80}}, {{Z: 80}, {X: 60}}, {{X: -60}, {Z: 80}}} {
		closed(t, Gusset(r3.Vec{Y: 5}, legs, r3.Vec{Y: 10}, 4), 60*80/2*10)
	}
	for _, turned := range []bool{false, true} {
		outline, hole := rectangle(0, 0, 40, 20, 0), rectangle(5, 5, 10, 8, 0)
		second := rectangle(20, 5, 15, 10, 0)
		if turned {
			outline, second = reversed(outline), reversed(second)
		}
		var sections [][][]r3.Vec
		for i := range 4 {
			var section [][]r3.Vec
			for _, loop := range [][]r3.Vec{outline, hole, second} {
				var moved []r3.Vec
				for _, p := range loop {
					moved = append(moved, r3.Add(p, r3.Vec{Z: 100 * float64(i)}))
				}
				section = append(section, moved)
			}
			sections = append(sections, section)
		}
		closed(t, Loft(sections, r3.Vec{Z: 1}), (40*20-10*8-15*10)*300)
	}
	const n = 12
	ring := func(radius, z float64) [][]r3.Vec { return [][]r3.Vec{Circle(r3.Vec{Z: z}, r3.Vec{Z: 1}, radius, n)} }
	polygon := n / 2. * math.Sin(2*math.Pi/n) // area of a regular polygon in the unit circle
	closed(t, Loft([][][]r3.Vec{ring(3, 0), ring(3, 10)}, r3.Vec{Z: 1}), polygon*9*10)
	// frustum: h/3·(A + √(A·B) + B)
	closed(t, Loft([][][]r3.Vec{ring(3, 0), ring(1, 10)}, r3.Vec{Z: 1}), polygon*10/3*(9+3+1))
	angle := []r3.Vec{{}, {X: 30}, {X: 30, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 30}, {Y: 30}}
	far := make([]r3.Vec, len(angle))
	for i, p := range angle {
		far[i] = r3.Add(p, r3.Vec{Z: 50})
	}
	closed(t, Loft([][][]r3.Vec{{angle}, {far}}, r3.Vec{Z: 1}), (30*4+26*4)*50)
}

// A round bar is drawn without edges along it, a square one with its four.
func TestEdgesOfBars(t *testing.T) {
	for _, tt := range []struct{ corners, along int }{{12, 0}, {4, 4}} {
		loops := func(z float64) [][]r3.Vec { return [][]r3.Vec{Circle(r3.Vec{Z: z}, r3.Vec{Z: 1}, 5, tt.corners)} }
		s := Loft([][][]r3.Vec{loops(0), loops(9)}, r3.Vec{Z: 1})
		require.Len(t, s.Edges, 2*tt.corners+tt.along, fmt.Sprint(tt.corners))
	}
}

// The corners of a rounded square that are left are those that its shape hangs on.
func TestThinned(t *testing.T) {
	loop := [][2]float64{{0, 0}, {5, 0}, {10, 0}, {10.01, 5}, {10, 10}, {5, 10.02}, {0, 10}, {0, 5}}
	require.Equal(t, [][2]float64{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, Thinned(loop, 4))
	require.Len(t, Thinned(loop[:3], 1), 3)
}
