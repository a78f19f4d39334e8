package structure

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

// box is a block with its edges along the axes.
type box struct{ lo, hi [3]float64 }

func (b box) size(k machine.Axis) float64   { return b.hi[k] - b.lo[k] }
func (b box) middle(k machine.Axis) float64 { return (b.lo[k] + b.hi[k]) / 2 }

func array(v r3.Vec) [3]float64  { return [3]float64{v.X, v.Y, v.Z} }
func vector(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

// touch is where two parts meet.
type touch struct {
	kind   touchKind
	normal machine.Axis // onFace: the axis the face looks along; along: the axis nearest to the bar
	aBelow bool         // onFace: the first part lies on the side of the smaller coordinate
	box                 // onFace: flat, lo = hi along normal; along and atPoint: the ends of what is shared
	inside func(r3.Vec) bool
}

type touchKind int

const (
	onFace  touchKind = iota // two faces on one another
	along                    // a bar's centre line runs through the other part, from lo to hi
	atPoint                  // two bars meet, or a bar's end stands on a part
)

// corners of what is shared, whatever its kind.
func (t touch) from() r3.Vec { return vector(t.lo) }
func (t touch) to() r3.Vec   { return vector(t.hi) }

// area of a face contact, mm².
func (t touch) area() float64 {
	p, q := t.normal.Others()
	return t.size(p) * t.size(q)
}

// solid is the block or prism a part fills; a bar along an axis fills the box round its section. ok is false for a
// skew bar and for a bar without a size.
func (b *body) solid() (box, bool) { return b.fills, b.hasBox }

// findTouch finds where two parts meet, or says why they do not.
func findTouch(a, b *body) (touch, error) {
	switch {
	case a.part.Bar != nil && b.part.Bar != nil:
		return barsTouch(a, b)
	case a.part.Bar != nil:
		t, err := barTouches(a, b)
		return t, err
	case b.part.Bar != nil:
		t, err := barTouches(b, a)
		t.aBelow = !t.aBelow
		return t, err
	}
	return blocksTouch(a, b)
}

// blocksTouch finds the common face of two plates or gussets.
func blocksTouch(a, b *body) (touch, error) {
	if depth, ok := overlap(a, b); ok {
		return touch{}, fmt.Errorf("%s and %s run into each other: they share %s", a.part.Name, b.part.Name, sizes(depth))
	}
	var found []touch
	for _, fa := range a.faces() {
		for _, fb := range b.faces() {
			if fa.normal != fb.normal || fa.far == fb.far || math.Abs(fa.box.lo[fa.normal]-fb.box.lo[fa.normal]) > machine.Touching {
				continue
			}
			if t, ok := commonFace(fa, fb); ok {
				found = append(found, t)
			}
		}
	}
	if len(found) > 0 {
		sort.SliceStable(found, func(i, j int) bool { return found[i].area() > found[j].area() })
		return found[0], nil
	}
	return touch{}, apart(a, b)
}

// facet is one flat face of a block: the box is flat along normal.
type facet struct {
	box
	normal machine.Axis
	far    bool // the metal lies on the side of the smaller coordinate
	inside func(r3.Vec) bool
}

// faces of a plate: six; of a gusset: the two along its legs and the two triangles.
func (b *body) faces() []facet {
	var list []facet
	for f := machine.Left; f <= machine.Top; f++ {
		g := facet{box: b.fills, normal: f.Normal(), far: f.Far()}
		if g.far {
			g.lo[g.normal] = g.hi[g.normal]
		} else {
			g.hi[g.normal] = g.lo[g.normal]
		}
		if gusset := b.part.Gusset; gusset != nil {
			corner := array(gusset.Corner)[g.normal]
			switch {
			case array(gusset.Thickness)[g.normal] != 0:
				g.inside = func(at r3.Vec) bool { return withinGusset(gusset, at) }
			case math.Abs(g.lo[g.normal]-corner) > machine.Touching:
				continue // the tip of a leg is an edge, not a face
			}
		}
		list = append(list, g)
	}
	return list
}

// within tells whether a spot of a gusset's flat side is on its triangle.
func withinGusset(g *machine.Gusset, at r3.Vec) bool { return beyondGusset(g, at) <= machine.Touching }

// beyond is how far a spot lies outside the slope of a gusset; zero within.
func beyondGusset(g *machine.Gusset, at r3.Vec) float64 {
	from := r3.Sub(at, g.Corner)
	share := r3.Dot(from, g.Legs[0])/r3.Norm2(g.Legs[0]) + r3.Dot(from, g.Legs[1])/r3.Norm2(g.Legs[1])
	// The slope is a·b/√(a² + b²) from the corner.
	a, b := r3.Norm(g.Legs[0]), r3.Norm(g.Legs[1])
	return math.Max(0, share-1) * a * b / math.Hypot(a, b)
}

// commonFace is the rectangle two faces share; a sliver narrower than the touching distance is an edge.
func commonFace(a, b facet) (touch, bool) {
	t := touch{kind: onFace, normal: a.normal, aBelow: a.far, inside: a.inside}
	if b.inside != nil {
		t.inside = b.inside
	}
	t.lo[a.normal], t.hi[a.normal] = a.lo[a.normal], a.lo[a.normal]
	p, q := a.normal.Others()
	for _, k := range []machine.Axis{p, q} {
		t.lo[k], t.hi[k] = math.Max(a.lo[k], b.lo[k]), math.Min(a.hi[k], b.hi[k])
		if t.hi[k]-t.lo[k] <= machine.Touching {
			return touch{}, false
		}
	}
	return t, true
}

// overlap is how deep two blocks stand in each other. For a gusset the triangle counts, not the box round it.
func overlap(a, b *body) (depth [3]float64, ok bool) { return overlapWithin(a, b, box{}) }

// overlapWithin is overlap of two blocks of which the second moves by some way within ways: depth is then of the box that
// it sweeps, and ok tells whether they meet anywhere.
func overlapWithin(a, b *body, ways box) (depth [3]float64, ok bool) {
	for k := range depth {
		depth[k] = math.Min(a.fills.hi[k], b.fills.hi[k]+ways.hi[k]) - math.Max(a.fills.lo[k], b.fills.lo[k]+ways.lo[k])
		if depth[k] <= machine.Touching {
			return depth, false
		}
	}
	switch ga, gb := a.part.Gusset, b.part.Gusset; {
	case ga != nil && gb != nil:
		return depth, prismsMeet(ga, gb, ways)
	case ga != nil: // a box that moves sweeps a box
		return depth, gussetReaches(ga, b.fills.swept(ways.lo, ways.hi))
	case gb != nil:
		return depth, gussetReaches(gb, a.fills.swept(negative(ways.hi), negative(ways.lo)))
	}
	return depth, true
}

// swept is what a box fills on its way from one movement to another.
func (b box) swept(from, to [3]float64) box {
	for k := range from {
		b.lo[k] += from[k]
		b.hi[k] += to[k]
	}
	return b
}

func negative(a [3]float64) [3]float64 { return [3]float64{-a[0], -a[1], -a[2]} }

// reaches tells whether a gusset's triangle enters a box that its own box enters: the box's corner nearest to the
// gusset's must lie inside the slope.
func gussetReaches(g *machine.Gusset, b box) bool {
	corner, share := array(g.Corner), 0.0
	for _, leg := range g.Legs {
		k, l := along1(leg)
		near := (b.lo[k] - corner[k]) / l
		if l < 0 {
			near = (b.hi[k] - corner[k]) / l
		}
		share += math.Max(0, near)
	}
	return share < 1-machine.Touching/r3.Norm(g.Legs[0])
}

// along1 is the axis of a vector that lies along one, and its signed length.
func along1(v r3.Vec) (machine.Axis, float64) {
	for k, c := range array(v) {
		if c != 0 {
			return machine.Axis(k), c
		}
	}
	panic("structure: vector of no length")
}

// prismsMeet tests two gussets whose boxes meet, the second moved by some way within ways. Convex bodies are apart when a
// plane separates them, square to a face of one of them or to an edge of each (S. Gottschalk, M. Lin, D. Manocha,
// "OBBTree", 1996). The faces along the axes and all edges but the slopes are those of the boxes.
func prismsMeet(a, b *machine.Gusset, ways box) bool {
	slopeA, slopeB := r3.Sub(a.Legs[1], a.Legs[0]), r3.Sub(b.Legs[1], b.Legs[0])
	for _, n := range []r3.Vec{r3.Cross(slopeA, a.Thickness), r3.Cross(slopeB, b.Thickness), r3.Cross(slopeA, slopeB)} {
		if l := r3.Norm(n); l <= machine.Parallel*r3.Norm(slopeA)*r3.Norm(slopeB) {
			continue // slopes along one another
		}
		n = r3.Unit(n)
		loA, hiA := gussetExtent(a, n)
		loB, hiB := gussetExtent(b, n)
		for k, c := range array(n) {
			loB += math.Min(c*ways.lo[k], c*ways.hi[k])
			hiB += math.Max(c*ways.lo[k], c*ways.hi[k])
		}
		if math.Min(hiA, hiB)-math.Max(loA, loB) <= machine.Touching {
			return false
		}
	}
	return true
}

// extent is how far a gusset reaches along a direction.
func gussetExtent(g *machine.Gusset, n r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range []r3.Vec{g.Corner, r3.Add(g.Corner, g.Legs[0]), r3.Add(g.Corner, g.Legs[1])} {
		for _, through := range []r3.Vec{{}, g.Thickness} {
			d := r3.Dot(r3.Add(p, through), n)
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
	}
	return lo, hi
}

// apart says how far two blocks are from each other, and between which faces.
func apart(a, b *body) error {
	var gaps []string
	for k := machine.X; k <= machine.Z; k++ {
		below, above := a, b
		if a.fills.middle(k) > b.fills.middle(k) {
			below, above = b, a
		}
		if gap := above.fills.lo[k] - below.fills.hi[k]; gap > machine.Touching {
			gaps = append(gaps, fmt.Sprintf("%s along %s (%s of %s at %s, %s of %s at %s)",
				machine.MM(gap), k, machine.Face(2*k+1), below.part.Name, machine.MM(below.fills.hi[k]), machine.Face(2*k), above.part.Name, machine.MM(above.fills.lo[k])))
		}
	}
	if gaps == nil {
		return fmt.Errorf("%s and %s do not touch on a face: they meet at most along an edge", a.part.Name, b.part.Name)
	}
	return fmt.Errorf("%s and %s do not touch: they are apart by %s", a.part.Name, b.part.Name, strings.Join(gaps, " and "))
}

func sizes(d [3]float64) string {
	return fmt.Sprintf("%.4g x %.4g x %.4g mm (x, y, z)", d[0], d[1], d[2])
}
