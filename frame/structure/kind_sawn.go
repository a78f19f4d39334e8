package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/outline"
	"tiploop/frame/solid"
)

// sawnKind is a plate of any outline. No line of members bends as it does: a frame sawn from one plate bends in its
// throat, across what would be its centre line. So it is meshed at either detail, and the beam model has its mesh as the
// meshed model has. What of a plate's line of members it embeds is only how the plate lies.
type sawnKind struct {
	plateKind
	drawn *machine.Plate
}

// sawn is a body's kind as a plate of any outline; nil of another.
func (b *body) sawn() *sawnKind {
	k := b.kind
	if m := b.mesh(); m != nil {
		k = m.kind
	}
	s, _ := k.(*sawnKind)
	return s
}

func (k *sawnKind) across() machine.Axis { return k.drawn.Across() }

// on is a place in the plane of the outline.
func (k *sawnKind) on(at r3.Vec) outline.Point { return k.drawn.OnPlane(at) }

// sawnNotes say of which parts the beam model knows no more than the meshed one.
func (m *Model) sawnNotes() []string {
	var names []string
	for _, b := range m.bodies {
		if b.sawn() != nil {
			names = append(names, b.part.Name)
		}
	}
	if names == nil {
		return nil
	}
	return []string{fmt.Sprintf("sawn to an outline: %s. No beam bends as such a plate does, so the model of beams has its mesh, "+
		"too, and is no second opinion on it.", strings.Join(names, ", "))}
}

// rect is the rectangle in the plane of the outline that a box covers.
func (k *sawnKind) rect(b box) (lo, hi outline.Point) { return k.on(vector(b.lo)), k.on(vector(b.hi)) }

// flats are the two faces that are sawn to the outline.
func (k *sawnKind) flats() (list []facet) {
	for _, f := range k.baseKind.faces() {
		if f.normal == k.across() {
			f.shapes = []outline.Shape{k.drawn.Outline}
			list = append(list, f)
		}
	}
	return list
}

// faces are the flat ones and the edges along the axes, those level with one another as one face. What is joined to a
// slanted edge finds no face there.
func (k *sawnKind) faces() []facet {
	list := k.flats()
	for _, e := range k.edges() {
		level := slices.IndexFunc(list, func(f facet) bool {
			return f.normal == e.normal && f.far == e.far && f.lo[f.normal] == e.lo[f.normal]
		})
		if level < 0 {
			list = append(list, e)
			continue
		}
		f := &list[level]
		if f.shapes == nil {
			f.shapes = []outline.Shape{{f.corners()}}
		}
		f.shapes[0] = append(f.shapes[0], e.corners())
		f.box.take(e.lo, e.hi)
	}
	return list
}

// face is what of a side of the plate's box is a face of its own.
func (k *sawnKind) face(side touch) (t touch, found bool) {
	for _, f := range k.faces() {
		if f.normal == side.normal && math.Abs(f.lo[f.normal]-side.lo[f.normal]) <= machine.Touching {
			side.box = f.box
			return side.onMetal(f.shapes)
		}
	}
	return side, false
}

// onLevel tells whether a place along an axis is one where the part has a face square to it.
func (b *body) onLevel(normal machine.Axis, at float64) bool {
	here := func(level float64) bool { return math.Abs(at-level) <= machine.Touching }
	if here(b.fills.lo[normal]) || here(b.fills.hi[normal]) {
		return true
	}
	k := b.sawn()
	return k != nil && slices.ContainsFunc(k.edges(), func(e facet) bool { return e.normal == normal && here(e.lo[normal]) })
}

// looksUp tells whether a face of the part at a place along an axis looks towards the larger coordinate.
func (b *body) looksUp(normal machine.Axis, at float64) bool {
	if k := b.sawn(); k != nil && normal != k.across() {
		return slices.ContainsFunc(k.edges(), func(e facet) bool {
			return e.normal == normal && e.far && math.Abs(e.lo[normal]-at) <= machine.Touching
		})
	}
	return math.Abs(at-b.fills.hi[normal]) <= machine.Touching
}

// edges are those of the outline along the axes, a rectangle each.
func (k *sawnKind) edges() (list []facet) {
	u, v := k.across().Others()
	for _, s := range k.drawn.Outline.Sides() {
		f := facet{box: k.b.fills, normal: u, far: s.Far, edge: true}
		along := v
		if s.Normal == 1 {
			f.normal, along = v, u
		}
		f.lo[f.normal], f.hi[f.normal] = s.At, s.At
		f.lo[along], f.hi[along] = s.From, s.To
		list = append(list, f)
	}
	return list
}

// corners are those of the facet's rectangle along its two axes.
func (f facet) corners() []outline.Point {
	p, q := f.normal.Others()
	return []outline.Point{{f.lo[p], f.lo[q]}, {f.hi[p], f.lo[q]}, {f.hi[p], f.hi[q]}, {f.lo[p], f.hi[q]}}
}

// room is how far a place is from the nearest edge of the outline, below zero beside the metal.
func (k *sawnKind) room(at r3.Vec) float64 { return k.drawn.Outline.Room(k.on(at)) }

func (k *sawnKind) off(at r3.Vec) float64 {
	n := k.across()
	deep := array(at)[n]
	out := math.Max(0, math.Max(k.b.fills.lo[n]-deep, deep-k.b.fills.hi[n]))
	return math.Hypot(out, math.Max(0, -k.room(at)))
}

