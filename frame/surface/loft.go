package surface

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// sharp is the cosine of the angle between two sides of a section from which the edge between them is drawn: the sides
// of a circle that stands for a round bar turn by less.
const sharp = 0.81

// Loft is the surface over sections one behind the other along a direction, two at least. A section is its outline, then
// its holes; all have as many loops, each with as many corners, in the same order.
func Loft(sections [][][]r3.Vec, along r3.Vec) Surface {
	var s Surface
	axis := r3.Unit(along)
	starts := make([][]int, len(sections)) // number of the first corner, by section and loop
	for i, section := range sections {
		for _, loop := range section {
			starts[i] = append(starts[i], len(s.At))
			s.At = append(s.At, loop...)
		}
	}
	first, last := sections[0], len(sections)-1
	for l, loop := range first {
		turned := (area(loop, axis) < 0) != (l > 0)
		for k := range loop {
			next := (k + 1) % len(loop)
			for i := range last {
				s.quad(starts[i][l]+k, starts[i][l]+next, starts[i+1][l]+next, starts[i+1][l]+k, turned)
			}
			before := loop[(k+len(loop)-1)%len(loop)]
			in, out := r3.Sub(loop[k], before), r3.Sub(loop[next], loop[k])
			if r3.Dot(in, out) < sharp*r3.Norm(in)*r3.Norm(out) {
				for i := range last {
					s.Edges = append(s.Edges, [2]int{starts[i][l] + k, starts[i+1][l] + k})
				}
			}
			for _, i := range []int{0, last} {
				s.Edges = append(s.Edges, [2]int{starts[i][l] + k, starts[i][l] + next})
			}
		}
	}
	for _, i := range []int{0, last} {
		for _, t := range fill(sections[i], starts[i], axis) {
			if i == 0 {
				t[1], t[2] = t[2], t[1]
			}
			s.Triangles = append(s.Triangles, t)
		}
	}
	return s
}

// area of a flat loop, mm²: above zero when it runs anticlockwise seen against the axis.
func area(loop []r3.Vec, axis r3.Vec) float64 {
	var sum r3.Vec
	for k := range loop {
		sum = r3.Add(sum, r3.Cross(loop[k], loop[(k+1)%len(loop)]))
	}
	return r3.Dot(sum, axis) / 2
}

// corner of a section: its place across the axis, and its number.
type corner struct {
	x, y   float64
	number int
}

// fill cuts a section into triangles that run anticlockwise seen against the axis: holes are joined to the outline by
// the shortest cuts, and then ears are cut off one after another (G. H. Meisters, "Polygons have ears", 1975).
func fill(loops [][]r3.Vec, starts []int, axis r3.Vec) (triangles [][3]int) {
	try := r3.Vec{X: 1}
	if math.Abs(axis.X) > math.Sqrt2/2 {
		try = r3.Vec{Y: 1}
	}
	u := r3.Unit(r3.Sub(try, r3.Scale(r3.Dot(try, axis), axis)))
	v := r3.Cross(axis, u)
	var ring []corner
	for l, loop := range loops {
		flat := make([]corner, len(loop))
		anticlockwise := area(loop, axis) > 0
		for k, at := range loop {
			to := k
			if anticlockwise != (l == 0) { // the outline anticlockwise, holes clockwise
				to = len(loop) - 1 - k
			}
			flat[to] = corner{r3.Dot(at, u), r3.Dot(at, v), starts[l] + k}
		}
		if l == 0 {
			ring = flat
		} else {
			ring = joined(ring, flat)
		}
	}
	for len(ring) > 2 {
		ear := nextEar(ring)
		n := len(ring)
		triangles = append(triangles, [3]int{ring[(ear+n-1)%n].number, ring[ear].number, ring[(ear+1)%n].number})
		ring = append(ring[:ear:ear], ring[ear+1:]...)
	}
	return triangles
}

// joined cuts from the ring to the nearest corner of a hole and round the hole.
func joined(ring, hole []corner) []corner {
	best, from, to := math.Inf(1), 0, 0
	for i, a := range ring {
		for k, b := range hole {
			if d := math.Hypot(a.x-b.x, a.y-b.y); d < best {
				best, from, to = d, i, k
			}
		}
	}
	out := append([]corner{}, ring[:from+1]...)
	out = append(append(append(out, hole[to:]...), hole[:to]...), hole[to])
	return append(out, ring[from:]...)
}

// nextEar is the corner of a ring whose triangle holds none of the other corners; of several the one with the least
// triangle's worst angle would be better, and none asks for it. A ring without ears is folded: its first corner.
func nextEar(ring []corner) int {
	n := len(ring)
	for i := range ring {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		if cross(a, b, c) <= 0 {
			continue
		}
		clear := true
		for _, p := range ring {
			if p.number == a.number || p.number == b.number || p.number == c.number {
				continue
			}
			if cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
				clear = false
				break
			}
		}
		if clear {
			return i
		}
	}
	return 0
}

// cross is twice the area of a triangle, above zero when it runs anticlockwise.
func cross(a, b, c corner) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

// Thinned is a loop with at most n corners: of more, those go first that cut the least off (M. Visvalingam and J. D.
// Whyatt, "Line generalisation by repeated elimination of points", 1993).
func Thinned(loop [][2]float64, n int) [][2]float64 {
	loop = append([][2]float64{}, loop...)
	for len(loop) > max(n, 3) {
		least, at := math.Inf(1), 0
		for i, b := range loop {
			a, c := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
			cut := math.Abs((b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]))
			if cut < least {
				least, at = cut, i
			}
		}
		loop = append(loop[:at], loop[at+1:]...)
	}
	return loop
}
