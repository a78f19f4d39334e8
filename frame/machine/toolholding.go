package machine

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Shank is the thick end of a stepped tool, next to its grip.
type Shank struct {
	Diameter float64 // mm
	Length   float64 // of it that sticks out, mm
}

// FluteLength is the length of the tool that sticks out and cuts, mm.
func (t *Tool) FluteLength() float64 {
	if t.Shank == nil {
		return t.Stickout
	}
	return t.Stickout - t.Shank.Length
}

// Holder is what grips the tool in the spindle, at the tool's root. A stiffness of zero means that it does not give
// there.
type Holder struct {
	Name      string // as written: "collet"
	Stiffness Stiffness
	Unsure    []Unsure // of the builder's own numbers: "radial", "axial", "tilt"
}

// ColletHolder is the Name of a collet whose stiffness is the trade's.
const ColletHolder = "collet"

// Spindle carries the tool: springs between the part that the tool is on and the tool's grip, and what its motor can
// do.
type Spindle struct {
	Pos        FilePos
	Name       string    // its class; "" for the builder's own numbers
	Stiffness  Stiffness // at the nose, where the tool sticks out
	Unsure     []Unsure  // as a Holder's, and "front", "rear" of Bearings
	PowerW     float64   // of its motor; 0: not stated
	TorqueNmm  float64   // at the cutter, lasting; 0: not stated
	Efficiency float64   // power at the cutter over that of the motor; 0: 1
	SlowestRPM float64
	FastestRPM float64 // 0: not stated
}

// Stiffness is how a spindle or a holder resists a tool: across its axis alike both ways, along it, and against tilting
// about a line across it. A stiffness of zero means no give. Neither lets the tool spin in it.
type Stiffness struct {
	Radial, Axial float64      // N/mm
	Tilt          float64      // N·mm/rad
	Bearings      *BearingPair // instead of Radial and Tilt
}

// BearingPair is a rigid shaft on a front and a rear bearing.
type BearingPair struct {
	Front, Rear float64 // stiffness across the axis, N/mm
	Span        float64 // distance of the two, mm
	Overhang    float64 // of the nose in front of the front bearing, mm
}

// Back is the direction from the tip to the part that holds the tool: along a bar towards its nearer part, otherwise
// up.
func (t *Tool) Back(holder *Part) r3.Vec {
	if holder.Bar == nil {
		return Z.Direction()
	}
	from, along := holder.Bar.From, r3.Sub(holder.Bar.To, holder.Bar.From)
	share := r3.Dot(r3.Sub(t.At, from), along) / r3.Norm2(along)
	near := r3.Add(from, r3.Scale(max(0, min(1, share)), along))
	to := r3.Sub(near, t.At)
	if r3.Norm(to) < Touching {
		return Z.Direction()
	}
	return r3.Unit(to)
}
