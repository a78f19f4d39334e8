package structure

import (
	"math"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

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
