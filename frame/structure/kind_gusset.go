package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// gussetKind is a gusset: one triangle of the frame, whose field reaches its edges.
type gussetKind struct {
	baseKind
	gusset   *machine.Gusset
	triangle *frame.Triangle
}

func newGusset(b *body) (kind, error) {
	g := b.part.Gusset
	if g == nil {
		return nil, nil
	}
	b.hasBox = true
	b.fills = gussetBox(g)
	return &gussetKind{baseKind: baseKind{b}, gusset: g}, nil
}

// gussetBox is the box round a gusset.
func gussetBox(g *machine.Gusset) box {
	return around(g.Corner, r3.Add(g.Corner, g.Legs[0]), r3.Add(g.Corner, g.Legs[1]), r3.Add(g.Corner, g.Thickness))
}

// faces are the two along the legs and the two triangles.
func (k *gussetKind) faces() []facet {
	var list []facet
	for _, f := range k.baseKind.faces() {
		corner := array(k.gusset.Corner)[f.normal]
		switch {
		case array(k.gusset.Thickness)[f.normal] != 0:
			f.inside = func(at r3.Vec) bool { return beyondGusset(k.gusset, at) <= machine.Touching }
		case math.Abs(f.lo[f.normal]-corner) > machine.Touching:
			continue // the tip of a leg is an edge, not a face
		}
		list = append(list, f)
	}
	return list
}

// beyondGusset is how far a spot lies outside the slope of a gusset; zero within.
func beyondGusset(g *machine.Gusset, at r3.Vec) float64 {
	from := r3.Sub(at, g.Corner)
	share := r3.Dot(from, g.Legs[0])/r3.Norm2(g.Legs[0]) + r3.Dot(from, g.Legs[1])/r3.Norm2(g.Legs[1])
	// The slope is a·b/√(a² + b²) from the corner.
	a, b := r3.Norm(g.Legs[0]), r3.Norm(g.Legs[1])
	return math.Max(0, share-1) * a * b / math.Hypot(a, b)
}

func (k *gussetKind) off(at r3.Vec) float64 {
	return math.Max(k.b.distance(at), beyondGusset(k.gusset, at))
}

func (k *gussetKind) meets(o *body, ways box) bool { return o.meetsGusset(k.gusset, ways) }

func (k *gussetKind) meetsBox(o box) bool { return gussetReaches(k.gusset, o) }

func (k *gussetKind) meetsGusset(g *machine.Gusset, ways box) bool {
	return prismsMeet(g, k.gusset, ways)
}

// gussetReaches tells whether a gusset's triangle enters a box that its own box enters: the box's corner nearest to the
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

// prismsMeet tests two gussets whose boxes meet, the second moved by some way within ways. Convex bodies are apart
// when a plane separates them, square to a face of one of them or to an edge of each (S. Gottschalk, M. Lin, D.
// Manocha, "OBBTree", 1996). The faces along the axes and all edges but the slopes are those of the boxes.
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

// gussetExtent is how far a gusset reaches along a direction.
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

func (k *gussetKind) across() machine.Axis {
	axis, _ := along1(k.gusset.Thickness)
	return axis
}

// onEdge tells whether a face that looks along an axis is an edge, along a leg, and no flat side.
func (k *gussetKind) onEdge(normal machine.Axis) bool { return array(k.gusset.Thickness)[normal] == 0 }

// depth is half the thickness under a flat side. At an edge the field of the triangle takes over.
func (k *gussetKind) depth(t touch) (mm float64, through bool) {
	if k.onEdge(t.normal) {
		return 0, true
	}
	return k.b.fills.size(t.normal) / 2, false
}

// reachThrough: an edge is never drilled along its leg.
func (k *gussetKind) reachThrough(normal machine.Axis) float64 {
	if k.onEdge(normal) {
		return math.Inf(1)
	}
	return k.baseKind.reachThrough(normal)
}

// cellAlong: the field is known everywhere, so cells are as fine as seats ask for.
func (k *gussetKind) cellAlong(_ machine.Axis, _ touch, thin float64) float64 { return thin / 2 }

// metal is the thickness.
func (k *gussetKind) metal() (mm float64, ok bool) { return r3.Norm(k.gusset.Thickness), true }

func (k *gussetKind) mass() (tonne float64, centre r3.Vec) {
	g := k.gusset
	centre = r3.Add(g.Corner, r3.Scale(1./3, r3.Add(g.Legs[0], g.Legs[1])))
	tonne = k.b.part.Material.Density * r3.Norm(g.Legs[0]) * r3.Norm(g.Legs[1]) / 2 * r3.Norm(g.Thickness)
	return tonne, r3.Add(centre, r3.Scale(0.5, g.Thickness))
}

func (k *gussetKind) solidPart() (solid.Part, bool) {
	p, g := k.b.part, k.gusset
	meshed := &solid.Gusset{Corner: g.Corner, Legs: g.Legs, Thickness: g.Thickness}
	return solid.Part{Name: p.Name, Made: p.Material, Gusset: meshed}, true
}

func (k *gussetKind) readAnywhere() bool { return true }

func (k *gussetKind) addTo(f *frame.Frame, _ [3]float64) {
	b, g := k.b, k.gusset
	grown := r3.Scale(b.thicker, r3.Unit(g.Thickness))
	corner, thickness := r3.Sub(g.Corner, r3.Scale(0.5, grown)), r3.Add(g.Thickness, grown)
	k.triangle = f.AddTriangle(corner, g.Legs, thickness, b.part.Material, b.source())
}

func (k *gussetKind) node(*spot) int { return k.triangle.Node() }

func (k *gussetKind) nodes() []int { return []int{k.triangle.Node()} }

func (k *gussetKind) move(_ *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return k.triangle.Move(s.at, direction)
}

func (k *gussetKind) turn(s *spot, direction r3.Vec) frame.Form {
	return k.triangle.Turn(s.at, direction)
}

// grown is that of the arm through the thickness, and of one beside the metal: the plane of a triangle has freedoms of
// its own.
func (k *gussetKind) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	near, arm := k.triangle.Nearest(s.at)
	through := r3.Unit(k.gusset.Thickness)
	arm = r3.Add(arm, r3.Scale(r3.Dot(r3.Sub(near, f.Node(k.node(s))), through), through))
	return k.b.part.Material.Expansion * r3.Dot(arm, direction)
}

func (k *gussetKind) warm(out *frame.Load, rise float64, _ r3.Vec) {
	out.Swollen = append(out.Swollen, k.triangle.Warmed(rise))
}

func (k *gussetKind) inertia(out *frame.Inertia) { out.Blocks = append(out.Blocks, k.triangle.Block()) }
