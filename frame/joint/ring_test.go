package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
)

// zoneArea is the area of a screw's pressure zone.
func zoneArea(rect joint.Rect2, places [][2]float64, i int, inner, outer float64) float64 {
	return joint.PressureZone(rect, places, i, inner, outer).Area
}

func TestZoneAreaClosedForms(t *testing.T) {
	const inner, outer = 3.3, 13.0
	ring := math.Pi * (outer*outer - inner*inner)
	wide := joint.Rect2{Min: [2]float64{-100, -100}, Max: [2]float64{100, 100}}
	segment := func(r, h float64) float64 { // circular segment beyond the distance h
		return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h)
	}
	one := [][2]float64{{10, -7}}
	checkRows(t, []sourcedRow{
		{"uncut", "π(R² - r²)", zoneArea(wide, one, 0, inner, outer), ring, roundOff},
		{"uncut, full disc", "πR²", zoneArea(wide, one, 0, 0, outer), math.Pi * outer * outer, roundOff},
		{"on an edge", "half a ring", zoneArea(wide, [][2]float64{{100, 0}}, 0, inner, outer), ring / 2,
			roundOff},
		{"in a corner", "quarter of a ring", zoneArea(wide, [][2]float64{{100, -100}}, 0, inner, outer), ring / 4,
			roundOff},
		{"5 mm from an edge", "ring less one circular segment",
			zoneArea(wide, [][2]float64{{95, 0}}, 0, inner, outer),
			ring - segment(outer, 5), roundOff},
		{"2 mm from an edge, which cuts the hole too", "both discs less their segments",
			zoneArea(wide, [][2]float64{{0, -98}}, 0, inner, outer), ring - segment(outer, 2) + segment(inner, 2),
			roundOff},
		{"neighbour at 20", "ring less the segment beyond 10",
			zoneArea(wide, [][2]float64{{0, 0}, {12, 16}}, 0, inner, outer),
			ring - segment(outer, 10), roundOff},
		{"neighbours on both sides at 20", "ring less two segments",
			zoneArea(wide, [][2]float64{{-20, 0}, {0, 0}, {20, 0}}, 1, inner, outer), ring - 2*segment(outer, 10),
			roundOff},
		{"two in one place", "half each", zoneArea(wide, [][2]float64{{0, 0}, {0, 0}}, 1, inner, outer), ring / 2,
			roundOff},
		{"strip narrower than the hole's edge", "rectangle less what the discs leave",
			zoneArea(joint.Rect2{Min: [2]float64{-50, -2}, Max: [2]float64{50, 2}}, [][2]float64{{0, 0}}, 0,
				inner, outer),
			(math.Pi*outer*outer - 2*segment(outer, 2)) - (math.Pi*inner*inner - 2*segment(inner, 2)), 1e-13},
	})
	require.Zero(t, zoneArea(wide, one, 0, outer, inner))
	require.Zero(t, zoneArea(wide, [][2]float64{{500, 0}}, 0, inner, outer), "a screw far off the face")
	require.Panics(t, func() { zoneArea(wide, one, 1, inner, outer) })
	require.Panics(t, func() { zoneArea(wide, one, 0, -1, outer) })
}

// A ring keeps π/4·(R⁴ − r⁴) about its middle; half a disc has its middle at 4R/(3π) and π·R⁴/8 − A·(4R/(3π))² about it
// along that way, π·R⁴/8 across (tables of sections, such as Roark's).
func TestPressureZoneMoments(t *testing.T) {
	const inner, outer = 3.3, 13.0
	wide := joint.Rect2{Min: [2]float64{-100, -100}, Max: [2]float64{100, 100}}
	fourth := math.Pi / 4 * (math.Pow(outer, 4) - math.Pow(inner, 4))
	ring := joint.PressureZone(wide, [][2]float64{{40, -7}}, 0, inner, outer)
	xx, xy, yy := ring.Central()
	half := joint.PressureZone(wide, [][2]float64{{100, 3}}, 0, 0, outer)
	toFlat := 4 * outer / (3 * math.Pi)
	hx, _, hy := half.Central()
	checkRows(t, []sourcedRow{
		{"ring", "π/4·(R⁴ − r⁴)", xx, fourth, 1e-13}, {"ring, across", "the same", yy, fourth, 1e-13},
		{"half a disc, its middle", "4R/(3π)", -half.Centroid()[0], toFlat, 1e-13},
		{"half a disc, square to the cut", "π·R⁴/8 − A·(4R/(3π))²", hx,
			math.Pi/8*math.Pow(outer, 4) - half.Area*toFlat*toFlat, 1e-13},
		{"half a disc, along the cut", "π·R⁴/8", hy, math.Pi / 8 * math.Pow(outer, 4), 1e-13},
	})
	require.InDelta(t, 0, xy, 1e-9)
	require.InDelta(t, 0, math.Hypot(ring.X, ring.Y), 1e-9)
}

