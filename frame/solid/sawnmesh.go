package solid

import (
	"math"
	"slices"

	"tiploop/frame/outline"
)

// The mesh of a sawn block
//
// Lines along the first axis cut the shape into strips, and each strip is trapezoids: every corner stands on a line. On
// each line stand nodes where an edge crosses it and between these where the lines along the other axis cross it, unless
// that is too near an edge. The nodes on the two sides of a trapezoid are joined by rungs from the lower edge to the
// upper, so that between two rungs lies a quadrilateral or, where one side has more nodes, a triangle. Strips share the
// nodes of the line between them, so all of it fits together; drawn through the thickness the pieces are hexahedra and
// wedges that are whole, and nothing further of the mesh need know of the outline. Where all edges run along the axes
// this is the tensor mesh with the cells beside the metal left out, and of a rectangle it is that of the plain block.

// tooNearEdge is the share of its own distance to the next line within which a line is left out beside an edge.
const tooNearEdge = 0.35

// steepFrom is the slope against the first axis from which on an edge is steep.
const steepFrom = 2

// steps are lines beside those along the first axis, where a steep edge crosses those along the other one: it then rises by
// one cell from line to line. On its way past several the nodes below it would all be joined to the one at its end, by
// triangles so flat that they hold these in one line with it: an L of which both inner edges led 0.2 to 6 mm astray moved
// 7 to 10 % too little sideways, and hardly more with a finer mesh (TestEdgesAstray).
func (f *sawnShape) steps(along, other []float64) (list []float64) {
	for _, loop := range f.shape {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if a[0] > b[0] {
				a, b = b, a
			}
			run, rise := b[0]-a[0], b[1]-a[1]
			if run == 0 || math.Abs(rise) < steepFrom*run {
				continue
			}
			height := func(x float64) float64 { return a[1] + (x-a[0])/run*rise }
			for k, line := range along[1:] {
				from, to := math.Max(along[k], a[0]), math.Min(line, b[0])
				if from >= to {
					continue
				}
				low, high := height(from), height(to)
				between := stationsOn([][2]float64{{math.Min(low, high), math.Max(low, high)}}, other)
				for _, y := range between[1 : len(between)-1] {
					list = append(list, a[0]+(y-a[1])/rise*run)
				}
			}
		}
	}
	return list
}

// column is the nodes on one line, ascending, and their numbers among all.
type column struct {
	at     []float64
	number []int
}

// tile is a quadrilateral or a triangle of a flat mesh, by its corners: anticlockwise with the first axis to the right
// and the second up, of a quadrilateral from its lower left one.
type tile []int

// flatMesh is a shape cut into tiles.
type flatMesh struct {
	nodes []outline.Point
	tiles []tile
}

// mesh cuts a shape along lines along its two axes.
func (f *sawnShape) mesh(along, other []float64) *flatMesh {
	shape := f.shape.Mapped(func(p outline.Point) outline.Point { return outline.Point{nearestOf(along, p[0]), p[1]} })
	near := sameLine * (other[len(other)-1] - other[0])
	onLine := func(x float64) float64 {
		if l := nearestOf(other, x); math.Abs(l-x) <= near {
			return l
		}
		return x
	}
	strips := shape.Strips(along)
	for _, strip := range strips {
		for k := range strip {
			t := &strip[k]
			for e := range 2 {
				t.Below[e], t.Above[e] = onLine(t.Below[e]), onLine(t.Above[e])
			}
		}
	}
	m := &flatMesh{}
	columns := make([]column, len(along))
	for i := range along {
		var spans [][2]float64
		if i > 0 {
			for _, t := range strips[i-1] {
				spans = append(spans, t.Above)
			}
		}
		if i < len(strips) {
			for _, t := range strips[i] {
				spans = append(spans, t.Below)
			}
		}
		columns[i].at = stationsOn(spans, other)
		for _, y := range columns[i].at {
			columns[i].number = append(columns[i].number, len(m.nodes))
			m.nodes = append(m.nodes, outline.Point{along[i], y})
		}
	}
	for i, strip := range strips {
		for _, t := range strip {
			m.zip(columns[i].within(t.Below), columns[i+1].within(t.Above), along[i+1]-along[i])
		}
	}
	return m
}

