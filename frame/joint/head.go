package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Head is how a screw's head sits on the drilled part.
type Head int

const (
	HeadUnsaid Head = iota // proud, unless the drawing leaves no room for that
	Proud                  // on the face
	Washer                 // on a washer on the face
	Sunk                   // in a counterbore
)

// Heads are the names of the ways a head can sit, as a model file says them.
var Heads = []string{"proud", "washer", "sunk"}

// HeadOf returns the way of that name; HeadUnsaid for another word.
func HeadOf(name string) Head {
	for i, h := range Heads {
		if h == name {
			return Proud + Head(i)
		}
	}
	return HeadUnsaid
}

// String returns the word of a model file.
func (h Head) String() string {
	if h <= HeadUnsaid || h > Sunk {
		return Heads[0]
	}
	return Heads[h-Proud]
}

// washerSpread is by how much the diameter over which a washer presses exceeds that of the head, in thicknesses of the
// washer (VDI 2230 part 1, from memory).
const washerSpread = 1.6

// Bearing returns the outer diameter of the ring that presses on the drilled part, mm: the head's, or what of a washer
// the head presses down.
func (h Head) Bearing(s Screw) float64 {
	if h == Washer {
		return math.Min(s.WasherDiameter, s.HeadDiameter+washerSpread*s.WasherThickness)
	}
	return s.HeadDiameter
}

// Width returns the diameter that the head and what it lies on take up, mm.
func (h Head) Width(s Screw) float64 {
	if h == Washer {
		return s.WasherDiameter
	}
	return s.HeadDiameter
}

// Height returns how far the head stands out of a drilled part of that thickness, mm.
func (h Head) Height(s Screw, thickness float64) float64 {
	switch h {
	case Washer:
		return s.HeadHeight + s.WasherThickness
	case Sunk:
		return s.HeadHeight - (thickness - h.ClampedLength(s, thickness))
	}
	return s.HeadHeight
}

// ClampedLength returns how much of a drilled part of that thickness lies between the screw's head and the contact
// face, mm.
//
// A sunk socket head lies in a counterbore as deep as the head is high, unless that leaves less than metal_under_head
// (one screw diameter) below it; then the counterbore is shallower and the head stands out of it, and a plate thinner
// than one screw diameter gets no counterbore at all. So the length never falls as the plate gets thicker.
func (h Head) ClampedLength(s Screw, thickness float64) float64 {
	constant.MustBePositive("joint: thickness", thickness)
	if h != Sunk {
		return thickness
	}
	least := math.Min(thickness, s.metalUnderHead())
	return math.Max(least, thickness-s.HeadHeight)
}

// ThroughHole returns the kind of hole the screw gets in a drilled part of that thickness: counterbored for a sunk head
// where [Head.ClampedLength] leaves a counterbore, else plain.
func (h Head) ThroughHole(s Screw, thickness float64) HoleKind {
	constant.MustBePositive("joint: thickness", thickness)
	if h == Sunk && thickness > s.metalUnderHead() {
		return Counterbored
	}
	return Clearance
}

func (s Screw) metalUnderHead() float64 { return metalUnderHead.Band.Typical * s.D }
