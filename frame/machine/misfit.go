package machine

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Mounting is one thing that is screwed down or runs: a ground or one of its feet, a joint, a rail, a carriage, a
// nut, a bearing of a screw. Only the fields of its kind are set; all are indices counted from 0.
type Mounting struct {
	Kind     MountingKind
	Ground   int // AtGround: index into Machine.Grounds
	Foot     int // AtGround: index into its Feet; −1: all of the ground
	Joint    int // AtJoint: index into Machine.Joints
	Axis     int // AtRail, AtCarriage, AtNut, AtBearing, AtFarBearing: index into Machine.Axes
	Guide    int // AtRail, AtCarriage: index into FeedAxis.Guides
	Carriage int // AtCarriage: index into Guide.Carriages
	Drive    int // AtNut, AtBearing, AtFarBearing: index into FeedAxis.Drives
}

// MountingKind tells the kinds of Mounting apart.
type MountingKind int

// The kinds of Mounting.
const (
	AtGround MountingKind = iota
	AtJoint
	AtRail
	AtCarriage
	AtNut
	AtBearing    // of the driven end of a screw
	AtFarBearing // of its other end
)

// String gives the kind as the trade says it, "MountingKind(9)" for one that is none.
func (k MountingKind) String() string {
	return worded(k, "MountingKind", "ground", "joint", "rail", "carriage", "nut", "driven bearing", "far bearing")
}

// Misfit is a mounting that does not stand where it is drawn. Nothing is bent by it until it is screwed down; what it
// locks in then is a load of its own.
type Misfit struct {
	Name string
	Pos  FilePos
	At   Mounting
	From Offset  // of a rail at its From end
	To   *Offset // of a rail at its other end, linear between; nil: as From, all along
}

// Offset is how far a mounting is out of place. What is high stands towards what is screwed to it: a foot towards the
// part on it, a rail and its carriages towards the part that they carry, a joint's second part away from the first.
type Offset struct {
	High  float64 // square to the seat, mm; negative is low, a gap that tightening closes
	Aside float64 // of a rail or a carriage across the rail, towards the larger coordinate, mm
	Twist float64 // of a rail or a carriage about the axis along the rail, right-handed, rad
	By    r3.Vec  // along the world's axes, mm
	Turn  r3.Vec  // about the world's axes through the middle of the mounting, right-handed, rad
}

// Plus adds a multiple of another offset.
func (o Offset) Plus(factor float64, p Offset) Offset {
	return Offset{High: o.High + factor*p.High, Aside: o.Aside + factor*p.Aside, Twist: o.Twist + factor*p.Twist,
		By: r3.Add(o.By, r3.Scale(factor, p.By)), Turn: r3.Add(o.Turn, r3.Scale(factor, p.Turn))}
}

// LargestMisfit and LargestLean are what is believed of a misfit, mm and rad: sums for small movements are about
// something else beyond. House values.
const (
	LargestMisfit = 20.0
	LargestLean   = 5 * math.Pi / 180
)

// largest is the farthest that an offset moves in any one way, mm.
func (o Offset) largest() float64 {
	return max(math.Abs(o.High), math.Abs(o.Aside), math.Abs(o.By.X), math.Abs(o.By.Y), math.Abs(o.By.Z))
}

// largestTurn is the farthest that an offset turns about any one axis, rad.
func (o Offset) largestTurn() float64 {
	return max(math.Abs(o.Twist), math.Abs(o.Turn.X), math.Abs(o.Turn.Y), math.Abs(o.Turn.Z))
}

// Shimmed is a stack of shims under a mounting: it lifts the mounting by its thickness and gives way in a row with it.
type Shimmed struct {
	Name  string
	Pos   FilePos
	At    Mounting
	Stack []Shim
	Area  float64 // that presses on the stack, mm²: of a nut or a bearing, or of a foot, 0 there: one of the usual width
	Lifts r3.Vec  // of a nut or a bearing: the way in which the stack moves it, unit length, across the screw
}

// LeastPressed is the least area that is believed to press on a shim, mm². A house value.
const LeastPressed = 1.0

// Thickness is that of the stack, mm.
func (s Shimmed) Thickness() (mm float64) {
	for _, l := range s.Stack {
		mm += l.Thickness
	}
	return mm
}

// Layers are the materials of the stack in words: "shim-brass 0.1 mm, paper 0.05 mm".
func (s Shimmed) Layers() (text string) {
	for i, l := range s.Stack {
		if i > 0 {
			text += ", "
		}
		text += l.Key + " " + MM(l.Thickness)
	}
	return text
}