// Two screws side by side share a face along the line half-way between them; a third far off the line takes a corner.
func TestOutline(t *testing.T) {
	face := joint.Rect2{Min: [2]float64{0, 10}, Max: [2]float64{100, 50}}
	screws := [][2]float64{{25, 30}, {75, 30}}
	require.Equal(t, [][2]float64{{0, 10}, {50, 10}, {50, 50}, {0, 50}}, joint.Outline(face, screws, 0))
	require.ElementsMatch(t, [][2]float64{{50, 10}, {100, 10}, {100, 50}, {50, 50}}, joint.Outline(face, screws, 1))
	require.Equal(t, [][2]float64{{0, 10}, {100, 10}, {100, 50}, {0, 50}}, joint.Outline(face, screws[:1], 0))
	// The perpendicular bisector of (25, 30) and (45, 50) is x + y = 75: it meets the face at (65, 10) and (25, 50).
	require.ElementsMatch(t, [][2]float64{{0, 10}, {65, 10}, {25, 50}, {0, 50}},
		joint.Outline(face, [][2]float64{{25, 30}, {45, 50}}, 0))
}

// drawFace draws a face with screws in it.
func drawFace(t *rapid.T) (joint.Rect2, [][2]float64) {
	rect := joint.Rect2{Min: [2]float64{0, 0}, Max: [2]float64{rapid.Float64Range(10, 80).Draw(t, "a"),
		rapid.Float64Range(10, 80).Draw(t, "b")}}
	places := make([][2]float64, rapid.IntRange(1, 6).Draw(t, "screws"))
	for i := range places {
		places[i] = [2]float64{
			rapid.Float64Range(0.01, rect.Max[0]-0.01).Draw(t, "x"),
			rapid.Float64Range(0.01, rect.Max[1]-0.01).Draw(t, "y"),
		}
	}
	return rect, places
}

func TestZoneAreaAgainstRays(t *testing.T) {
	// Along each of many rays from the screw the zone ends at the ring, an edge or halfway to a
	// neighbour: area = ½ ∫ (r_end² - r²) dθ, and with the third and fourth powers its moments.
	const rays = 8000
	const inner, outer = 3.3, 13.0
	// The midpoint rule loses up to half a step times outer²/2 at a corner next to the screw.
	const tol = 2e-3 * outer * outer
	rapid.Check(t, func(t *rapid.T) {
		rect, places := drawFace(t)
		for i, p := range places {
			var sum joint.Moments
			sharing := 0.0
			for _, q := range places {
				if q == p {
					sharing++
				}
			}
			for n := range rays {
				theta := 2 * math.Pi * (float64(n) + 0.5) / rays
				dx, dy := math.Cos(theta), math.Sin(theta)
				end := outer
				if dx > 0 {
					end = math.Min(end, (rect.Max[0]-p[0])/dx)
				} else if dx < 0 {
					end = math.Min(end, (rect.Min[0]-p[0])/dx)
				}
				if dy > 0 {
					end = math.Min(end, (rect.Max[1]-p[1])/dy)
				} else if dy < 0 {
					end = math.Min(end, (rect.Min[1]-p[1])/dy)
				}
				for j, q := range places {
					tx, ty := q[0]-p[0], q[1]-p[1]
					if toward := tx*dx + ty*dy; j != i && toward > 0 {
						end = math.Min(end, (tx*tx+ty*ty)/2/toward)
					}
				}
				if end > inner {
					power := func(n float64) float64 {
						return (math.Pow(end, n) - math.Pow(inner, n)) / n * 2 * math.Pi / rays / sharing
					}
					sum.Area += power(2)
					sum.X += power(3) * dx
					sum.Y += power(3) * dy
					sum.XX += power(4) * dx * dx
					sum.XY += power(4) * dx * dy
					sum.YY += power(4) * dy * dy
				}
			}
			got := joint.PressureZone(rect, places, i, inner, outer)
			for name, pair := range map[string][2]float64{
				"area": {got.Area, sum.Area}, "x": {got.X / outer, sum.X / outer}, "y": {got.Y / outer, sum.Y / outer},
				"xx": {got.XX / outer / outer, sum.XX / outer / outer}, "xy": {got.XY / outer / outer, sum.XY / outer / outer},
				"yy": {got.YY / outer / outer, sum.YY / outer / outer},
			} {
				if !(math.Abs(pair[0]-pair[1]) <= tol) {
					t.Fatalf("%s of screw %d of %v in %v: got %g, rays %g", name, i, places, rect, pair[0], pair[1])
				}
			}
		}
	})
}

func TestZoneAreaIsMonotone(t *testing.T) {
	const slack = 1e-9 // mm², rounding
	rapid.Check(t, func(t *rapid.T) {
		rect, places := drawFace(t)
		const inner, outer = 3.3, 13.0
		area := zoneArea(rect, places, 0, inner, outer)
		require.LessOrEqual(t, area, math.Pi*(outer*outer-inner*inner)+slack)

		wider := rect
		wider.Max[0] += rapid.Float64Range(0, 20).Draw(t, "wider")
		require.GreaterOrEqual(t, zoneArea(wider, places, 0, inner, outer), area-slack)

		more := append(places, [2]float64{rect.Max[0] / 3, rect.Max[1] / 5})
		require.LessOrEqual(t, zoneArea(rect, more, 0, inner, outer), area+slack)

		require.GreaterOrEqual(t, zoneArea(rect, places, 0, inner, outer+1), area-slack)

		// No metal is counted twice.
		total := 0.0
		for i := range places {
			total += zoneArea(rect, places, i, 0, outer)
		}
		require.LessOrEqual(t, total, rect.Max[0]*rect.Max[1]+slack)
	})
}
