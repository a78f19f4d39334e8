package structure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/outline"
	"tiploop/frame/solid"
)

// Where a plate of any outline is touched there is metal over a part of the rectangle only. What is spread over a face
// is then spread over convex pieces of that metal; what has a place must have it on metal.

// rect are the corners of a face's rectangle, along its two axes.
func (t touch) rect() (lo, hi outline.Point) {
	p, q := t.normal.Others()
	return outline.Point{t.lo[p], t.lo[q]}, outline.Point{t.hi[p], t.hi[q]}
}

// metal is what of the rectangle is metal of both parts, as convex pieces.
func (t touch) metal() [][]outline.Point {
	lo, hi := t.rect()
	return outline.InAll(t.shapes, lo, hi)
}

// areaOf is the area of convex pieces, mm².
func areaOf(pieces [][]outline.Point) (area float64) {
	for _, piece := range pieces {
		area += outline.ConvexArea(piece)
	}
	return area
}

// onMiddle is the middle of the face, or of the largest piece of its metal.
func (t touch) onMiddle() r3.Vec {
	if t.shapes == nil {
		return t.at(0.5, 0.5)
	}
	p, q := t.normal.Others()
	at, most := t.lo, 0.0
	for _, piece := range t.metal() {
		if area := outline.ConvexArea(piece); area > most {
			middle, _ := outline.ConvexMoments(piece)
			most, at[p], at[q] = area, middle[0], middle[1]
		}
	}
	return vector(at)
}

// onMetal cuts a face down to the box round its metal by some outlines; not ok where there is none to speak of. A face
// that is all metal knows of no outline.
func (t touch) onMetal(shapes []outline.Shape) (touch, bool) {
	if shapes == nil {
		return t, true
	}
	t.shapes = shapes
	pieces := t.metal()
	if pieces == nil {
		return touch{}, false
	}
	p, q := t.normal.Others()
	from, to := outline.Shape{slices.Concat(pieces...)}.Bounds()
	t.lo[p], t.hi[p], t.lo[q], t.hi[q] = from[0], to[0], from[1], to[1]
	metal, long := areaOf(pieces), math.Max(t.size(p), t.size(q))
	if math.Min(t.size(p), t.size(q)) <= machine.Touching || metal <= machine.Touching*long {
		return touch{}, false
	}
	if metal >= (1-allMetal)*t.sideArea(t.normal) {
		t.shapes = nil
	}
	return t, true
}

// allMetal is the share of a rectangle that may be missing where it counts as metal all over: rounding.
const allMetal = 1e-9

// room is how far a place on the face is from the nearest edge of an outline, mm: below zero beside the metal, without
// bound on a face that is all metal.
func (t touch) room(place [2]float64) float64 {
	room := math.Inf(1)
	for _, s := range t.shapes {
		room = math.Min(room, s.Room(place))
	}
	return room
}

// roomText says in a message how near an edge a place is.
func roomText(room float64) string {
	if room < 0 {
		return machine.MM(-room) + " beside the metal"
	}
	return "only " + machine.MM(room) + " from the edge of the outline"
}

// mirrors are a screw's images in the edges of the outlines that are nearer than a reach: what is nearer to one of them
// than to the screw lies beyond the edge, so that the screw's zone ends there as it does half way to another screw.
func (t touch) mirrors(place [2]float64, reach float64) (list [][2]float64) {
	for _, s := range t.shapes {
		for _, q := range s.EdgesNear(place, reach) {
			list = append(list, [2]float64{2*q[0] - place[0], 2*q[1] - place[1]})
		}
	}
	return list
}

// field is a piece of a face over which parts move together, or a pressure is spread.
type field struct {
	spot   *spot
	area   float64    // mm²
	square [2]float64 // mean square of the distance from its middle, along the face's two axes, mm²
}

// A rectangle that is partly metal is one field when the convex polygon round its metal is hardly more than that; else
// it is halved, a few times at most, and what is a chip then is left out.
const (
	nearlyConvex = 0.05
	mostHalvings = 4
	chip         = 0.02
)

// fields cuts a face into fields no longer than a step, as pieces does, each of metal all over.
func (t touch) fields(step float64, most int) (list []field) {
	for _, piece := range t.pieces(step, most) {
		list = append(list, piece.overMetal(mostHalvings)...)
	}
	return list
}

func (t touch) overMetal(halvings int) []field {
	p, q := t.normal.Others()
	if t.shapes == nil {
		return []field{{rectSpot(t.at(0.5, 0.5), t), t.area(), [2]float64{t.size(p) * t.size(p) / 12, t.size(q) * t.size(q) / 12}}}
	}
	pieces := t.metal()
	area := areaOf(pieces)
	if area < chip*t.sideArea(t.normal) {
		return nil
	}
	hull := outline.Hull(slices.Concat(pieces...))
	if halvings > 0 && outline.ConvexArea(hull)-area > nearlyConvex*area {
		longer := p
		if t.size(q) > t.size(p) {
			longer = q
		}
		below, above := t, t
		below.hi[longer] = t.middle(longer)
		above.lo[longer] = t.middle(longer)
		return append(below.overMetal(halvings-1), above.overMetal(halvings-1)...)
	}
	middle, square := outline.ConvexMoments(hull)
	at := t.lo
	at[p], at[q] = middle[0], middle[1]
	return []field{{&spot{at: vector(at), zone: solid.Zone{At: vector(at), Normal: int(t.normal), Polygon: hull}}, area, square}}
}

// hangsOver tells whether a rectangle on a part's face lies beside the metal of its outline with more than rounding.
func (b *body) hangsOver(t touch) bool {
	k := b.sawn()
	if k == nil {
		return false
	}
	face, found := k.face(t)
	if !found {
		return true
	}
	p, q := t.normal.Others()
	for _, a := range []machine.Axis{p, q} {
		if t.lo[a] < face.lo[a]-machine.Touching || t.hi[a] > face.hi[a]+machine.Touching {
			return true
		}
	}
	t.shapes = face.shapes
	return t.area() < t.sideArea(t.normal)-2*machine.Touching*(t.size(p)+t.size(q))
}