// Lift is the offset that the stack gives its mounting.
func (s Shimmed) Lift() Offset {
	if s.Lifts != (r3.Vec{}) {
		return Offset{By: r3.Scale(s.Thickness(), s.Lifts)}
	}
	return Offset{High: s.Thickness()}
}

// MountingName names a mounting as answers do: "carriage y: rail 1, 2", feet and carriages counted from 1.
func (m *Machine) MountingName(at Mounting) string {
	switch at.Kind {
	case AtGround:
		name := m.Grounds[at.Ground].NameAt(at.Ground)
		if at.Foot >= 0 && len(m.Grounds[at.Ground].Feet) > 0 {
			return fmt.Sprintf("ground %s, foot %d", name, at.Foot+1)
		}
		return "ground " + name
	case AtJoint:
		j := m.Joints[at.Joint]
		return "joint " + m.Parts[j.Parts[0]].Name + "/" + m.Parts[j.Parts[1]].Name
	case AtRail:
		return m.Axes[at.Axis].Name + ": " + m.Axes[at.Axis].Guides[at.Guide].Name
	case AtCarriage:
		return fmt.Sprintf("%s: %s, carriage %d", m.Axes[at.Axis].Name, m.Axes[at.Axis].Guides[at.Guide].Name,
			at.Carriage+1)
	}
	name := m.Axes[at.Axis].Name + ": "
	if d := m.Axes[at.Axis].Drives[at.Drive].Name; d != "" {
		name += "screw " + d + ", "
	}
	return name + at.Kind.String()
}

// Covers tells whether what is at a mounting is at this one, too: a carriage at its rail, a foot at its ground.
func (at Mounting) Covers(o Mounting) bool {
	switch {
	case at == o:
		return true
	case at.Kind == AtGround:
		return o.Kind == AtGround && at.Ground == o.Ground && at.Foot < 0
	case at.Kind == AtRail:
		return o.Kind == AtCarriage && at.Axis == o.Axis && at.Guide == o.Guide
	}
	return false
}

// checkMisfits finds what is wrong with misfits and shims.
func (c *checker) checkMisfits() {
	names := c.names("misfit", len(c.m.Misfits))
	for i, f := range c.m.Misfits {
		names.add(f.Pos, i, f.Name)
		what := numbered("misfit", i, f.Name)
		if !c.mounting(f.Pos, what, f.At) {
			continue
		}
		if f.To != nil && f.At.Kind != AtRail {
			c.fault(f.Pos, "leave To nil", "%s: only a rail has an offset at its other end", what)
		}
		c.offset(f.Pos, what, f.At, f.From)
		if f.To != nil {
			c.offset(f.Pos, what, f.At, *f.To)
		}
	}
	names = c.names("shim", len(c.m.Shims))
	for i, s := range c.m.Shims {
		names.add(s.Pos, i, s.Name)
		what := numbered("shim", i, s.Name)
		if c.mounting(s.Pos, what, s.At) {
			c.shimmed(what, s)
		}
	}
}

// mounting reports one that is not there, and tells whether more can be said of it: what is wrong with the axis or the
// joint itself is told where that is checked.
func (c *checker) mounting(at FilePos, what thing, m Mounting) bool {
	if !within(c, at, what, "kind of mounting", m.Kind, AtFarBearing) {
		return false
	}
	switch m.Kind {
	case AtGround:
		return c.index(at, what, "ground", m.Ground, len(c.m.Grounds)) &&
			(m.Foot == -1 || c.index(at, what, "foot", m.Foot, len(c.m.Grounds[m.Ground].Feet)))
	case AtJoint:
		named := func(part int) bool { return part >= 0 && part < len(c.m.Parts) }
		return c.index(at, what, "joint", m.Joint, len(c.m.Joints)) && named(c.m.Joints[m.Joint].Parts[0]) &&
			named(c.m.Joints[m.Joint].Parts[1])
	}
	if !c.index(at, what, "axis", m.Axis, len(c.m.Axes)) {
		return false
	}
	a := &c.m.Axes[m.Axis]
	if a.Along < X || a.Along > Z {
		return false
	}
	switch m.Kind {
	case AtRail, AtCarriage:
		if !c.index(at, what, "guide", m.Guide, len(a.Guides)) {
			return false
		}
		if a.Guides[m.Guide].Slide != nil {
			c.fault(at, "its faces are scraped, not aligned", "%s: %s of axis %s is a slide, and no rail", what,
				a.Guides[m.Guide].Name, a.Name)
			return false
		}
		return m.Kind == AtRail || c.index(at, what, "carriage", m.Carriage, len(a.Guides[m.Guide].Carriages))
	}
	if !c.index(at, what, "drive", m.Drive, len(a.Drives)) {
		return false
	}
	if a.Drives[m.Drive].Kind != ByScrew {
		c.fault(at, "nut and bearings belong to a screw", "%s: axis %s is not driven by a screw", what, a.Name)
		return false
	}
	return true
}

