package joint

import (
	"fmt"
	"math"
)

// Rect2 is a contact face in its own plane, sides along the axes.
type Rect2 struct {
	Min, Max [2]float64 // corners, mm
}

// ZoneArea returns the area, mm², of the pressure zone of the screw at places[i] (mm, in the plane
// of the face): the ring between the radii inner and outer, mm, less what lies beyond the edges of
// the face and less what lies nearer to another screw. Screws in one place share their zone
// equally. What is left of the ring is bounded by arcs and straight lines, and the area is exact.
func ZoneArea(rect Rect2, places [][2]float64, i int, inner, outer float64) float64 {
	if i < 0 || i >= len(places) {
		panic(fmt.Sprintf("joint: screw %d of %d", i, len(places)))
	}
	mustNotBeNegative("inner radius", inner)
	if outer <= inner {
		return 0
	}
	cell, sharing := nearest(rect, places, i)
	area := discOverlap(cell, outer) - discOverlap(cell, inner)
	return math.Max(0, area) / sharing
}

// Outline returns what ZoneArea cuts the ring of the screw at places[i] with: the convex polygon, anticlockwise, of the
// face's points that lie no nearer to any other screw, mm in the plane of the face.
func Outline(rect Rect2, places [][2]float64, i int) [][2]float64 {
	cell, _ := nearest(rect, places, i)
	for k := range cell {
		cell[k][0] += places[i][0]
		cell[k][1] += places[i][1]
	}
	return cell
}

// nearest is the part of the face that is nearest to a screw, relative to it, so that large coordinates cost no digits,
// and how many screws stand in its place.
func nearest(rect Rect2, places [][2]float64, i int) (cell [][2]float64, sharing float64) {
	centre := places[i]
	x0, y0 := rect.Min[0]-centre[0], rect.Min[1]-centre[1]
	x1, y1 := rect.Max[0]-centre[0], rect.Max[1]-centre[1]
	cell = [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	sharing = 1
	for j, p := range places {
		if j == i {
			continue
		}
		to := [2]float64{p[0] - centre[0], p[1] - centre[1]}
		if to == ([2]float64{}) {
			sharing++
			continue
		}
		cell = nearerHalf(cell, to)
	}
	return cell, sharing
}

// nearerHalf cuts a convex polygon down to the points no nearer to the point to than to the
// origin (Sutherland and Hodgman's clipping, one half-plane).
func nearerHalf(polygon [][2]float64, to [2]float64) [][2]float64 {
	middle := (to[0]*to[0] + to[1]*to[1]) / 2
	beyond := func(p [2]float64) float64 { return p[0]*to[0] + p[1]*to[1] - middle }
	var kept [][2]float64
	for k, p := range polygon {
		q := polygon[(k+1)%len(polygon)]
		bp, bq := beyond(p), beyond(q)
		if bp <= 0 {
			kept = append(kept, p)
		}
		if bp < 0 && bq > 0 || bp > 0 && bq < 0 {
			t := bp / (bp - bq)
			kept = append(kept, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return kept
}

// discOverlap returns the area that an anticlockwise polygon shares with the disc of radius r about
// the origin: over its edges, the signed areas of what the disc holds of the triangle between
// the edge and the origin.
func discOverlap(polygon [][2]float64, r float64) float64 {
	area := 0.0
	for k, p := range polygon {
		area += edgeOverlap(p, polygon[(k+1)%len(polygon)], r)
	}
	return area
}

// edgeOverlap splits the edge where it crosses the circle; outside the circle the disc's share is a
// sector, inside it the triangle itself.
func edgeOverlap(p, q [2]float64, r float64) float64 {
	dx, dy := q[0]-p[0], q[1]-p[1]
	a := dx*dx + dy*dy
	if a == 0 {
		return 0
	}
	half := p[0]*dx + p[1]*dy // half the middle coefficient of |p + t(q-p)|² = r²
	c := p[0]*p[0] + p[1]*p[1] - r*r
	disc := half*half - a*c
	if disc <= 0 {
		return sectorArea(p, q, r)
	}
	root := math.Sqrt(disc)
	in := math.Max(0, (-half-root)/a)
	out := math.Min(1, (-half+root)/a)
	if in >= out {
		return sectorArea(p, q, r)
	}
	enter := [2]float64{p[0] + in*dx, p[1] + in*dy}
	leave := [2]float64{p[0] + out*dx, p[1] + out*dy}
	area := (enter[0]*leave[1] - enter[1]*leave[0]) / 2
	if in > 0 {
		area += sectorArea(p, enter, r)
	}
	if out < 1 {
		area += sectorArea(leave, q, r)
	}
	return area
}

// sectorArea returns the signed area of the sector of radius r from the direction of p to that
// of q.
func sectorArea(p, q [2]float64, r float64) float64 {
	return r * r / 2 * math.Atan2(p[0]*q[1]-p[1]*q[0], p[0]*q[0]+p[1]*q[1])
}
