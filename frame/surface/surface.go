package surface

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Surface is the surface of one body.
type Surface struct {
	At        []r3.Vec // corners, mm
	Triangles [][3]int // of corners, anticlockwise seen from outside
	Edges     [][2]int // pieces of the edges that are drawn
}

// Box is the surface of a block between two opposite corners, cut into cells along x, y and z, one at least along each.
func Box(lo, hi r3.Vec, cells [3]int) Surface {
	var s Surface
	number := map[[3]int]int{}
	corner := func(i [3]int) int {
		if n, ok := number[i]; ok {
			return n
		}
		share := func(k int, lo, hi float64) float64 {
			if i[k] == cells[k] {
				return hi // to the last digit
			}
			return lo + (hi-lo)*float64(i[k])/float64(cells[k])
		}
		number[i] = len(s.At)
		s.At = append(s.At, r3.Vec{X: share(0, lo.X, hi.X), Y: share(1, lo.Y, hi.Y), Z: share(2, lo.Z, hi.Z)})
		return number[i]
	}
	for k := range 3 {
		u, v := (k+1)%3, (k+2)%3
		for _, end := range []int{0, cells[k]} {
			for i := range cells[u] {
				for j := range cells[v] {
					at := func(du, dv int) int {
						var c [3]int
						c[k], c[u], c[v] = end, i+du, j+dv
						return corner(c)
					}
					s.quad(at(0, 0), at(1, 0), at(1, 1), at(0, 1), end == 0)
				}
			}
		}
	}
	for k := range 3 {
		u, v := (k+1)%3, (k+2)%3
		for _, a := range []int{0, cells[u]} {
			for _, b := range []int{0, cells[v]} {
				for i := range cells[k] {
					var from, to [3]int
					from[k], from[u], from[v] = i, a, b
					to[k], to[u], to[v] = i+1, a, b
					s.Edges = append(s.Edges, [2]int{corner(from), corner(to)})
				}
			}
		}
	}
	return s
}

// quad adds two triangles between four corners in turn.
func (s *Surface) quad(a, b, c, d int, turned bool) {
	if turned {
		b, d = d, b
	}
	s.Triangles = append(s.Triangles, [3]int{a, b, c}, [3]int{a, c, d})
}

// Gusset is the surface of a triangular plate with a right angle at the corner between its legs, each leg cut into
// cells.
func Gusset(corner r3.Vec, legs [2]r3.Vec, thickness r3.Vec, cells int) Surface {
	var s Surface
	number := map[[3]int]int{}
	at := func(i, j, side int) int {
		key := [3]int{i, j, side}
		if n, ok := number[key]; ok {
			return n
		}
		number[key] = len(s.At)
		along := r3.Add(r3.Scale(float64(i)/float64(cells), legs[0]), r3.Scale(float64(j)/float64(cells), legs[1]))
		s.At = append(s.At, r3.Add(corner, r3.Add(along, r3.Scale(float64(side), thickness))))
		return number[key]
	}
	for side := range 2 {
		triangle := func(a, b, c int) {
			if side == 0 {
				b, c = c, b
			}
			s.Triangles = append(s.Triangles, [3]int{a, b, c})
		}
		for i := range cells {
			for j := range cells - i {
				triangle(at(i, j, side), at(i+1, j, side), at(i, j+1, side))
				if i+j < cells-1 {
					triangle(at(i+1, j, side), at(i+1, j+1, side), at(i, j+1, side))
				}
			}
		}
	}
	for n := range cells {
		for _, e := range [][4]int{{n, 0, n + 1, 0}, {cells - n, n, cells - n - 1, n + 1}, {0, cells - n, 0, cells - n - 1}} {
			a, b := at(e[0], e[1], 0), at(e[2], e[3], 0)
			c, d := at(e[2], e[3], 1), at(e[0], e[1], 1)
			s.quad(a, b, c, d, false)
			s.Edges = append(s.Edges, [2]int{a, b}, [2]int{d, c})
		}
	}
	for _, e := range [][2]int{{0, 0}, {cells, 0}, {0, cells}} {
		s.Edges = append(s.Edges, [2]int{at(e[0], e[1], 0), at(e[0], e[1], 1)})
	}
	if r3.Dot(r3.Cross(legs[0], legs[1]), thickness) < 0 {
		s.flip()
	}
	return s
}

// flip turns all triangles over.
func (s *Surface) flip() {
	for i, t := range s.Triangles {
		s.Triangles[i] = [3]int{t[0], t[2], t[1]}
	}
}

// Circle is a loop of n corners round a middle, square to an axis of unit length.
func Circle(middle, axis r3.Vec, radius float64, n int) []r3.Vec {
	try := r3.Vec{X: 1}
	if math.Abs(axis.X) > math.Sqrt2/2 {
		try = r3.Vec{Y: 1}
	}
	u := r3.Unit(r3.Cross(axis, try))
	v := r3.Cross(axis, u)
	loop := make([]r3.Vec, n)
	for i := range loop {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(n))
		loop[i] = r3.Add(middle, r3.Add(r3.Scale(radius*cos, u), r3.Scale(radius*sin, v)))
	}
	return loop
}
