package outline

import (
	"math"
	"slices"
)

// Point is a place on the plane of a shape, mm.
type Point = [2]float64

// Shape is a flat piece of metal: its outer loop first, anticlockwise, then its windows, clockwise.
type Shape [][]Point

// edges visits the sides of all loops, with the metal on their left.
func (s Shape) edges(visit func(a, b Point)) {
	for _, loop := range s {
		for i, a := range loop {
			visit(a, loop[(i+1)%len(loop)])
		}
	}
}

// Area is that of the metal, mm².
func (s Shape) Area() float64 {
	area := 0.0
	from := s[0][0]
	s.edges(func(a, b Point) { area += twice(from, a, b) / 2 })
	return area
}

// Centroid is the middle of the area.
func (s Shape) Centroid() Point {
	var sum Point
	area, from := 0.0, s[0][0]
	s.edges(func(a, b Point) {
		w := twice(from, a, b)
		area += w
		for k := range sum {
			sum[k] += w * (a[k] + b[k] - 2*from[k]) / 3
		}
	})
	return Point{from[0] + sum[0]/area, from[1] + sum[1]/area}
}

// twice is twice the area of a triangle, above zero when it runs anticlockwise.
func twice(a, b, c Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }

// Bounds is the box round the shape.
func (s Shape) Bounds() (lo, hi Point) {
	lo, hi = s[0][0], s[0][0]
	s.edges(func(a, _ Point) {
		for k := range a {
			lo[k], hi[k] = math.Min(lo[k], a[k]), math.Max(hi[k], a[k])
		}
	})
	return lo, hi
}

// Mapped is the shape with every corner put elsewhere by a function that keeps or mirrors it; loops run as they should.
func (s Shape) Mapped(to func(Point) Point) Shape {
	out := make(Shape, len(s))
	for i, loop := range s {
		for _, p := range loop {
			out[i] = append(out[i], to(p))
		}
	}
	if out.Area() < 0 {
		for _, loop := range out {
			slices.Reverse(loop)
		}
	}
	return out
}

// IsBox tells whether the shape is the whole of the box round it.
func (s Shape) IsBox() bool {
	lo, hi := s.Bounds()
	if len(s) != 1 || len(s[0]) != 4 {
		return false
	}
	for _, p := range s[0] {
		if p[0] != lo[0] && p[0] != hi[0] || p[1] != lo[1] && p[1] != hi[1] {
			return false
		}
	}
	return true
}

// Room is how far a place is from the nearest edge, mm: above zero on the metal, below zero beside it.
func (s Shape) Room(p Point) float64 {
	q := s.nearestEdge(p)
	d := math.Hypot(p[0]-q[0], p[1]-q[1])
	if s.encloses(p) {
		return d
	}
	return -d
}

// encloses tells by the even-odd rule whether a place is on the metal; on an edge it may say either.
func (s Shape) encloses(p Point) bool {
	inside := false
	s.edges(func(a, b Point) {
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			inside = !inside
		}
	})
	return inside
}

// nearestEdge is the place on an edge that is nearest.
func (s Shape) nearestEdge(p Point) (nearest Point) {
	least := math.Inf(1)
	s.edges(func(a, b Point) {
		q := onSide(p, a, b)
		if d := math.Hypot(p[0]-q[0], p[1]-q[1]); d < least {
			least, nearest = d, q
		}
	})
	return nearest
}

// Nearest is the place of the metal that is nearest: the place itself where it is on it.
func (s Shape) Nearest(p Point) Point {
	if s.encloses(p) {
		return p
	}
	return s.nearestEdge(p)
}

// EdgesNear are the places of edges that are nearest to a place, one an edge, of those no farther than a reach; edges
// that meet there count once.
func (s Shape) EdgesNear(p Point, reach float64) (list []Point) {
	s.edges(func(a, b Point) {
		if q := onSide(p, a, b); math.Hypot(p[0]-q[0], p[1]-q[1]) <= reach && !slices.Contains(list, q) {
			list = append(list, q)
		}
	})
	return list
}

// onSide is the place of a side that is nearest to p.
func onSide(p, a, b Point) Point {
	d := Point{b[0] - a[0], b[1] - a[1]}
	t := ((p[0]-a[0])*d[0] + (p[1]-a[1])*d[1]) / (d[0]*d[0] + d[1]*d[1])
	switch {
	case t <= 0:
		return a
	case t >= 1:
		return b
	}
	return Point{a[0] + t*d[0], a[1] + t*d[1]}
}

// Side is a straight edge along one of the two axes.
type Side struct {
	Normal   int     // 0 or 1: the axis that it is square to
	At       float64 // its place along that
	From, To float64 // along the other axis, From below To
	Far      bool    // the metal lies on the side of the smaller coordinate
}

// Sides are the edges along the axes, in the order of the loops.
func (s Shape) Sides() (list []Side) {
	s.edges(func(a, b Point) {
		for k := range a {
			if a[k] == b[k] {
				// With the metal on its left an edge that runs up has it at the smaller first coordinate, one that runs to the
				// right at the larger second one.
				far := b[1-k] > a[1-k]
				if k == 1 {
					far = !far
				}
				list = append(list, Side{k, a[k], math.Min(a[1-k], b[1-k]), math.Max(a[1-k], b[1-k]), far})
			}
		}
	})
	return list
}

// roundabout is how many times as long as the straight way the way along the edges must be for two places to face each
// other over metal or a gap: between neighbouring chords of a curve it is little longer.
const roundabout = 4

// Thinnest is the least distance below a limit between two edges that face each other, over metal or over a gap, and a
// corner where it is found; the limit itself where there is none.
func (s Shape) Thinnest(limit float64) (mm float64, at Point) {
	type side struct {
		a, b   Point
		loop   int
		before float64 // of the loop's length
	}
	var sides []side
	round := make([]float64, len(s))
	for l, loop := range s {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			sides = append(sides, side{a, b, l, round[l]})
			round[l] += math.Hypot(b[0]-a[0], b[1]-a[1])
		}
	}
	mm = limit
	look := func(p Point, along float64, loop int, e side) {
		if p == e.a || p == e.b {
			return
		}
		q := onSide(p, e.a, e.b)
		d := math.Hypot(p[0]-q[0], p[1]-q[1])
		if d >= mm {
			return
		}
		if loop == e.loop {
			way := math.Abs(along - e.before - math.Hypot(q[0]-e.a[0], q[1]-e.a[1]))
			if math.Min(way, round[loop]-way) <= roundabout*d {
				return
			}
		}
		mm, at = d, p
	}
	for i, e := range sides {
		for k, f := range sides {
			if k != i {
				look(f.a, f.before, f.loop, e)
			}
		}
	}
	return mm, at
}

// Sharpest is the least angle between two neighbouring edges, of metal or of a gap, degrees, and its corner.
func (s Shape) Sharpest() (degrees float64, at Point) {
	degrees = 180
	for _, loop := range s {
		for i, b := range loop {
			a, c := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
			u, v := Point{a[0] - b[0], a[1] - b[1]}, Point{c[0] - b[0], c[1] - b[1]}
			angle := math.Abs(math.Atan2(u[0]*v[1]-u[1]*v[0], u[0]*v[0]+u[1]*v[1])) * 180 / math.Pi
			if angle < degrees {
				degrees, at = angle, b
			}
		}
	}
	return degrees, at
}
