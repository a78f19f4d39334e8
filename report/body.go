package report

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

// partKind is what a part is made as, or what a body that is no part is.
type partKind int

const (
	plateKind partKind = iota
	gussetKind
	barKind
	railKind // of an axis, as are those that follow
	carriageKind
	shaftKind
)

// kindNames are the kinds' names in a key.
var kindNames = [...]string{"plate", "gusset", "bar", "rail", "carriage", "screw of a drive"}

// body is a part, or a rail, carriage or screw of an axis, as a drawing needs it: the corners of its hull, in the world's
// axes, mm.
type body struct {
	name    string
	kind    partKind
	corners []r3.Vec
	along   r3.Vec     // of a bar: unit length along it
	loops   [][]r3.Vec // of a bar: the outline of its section, then its holes, at its From end
}

// bodies gives the parts of a machine, in its order.
func bodies(m *machine.Machine) ([]body, error) {
	all := make([]body, len(m.Parts))
	for i, p := range m.Parts {
		b := body{name: p.Name}
		switch {
		case p.Plate != nil:
			b.kind, b.corners = plateKind, boxCorners(p.Plate.From, p.Plate.To)
		case p.Gusset != nil:
			g := p.Gusset
			b.kind = gussetKind
			for _, shift := range []r3.Vec{{}, g.Thickness} {
				at := r3.Add(g.Corner, shift)
				b.corners = append(b.corners, at, r3.Add(at, g.Legs[0]), r3.Add(at, g.Legs[1]))
			}
		case p.Bar != nil:
			b.kind = barKind
			if err := b.extrude(p); err != nil {
				return nil, err
			}
		default:
			panic(fmt.Sprintf("report: part %q is no plate, gusset or bar", p.Name))
		}
		all[i] = b
	}
	return all, nil
}

// boxCorners gives the eight corners of a box.
func boxCorners(from, to r3.Vec) []r3.Vec {
	var corners []r3.Vec
	for _, x := range []float64{from.X, to.X} {
		for _, y := range []float64{from.Y, to.Y} {
			for _, z := range []float64{from.Z, to.Z} {
				corners = append(corners, r3.Vec{X: x, Y: y, Z: z})
			}
		}
	}
	return corners
}

// extrude draws a bar's section out along it. A section given as plain numbers has no outline; a square of the same
// area stands for it.
func (b *body) extrude(p machine.Part) error {
	s, err := p.Bar.Shape.Section(p.Material.Nu)
	if err != nil {
		return fmt.Errorf("drawing part %q: %w", p.Name, err)
	}
	outline := s.Outline
	if len(outline) == 0 {
		h := math.Sqrt(s.A) / 2
		outline = [][][2]float64{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}}
	}
	b.along = r3.Unit(r3.Sub(p.Bar.To, p.Bar.From))
	side := r3.Cross(p.Bar.Up, b.along)
	for _, loop := range outline {
		var corners []r3.Vec
		for _, yz := range loop {
			corners = append(corners, r3.Add(p.Bar.From, r3.Add(r3.Scale(yz[0], side), r3.Scale(yz[1], p.Bar.Up))))
		}
		b.loops = append(b.loops, corners)
	}
	b.corners = slices.Clone(b.loops[0])
	for _, c := range b.loops[0] {
		b.corners = append(b.corners, r3.Add(c, r3.Sub(p.Bar.To, p.Bar.From)))
	}
	return nil
}

// middle is the mean of a body's corners.
func (b body) middle() [3]float64 {
	var sum r3.Vec
	for _, c := range b.corners {
		sum = r3.Add(sum, c)
	}
	return array(r3.Scale(1/float64(len(b.corners)), sum))
}

// array gives a vector's components by axis.
func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

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
