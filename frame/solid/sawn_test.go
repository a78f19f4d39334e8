package solid

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/outline"
)

// sawnPart is a plate of a shape, square to an axis.
func sawnPart(normal int, thickness float64, loops ...[]outline.Point) Part {
	lo, hi := outline.Shape(loops).Bounds()
	u, v := across(normal)
	var from, to [3]float64
	from[u], to[u], from[v], to[v], to[normal] = lo[0], hi[0], lo[1], hi[1], thickness
	return Part{Name: "sawn", Made: soft, Block: &Block{From: vector(from), To: vector(to), Sawn: &Sawn{normal, loops}}}
}

// drawLoops draws a star-shaped outline, some with a window in its middle, some with corners on a grid so that edges run
// along the axes.
func drawLoops(t *rapid.T) [][]outline.Point {
	n := rapid.IntRange(3, 14).Draw(t, "corners")
	turn := rapid.Float64Range(0, 1).Draw(t, "turn")
	star := func(n int, least, most float64) (loop []outline.Point) {
		for i := range n {
			angle := 2 * math.Pi * (float64(i) + turn) / float64(n)
			r := rapid.Float64Range(least, most).Draw(t, "radius")
			loop = append(loop, outline.Point{300 + r*math.Cos(angle), 200 + r*math.Sin(angle)})
		}
		return loop
	}
	loops := [][]outline.Point{star(n, 60, 150)}
	if rapid.Bool().Draw(t, "window") {
		window := star(rapid.IntRange(3, 9).Draw(t, "window corners"), 5, 20)
		slices.Reverse(window)
		loops = append(loops, window)
	}
	if rapid.Bool().Draw(t, "curved") {
		const fine = 12 // chords for each side, bulged outwards a little
		var round []outline.Point
		for i, a := range loops[0] {
			b := loops[0][(i+1)%len(loops[0])]
			for k := range fine {
				s := float64(k) / fine
				bulge := 0.1 * s * (1 - s)
				round = append(round, outline.Point{a[0] + s*(b[0]-a[0]) + bulge*(b[1]-a[1]), a[1] + s*(b[1]-a[1]) - bulge*(b[0]-a[0])})
			}
		}
		loops[0] = round
	}
	return loops
}

// clean takes a shape's loops in order, or skips.
func clean(t *rapid.T, loops [][]outline.Point) outline.Shape {
	inOrder, err := beam.CleanOutline(loops[0], loops[1:])
	if err != nil {
		t.Skip(err)
	}
	return inOrder
}

// sides of an element as its corners: those that only one element has are the body's surface.
var elementSides = [2][][]int{
	Brick: {{0, 1, 2, 3}, {4, 5, 6, 7}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}},
	Wedge: {{0, 1, 2}, {3, 4, 5}, {0, 1, 4, 3}, {1, 2, 5, 4}, {2, 0, 3, 5}},
}

func volumeOf(m *Mesh) (sum float64) {
	for e := range m.Elements {
		f := m.family(e)
		for i, st := range f.Stations {
			_, j := m.place(e, f.sampled[i])
			_, v := reciprocal(j)
			sum += v * st.Weight
		}
	}
	return sum
}

// surfaceOf is the area of the sides that only one element has.
func surfaceOf(m *Mesh) (sum float64) {
	count, area := map[string]int{}, map[string]float64{}
	for _, el := range m.Elements {
		for _, side := range elementSides[el.Kind] {
			var ids []int
			for _, c := range side {
				ids = append(ids, el.Nodes[c])
			}
			var twice r3.Vec
			for i := 2; i < len(ids); i++ {
				twice = r3.Add(twice, r3.Cross(r3.Sub(m.Nodes[ids[i-1]], m.Nodes[ids[0]]), r3.Sub(m.Nodes[ids[i]], m.Nodes[ids[0]])))
			}
			slices.Sort(ids)
			key := fmt.Sprint(ids)
			count[key]++
			area[key] = r3.Norm(twice) / 2
		}
	}
	for key, n := range count {
		if n == 1 {
			sum += area[key]
		}
	}
	return sum
}