// offset reports one that a mounting cannot have.
func (c *checker) offset(at FilePos, what thing, m Mounting, o Offset) {
	if o.largest() > LargestMisfit || o.largestTurn() > LargestLean {
		c.fault(at, fmt.Sprintf("at most %s, or %.3g rad: look for a wrong unit", MM(LargestMisfit), LargestLean),
			"%s is out of place beyond belief", what)
	}
	onRail := m.Kind == AtRail || m.Kind == AtCarriage
	screw := m.Kind >= AtNut
	seated := !screw && (m.Kind != AtGround || c.m.Grounds[m.Ground].OnFace())
	switch {
	case (o.Aside != 0 || o.Twist != 0) && !onRail:
		c.fault(at, "use By and Turn", "%s: only a rail or a carriage is aside or twisted", what)
	case o.High != 0 && !seated:
		c.fault(at, "use By", "%s: nothing says which way is high there", what)
	case screw && o.Turn != r3.Vec{}:
		c.fault(at, "use By", "%s: a nut or a bearing that is turned is not modelled", what)
	case (screw || onRail) && Component(o.By, c.m.Axes[m.Axis].Along) != 0:
		c.fault(at, "give what is across it", "%s: along %s a %s has no place to be out of", what, c.m.Axes[m.Axis].Along,
			m.Kind)
	}
}

// OnFace tells whether the ground holds a face, which has a normal.
func (g Ground) OnFace() bool { return g.Fixed || g.Strip != nil || g.Feet != nil || g.BedNPerMM3 > 0 }

func (c *checker) shimmed(what thing, s Shimmed) {
	if len(s.Stack) == 0 {
		c.fault(s.Pos, "Stack lists the sheets", "%s: its stack is empty", what)
	}
	for _, l := range s.Stack {
		c.positive(s.Pos, what, "the thickness of a sheet", l.Thickness)
		c.err(s.Pos, what, l.Material.Check())
	}
	c.notNegative(s.Pos, what, "the area", s.Area)
	if s.Area > 0 && s.Area < LeastPressed {
		c.fault(s.Pos, "look for a wrong unit", "%s: %g mm² is too small an area to press on, at least %g mm²", what, s.Area,
			LeastPressed)
	}
	screw := s.At.Kind >= AtNut
	switch {
	case screw && (s.Area == 0 || s.Lifts == r3.Vec{}):
		c.fault(s.Pos, "set Area and Lifts", "%s: under a nut or a bearing a shim needs its area and the way it lifts", what)
	case screw:
		c.unit(s.Pos, what, "Lifts", s.Lifts)
		if Component(s.Lifts, c.m.Axes[s.At.Axis].Along) != 0 {
			c.fault(s.Pos, "Lifts is across the screw", "%s lifts along the screw", what)
		}
	case s.Lifts != r3.Vec{}:
		c.fault(s.Pos, "leave Lifts zero", "%s lifts square to its seat", what)
	case s.At.Kind == AtGround && len(c.m.Grounds[s.At.Ground].Feet) == 0:
		c.fault(s.Pos, "shims lie under feet", "%s: %s has no feet", what, c.m.MountingName(s.At))
	case s.At.Kind == AtJoint && c.m.Joints[s.At.Joint].Screws == nil:
		c.fault(s.Pos, "shims lie between screwed faces", "%s: %s is not screwed", what, c.m.MountingName(s.At))
	case s.At.Kind == AtJoint && c.m.Joints[s.At.Joint].Shim != nil:
		c.fault(s.Pos, "keep one of them", "%s: %s has a shim already", what, c.m.MountingName(s.At))
	}
}

// sheetShear is the shear modulus of a sheet, MPa.
func sheetShear(m beam.Material) float64 { return m.E / (2 * (1 + m.Nu)) }

// Give is how far the stack gives per force over an area, square to it and along it, mm/N; paper under a pressure is
// softer or stiffer by its law, which modulus tells.
func (s Shimmed) Give(area float64, modulus func(Shim) float64) (square, along float64) {
	for _, l := range s.Stack {
		m := l.Material
		if l.Paper && modulus != nil {
			m.E, m.Nu = modulus(l), 0
		}
		square += l.Thickness / (m.E * area)
		along += l.Thickness / (sheetShear(m) * area)
	}
	return square, along
}
