package drawing

import (
	"math"
	"slices"

	"tiploop/frame/machine"
)

// flat is a place on the paper of a view, still in mm: to the right and up.
type flat struct{ right, up float64 }

// view is one direction to look from: which axes run right and up on the paper, and which points at the reader.
type view struct {
	name      string
	right, up machine.Axis
	toward    machine.Axis
	near      float64 // +1 when a larger coordinate along toward is nearer to the reader, −1 when a smaller one is
}

// The views of a drawing in third-angle projection: what is seen from above stands above what is seen from the front,
// what is seen from the right stands to its right.
var (
	fromFront = view{"Front: x right, z up", machine.X, machine.Z, machine.Y, -1}
	fromRight = view{"From the right: y right, z up", machine.Y, machine.Z, machine.X, 1}
	fromAbove = view{"From above: x right, y up", machine.X, machine.Y, machine.Z, 1}
)

// flatten gives a place as the view shows it.
func (v view) flatten(p [3]float64) flat { return flat{p[v.right], p[v.up]} }

// outline is the hull of a body in the view, counterclockwise; a bar seen along its length shows its section.
func (v view) outline(b body) (outer []flat, holes [][]flat) {
	if math.Abs(array(b.along)[v.toward]) > cosEndOn {
		for i, loop := range b.loops {
			var points []flat
			for _, c := range loop {
				points = append(points, v.flatten(array(c)))
			}
			if i == 0 {
				outer = points
			} else {
				holes = append(holes, points)
			}
		}
		return outer, holes
	}
	var points []flat
	for _, c := range b.corners {
		points = append(points, v.flatten(array(c)))
	}
	return hull(points), nil
}

// cosEndOn is the cosine from which a bar is seen along its length: within a quarter of a degree.
const cosEndOn = 0.99999

// nearness is how near a body comes to the reader, mm.
func (v view) nearness(b body) float64 {
	most := math.Inf(-1)
	for _, c := range b.corners {
		most = max(most, v.near*array(c)[v.toward])
	}
	return most
}

// farToNear gives the bodies' indices, the farthest first; equals in their own order.
func (v view) farToNear(all []body) []int {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch na, nb := v.nearness(all[a]), v.nearness(all[b]); {
		case na < nb:
			return -1
		case na > nb:
			return 1
		}
		return 0
	})
	return order
}

// hull is the convex hull of points, counterclockwise, by Andrew's monotone chain (A. M. Andrew, "Another efficient
// algorithm for convex hulls in two dimensions", Information Processing Letters 9, 1979).
func hull(points []flat) []flat {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b flat) int {
		switch {
		case a.right < b.right || a.right == b.right && a.up < b.up:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	chain := func(points []flat) []flat {
		var c []flat
		for _, p := range points {
			for len(c) >= 2 && turn(c[len(c)-2], c[len(c)-1], p) <= 0 {
				c = c[:len(c)-1]
			}
			c = append(c, p)
		}
		return c[:len(c)-1]
	}
	lower := chain(sorted)
	slices.Reverse(sorted)
	return append(lower, chain(sorted)...)
}

// turn is positive when a, b, c turn to the left: twice the area of their triangle.
func turn(a, b, c flat) float64 {
	return (b.right-a.right)*(c.up-a.up) - (b.up-a.up)*(c.right-a.right)
}

// contains says whether a closed line holds a place inside it, by counting the edges to its right.
func contains(loop []flat, p flat) bool {
	inside := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.up > p.up) != (b.up > p.up) && p.right < a.right+(p.up-a.up)/(b.up-a.up)*(b.right-a.right) {
			inside = !inside
		}
	}
	return inside
}

// distance is how far a place is from a closed line, mm.
func distance(loop []flat, p flat) float64 {
	least := math.Inf(1)
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		dx, dy := b.right-a.right, b.up-a.up
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = max(0, min(1, ((p.right-a.right)*dx+(p.up-a.up)*dy)/l))
		}
		least = min(least, math.Hypot(p.right-a.right-t*dx, p.up-a.up-t*dy))
	}
	return least
}
