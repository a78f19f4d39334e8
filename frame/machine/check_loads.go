package machine

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/cutting"
)

func (c *checker) checkTool() {
	t, w := c.m.Tool, c.m.Work
	switch {
	case t != nil && w == nil:
		c.fault(t.Pos, "set Work: it says which part the work is clamped to", "there is a tool, but no work")
	case t == nil && w != nil:
		c.fault(w.Pos, "set Tool, or take Work out", "there is work, but no tool")
	}
	if w != nil {
		c.part(w.Pos, only("the work"), w.Part)
		c.notNegative(w.Pos, only("the work"), "its height", w.Height)
	}
	if t != nil {
		c.part(t.Pos, only("the tool"), t.Part)
		c.checkCutter(t)
	}
	if s := c.m.Spindle; s != nil {
		c.unsure(s.Pos, only("the spindle"), s.Unsure)
		c.checkSpindle(s)
	}
}

// widestTool is the diameter, mm, beyond which a cutter is a slip of its unit: fly cutters and saws for small machines
// are at most half as wide. House value.
const widestTool = 500

// slimmestTool is the stickout in diameters beyond which a cutter is a slip: gun drills reach 250, end mills 10. Common
// practice, no source.
const slimmestTool = 300

func (c *checker) checkCutter(t *Tool) {
	c.notNegative(t.Pos, only("the tool"), "its stickout", t.Stickout)
	if t.Flutes < 0 {
		c.fault(t.Pos, "", "the tool: the number of its flutes must not be negative: %d", t.Flutes)
	}
	if !(t.Stickout > 0) {
		if t.Shank != nil || t.Holder != nil {
			c.fault(t.Pos, "give it Stickout, Diameter and Material",
				"the tool: a shank or a holder needs a tool that sticks out")
		}
		return
	}
	if t.Holder != nil {
		c.unsure(t.Pos, only("the tool's holder"), t.Holder.Unsure)
	}
	c.positive(t.Pos, only("the tool"), "its diameter", t.Diameter)
	if t.Diameter > widestTool {
		c.fault(t.Pos, "look for a wrong unit", "the tool: no machine of this kind turns a tool of %s; at most %s",
			MM(t.Diameter), MM(widestTool))
	}
	if t.Diameter > 0 && t.Stickout > slimmestTool*t.Diameter {
		c.fault(t.Pos, "look for a wrong unit", "the tool: none of %s sticks out %s; at most %d times as far",
			MM(t.Diameter), MM(t.Stickout), slimmestTool)
	}
	c.notNegative(t.Pos, only("the tool"), "its core", t.Core)
	c.err(t.Pos, only("the tool"), t.Material.Check())
	if t.Core > t.Diameter {
		c.fault(t.Pos, "Core is the diameter of the round bar that bends like the flutes",
			"the tool: a core of %s in a tool of %s", MM(t.Core), MM(t.Diameter))
	}
	if s := t.Shank; s != nil {
		c.positive(t.Pos, only("the tool"), "the diameter of its shank", s.Diameter)
		c.positive(t.Pos, only("the tool"), "the length of its shank", s.Length)
		if s.Length > t.Stickout-LeastSize {
			c.fault(t.Pos, "Length is what sticks out of the shank; the rest of the stickout is fluted",
				"the tool: a shank of %s leaves nothing of the %s that stick out", MM(s.Length), MM(t.Stickout))
		}
	}
	if t.Holder != nil {
		c.checkStiffness(t.Pos, only("the holder"), t.Holder.Stiffness)
	}
}

func (c *checker) checkSpindle(s *Spindle) {
	switch {
	case c.m.Tool == nil:
		c.fault(s.Pos, "set Tool, or take Spindle out", "there is a spindle, but no tool in it")
	case s.Stiffness != (Stiffness{}) && !(c.m.Tool.Stickout > 0):
		c.fault(s.Pos, "give the tool its Stickout, Diameter and Material",
			"the spindle's bearings need a tool that sticks out of them")
	}
	c.checkStiffness(s.Pos, only("the spindle"), s.Stiffness)
	c.err(s.Pos, only("the spindle"), s.Limits().Check())
	if s.SlowestRPM < 0 || s.FastestRPM != 0 && s.FastestRPM <= s.SlowestRPM {
		c.fault(s.Pos, "", "the spindle: speeds from %g to %g rpm are no range", s.SlowestRPM, s.FastestRPM)
	}
}

func (c *checker) checkStiffness(at FilePos, what thing, g Stiffness) {
	c.notNegative(at, what, "Radial", g.Radial)
	c.notNegative(at, what, "Axial", g.Axial)
	c.notNegative(at, what, "Tilt", g.Tilt)
	if b := g.Bearings; b != nil {
		c.positive(at, what, "the stiffness of its front bearing", b.Front)
		c.positive(at, what, "the stiffness of its rear bearing", b.Rear)
		c.positive(at, what, "the distance of its bearings", b.Span)
		c.notNegative(at, what, "the overhang of its nose", b.Overhang)
	}
}

