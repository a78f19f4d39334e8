package machine

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
)

// direction is that of the world's axis along which this one moves.
func (a *FeedAxis) direction() r3.Vec {
	if a.Along < X || a.Along > Z {
		return r3.Vec{}
	}
	return a.Along.Direction()
}

func (c *checker) checkAxes() {
	names := c.names("axis", len(c.m.Axes))
	for i := range c.m.Axes {
		a := &c.m.Axes[i]
		names.add(a.Pos, i, a.Name)
		what := numbered("axis", i, a.Name)
		if !within(c, a.Pos, what, "direction", a.Along, Z) {
			continue
		}
		if len(a.Carries) == 0 {
			c.fault(a.Pos, "name the part that moves; parts joined to it move along", "%s carries nothing", what)
		}
		for k, p := range a.Carries {
			if c.part(a.Pos, what, p) && slices.Contains(a.Carries[:k], p) {
				c.fault(a.Pos, "take one of them out",
					"%s carries part %s a second time", what, Quote(c.m.Parts[p].Name))
			}
		}
		switch {
		case !GoesSomewhere(a.Travel[0], a.Travel[1]):
			c.fault(a.Pos, "Travel is the least and the greatest position",
				"%s: its travel goes nowhere: from %g to %g mm", what, a.Travel[0], a.Travel[1])
		case a.Beyond(c.m.File, a.At) != nil:
			c.fault(a.Pos, "At must be within Travel",
				"%s stands at %g mm, beyond its travel from %g to %g mm", what, a.At, a.Travel[0], a.Travel[1])
		case a.Beyond(c.m.File, a.DrawnAt()) != nil:
			c.fault(a.Pos, "leave Drawn nil",
				"%s was drawn at %g mm, beyond its travel from %g to %g mm", what, a.DrawnAt(), a.Travel[0],
				a.Travel[1])
		}
		c.notNegative(a.Pos, what, "its rapid", a.Rapid)
		c.checkGuides(a, &what)
		c.checkDrives(a, &what)
	}
	c.checkPositions()
}

// sides checks the two parts of a guide or a drive.
func (c *checker) sides(at FilePos, what thing, part, on int) bool {
	first := c.part(at, what, part)
	if second := c.part(at, what, on); !first || !second {
		return false
	}
	if part == on {
		c.fault(at, "one side moves and the other does not",
			"%s: both its sides are part %s", what, Quote(c.m.Parts[on].Name))
		return false
	}
	return true
}

func (c *checker) checkGuides(a *FeedAxis, axis *thing) {
	seen := map[string]bool{}
	for i := range a.Guides {
		g := &a.Guides[i]
		what := thing{of: axis, kind: "guide", i: i, name: g.Name}
		if g.Name != "" && seen[g.Name] {
			c.fault(g.Pos, "give one of them another name, or leave both out",
				"%s: the name stands here a second time", what)
		}
		seen[g.Name] = true
		c.unsure(g.Pos, what, g.Unsure)
		if !c.sides(g.Pos, what, g.Part, g.On) {
			continue
		}
		if !c.oneOf(g.Pos, what, "slide and rail", g.Slide != nil, g.Rail != nil || g.Own != nil) {
			continue
		}
		if g.Slide != nil {
			within(c, g.Pos, what, "backing", g.Slide.Backing, guide.Gib)
			c.notNegative(g.Pos, what, "the pressure", g.Slide.Pressure)
			continue
		}
		c.checkRail(g, a, what)
	}
}

func (c *checker) checkRail(g *Guide, a *FeedAxis, what thing) {
	if g.Own != nil {
		c.err(g.Pos, what, g.Own.Check())
	}
	if within(c, g.Pos, what, "preload", g.Preload, guide.Medium) && g.Rail != nil {
		c.checkSize(g, what)
	}
	if g.Surface != (joint.Surface{}) {
		c.surface(g.Pos, what, g.Surface)
	}
	c.notNegative(g.Pos, what, "the length of a carriage", g.Length)
	c.notNegative(g.Pos, what, "the width of a carriage", g.Width)
	if len(g.Carriages) == 0 {
		c.fault(g.Pos, "Carriages are the places of their middles, world coordinates along the axis",
			"%s has no carriages", what)
	}
	for i, at := range g.Carriages {
		for _, other := range g.Carriages[:i] {
			if g.Collide(at, other) {
				c.fault(g.Pos, "move them apart",
					"%s: carriages at %g and %g mm run into each other: each is %g mm long", what, other, at,
					g.CarriageLength())
			}
		}
	}
	if !g.RailIsBar {
		c.line(g.Pos, what, a, g.From, g.To)
		return
	}
	if p := &c.m.Parts[g.On]; p.Bar == nil {
		c.fault(g.Pos, "give the rail From and To on a face",
			"%s: part %s is no bar to be a rail itself", what, Quote(p.Name))
	}
}

