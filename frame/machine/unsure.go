package machine

import (
	"fmt"
	"slices"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
)

// Unsure says of a stiffness of the machine how far it may be off. A stiffness of which nothing is said is known, but
// for those of feet and beds, which nobody has measured.
type Unsure struct {
	What  string        // which stiffness of what this stands beside, by its key in a model file: "press"
	Of    string        // the size of the trade whose number it is, "bearings fixed-12"; "": the builder's own number
	Band  constant.Band // that holds nine of ten, in any unit: over its typical value it is that of the stiffness
	Share float64       // of the give that is off so; 0: all of it
}

// WidestRange is how many times its low end a range's high end may be: what is known of nothing in a machine is as vague
// as that, and draws of two parts so far apart cannot be solved with sixteen digits. House value.
const WidestRange = 10000

// unsure reports bands that cannot be drawn from, and shares that are none.
func (c *checker) unsure(at FilePos, what thing, list []Unsure) {
	for _, u := range list {
		if !(u.Band.Low > 0 && u.Band.Low <= u.Band.Typical && u.Band.Typical <= u.Band.High) {
			c.fault(at, "low, typical and high, above zero and in this order",
				"%s: %s from %g to %g, typically %g, is no range", what, Quote(u.What), u.Band.Low, u.Band.High, u.Band.Typical)
		}
		if u.Band.High > WidestRange*u.Band.Low && u.Band.Low > 0 {
			c.fault(at, "look for a wrong unit", "%s: %s from %g to %g says nothing: at most %d times from end to end", what,
				Quote(u.What), u.Band.Low, u.Band.High, WidestRange)
		}
		if !(u.Share >= 0 && u.Share <= 1) {
			c.fault(at, "from 0 to 1; 0 for all", "%s: %s is unsure in a share of %g", what, Quote(u.What), u.Share)
		}
	}
}

// What is unsure of a drive, beside its keys in a model file.
const (
	UnsureNut     = "nut"
	UnsureNear    = "bearing" // of the driven end
	UnsureFar     = "far"     // of the far end
	UnsureTurning = "motor"   // of what turns the screw, the belt's pulley or the pinion
	UnsureForce   = "stiffness"
)

// makeUnsure adds how far a stiffness may be off that the machine says nothing of.
func (d *Drive) makeUnsure(u Unsure) {
	if !slices.ContainsFunc(d.Unsure, func(o Unsure) bool { return o.What == u.What }) {
		d.Unsure = append(slices.Clip(d.Unsure), u)
	}
}

// UnsureBallNut is how far the stiffness of a ball nut of a size may be off, whatever its fit.
func UnsureBallNut(s *drive.BallScrew) Unsure {
	return Unsure{What: UnsureNut, Of: "nuts " + s.Key, Band: s.NutAt(drive.DoubleNut.PreloadShare().Typical)}
}

// UnsureBearing is how far that of a support unit may be off, by what it is of a drive.
func UnsureBearing(what string, u drive.SupportUnit) Unsure {
	return Unsure{What: what, Of: "bearings " + u.Key, Band: u.Axial}
}

// UnsureBelt is how far the stiffness of a belt's spans may be off.
func UnsureBelt(what string, b drive.Belt, share float64) Unsure {
	specific, err := b.Specific()
	if err != nil {
		specific = constant.Exactly(1) // there is no such belt, and nothing will be built
	}
	return Unsure{What: what, Of: fmt.Sprintf("belts %g mm, %s cord", b.Pitch, b.Cord), Band: specific, Share: share}
}

// UnsureTeeth is how far the stiffness of a belt's teeth on a pulley may be off.
func UnsureTeeth(what string, b drive.Belt, share float64) Unsure {
	return Unsure{What: what, Of: "belt teeth", Band: b.Mesh(1), Share: share}
}