func (c *checker) checkPoints() {
	names := c.names("point", len(c.m.Points))
	for i := range c.m.Points {
		p := &c.m.Points[i]
		if p.Name != "" { // one of a load needs none: nobody asks how far it moves
			names.add(p.Pos, i, p.Name)
		}
		what := numbered("point", i, p.Name)
		c.part(p.Pos, what, p.Part)
		if p.Patch != ([2]float64{}) && !(p.Patch[0] > 0 && p.Patch[1] > 0) {
			c.fault(p.Pos, "give both sides, or none for a point",
				"%s: a patch of %g by %g mm has no area", what, p.Patch[0], p.Patch[1])
		}
		c.checkStand(p, i, what)
	}
}

func (c *checker) checkStand(p *Point, number int, what thing) {
	switch s := p.Stand; {
	case s.Kind == OnPart:
		c.part(p.Pos, what, s.Index)
	case s.Kind == OnWork && (c.m.Work == nil || c.m.Tool == nil):
		c.fault(p.Pos, "give the machine a tool and work", "%s is read against the work, and there is none", what)
	case s.Kind == OnOther && s.Index == number:
		c.fault(p.Pos, "name another point", "%s is read against itself", what)
	case s.Kind == OnOther:
		c.index(p.Pos, what, "point", s.Index, len(c.m.Points))
	}
}

func (c *checker) checkMasses() {
	names := c.names("mass", len(c.m.Masses))
	for i := range c.m.Masses {
		m := &c.m.Masses[i]
		names.add(m.Pos, i, m.Name)
		what := numbered("mass", i, m.Name)
		c.part(m.Pos, what, m.Part)
		c.positive(m.Pos, what, "its mass", m.Tonne)
	}
}

func (c *checker) checkLoads() {
	names := c.names("load", len(c.m.Loads))
	for i := range c.m.Loads {
		l := &c.m.Loads[i]
		names.add(l.Pos, i, l.Name)
		what := numbered("load", i, l.Name)
		if len(l.Actions) == 0 {
			c.fault(l.Pos, "add an action, or take the load out", "%s is empty", what)
		}
		for k := range l.Actions {
			c.checkAction(&l.Actions[k], thing{of: &what, kind: "action", i: k})
		}
	}
}

func (c *checker) checkAction(a *Action, what thing) {
	if !within(c, a.Pos, what, "kind of action", a.Kind, Misfitting) {
		return
	}
	switch a.Kind {
	case OnTip:
		if c.m.Tool == nil {
			c.fault(a.Pos, "set Tool and Work", "%s acts on the tip, but there is no tool", what)
		}
	case OnPoint:
		c.index(a.Pos, what, "point", a.Point, len(c.m.Points))
	case AlongBar:
		if c.part(a.Pos, what, a.Bar) {
			c.checkAlong(a, what)
		}
	case Settling:
		c.index(a.Pos, what, "ground", a.Ground, len(c.m.Grounds))
	case Warming:
		if a.Part != nil {
			c.part(a.Pos, what, *a.Part)
		}
	case Accelerating:
		if c.index(a.Pos, what, "axis", a.Axis, len(c.m.Axes)) {
			c.checkAcceleration(a, what)
		}
	case Misfitting:
		c.index(a.Pos, what, "misfit", a.Misfit, len(c.m.Misfits))
	}
}

// checkAcceleration: it is along its axis.
func (c *checker) checkAcceleration(a *Action, what thing) {
	along, f := c.m.Axes[a.Axis].direction(), a.Force
	across := r3.Sub(f, r3.Scale(r3.Dot(f, along), along))
	if f == (r3.Vec{}) || r3.Norm(across) > unitSlack*r3.Norm(f) {
		c.fault(a.Pos, "Force is the acceleration, mm/s², along the axis",
			"%s: the acceleration must be along axis %s, not (%g, %g, %g)", what, Quote(c.m.Axes[a.Axis].Name), f.X, f.Y, f.Z)
	}
}

// checkAlong: a load along a bar lies on it.
func (c *checker) checkAlong(a *Action, what thing) {
	p := &c.m.Parts[a.Bar]
	if p.Bar == nil {
		c.fault(a.Pos, "a plate can be loaded at a point, over a patch",
			"%s acts along part %s, which is not a bar", what, Quote(p.Name))
		return
	}
	length := r3.Norm(r3.Sub(p.Bar.To, p.Bar.From))
	if to := a.to(length); !LiesOnBar(a.From, to, length) {
		c.fault(a.Pos, "From and To are measured from the bar's From end",
			"%s from %g to %g mm does not lie on the bar, which is %g mm long", what, a.From, to, length)
	}
}

// to is where a load along a bar of a length ends.
func (a *Action) to(length float64) float64 {
	if a.To == 0 {
		return length
	}
	return a.To
}

