package structure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// spot is a place of a part where something acts on it or is read. A member, strip or triangle takes it as a point; a
// meshed part feels it over its zone, or over a region that moves as one rigid piece.
type spot struct {
	at   r3.Vec
	zone solid.Zone    // At and Part are filled in when the part is meshed
	held *solid.Region // instead of the zone
}

// like tells whether another spot is felt over the same zone or region: a mesh cannot tell such two apart, and need not.
func (s *spot) like(o *spot) bool {
	switch {
	case s == o:
		return true
	case s.held != nil || o.held != nil:
		return s.held != nil && o.held != nil && *s.held == *o.held
	}
	a, b := s.zone, o.zone
	return a.At == b.At && a.Normal == b.Normal && a.Inner == b.Inner && a.Outer == b.Outer && slices.Equal(a.Polygon, b.Polygon)
}

// metal is the place of a meshed part that the spot is referred to.
func (s *spot) metal() r3.Vec {
	if s.held != nil {
		return s.held.At
	}
	return s.zone.At
}

// readOver is the diameter over the part's least thickness of the round zone that a spot without a size of its own is
// spread over: the metal next to it then gives about as little as a member's, which gives nothing. Under a true point
// a solid body would give without end.
const readOver = 1.0

// spotOn is the spot of a part round a place that has no size of its own: a round zone in the face the place lies on,
// or in the plane across the part's thickness when it lies inside.
func (b *body) spotOn(at r3.Vec) *spot {
	if !b.meshed {
		return &spot{at: at}
	}
	return b.roundSpot(at, b.normalAt(at), readOver*b.fills.size(b.fills.shortest()))
}

// roundSpot is a spot spread over a disc square to an axis.
func (b *body) roundSpot(at r3.Vec, normal machine.Axis, diameter float64) *spot {
	s := &spot{at: at}
	if b.meshed {
		s.zone = rectSpot(b.nearestMetal(at), touch{normal: normal, box: b.fills}).zone
		s.zone.Outer = diameter / 2
	}
	return s
}

// normalAt is the axis square to the face that a place lies on; for a place inside, that of the part's thickness.
func (b *body) normalAt(at r3.Vec) machine.Axis {
	normal := b.fills.shortest()
	if g := b.part.Gusset; g != nil {
		normal, _ = along1(g.Thickness)
	}
	best := machine.Touching
	for _, f := range b.faces() {
		if gap := math.Abs(array(at)[f.normal] - f.lo[f.normal]); gap < best {
			normal, best = f.normal, gap
		}
	}
	return normal
}

// nearestMetal is the place of the part's box nearest to a place.
func (b *body) nearestMetal(at r3.Vec) r3.Vec {
	p := array(at)
	for k := range p {
		p[k] = math.Max(b.fills.lo[k], math.Min(b.fills.hi[k], p[k]))
	}
	return vector(p)
}

// rectSpot is a spot spread over a flat rectangle.
func rectSpot(at r3.Vec, t touch) *spot {
	p, q := t.normal.Others()
	return &spot{at: at, zone: solid.Zone{At: at, Normal: int(t.normal), Polygon: [][2]float64{
		{t.lo[p], t.lo[q]}, {t.hi[p], t.lo[q]}, {t.hi[p], t.hi[q]}, {t.lo[p], t.hi[q]},
	}}}
}
