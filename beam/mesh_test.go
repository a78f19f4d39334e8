package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// outlines that are awkward for a mesher: each must come out whole.
func awkwardOutlines() map[string]Polygon {
	square := func(y, z, a float64) [][2]float64 {
		return [][2]float64{{y, z}, {y + a, z}, {y + a, z + a}, {y, z + a}}
	}
	grid := Polygon{Outer: square(0, 0, 50)}
	for i := range 4 {
		for j := range 4 {
			grid.Holes = append(grid.Holes, square(2+12*float64(i), 2+12*float64(j), 10)) // sides and corners all in line
		}
	}
	comb := Polygon{Outer: [][2]float64{{0, 0}, {100, 0}}}
	for i := 10; i > 0; i-- {
		y := 10 * float64(i)
		comb.Outer = append(comb.Outer, [2]float64{y, 20}, [2]float64{y - 5, 20}, [2]float64{y - 5, 5}, [2]float64{y - 10, 5})
	}
	slot := Polygon{Outer: [][2]float64{ // a quarter of a slotted extrusion, slots 6 wide in 20 × 20
		{0, 0}, {7, 0}, {7, 2}, {4, 2}, {4, 4}, {7, 6}, {13, 6}, {16, 4}, {16, 2}, {13, 2}, {13, 0}, {20, 0},
		{20, 7}, {18, 7}, {18, 4}, {16, 4.5}, {14, 7}, {14, 13}, {16, 16}, {18, 16}, {18, 13}, {20, 13}, {20, 20}, {0, 20},
	}}
	drilled := Polygon{Outer: square(-10, -10, 20), Holes: [][][2]float64{inscribed(64, 9, 9).Outer}}
	slit := Polygon{Outer: [][2]float64{{0, 0}, {10, 0}, {10, 4.9999}, {1, 5}, {10, 5.0001}, {10, 10}, {0, 10}}}
	needle := Polygon{Outer: [][2]float64{{0, 0}, {100, 0}, {0, 1}}}
	repeated := Polygon{Outer: [][2]float64{{0, 0}, {0, 0}, {5, 0}, {10, 0}, {10, 10}, {10, 10}, {0, 10}, {0, 5}, {0, 0}}}
	clockwise := Polygon{Outer: reversed(square(0, 0, 10)), Holes: [][][2]float64{square(3, 3, 2)}}
	strip := drawn(1000, 1)
	return map[string]Polygon{
		"grid of holes": grid, "comb": comb, "slotted": slot, "drilled": drilled, "slit": slit, "needle": needle,
		"repeated corners": repeated, "clockwise": clockwise, "strip": strip, "many sides": inscribed(720, 10, 10),
	}
}

func TestMeshIsWhole(t *testing.T) {
	for name, p := range awkwardOutlines() {
		t.Run(name, func(t *testing.T) {
			loops, err := CleanOutline(p.Outer, p.Holes)
			require.NoError(t, err)
			area, _, _, _, _, _ := areaMoments(loops)
			loops = shifted(loops, point{}, 1/math.Sqrt(area))
			m, err := triangulate(loops)
			require.NoError(t, err)
			m.refine(gradedCorners(loops), meshCoarse)
			require.Less(t, len(m.tris), 4000)
			sum := 0.0
			for i, tr := range m.tris {
				a := cross(m.points[tr.v[0]], m.points[tr.v[1]], m.points[tr.v[2]])
				require.Greater(t, a, 0.0)
				sum += a / 2
				for k, o := range tr.n {
					if o == noNeighbour {
						require.True(t, tr.fixed[k])
						continue
					}
					back := m.sideOf(o, i)
					require.Equal(t, tr.v[(k+1)%3], m.tris[o].v[(back+2)%3])
					require.Equal(t, tr.v[(k+2)%3], m.tris[o].v[(back+1)%3])
					require.False(t, m.wantsSwap(i, k), "not Delaunay")
				}
			}
			checks.CloseTo(t, "area", sum, 1, 1e-9)
			got, ok := m.loops()
			require.True(t, ok)
			require.Len(t, got, len(loops))
			// Euler: corners − sides + triangles = 1 − holes.
			sides := 0
			for _, tr := range m.tris {
				for k := range 3 {
					if tr.n[k] == noNeighbour {
						sides += 2
					} else {
						sides++
					}
				}
			}
			require.Equal(t, 1-len(p.Holes), len(m.points)-sides/2+len(m.tris))

			s, err := p.Section(0.3)
			require.NoError(t, err)
			for _, x := range []float64{s.A, s.Iy, s.Iz, s.J, s.Ay, s.Az} {
				require.Greater(t, x, 0.0)
				require.True(t, finite(x))
			}
		})
	}
}

func TestSameSectionEveryTime(t *testing.T) {
	p := awkwardOutlines()["grid of holes"]
	first := mustSection(t, p, 0.3)
	for range 3 {
		require.Equal(t, first, mustSection(t, p, 0.3))
	}
}

// Distances from a point to a stretch of a line: over it square to the line, beyond its ends to the nearer end.
func TestDistanceToSegment(t *testing.T) {
	a, b := point{1, 2}, point{4, 6} // 5 long, along (3, 4)/5
	for _, tt := range []struct {
		along, aside, want float64
	}{
		{2, 3, 3}, {2, -3, 3}, {0, 1, 1}, {5, 1, 1}, {-3, 4, 5}, {8, -4, 5}, {4.5, 0, 0},
	} {
		p := point{a[0] + 0.6*tt.along - 0.8*tt.aside, a[1] + 0.8*tt.along + 0.6*tt.aside}
		within(t, "distance", distanceToSegment(p, a, b), tt.want, 1e-14)
	}
}

// A corner of an outline keeps clear of the nearest other corner, of sides it does not bound, and of those of a hole.
func TestClearance(t *testing.T) {
	outer := []point{{0, 0}, {10, 0}, {10, 3}, {4, 3}, {4, 20}, {0, 20}}
	hole := []point{{1, 10}, {1, 12}, {3, 12}, {3, 10}}
	loops := [][]point{outer, hole}
	for _, tt := range []struct {
		loop, corner int
		want         float64
	}{
		{0, 0, 5}, // the inner corner, (4, 3)
		{0, 1, 3}, // the next corner
		{0, 2, 3}, // the last corner
		{0, 3, 3}, // the side below
		{0, 4, 4}, // the next corner
		{0, 5, 4}, // the last corner
		{1, 0, 1}, // the left side
		{1, 2, 1}, // the right side
	} {
		within(t, "clearance", clearance(loops, tt.loop, tt.corner), tt.want, 1e-14)
	}
}
