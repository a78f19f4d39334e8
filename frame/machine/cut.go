package machine

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/cutting"
)

// Cut is a cutting condition: what it is made of, and the frame its forces are told in. Exactly one of Milling and
// Drilling is set. Forces of frame/cutting are along Feed, along Normal and along Axis, in this order.
type Cut struct {
	Name      string
	Pos       FilePos
	Material  cutting.Material
	Milling   *cutting.Milling
	Drilling  *cutting.Drilling
	Feed      r3.Vec  // unit, the way the tool goes through the work; of a hole any direction across it, or zero
	Normal    r3.Vec  // unit, to the left of the way the tool goes; zero, with Axis: it follows from the tool
	Axis      r3.Vec  // unit, along the tool away from the work; zero, with Normal: it follows from the tool
	Tolerance float64 // of the surfaces, mm; 0: none given
	Load      *int    // index into Machine.Loads: the moment at which the typical force is greatest; nil: one is added
}

// Mode is the word for the way of cutting, as a model file says it: "slot", "up", "down", "centred" or "drilling".
// A cut that is neither milling nor drilling has none, "", and one of a mode that there is not is called "Mode(9)".
func (c *Cut) Mode() string {
	switch {
	case c.Drilling != nil:
		return "drilling"
	case c.Milling == nil:
		return ""
	}
	switch c.Milling.Mode {
	case cutting.Slot:
		return "slot"
	case cutting.Up:
		return "up"
	case cutting.Down:
		return "down"
	case cutting.Centred:
		return "centred"
	}
	return fmt.Sprintf("Mode(%d)", int(c.Milling.Mode))
}

// peakName is what the load of a cut is called.
func peakName(cut string) string { return cut + ", peak" }

// Force turns a load of frame/cutting into what acts on the tip in the world's directions.
func (c *Cut) Force(l cutting.Load) (force, moment r3.Vec) {
	return r3.Add(r3.Add(r3.Scale(l.X, c.Feed), r3.Scale(l.Y, c.Normal)), r3.Scale(l.Z, c.Axis)),
		r3.Scale(l.Torque, c.Axis)
}

// Turn gives a cut its directions: the tool's axis and, of milling, the way it goes.
func (c *Cut) Turn(axis, along r3.Vec) {
	c.Axis = axis
	if c.Drilling != nil {
		// Any two directions across will do: a drill's load has no side.
		across := X.Direction()
		if c := r3.Dot(axis, across); c*c > 0.5 {
			across = Y.Direction()
		}
		along = across
	}
	c.Feed = r3.Unit(r3.Sub(along, r3.Scale(r3.Dot(along, axis), axis)))
	c.Normal = r3.Cross(axis, c.Feed)
}

// Case is the cut's greatest typical force as a load case.
func (c *Cut) Case(peak cutting.Load) Load {
	force, moment := c.Force(peak)
	return Load{Name: peakName(c.Name), Pos: c.Pos, Actions: []Action{{Kind: OnTip, Pos: c.Pos, Force: force,
		Moment: moment}}}
}

// Limits are what the spindle can give, as frame/cutting wants it.
func (s *Spindle) Limits() cutting.Spindle {
	if s == nil {
		return cutting.Spindle{}
	}
	return cutting.Spindle{PowerW: s.PowerW, TorqueNmm: s.TorqueNmm, Efficiency: s.Efficiency}
}