// nearest is the place of the metal that is nearest to one.
func (k *sawnKind) nearest(at r3.Vec) r3.Vec {
	n := k.across()
	u, v := n.Others()
	p, on := array(at), k.drawn.Outline.Nearest(k.on(at))
	p[n] = math.Max(k.b.fills.lo[n], math.Min(k.b.fills.hi[n], p[n]))
	p[u], p[v] = on[0], on[1]
	return vector(p)
}

func (k *sawnKind) meetsBox(o box) bool {
	lo, hi := k.rect(o)
	return k.drawn.Outline.Reaches(lo, hi, machine.Touching)
}

// meets: two plates as they are drawn meet where their shapes do; of one that moves the boxes round what it sweeps count.
func (k *sawnKind) meets(o *body, ways box) bool {
	other := o.sawn()
	if other == nil || ways != (box{}) {
		return k.plateKind.meets(o, ways)
	}
	if k.across() == other.across() {
		return k.drawn.Outline.Meets(other.drawn.Outline, machine.Touching)
	}
	// Square to one another: of each the metal that lies within the other's thickness, along the axis that both run.
	shared := 3 - k.across() - other.across()
	for _, a := range k.spans(shared, other.b.fills) {
		for _, b := range other.spans(shared, k.b.fills) {
			if math.Min(a[1], b[1])-math.Max(a[0], b[0]) > machine.Touching {
				return true
			}
		}
	}
	return false
}

// spans are where along an axis of its plane the plate has metal within a box.
func (k *sawnKind) spans(along machine.Axis, within box) (list [][2]float64) {
	u, _ := k.across().Others()
	i := 1
	if along == u {
		i = 0
	}
	lo, hi := k.rect(within)
	for _, piece := range k.drawn.Outline.In(lo, hi) {
		s := [2]float64{math.Inf(1), math.Inf(-1)}
		for _, c := range piece {
			s[0], s[1] = math.Min(s[0], c[i]), math.Max(s[1], c[i])
		}
		list = append(list, s)
	}
	return list
}

func (k *sawnKind) meetsGusset(g *machine.Gusset, ways box) bool {
	return k.meetsBox(gussetBox(g).swept(negative(ways.hi), negative(ways.lo))) &&
		gussetReaches(g, k.b.fills.swept(ways.lo, ways.hi))
}

// fill is the share of the block that is left.
func (k *sawnKind) fill() float64 { return k.drawn.Outline.Area() / k.b.fills.sideArea(k.across()) }

func (k *sawnKind) metal() (mm float64, ok bool) { return k.b.fills.size(k.across()), true }

func (k *sawnKind) mass() (tonne float64, centre r3.Vec) {
	n := k.across()
	u, v := n.Others()
	at, middle := array(k.b.middle()), k.drawn.Outline.Centroid()
	at[u], at[v] = middle[0], middle[1]
	return k.b.part.Material.Density * k.drawn.Outline.Area() * k.b.fills.size(n), vector(at)
}

func (k *sawnKind) stubby() bool { return false }

// alongEdge is the metal behind a place of an edge, along an axis of the plane: from where to where.
func (k *sawnKind) alongEdge(normal machine.Axis, at r3.Vec) (from, to float64) {
	const beside = 10 * machine.Touching // of the line through the place: it may run along an edge
	thin := k.b.fills
	other := 3 - normal - k.across()
	thin.lo[other], thin.hi[other] = array(at)[other]-beside, array(at)[other]+beside
	deep := array(at)[normal]
	from, to = deep, deep
	for _, s := range k.spans(normal, thin) {
		if deep >= s[0]-2*beside && deep <= s[1]+2*beside && s[1]-s[0] > to-from {
			from, to = s[0], s[1]
		}
	}
	return from, to
}

// faceRound is the rectangle of the face that a place lies on, or the part's box: what is beyond a short edge of an
// outline is no part of that edge, though it be level with it.
func (b *body) faceRound(at r3.Vec, normal machine.Axis) box {
	if k := b.sawn(); k != nil && normal != k.across() {
		for _, f := range k.edges() {
			if f.normal == normal && f.box.distance(at) <= machine.Touching {
				return f.box
			}
		}
	}
	return b.fills
}

// metalFrom says from where to where there is metal along an axis at a place on a face, metalAlong how much, mm.
func (b *body) metalFrom(normal machine.Axis, at r3.Vec) (from, to float64) {
	k := b.sawn()
	if k == nil || normal == k.across() {
		return b.fills.lo[normal], b.fills.hi[normal]
	}
	return k.alongEdge(normal, at)
}

func (b *body) metalAlong(normal machine.Axis, at r3.Vec) float64 {
	from, to := b.metalFrom(normal, at)
	return to - from
}

// toEdge is how far a place on a face is from the face's nearest edge; below zero beside it.
func (k *sawnKind) toEdge(normal machine.Axis, at r3.Vec) float64 {
	if normal == k.across() {
		return k.room(at)
	}
	edge := math.Inf(-1)
	for _, f := range k.edges() {
		if f.normal == normal && math.Abs(f.lo[normal]-array(at)[normal]) <= machine.Touching {
			edge = math.Max(edge, f.box.toEdge(normal, at))
		}
	}
	return edge
}

func (k *sawnKind) solidPart() (solid.Part, bool) {
	part, ok := k.plateKind.solidPart()
	part.Block.Sawn = &solid.Sawn{Normal: int(k.across()), Area: k.drawn.Outline}
	return part, ok
}
