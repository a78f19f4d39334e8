package doubt

import (
	"slices"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/joint"
)

// Clamped is one screw with the ring that it presses, or some that act as one.
type Clamped struct {
	Clamping        joint.Clamping // its ZoneArea set
	K               joint.ClampingStiffness
	Drilled, Tapped beam.Material
	Faces           string // whose flatness it is: "column/arm"
	Place, Screw    string // of the screw whose preload it is, and its name
	Together        int    // screws that act as one; 0: 1
}

// ClampedLaws are how the springs of a clamping come from what is not known, and what its preload goes with.
type ClampedLaws struct {
	Normal, Tangential, Tilt, Spin frame.Law
	Preload                        []frame.Power
}

// Clamping returns the laws of a clamping: in a row the metal of both parts under the zone, the faces, the shim; beside
// the row, along the screw, the screw itself, which is known. Each is at typical numbers what K says.
func (l *List) Clamping(c Clamped) ClampedLaws {
	k, s := c.K, c.Clamping
	preload := slices.Concat(l.With(Screw(c.Place, c.Screw, max(1, c.Together)), 1),
		l.With(ScrewFriction(c.Tapped.Key), s.FrictionExponent()))
	faces := slices.Concat(l.Faces(s.Surface), l.With(Flatness(c.Faces), 1),
		Times(preload, s.Surface.PressureExponent()))
	aside := slices.Concat(faces, l.With(Ratio(), 1))
	var drilled, tapped, shim []frame.Power
	for _, metal := range []struct {
		of    *[]frame.Power
		plate joint.Plate
		made  beam.Material
	}{{&drilled, s.Drilled, c.Drilled}, {&tapped, s.Tapped, c.Tapped}} {
		if metal.plate.Depth > 0 {
			*metal.of = slices.Concat(l.With(Spreading(), 1), l.With(Material(metal.made), 1))
		}
	}
	if s.Shim != nil && s.Shim.Paper {
		shim = slices.Concat(l.With(Paper(), 1), Times(preload, s.Shim.PressureExponent()))
	}
	row := func(drilledGive, contact, shimmed, tappedGive float64, contactOf []frame.Power, stiffness float64) frame.Law {
		var law frame.Law
		add := func(give float64, of []frame.Power) {
			if give > 0 {
				law.Row = append(law.Row, frame.Give{Typical: give, Of: of})
			}
		}
		add(drilledGive, drilled)
		add(1/contact, contactOf)
		add(inverse(shimmed), shim)
		add(tappedGive, tapped)
		// More sheets give beside the first; they are of metal, nearly always, and taken as known.
		if more := 1/stiffness - total(law.Row); more > rounding/stiffness {
			add(more, nil)
		}
		return Scaled(law, stiffness)
	}
	laws := ClampedLaws{
		Normal: row(inverse(k.SpreadNormalDrilled), k.ContactNormal, k.ShimNormal, inverse(k.SpreadNormalTapped), faces,
			k.Normal-k.ScrewAxial),
		Tangential: row(inverse(k.SpreadTangentialDrilled), k.ContactTangential, k.ShimTangential,
			inverse(k.SpreadTangentialTapped), aside, k.Tangential),
		Tilt: row(turned(s.Drilled, k.ZoneArea, joint.SpreadTilt), k.ContactNormal, k.ShimNormal,
			turned(s.Tapped, k.ZoneArea, joint.SpreadTilt), faces, k.Tilt),
		Spin: row(turned(s.Drilled, k.ZoneArea, joint.SpreadSpin), k.ContactTangential, k.ShimTangential,
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