func perimeterOf(s outline.Shape) (sum float64) {
	for _, loop := range s {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			sum += math.Hypot(b[0]-a[0], b[1]-a[1])
		}
	}
	return sum
}

// TestSawnMeshFits: the elements of a random shape fill it and fit together: what only one of them has as its side is
// the surface of the shape, and all are the right way round.
func TestSawnMeshFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := clean(t, drawLoops(t))
		thickness := rapid.Float64Range(4, 25).Draw(t, "thickness")
		p := sawnPart(rapid.IntRange(0, 2).Draw(t, "normal"), thickness, shape...)
		b := &Body{Part: p}
		for range rapid.IntRange(0, 3).Draw(t, "zones") {
			b.Zones = append(b.Zones, patchOn(drawFace(t, &p, "zone")))
		}
		plan := b.plan(Settings{Mesh: rapid.Float64Range(0.7, 3).Draw(t, "mesh")}, nil)
		m := b.mesh(plan)
		require.LessOrEqual(t, float64(len(m.Elements)), plan.cells*1.5+50)
		drawn := plan.sawn.shape
		// Where an edge crosses a line of the mesh almost where another line is, it goes through where these two cross.
		moved := sameLine * p.longest() * perimeterOf(drawn)
		require.InDelta(t, drawn.Area()*thickness, volumeOf(m), moved*thickness+1e-9*volumeOf(m))
		require.InDelta(t, perimeterOf(drawn)*thickness+2*drawn.Area(), surfaceOf(m), 2*moved+1e-6*surfaceOf(m))
		// What the mesh does not follow is nothing against the thickness.
		require.InDelta(t, shape.Area(), drawn.Area(), 2*stepShare*thickness*perimeterOf(shape))
	})
}

// TestSawnFlatPeak: a corner that only just stands out is left out, unless the block reaches no farther: at the ends of its
// box a mesh has lines, along whichever axis.
func TestSawnFlatPeak(t *testing.T) {
	for _, loop := range [][]outline.Point{
		{{0, 0}, {50, 0}, {60, 10}, {100, 10}, {110, 0}, {160, 0}, {160, 159.9}, {80, 160}, {0, 159.9}},
		{{0, 0.1}, {80, 0}, {160, 0.1}, {160, 160}, {110, 160}, {100, 150}, {60, 150}, {50, 160}, {0, 160}},
		{{0, 0}, {159.9, 0}, {160, 80}, {159.9, 160}, {0, 160}, {0, 110}, {10, 100}, {10, 60}, {0, 50}},
		{{0.1, 0}, {160, 0}, {160, 50}, {150, 60}, {150, 100}, {160, 110}, {160, 160}, {0.1, 160}, {0, 80}},
	} {
		p := sawnPart(0, 15, loop)
		b := &Body{Part: p}
		require.InEpsilon(t, outline.Shape{loop}.Area()*15, volumeOf(b.mesh(b.plan(Settings{}, nil))), 1e-3)
	}
}

// TestSawnRectangleIsTheBlock: a rectangle has the cells of the whole block.
func TestSawnRectangleIsTheBlock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sawnPart(rapid.IntRange(0, 2).Draw(t, "normal"), 12, []outline.Point{{0, 0}, {230, 0}, {230, 90}, {0, 90}})
		sawn := &Body{Part: p, Zones: []Zone{patchOn(drawFace(t, &p, "zone"))}}
		whole := *sawn
		whole.Part.Block = &Block{From: p.Block.From, To: p.Block.To}
		a, b := sawn.mesh(sawn.plan(Settings{}, nil)), whole.mesh(whole.plan(Settings{}, nil))
		require.Len(t, a.Elements, len(b.Elements))
		places := func(m *Mesh) (list [][3]float64) {
			for _, n := range m.Nodes {
				list = append(list, components(n))
			}
			slices.SortFunc(list, func(a, b [3]float64) int { return slices.Compare(a[:], b[:]) })
			return list
		}
		at, other := places(a), places(b)
		require.Len(t, at, len(other))
		for i := range at {
			require.InDeltaSlice(t, other[i][:], at[i][:], 1e-9)
		}
	})
}
