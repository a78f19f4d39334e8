package spindle

import (
	"errors"

	"tiploop/beam"
)

// Unsaid is what a model says nothing of, and so takes as rigid: a plain bar instead of flutes, a grip and bearings
// that do not give.
type Unsaid struct{ Flutes, Holder, Bearings bool }

// UsualFlutes is the number of flutes of a cutter of which none is said.
const UsualFlutes = 2

// roundFrom is the diameter from which a spindle is one of the round ones that the trade makes, mm: those of small
// router motors are 43 to 53.
const roundFrom = 60

// UsualClass returns the kind of spindle usual for one of a diameter, mm: the softest for any that is not thick.
func UsualClass(diameter float64) Class {
	key := "router-motor"
	if diameter >= roundFrom {
		key = "round-spindle"
	}
	class, _ := LookupClass(key)
	return class
}

// Give returns what it usually gives at the tip across the tool and along it, mm/N: flutes by the bending they add to a
// bar of the full diameter, a collet by its turning, the bearings as springs at the nose. They stand in a row with all
// else, so that their give adds to a model's without it.
func (u Unsaid) Give(nose Springs, c Cutter) (across, along float64, err error) {
	if err := errors.Join(nose.Check(), c.Check()); err != nil {
		return 0, 0, err
	}
	if u.Flutes {
		fluted, err := c.Slices(EffectiveShare(c.Flutes).Typical)
		if err != nil {
			return 0, 0, err
		}
		plain, err := c.Slices(1)
		if err != nil {
			return 0, 0, err
		}
		across += beam.SteppedCantilever(1, fluted) - beam.SteppedCantilever(1, plain)
	}
	if u.Holder {
		tilt, err := c.ColletTilt()
		if err != nil {
			return 0, 0, err
		}
		across += c.Stickout * c.Stickout / tilt.Typical
	}
	if u.Bearings {
		across += 1/nose.Radial + c.Stickout*c.Stickout/nose.Tilt
		along += 1 / nose.Axial
	}
	return across, along, nil
}