// stationsOn are the places of nodes on a line that has metal over some spans: their ends, and lines between.
func stationsOn(spans [][2]float64, lines []float64) []float64 {
	var ends []float64
	for _, s := range spans {
		ends = append(ends, s[0], s[1])
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	at := slices.Clone(ends)
	for i, y := range lines {
		gap := math.Inf(1)
		if i > 0 {
			gap = y - lines[i-1]
		}
		if i+1 < len(lines) {
			gap = math.Min(gap, lines[i+1]-y)
		}
		if math.Abs(nearestOf(ends, y)-y) < tooNearEdge*gap {
			continue
		}
		if slices.ContainsFunc(spans, func(s [2]float64) bool { return s[0] < y && y < s[1] }) {
			at = append(at, y)
		}
	}
	slices.Sort(at)
	return at
}

// within is the nodes of a column on a span.
func (c column) within(span [2]float64) column {
	from, _ := slices.BinarySearch(c.at, span[0])
	to, _ := slices.BinarySearch(c.at, span[1])
	return column{c.at[from : to+1], c.number[from : to+1]}
}

// A triangle costs triangleCost; a rung the square of its rise over the nodes' distances there.
const triangleCost = 0.5

// zip joins the nodes on the two sides of a trapezoid by the rungs that rise least.
func (m *flatMesh) zip(left, right column, width float64) {
	rows, columns := len(left.at), len(right.at)
	rise := func(i, k int) float64 {
		d := (right.at[k] - left.at[i]) / math.Max(math.Max(left.spacing(i), right.spacing(k)), width)
		return d * d
	}
	type best struct {
		cost   float64
		di, dk int
	}
	table := make([]best, rows*columns)
	for i := range rows {
		for k := range columns {
			b := best{cost: math.Inf(1)}
			for _, way := range [3][2]int{{1, 1}, {1, 0}, {0, 1}} {
				if i < way[0] || k < way[1] {
					continue
				}
				cost := table[(i-way[0])*columns+k-way[1]].cost + rise(i, k)
				if way[0] != way[1] {
					cost += triangleCost
				}
				if cost < b.cost {
					b = best{cost, way[0], way[1]}
				}
			}
			if i == 0 && k == 0 {
				b.cost = 0
			}
			table[i*columns+k] = b
		}
	}
	var list []tile
	for i, k := rows-1, columns-1; i > 0 || k > 0; {
		b := table[i*columns+k]
		switch {
		case b.di == 1 && b.dk == 1:
			list = append(list, tile{left.number[i-1], right.number[k-1], right.number[k], left.number[i]})
		case b.di == 1:
			list = append(list, tile{left.number[i-1], right.number[k], left.number[i]})
		default:
			list = append(list, tile{left.number[i], right.number[k-1], right.number[k]})
		}
		i, k = i-b.di, k-b.dk
	}
	slices.Reverse(list)
	m.tiles = append(m.tiles, list...)
}

// spacing is the mean distance of a node from its neighbours in the column; 0 of a lone one.
func (c column) spacing(i int) float64 {
	from, to := max(0, i-1), min(len(c.at)-1, i+1)
	return (c.at[to] - c.at[from]) / math.Max(1, float64(to-from))
}

// addSawn draws a flat mesh through the thickness, at lines along the shape's normal.
func (m *Mesh) addSawn(part int, f *sawnShape, from *flatMesh, through []float64) {
	d := drawn{mesh: m, sawn: f, from: from, through: through, node: map[[3]int]int{}}
	turned := f.along > f.other // the shape's first axis is the second of the plane
	for layer := range len(through) - 1 {
		for _, c := range from.tiles {
			c = slices.Clone(c)
			if len(c) == 4 {
				if turned { // anticlockwise again, from the same corner on
					c[1], c[3] = c[3], c[1]
				}
				d.brick(part, c, layer)
				continue
			}
			if turned != (f.normal == 1) { // right-handed with the normal
				c[1], c[2] = c[2], c[1]
			}
			d.wedge(part, c, layer)
		}
	}
}

// drawn is a flat mesh while it is drawn through the thickness.
type drawn struct {
	mesh    *Mesh
	sawn    *sawnShape
	from    *flatMesh
	through []float64
	node    map[[3]int]int // by two corners of the flat mesh, the same for a node over a corner, and by half layers
}

// at is the node in the middle between two corners, or at one, in half layers.
func (d *drawn) at(a, b, half int) int {
	key := [3]int{min(a, b), max(a, b), half}
	n, ok := d.node[key]
	if !ok {
		var c [3]float64
		p, q := d.from.nodes[a], d.from.nodes[b]
		c[d.sawn.along], c[d.sawn.other] = (p[0]+q[0])/2, (p[1]+q[1])/2
		c[d.sawn.normal] = halfway(d.through, half)
		n = len(d.mesh.Nodes)
		d.mesh.Nodes, d.node[key] = append(d.mesh.Nodes, vector(c)), n
	}
	return n
}

// brick is one over a quadrilateral. Its local axes lie along the part's.
func (d *drawn) brick(part int, c tile, layer int) {
	u, v := across(d.sawn.normal)
	corner := func(su, sv float64) int { // of the quadrilateral, anticlockwise from where both are least
		switch {
		case sv < 0 && su < 0:
			return c[0]
		case sv < 0:
			return c[1]
		case su > 0:
			return c[2]
		}
		return c[3]
	}
	nodes := make([]int, len(brickPlaces))
	for i, p := range brickPlaces {
		a, b := [2]float64{p[u], p[v]}, [2]float64{p[u], p[v]}
		for k := range a {
			if a[k] == 0 {
				a[k], b[k] = -1, 1
			}
		}
		nodes[i] = d.at(corner(a[0], a[1]), corner(b[0], b[1]), 2*layer+1+int(p[d.sawn.normal]))
	}
	at := func(k int) outline.Point { return d.from.nodes[c[k]] }
	box := true
	for k := range 4 {
		p, q := at(k), at((k+1)%4)
		box = box && (p[0] == q[0] || p[1] == q[1])
	}
	d.mesh.Elements = append(d.mesh.Elements, Element{Kind: Brick, Nodes: nodes, Part: part, box: box})
}

// wedge is one over a triangle.
func (d *drawn) wedge(part int, c tile, layer int) {
	nodes := make([]int, len(wedgePlaces))
	for i := range 6 {
		nodes[i] = d.at(c[i%3], c[i%3], 2*layer+2*(i/3))
	}
	for i, e := range wedgeEdges {
		a, b := e[0], e[1]
		half := 2*layer + 2*(a/3)
		if a/3 != b/3 {
			half = 2*layer + 1
		}
		nodes[6+i] = d.at(c[a%3], c[b%3], half)
	}
	d.mesh.Elements = append(d.mesh.Elements, Element{Kind: Wedge, Nodes: nodes, Part: part})
}
