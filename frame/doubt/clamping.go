package doubt

import (
	"math"
	"slices"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/joint"
)

// Clamped is one screw with the ring that it presses, or some that act as one.
type Clamped struct {
	Clamping        joint.Clamping // its ZoneArea set
	K               joint.ClampingStiffness
	Zone            joint.Pressed
	Meshed          []joint.Plate // of the two plates, those whose metal a mesh holds
	Drilled, Tapped beam.Material
	Faces           string // whose flatness it is: "column/arm"
	Place, Screw    string // of the screw whose preload it is, and its name
	Together        int    // screws that act as one; 0: 1
}

// ClampedLaws are how the springs of a clamping come from what is not known, and what its preload goes with.
type ClampedLaws struct {
	Normal, Tangential, Tilt, Spin frame.Law
	Preload                        []frame.Power // as tightened: what settling takes is not in it
}

// widening is by how much something of a clamping grows with the width of its ring: the power of the cone's angle through
// its values at both ends of the cone's band, with what cuts the ring where it is.
func (c Clamped) widening(of func(zone joint.Moments) float64) float64 {
	cone := joint.ConeHalfAngle()
	at := func(angle float64) float64 {
		c.Clamping.HalfAngle = angle
		return of(c.Zone.Widened(c.Clamping.Ring()))
	}
	return math.Log(at(cone.High)/at(cone.Low)) / math.Log(cone.High/cone.Low)
}

// meshed is by how much less the metal under a wider ring gives where a mesh holds it: over the logarithm of the cone's angle.
func (c Clamped) meshed(give func(area, depth, e, nu float64) float64) (less float64) {
	cone := joint.ConeHalfAngle()
	at := func(angle float64) (sum float64) {
		c.Clamping.HalfAngle = angle
		area := c.Zone.Widened(c.Clamping.Ring()).Area
		for _, p := range c.Meshed {
			sum += give(area, p.Thickness, p.E, p.Nu)
		}
		return sum
	}
	return (at(cone.Low) - at(cone.High)) / math.Log(cone.High/cone.Low)
}

// Widened is a law whose spring is the stiffer the wider the clamping's ring, by something of its zone beside its area.
func (l *List) Widened(law frame.Law, c Clamped, of func(zone joint.Moments) float64) frame.Law {
	wider := l.With(Cone(), c.widening(of))
	out := frame.Law{Beside: law.Beside}
	for _, g := range law.Row {
		out.Row = append(out.Row, frame.Give{Typical: g.Typical, Of: slices.Concat(g.Of, wider)})
	}
	return out
}

// Clamping returns the laws of a clamping: in a row the metal of both parts under the zone, the faces, the shim; beside
// the row, along the screw, the screw itself, which is known. Each is at typical numbers what K says.
func (l *List) Clamping(c Clamped) ClampedLaws {
	k, s := c.K, c.Clamping
	preload := slices.Concat(l.With(Screw(c.Place, c.Screw, max(1, c.Together)), 1),
		l.With(ScrewFriction(c.Tapped.Key), s.FrictionExponent()))
	if s.TorqueNmm == 0 && s.ProofShare == 0 {
		preload = append(preload, l.With(Tightness(), 1)...)
	}
	area := c.widening(func(zone joint.Moments) float64 { return zone.Area })
	kept := slices.Concat(preload, l.With(Settling(), math.Log(s.Kept(k))/math.Log(settledOfBand)))
	pressed := func(exponent float64) []frame.Power { // what goes with the area and a power of the pressure on it
		return slices.Concat(Times(kept, exponent), l.With(Cone(), (1-exponent)*area))
	}
	faces := slices.Concat(l.Faces(s.Surface), l.With(Flatness(c.Faces), 1), pressed(s.Surface.PressureExponent()))
	aside := slices.Concat(faces, l.With(Ratio(), 1))
	// The metal under the ring: of each part E, and the width by how its give goes with the area.
	metal := func(p joint.Plate, made beam.Material, give func(area, depth, e, nu float64) float64) []frame.Power {
		if p.Depth == 0 {
			return nil
		}
		wider := c.widening(func(zone joint.Moments) float64 { return 1 / give(zone.Area, p.Depth, p.E, p.Nu) })
		return slices.Concat(l.With(Spreading(), 1), l.With(Material(made), 1), l.With(Cone(), wider))
	}
	var shim []frame.Power
	if s.Shim != nil {
		if shim = pressed(s.Shim.PressureExponent()); s.Shim.Paper {
			shim = slices.Concat(l.With(Paper(), 1), shim)
		}
	}
	type spread = func(area, depth, e, nu float64) float64
	row := func(give spread, drilledGive, contact, shimmed, tappedGive float64, contactOf []frame.Power,
		stiffness float64) frame.Law {
		var law frame.Law
		add := func(give float64, of []frame.Power) {
			if give > 0 {
				law.Row = append(law.Row, frame.Give{Typical: give, Of: of})
			}
		}
		add(drilledGive, metal(s.Drilled, c.Drilled, give))
		add(1/contact, contactOf)
		add(inverse(shimmed), shim)
		add(tappedGive, metal(s.Tapped, c.Tapped, give))
		// More sheets give beside the first; they are of metal, nearly always, and taken as known.
		if more := 1/stiffness - total(law.Row); more > rounding/stiffness {
			add(more, nil)
		}
		// What a mesh holds of the metal under the ring stays as wide as it is; what a wider ring would change of it stands
		// with what is in the row.
		if more := c.meshed(give) / total(law.Row); more != 0 {
			for i := range law.Row {
				law.Row[i].Of = slices.Concat(law.Row[i].Of, l.With(Cone(), more))
			}
		}
		return Scaled(law, stiffness)
	}
	laws := ClampedLaws{
		Normal: row(joint.SpreadNormal, inverse(k.SpreadNormalDrilled), k.ContactNormal, k.ShimNormal,
			inverse(k.SpreadNormalTapped), faces, k.Normal-k.ScrewAxial),
		Tangential: row(joint.SpreadTangential, inverse(k.SpreadTangentialDrilled), k.ContactTangential, k.ShimTangential,
			inverse(k.SpreadTangentialTapped), aside, k.Tangential),
		Tilt: row(joint.SpreadTilt, turned(s.Drilled, k.ZoneArea, joint.SpreadTilt), k.ContactNormal, k.ShimNormal,
			turned(s.Tapped, k.ZoneArea, joint.SpreadTilt), faces, k.Tilt),
		Spin: row(joint.SpreadSpin, turned(s.Drilled, k.ZoneArea, joint.SpreadSpin), k.ContactTangential, k.ShimTangential,
			turned(s.Tapped, k.ZoneArea, joint.SpreadSpin), aside, k.Spin),
		Preload: preload,
	}
	laws.Normal.Beside = k.ScrewAxial
	return laws
}

// rounding is the share of a give below which what is left of it is rounding.
const rounding = 1e-9

func inverse(stiffness float64) float64 {
	if stiffness == 0 {
		return 0
	}
	return 1 / stiffness
}

// turned is the give of the metal of one part against the turning of a zone, where no mesh holds it.
func turned(p joint.Plate, area float64, give func(area, depth, e, nu float64) float64) float64 {
	if p.Depth == 0 {
		return 0
	}
	return give(area, p.Depth, p.E, p.Nu)
}