func (c *checker) checkCuts() {
	names := c.names("cut", len(c.m.Cuts))
	for i := range c.m.Cuts {
		u := &c.m.Cuts[i]
		names.add(u.Pos, i, u.Name)
		what := numbered("cut", i, u.Name)
		if u.Load != nil {
			c.index(u.Pos, what, "load", *u.Load, len(c.m.Loads))
		} else if slices.ContainsFunc(c.m.Loads, func(l Load) bool { return l.Name == peakName(u.Name) }) {
			c.fault(u.Pos, "call the load otherwise, or name it as the cut's own by Load",
				"%s makes a load called %s, and there is one of that name", what, Quote(peakName(u.Name)))
		}
		c.notNegative(u.Pos, what, "the tolerance", u.Tolerance)
		if t := c.m.Tool; t == nil || t.Stickout == 0 || t.Diameter == 0 || t.Flutes == 0 {
			c.fault(u.Pos, "give the tool its Stickout, Diameter, Flutes and Material",
				"%s needs to know the tool", what)
			continue
		}
		if c.oneOf(u.Pos, what, "milling and drilling", u.Milling != nil, u.Drilling != nil) {
			c.checkCut(u, what)
		}
	}
}

// addsLoads reports whether completing the machine adds load cases, which act on the tip.
func (m *Machine) addsLoads() bool {
	return slices.ContainsFunc(m.Cuts, func(u Cut) bool { return u.Load == nil })
}

// squareCut is how far the directions of a cut may be from square to one another, as a cosine: half a degree.
const squareCut = 0.01

func (c *checker) checkCut(u *Cut, what thing) {
	if u.Milling != nil {
		c.err(u.Pos, what, u.Milling.Check())
		within(c, u.Pos, what, "way of milling", u.Milling.Mode, cutting.Centred)
	} else {
		c.err(u.Pos, what, u.Drilling.Check())
	}
	if u.Milling != nil && u.Milling.Mill.DiameterMM != c.m.Tool.Diameter {
		c.fault(u.Pos, "give the mill the diameter of the tool", "%s: a mill of %s in a tool of %s", what,
			MM(u.Milling.Mill.DiameterMM), MM(c.m.Tool.Diameter))
	}
	if u.Axis == (r3.Vec{}) && u.Normal == (r3.Vec{}) { // those that follow from the tool
		if u.Milling != nil {
			c.unit(u.Pos, what, "Feed", u.Feed)
		}
		return
	}
	c.unit(u.Pos, what, "Feed", u.Feed)
	c.unit(u.Pos, what, "Normal", u.Normal)
	c.unit(u.Pos, what, "Axis", u.Axis)
	if max(math.Abs(r3.Dot(u.Feed, u.Normal)), math.Abs(r3.Dot(u.Feed, u.Axis)),
		math.Abs(r3.Dot(u.Normal, u.Axis))) > squareCut {
		c.fault(u.Pos, "leave Normal and Axis zero: they follow from the tool",
			"%s: Feed, Normal and Axis must be square to one another", what)
	}
}

func (c *checker) checkTravel() {
	names := c.names("path", len(c.m.Travel))
	for i := range c.m.Travel {
		p := &c.m.Travel[i]
		names.add(p.Pos, i, p.Name)
		what := numbered("path", i, p.Name)
		if c.m.Work == nil {
			c.fault(p.Pos, "set Tool and Work", "%s has no work to move", what)
		}
		c.notNegative(p.Pos, what, "the tolerance", p.Tolerance)
		c.checkPathAxes(p, what)
		for k, l := range p.Loads {
			switch {
			case !c.index(p.Pos, what, "load", l, len(c.m.Loads)):
			case slices.Contains(p.Loads[:k], l):
				c.fault(p.Pos, "take one of them out",
					"%s: load %s stands here a second time", what, Quote(c.m.Loads[l].Name))
			case len(p.Axes) == 0 && !c.m.Loads[l].OnTip():
				c.fault(p.Pos, "", "%s: load %s does not act on the tip", what, Quote(c.m.Loads[l].Name))
			}
		}
		if c.m.FollowedUnder(p) == nil && !c.m.addsLoads() {
			c.fault(p.Pos, "add a load with an action on the tip", "%s has no load to be followed under", what)
		}
	}
}

func (c *checker) checkPathAxes(p *Path, what thing) {
	for k, a := range p.Axes {
		if !c.index(p.Pos, what, "axis", a, len(c.m.Axes)) {
			return
		}
		if slices.Contains(p.Axes[:k], a) {
			c.fault(p.Pos, "two different axes span a plane",
				"%s: axis %s stands here a second time", what, Quote(c.m.Axes[a].Name))
		}
	}
	switch len(p.Axes) {
	case 0:
		within(c, p.Pos, what, "direction", p.Along, Z)
	case 1:
		if p.From == 0 && p.To == 0 {
			return // all its travel
		}
		for _, at := range []float64{p.From, p.To} {
			if f := c.m.Axes[p.Axes[0]].Beyond(c.m.File, at); f != nil {
				c.fault(p.Pos, f.Hint, "%s: %s", what, f.What)
			}
		}
	case 2:
		return // from and to are those of the axes' travels
	default:
		c.fault(p.Pos, "name one axis, or two that span a plane", "%s runs %d axes", what, len(p.Axes))
		return
	}
	if !GoesSomewhere(p.From, p.To) {
		c.fault(p.Pos, "From must be less than To", "%s goes nowhere: from %g to %g mm", what, p.From, p.To)
	}
}
