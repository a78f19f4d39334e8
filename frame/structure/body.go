package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/joint"
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
	faces := b.faces()
	if k := b.sawn(); k != nil { // each edge by itself
		faces = append(k.flats(), k.edges()...)
	}
	for _, f := range faces {
		if math.Abs(array(at)[f.normal]-f.lo[f.normal]) <= machine.Touching && !slices.Contains(on, f.normal) &&
			(!f.edge || f.distance(at) <= machine.Touching) {
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

// nearestMetal is the place of the part's box, or of what is sawn from it, nearest to a place.
func (b *body) nearestMetal(at r3.Vec) r3.Vec {
	if k := b.sawn(); k != nil {
		return k.nearest(at)
	}
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

// How two parts are joined where they touch, at detail "section".
//
// A member knows only its centre line. Between that line and a face lies half the part, and a force on the face has to
// get through it: it squeezes and shears the metal there, over a width that grows from the zone it acts on. This is the
// seat. A face bonded to another is a bed of small springs, each the seats of both parts in series, and no rigid link:
//
//	1/k = area⁻¹·(ColumnDepth₁/E₁ + ColumnDepth₂/E₂)   square to the face, with G and ShearDepth along it.
//
// A plate that lies on another over some length is thereby a beam on an elastic bed, and its free end starts to bend
// about 0.6 of its thickness inside the edge (1/λ with λ⁴ = k/(4·E·I)): that is the flexibility of its root. A
// part that stands on another with its end has its centre line in the face already; it gives only what it takes to
// spread the force from the zone to its whole section.
//
// Sources: Hetényi, Beams on Elastic Foundation (1946) for the bed; the spreading is that of joint.Zone. The rule was
// chosen before its numbers were compared with solid bodies, and the comparison is in testdata/accuracy.md.

// seatFloor is the least give of a seat, as a share of the zone's shorter side over E: two members end to end have no
// metal between their centre lines and the face, and a spring must not be infinitely stiff.
const seatFloor = 1e-3

// give is what a seat yields per pressure: mm per MPa, square to the face and along its two axes.
type give struct{ normal, p, q float64 }

func (g give) plus(h give) give { return give{g.normal + h.normal, g.p + h.p, g.q + h.q} }

func (g give) times(f float64) give { return give{f * g.normal, f * g.p, f * g.q} }

// tiltGive is the give of a part square to a face that tilts: pressing on one half and pulling on the other evens out
// within half the face's size across. On a deep part that is by 4 to 10 % less than the mean rotation of a rectangle
// under a pressure that grows from its middle (a half-space, by the integral of Boussinesq's solution), and as much as
// a stiff square pad that is bonded turns (Gazetas, Foundation Engineering Handbook, 1991, table 15.1, from memory).
// What a part that runs on along the normal holds itself of that depth is not to be counted again, however far its seat
// reaches.
func (b *body) tiltGive(t touch, gathered, across float64) float64 {
	depth, through := b.depth(t)
	return b.seatTo(t, gathered, math.Min(depth, across/2), through).normal
}

// seatTo is a seat down to a depth; through: the part's own stretch is not to be counted again.
func (b *body) seatTo(t touch, gathered, depth float64, through bool) give {
	p, q := t.normal.Others()
	for _, k := range []machine.Axis{p, q} {
		if cut := (t.size(k) - gathered) / 2; cut > 0 && b.axis != t.normal {
			t.lo[k] += cut
			t.hi[k] -= cut
		}
	}
	m := b.part.Material
	if !b.hasBox {
		return give{}
	}
	zone := joint.Zone{
		A: t.size(p), B: t.size(q),
		RoomAMinus: margin(t.lo[p], b.fills.lo[p]), RoomAPlus: margin(b.fills.hi[p], t.hi[p]),
		RoomBMinus: margin(t.lo[q], b.fills.lo[q]), RoomBPlus: margin(b.fills.hi[q], t.hi[q]),
	}
	if depth == 0 {
		return give{}
	}
	normal := zone.ColumnDepth(depth, m.Nu)
	shearP, shearQ := zone.ShearDepth(depth, m.Nu)
	if through {
		// The member itself holds the metal as if the whole section carried at once.
		carried := depth * zone.A * zone.B / ((zone.A + zone.RoomAMinus + zone.RoomAPlus) * (zone.B + zone.RoomBMinus +
			zone.RoomBPlus))
		normal, shearP, shearQ = math.Max(0, normal-carried), math.Max(0, shearP-carried), math.Max(0, shearQ-carried)
	}
	fill := b.fill()
	return give{normal / m.E / fill, shearP / m.G() / fill, shearQ / m.G() / fill}
}

func margin(hi, lo float64) float64 { return math.Max(0, hi-lo) }

// seatUnder is the give of a part's metal under a rectangle that stays flat, between its face and its centre line.
func (b *body) seatUnder(t touch, s seating) (give [6]float64) {
	along := 3 - s.out - s.across
	length, width := t.size(along), t.size(s.across)
	if length <= machine.Touching || width <= machine.Touching || t.area() == 0 {
		return give
	}
	g := b.seat(t, math.Inf(1))
	p, _ := t.normal.Others()
	shear := map[machine.Axis]float64{p: g.p, 3 - t.normal - p: g.q}
	area := t.area()
	normal, side := g.normal/area, shear[s.across]/area
	return [6]float64{0, side, normal, normal * 12 / (width * width), normal * 12 / (length * length),
		side * 12 / (length*length + width*width)}
}