// checkSize: a carriage of the trade, with a preload in which it is made.
func (c *checker) checkSize(g *Guide, what thing) {
	r, before := g.Rail, len(c.faults)
	within(c, g.Pos, what, "kind of carriage", r.Kind, guide.OpenBush)
	c.record(g.Pos, what, `guide.LookupCarriage("profile-15") gives a size of the trade`,
		record{"Rail.Width", r.Width}, record{"Rail.Length", r.Length}, record{"Rail.Height", r.Height},
		record{"Rail.Body", r.Body},
		record{"Rail.HolesAlong", r.HolesAlong}, record{"Rail.HolesAcross", r.HolesAcross},
		record{"Rail.Rail.Width", r.Rail.Width}, record{"Rail.Rail.Height", r.Rail.Height},
		record{"Rail.Rail.SeatWidth", r.Rail.SeatWidth}, record{"Rail.Rail.HolePitch", r.Rail.HolePitch},
		record{"Rail.Rail.EndDistance", r.Rail.EndDistance}, record{"Rail.Rail.ScrewRows", float64(r.Rail.ScrewRows)},
		record{"Rail.Rail.UnderHead", r.Rail.UnderHead},
		record{"Rail.Press", r.Press.Low}, record{"Rail.Dynamic", r.Dynamic.Low}, record{"Rail.Static", r.Static.Low},
	)
	c.notNegative(g.Pos, what, "the rail's mass per metre", r.Rail.KgPerM)
	c.notNegative(g.Pos, what, "the carriage's mass", r.MassKg)
	if len(c.faults) > before {
		return
	}
	_, err := r.Stiffness(g.Preload)
	c.err(g.Pos, what, err)
	screw, known := joint.LookupScrew(r.Rail.Screw)
	switch {
	case !known:
		c.fault(g.Pos, `"M4", a size of the trade`, "%s: nothing is known of screws %s of its rail", what,
			Quote(r.Rail.Screw))
	case r.Rail.HolePitch < screw.HeadDiameter:
		c.fault(g.Pos, "HolePitch is how far apart they stand, mm", "%s: screws of its rail %g mm apart run into each "+
			"other: the head of %s is %g mm wide", what, r.Rail.HolePitch, r.Rail.Screw, screw.HeadDiameter)
	case r.Rail.SeatWidth < screw.D:
		c.fault(g.Pos, "SeatWidth is that of the face that sits on the machine, mm", "%s: the seat of its rail, %g mm wide, "+
			"is narrower than its screws, %s", what, r.Rail.SeatWidth, r.Rail.Screw)
	case r.Rail.ScrewRows > mostScrewRows:
		c.fault(g.Pos, "", "%s: %d rows of screws under a rail, at most %d", what, r.Rail.ScrewRows, mostScrewRows)
	}
}

// mostScrewRows is how many screws stand side by side in a rail, or beside it.
const mostScrewRows = 2

// line reports a rail, screw or belt that does not run along its axis.
func (c *checker) line(at FilePos, what thing, a *FeedAxis, from, to r3.Vec) {
	run := r3.Sub(to, from)
	p, q := a.Along.Others()
	switch {
	case math.Abs(Component(run, p)) > Touching || math.Abs(Component(run, q)) > Touching:
		c.fault(at, "From and To differ in this direction only", "%s must run along %s", what, a.Along)
	case math.Abs(Component(run, a.Along)) < LeastSize:
		c.fault(at, "From and To are its two ends", "%s has no length", what)
	}
}

// LargestPlay is what is believed of the play of a drive, mm: a worn nut has a tenth of it. A house value.
const LargestPlay = 5.0

