package report

import (
	"math"
	"slices"
)

// lattice is a quantity over a grid of places: v[i][k] at x[i], y[k], both ascending; NaN where there is none.
type lattice struct {
	x, y []float64
	v    [][]float64
}

// planePoint is a place on a contour, in the units of the lattice's axes.
type planePoint struct{ x, y float64 }

// crossing is where a contour crosses an edge of the lattice: the edge from corner (i, k) along x or y.
type crossing struct {
	i, k int
	up   int // 0: the edge runs along x, 1: along y
}

// contour is the lines on which the quantity has a value: each a row of points, closed when its ends are the same.
// Between the corners of a cell the quantity runs straight along the edges; a cell with a corner missing has no line.
func (l lattice) contour(value float64) [][]planePoint {
	c := l.crossings(value)
	done := map[crossing]bool{}
	var lines [][]planePoint
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
func (l lattice) crossings(value float64) crossings {
	found := crossings{links: map[crossing][]crossing{}}
	for i := range len(l.x) - 1 {
		for k := range len(l.y) - 1 {
			corners, middle, ok := l.cell(i, k)
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
func (l lattice) follow(c crossings, from crossing, value float64, done map[crossing]bool) (line []planePoint) {
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

// cell gives the values at the corners of a cell, round it from (i, k), and their mean; false when one is missing.
func (l lattice) cell(i, k int) (corners [4]float64, middle float64, ok bool) {
	corners = [4]float64{l.v[i][k], l.v[i+1][k], l.v[i+1][k+1], l.v[i][k+1]}
	for _, v := range corners {
		middle += v / 4
	}
	return corners, middle, !math.IsNaN(middle)
}

// edgesOf are the edges of a cell, each behind the corner it begins at.
func edgesOf(i, k int) [4]crossing {
	return [4]crossing{{i, k, 0}, {i + 1, k, 1}, {i, k + 1, 0}, {i, k, 1}}
}

// above is the part of a cell in which the quantity is at least a value, bounded by the same lines as [lattice.contour]
// gives: none, one or two polygons.
func (l lattice) above(i, k int, value float64) [][]planePoint {
	corners, middle, ok := l.cell(i, k)
	if !ok {
		return nil
	}
	points := [4]planePoint{{l.x[i], l.y[k]}, {l.x[i+1], l.y[k]}, {l.x[i+1], l.y[k+1]}, {l.x[i], l.y[k+1]}}
	var round []planePoint // corners above and crossings, in turn
	var crossed []int      // where crossings stand in it
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
		return [][]planePoint{round}
	case corners[0] >= value: // two corners, each cut off by itself
		return [][]planePoint{{round[5], round[0], round[1]}, round[2:5]}
	}
	return [][]planePoint{round[0:3], round[3:6]}
}

// on is where an edge has a value.
func (l lattice) on(c crossing, value float64) planePoint {
	i, k := c.i+1-c.up, c.k+c.up
	a, b := l.v[c.i][c.k], l.v[i][k]
	share := (value - a) / (b - a)
	return planePoint{l.x[c.i] + share*(l.x[i]-l.x[c.i]), l.y[c.k] + share*(l.y[k]-l.y[c.k])}
}

// span is the least and the largest value; false when there is none.
func (l lattice) span() (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, row := range l.v {
		for _, v := range row {
			if !math.IsNaN(v) {
				lo, hi, ok = math.Min(lo, v), math.Max(hi, v), true
			}
		}
	}
	return lo, hi, ok
}
