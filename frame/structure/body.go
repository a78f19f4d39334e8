package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// body is a part on its way into the frame: what parts of all kinds have, and the kind that does the rest.
type body struct {
	kind
	part    *machine.Part
	from    r3.Vec // centre line of a plate or bar
	to      r3.Vec
	length  float64
	up      r3.Vec
	section beam.Section
	axis    machine.Axis // the axis the centre line runs along; -1 for a skew bar or without one
	fills   box          // the space it takes; for a skew or plain bar the box round its centre line
	hasBox  bool         // fills is the metal itself (or, for a gusset, holds its triangle)

	mount   *body  // of a rail or a carriage: the part that it is screwed to
	counted string // the name under which its energy is counted, when it is no part

	thicker float64 // by how much the metal is thicker than its faces are apart, mm: what that would gain
	shared  float64 // by how much in all places stand beside the node that they share with others, mm
}

// noAxis marks a body whose centre line runs along no axis.
const noAxis machine.Axis = -1

// newBody is a part as its kind models it.
func newBody(p *machine.Part) (*body, error) {
	b := &body{part: p, axis: noAxis}
	for _, of := range kinds {
		k, err := of(b)
		if err != nil {
			return nil, err
		}
		if k != nil {
			b.kind = k
			return b, nil
		}
	}
	made := p.Kind()
	if made == nil { // Complete lets none pass
		panic("structure: part of no kind")
	}
	return nil, unknownKind(made.KindName())
}

// unknownKind is the error of a part of a kind, named here, that none of kinds models.
type unknownKind string

func (k unknownKind) Error() string {
	return fmt.Sprintf("nothing here models parts of kind %q", string(k))
}

// hint is what can be done about it.
func (unknownKind) hint() string {
	return "make it a plate, a gusset or a bar: of others there are only those that frame/structure registers in kinds"
}

// around is the box round some points.
func around(points ...r3.Vec) box {
	b := box{array(points[0]), array(points[0])}
	for _, p := range points[1:] {
		for k, v := range array(p) {
			b.lo[k], b.hi[k] = math.Min(b.lo[k], v), math.Max(b.hi[k], v)
		}
	}
	return b
}

// longest side; the first of equals.
func (b box) longest() machine.Axis {
	best := machine.X
	for k := machine.Y; k <= machine.Z; k++ {
		if b.size(k) > b.size(best) {
			best = k
		}
	}
	return best
}

// upAxis is the axis that the section's height runs along, noAxis when it runs along none.
func (b *body) upAxis() machine.Axis {
	for k := machine.X; k <= machine.Z; k++ {
		if math.Abs(r3.Dot(b.up, k.Direction())) > 1-machine.Parallel {
			return k
		}
	}
	return noAxis
}

// along is the distance along the centre line of the place nearest to a spot.
func (b *body) along(at r3.Vec) float64 {
	s := r3.Dot(r3.Sub(at, b.from), b.direction())
	return math.Max(0, math.Min(b.length, s))
}

// width of a plate, across its centre line and its thickness.
func (b *body) width() float64 { return b.fills.size(3 - b.axis - b.upAxis()) }

// direction is that of the centre line; side, up and it are the section's y, z and x axes.
func (b *body) direction() r3.Vec { return r3.Unit(r3.Sub(b.to, b.from)) }

// side is the section's width direction.
func (b *body) side() r3.Vec { return r3.Cross(b.up, b.direction()) }

// source is the name under which the energy of a part, or of the rail of a guide, is counted.
func (b *body) source() string {
	if b.counted != "" {
		return b.counted
	}
	return "part " + b.part.Name
}

// localBed gives the bed along the section's own axes; barBed has made sure that these are world axes.
func (b *body) localBed(bed [3]float64) (local [2]float64) {
	y, z := b.side(), b.up
	for k := machine.X; k <= machine.Z; k++ {
		local[0] += bed[k] * r3.Dot(y, k.Direction()) * r3.Dot(y, k.Direction())
		local[1] += bed[k] * r3.Dot(z, k.Direction()) * r3.Dot(z, k.Direction())
	}
	return local
}

// sizeText is the part's outer size along x, y and z, for messages.
func (b *body) sizeText() string {
	return fmt.Sprintf("%.4g x %.4g x %.4g", b.fills.size(machine.X), b.fills.size(machine.Y), b.fills.size(machine.Z))
}

// spot is a place of a part where something acts on it or is read. A member, strip or triangle takes it as a point; a
// meshed part feels it over its zone, or over a region that moves as one rigid piece.
type spot struct {
	at   r3.Vec
	zone solid.Zone    // At and Part are filled in when the part is meshed
	held *solid.Region // instead of the zone
	over []weighted    // for what is not meshed: the places of the patch that it is spread over, instead of the point
	arm  r3.Vec        // from there on a rigid arm to the place that is meant
}

// moveOnArm is the movement of the end of a spot's arm along a direction.
func (b *body) moveOnArm(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	form := b.move(f, s, direction)
	if s.arm != (r3.Vec{}) {
		form = form.Plus(1, b.turn(s, r3.Cross(s.arm, direction)))
	}
	return form
}

// like tells whether another spot is felt over the same zone or region: a mesh cannot tell such two apart, and need
// not.
func (s *spot) like(o *spot) bool {
	switch {
	case s == o:
		return true
	case s.held != nil || o.held != nil:
		return s.held != nil && o.held != nil && *s.held == *o.held
	}
	a, b := s.zone, o.zone
	return a.At == b.At && a.Normal == b.Normal && a.Lone == b.Lone && a.Inner == b.Inner && a.Outer == b.Outer &&
		slices.Equal(a.Polygon, b.Polygon)
}

// metal is the place of a meshed part that the spot is referred to.
func (s *spot) metal() r3.Vec {
	if s.held != nil {
		return s.held.At
	}
	return s.zone.At
}

// normalAt is the axis square to the face that a place lies on; for a place inside or on an edge, that of the part's
// thickness. It turns with the part: of two equal thicknesses it is the one of the edge's faces, or, where that leaves
// both, the third axis. Only a cube's corner and inside go by the order of the axes.
func (b *body) normalAt(at r3.Vec) machine.Axis {
	var on []machine.Axis // square to the faces that the place lies on
	for _, f := range b.faces() {
		if math.Abs(array(at)[f.normal]-f.lo[f.normal]) <= machine.Touching && !slices.Contains(on, f.normal) {
			on = append(on, f.normal)
		}
	}
	if len(on) == 1 {
		return on[0]
	}
	thin := b.across()
	var equal, touched []machine.Axis
	for k := machine.X; k <= machine.Z; k++ {
		if b.fills.size(k) <= b.fills.size(thin)+machine.Touching {
			equal = append(equal, k)
			if slices.Contains(on, k) {
				touched = append(touched, k)
			}
		}
	}
	switch {
	case len(touched) == 1:
		return touched[0]
	case len(touched) == 2:
		return 3 - touched[0] - touched[1]
	case len(equal) == 2:
		return 3 - equal[0] - equal[1]
	}
	return thin
}

// middle is that of the part's box.
func (b *body) middle() r3.Vec {
	return r3.Scale(0.5, r3.Add(vector(b.fills.lo), vector(b.fills.hi)))
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