func (c *checker) checkDrives(a *FeedAxis, axis *thing) {
	seen := map[string]bool{}
	for i := range a.Drives {
		d := &a.Drives[i]
		what := thing{of: axis, kind: "drive", i: i, name: d.Name}
		if seen[d.Name] {
			c.fault(d.Pos, "drives of one axis need names of their own",
				"%s: the name %s stands here a second time", what, Quote(d.Name))
		}
		seen[d.Name] = true
		c.unsure(d.Pos, what, d.Unsure)
		if !within(c, d.Pos, what, "kind of drive", d.Kind, BySpring) || !c.sides(d.Pos, what, d.Part, d.On) {
			continue
		}
		for _, q := range []struct {
			size string
			v    float64
		}{
			{"the preload", d.Preload}, {"the side stiffness of the nut", d.NutSide},
			{"the pitch radius of the pinion", d.Pinion}, {"the efficiency", d.Efficiency},
			{"the motor's torque", d.Motor.Hold}, {"the motor's rotor", d.Motor.Rotor},
			{"the motor's ratio", d.Motor.Ratio}, {"the motor's mass", d.Motor.Tonne},
		} {
			c.notNegative(d.Pos, what, q.size, q.v)
		}
		for _, p := range d.Play {
			if !(p.Gap.Low >= 0 && p.Gap.Low <= p.Gap.Typical && p.Gap.Typical <= p.Gap.High) {
				c.fault(d.Pos, "write low, typical and high in this order", "%s: a play from %g to %g mm, typically %g", what,
					p.Gap.Low, p.Gap.High, p.Gap.Typical)
			}
			if p.Gap.High > LargestPlay {
				c.fault(d.Pos, "look for a wrong unit", "%s: a play of %s is beyond belief: at most %s", what, MM(p.Gap.High),
					MM(LargestPlay))
			}
		}
		if d.Efficiency > 1 {
			c.fault(d.Pos, "", "%s: the efficiency must be at most 1, not %g", what, d.Efficiency)
		}
		switch d.Kind {
		case ByScrew:
			c.checkScrewDrive(d, a, what)
		case ByBelt:
			c.checkBelt(d, a, what)
		default:
			c.positive(d.Pos, what, "Force, its stiffness along the travel,", d.Force)
		}
	}
}

func (c *checker) checkScrewDrive(d *Drive, a *FeedAxis, what thing) {
	c.line(d.Pos, what, a, d.From, d.To)
	held := d.Screw.Shaft.Ends == drive.FixedFixed
	switch {
	case held && d.Far == nil:
		c.fault(d.Pos, "set Far, or other Ends of the shaft",
			"%s: both ends of the screw are held, and Far does not say by which part", what)
	case !held && d.Far != nil:
		c.fault(d.Pos, "leave Far nil, or set Ends to drive.FixedFixed",
			"%s: nothing holds the far end of the screw along itself, and Far says what does", what)
	}
	if d.Far != nil {
		c.part(d.Pos, what, *d.Far)
	}
	if b := d.Ball; b != nil {
		c.record(d.Pos, what, `drive.LookupBallScrew("1605") gives a size of the trade`,
			record{"Ball.Diameter", b.Diameter}, record{"Ball.Lead", b.Lead}, record{"Ball.Root", b.Root.Low},
			record{"Ball.Dynamic", b.Dynamic.Low}, record{"Ball.Static", b.Static.Low},
		)
	}
	if within(c, d.Pos, what, "way of holding the ends of a screw", d.Screw.Shaft.Ends, drive.SupportedSupported) &&
		within(c, d.Pos, what, "way of twisting", d.Screw.Twisting, drive.TwistLeftOut) {
		c.err(d.Pos, what, d.completed().Screw.Check())
	}
}

func (c *checker) checkBelt(d *Drive, a *FeedAxis, what thing) {
	c.line(d.Pos, what, a, d.From, d.To)
	if d.Far == nil {
		c.fault(d.Pos, "set Far", "%s: a belt needs a part at its far end", what)
	} else {
		c.part(d.Pos, what, *d.Far)
	}
	if within(c, d.Pos, what, "cord", d.Belt.Belt.Cord, drive.SteelCord) &&
		within(c, d.Pos, what, "path of a belt", d.Belt.Path, drive.OpenPath) {
		c.err(d.Pos, what, d.completed().Belt.Check())
	}
}

func (c *checker) checkPositions() {
	names := c.names("position", len(c.m.Positions))
	for i, p := range c.m.Positions {
		names.add(FilePos{}, i, p.Name)
		what := numbered("position", i, p.Name)
		for _, axis := range slices.Sorted(maps.Keys(p.At)) {
			k := slices.IndexFunc(c.m.Axes, func(a FeedAxis) bool { return a.Name == axis })
			if k < 0 {
				c.fault(FilePos{}, Suggest(axis, c.m.axisNames()), "%s: axis %s is not known", what, Quote(axis))
			} else if f := c.m.Axes[k].Beyond(c.m.File, p.At[axis]); f != nil {
				c.fault(FilePos{}, f.Hint, "%s: %s", what, f.What)
			}
		}
	}
}
