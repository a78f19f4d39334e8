// Package contour finds where a quantity over a grid of places has a value: lines of equal value, and the parts of cells
// above one.
package contour

import (
	"math"
	"slices"
)

// Lattice is a quantity over a grid of places: V[i][k] at X[i], Y[k], both ascending; NaN where there is none.
type Lattice struct {
	X, Y []float64
	V    [][]float64
}

// Point is a place on a contour, in the units of the Lattice's axes.
type Point struct{ X, Y float64 }

// crossing is where a contour crosses an edge of the Lattice: the edge from corner (i, k) along x or y.
type crossing struct {
	i, k int
	up   int // 0: the edge runs along x, 1: along y
}

// Lines returns the lines on which the quantity has a value: each a row of points, closed when its ends are the same.
// Between the corners of a cell the quantity runs straight along the edges; a cell with a corner missing has no line.
func (l Lattice) Lines(value float64) [][]Point {
	c := l.crossings(value)
	done := map[crossing]bool{}
	var lines [][]Point
	for _, at := range c.order { // open lines from their ends first
		if len(c.links[at]) == 1 && !done[at] {
			lines = append(lines, l.follow(c, at, value, done))
		}
	}
	for _, at := range c.order {
		if !done[at] {
			lines = append(lines, l.follow(c, at, value, done))
		}
	}
	return lines
}

// crossings are the edges on which the quantity has a value, each with one or two others to which a line goes on.
type crossings struct {
	order []crossing // as they were met
	links map[crossing][]crossing
}

// link joins two edges by a piece of line.
func (c *crossings) link(a, b crossing) {
	for _, at := range []crossing{a, b} {
		if c.links[at] == nil {
			c.order = append(c.order, at)
		}
	}
	c.links[a], c.links[b] = append(c.links[a], b), append(c.links[b], a)
}

// crossings finds the pieces of line of a value, cell by cell. Where a cell has two of them, its middle says which
// corners are on one side (marching squares).
func (l Lattice) crossings(value float64) crossings {
	found := crossings{links: map[crossing][]crossing{}}
	for i := range len(l.X) - 1 {
		for k := range len(l.Y) - 1 {
			corners, middle, ok := l.Cell(i, k)
			if !ok {
				continue
			}
			edges := edgesOf(i, k)
			var crossed []int
			for e := range edges {
				if (corners[e] >= value) != (corners[(e+1)%4] >= value) {
					crossed = append(crossed, e)
				}
			}
			switch len(crossed) {
			case 2:
				found.link(edges[crossed[0]], edges[crossed[1]])
			case 4:
				if (corners[0] >= value) == (middle >= value) { // corners 0 and 2 go together: cut off 1 and 3
					found.link(edges[0], edges[1])
					found.link(edges[2], edges[3])
				} else {
					found.link(edges[3], edges[0])
					found.link(edges[1], edges[2])
				}
			}
		}
	}
	return found
}

// follow gives the line that begins at an edge, and marks its edges as done.
func (l Lattice) follow(c crossings, from crossing, value float64, done map[crossing]bool) (line []Point) {
	at := from
	for {
		done[at] = true
		line = append(line, l.on(at, value))
		onward := slices.IndexFunc(c.links[at], func(next crossing) bool { return !done[next] })
		if onward < 0 {
			break
		}
		at = c.links[at][onward]
	}
	if len(line) > 2 && slices.Contains(c.links[at], from) {
		line = append(line, line[0])
	}
	return line
}

// Cell returns the values at the corners of a cell, round it from (i, k), and their mean; false when one is missing.
func (l Lattice) Cell(i, k int) (corners [4]float64, middle float64, ok bool) {
	corners = [4]float64{l.V[i][k], l.V[i+1][k], l.V[i+1][k+1], l.V[i][k+1]}
	for _, v := range corners {
		middle += v / 4
	}
	return corners, middle, !math.IsNaN(middle)
}

// edgesOf are the edges of a cell, each behind the corner it begins at.
func edgesOf(i, k int) [4]crossing {
	return [4]crossing{{i, k, 0}, {i + 1, k, 1}, {i, k + 1, 0}, {i, k, 1}}
}

// Above returns the part of a cell in which the quantity is at least a value, bounded by the same lines as [Lattice.Lines]
// gives: none, one or two polygons.
func (l Lattice) Above(i, k int, value float64) [][]Point {
	corners, middle, ok := l.Cell(i, k)
	if !ok {
		return nil
	}
	points := [4]Point{{l.X[i], l.Y[k]}, {l.X[i+1], l.Y[k]}, {l.X[i+1], l.Y[k+1]}, {l.X[i], l.Y[k+1]}}
	var round []Point // corners above and crossings, in turn
	var crossed []int // where crossings stand in it
	for e, edge := range edgesOf(i, k) {
		if corners[e] >= value {
			round = append(round, points[e])
		}
		if (corners[e] >= value) != (corners[(e+1)%4] >= value) {
			crossed = append(crossed, len(round))
			round = append(round, l.on(edge, value))
		}
	}
	switch {
	case len(round) == 0:
		return nil
	case len(crossed) < 4 || middle >= value:
		return [][]Point{round}
	case corners[0] >= value: // two corners, each cut off by itself
		return [][]Point{{round[5], round[0], round[1]}, round[2:5]}
	}
	return [][]Point{round[0:3], round[3:6]}
}

// on is where an edge has a value.
func (l Lattice) on(c crossing, value float64) Point {
	i, k := c.i+1-c.up, c.k+c.up
	a, b := l.V[c.i][c.k], l.V[i][k]
	share := (value - a) / (b - a)
	return Point{l.X[c.i] + share*(l.X[i]-l.X[c.i]), l.Y[c.k] + share*(l.Y[k]-l.Y[c.k])}
}

// At is the value at a point, read along straight lines between the corners of its cell; NaN outside the grid and where a
// corner has none.
func (l Lattice) At(x, y float64) float64 {
	cell := func(at []float64, v float64) int {
		i, found := slices.BinarySearch(at, v)
		if !found || i == len(at)-1 {
			i--
		}
		return i
	}
	i, k := cell(l.X, x), cell(l.Y, y)
	if i < 0 || k < 0 || i > len(l.X)-2 || k > len(l.Y)-2 {
		return math.NaN()
	}
	a, b := (x-l.X[i])/(l.X[i+1]-l.X[i]), (y-l.Y[k])/(l.Y[k+1]-l.Y[k])
	return (1-a)*((1-b)*l.V[i][k]+b*l.V[i][k+1]) + a*((1-b)*l.V[i+1][k]+b*l.V[i+1][k+1])
}

// Span returns the least and the largest value; false when there is none.
func (l Lattice) Span() (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, row := range l.V {
		for _, v := range row {
			if !math.IsNaN(v) {
				lo, hi, ok = math.Min(lo, v), math.Max(hi, v), true
			}
		}
	}
	return lo, hi, ok
}
