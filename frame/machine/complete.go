package machine

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/drive"
	"tiploop/frame/joint"
	"tiploop/frame/spindle"
)

// The finishes of faces that nobody has said anything about: of a joint, and of the faces that rails and carriages are
// screwed to, for a seat that nobody mills leaves no rail straight.
const (
	DefaultSurface      = joint.DefaultSurface
	DefaultGuideSurface = "milled"
)

// SideShare is how stiff a foot is along the face against its stiffness square to it, unless the machine says: common
// practice, between 0.3 and 0.7.
const SideShare = 0.5

// Complete returns the machine with everything written out that its fields leave to their zero values, and with what
// every axis moves. It shares with the machine what it does not change, whole lists among it, and does not write into
// it. The error is that of Check. A complete machine completed again is the same.
func (m *Machine) Complete() (*Machine, error) {
	c, faults := m.complete()
	if faults != nil {
		return nil, faults
	}
	return c, nil
}

// complete checks a machine and writes out its defaults. What may be left out is known to be right before it is
// filled in.
func (m *Machine) complete() (*Machine, Faults) {
	c := &checker{m: m}
	c.checkFinite()
	if c.faults != nil { // what is no number passes other checks by chance
		return nil, c.faults.Sorted()
	}
	c.checkParts()
	c.checkJoints()
	c.checkGrounds()
	c.checkAxes()
	c.checkTool()
	c.checkMasses()
	c.checkPoints()
	c.checkLoads()
	c.checkCuts()
	c.checkTravel()
	c.checkMisfits()
	if c.faults != nil {
		return nil, c.faults.Sorted()
	}
	out := *m
	c.m = &out
	c.completeParts()
	c.completeJoints()
	out.Axes = slices.Clone(m.Axes)
	for i := range out.Axes {
		out.Axes[i].complete(&out)
	}
	if t := out.Tool; t != nil && t.Core == 0 && t.Flutes > 0 && t.Stickout > 0 {
		tool := *t
		tool.Core = spindle.EffectiveShare(t.Flutes).Typical * t.Diameter
		out.Tool = &tool
	}
	c.completeLoads()
	c.completeCuts()
	out.Travel = slices.Clone(m.Travel)
	for i := range out.Travel {
		p := &out.Travel[i]
		if len(p.Axes) == 1 && p.From == 0 && p.To == 0 {
			p.From, p.To = out.Axes[p.Axes[0]].Travel[0], out.Axes[p.Axes[0]].Travel[1]
		}
		p.Loads = out.FollowedUnder(p)
	}
	if c.faults == nil {
		c.faults = out.findMoves()
	}
	if c.faults != nil {
		return nil, c.faults.Sorted()
	}
	return &out, nil
}

// own gives a list to the machine that is being completed, to write into; it stays that of the other one when none of
// its things leaves anything out.
func own[T any](list *[]T, leavesOut func(T) bool) {
	if slices.ContainsFunc(*list, leavesOut) {
		*list = slices.Clone(*list)
	}
}

func (p Part) leavesOut() bool {
	return p.Bar != nil && (p.Bar.Up == (r3.Vec{}) || p.Bar.Section.A == 0)
}

func (j Joint) leavesOut() bool { return j.Screws != nil && j.Surface == (joint.Surface{}) }

func (g Ground) leavesOut() bool { return len(g.Feet) > 0 && g.Side == 0 }

func (a Action) leavesOut() bool {
	return a.Kind == AlongBar || a.Kind == Weight && a.Force == (r3.Vec{})
}

func (l Load) leavesOut() bool { return slices.ContainsFunc(l.Actions, Action.leavesOut) }

func (c *checker) completeParts() {
	own(&c.m.Parts, Part.leavesOut)
	for i := range c.m.Parts {
		p := &c.m.Parts[i]
		if !p.leavesOut() {
			continue
		}
		bar := *p.Bar
		p.Bar = &bar
		if bar.Up == (r3.Vec{}) {
			bar.Up = SquareUp(r3.Sub(bar.To, bar.From), r3.Vec{})
		}
		if bar.Section.A != 0 {
			continue
		}
		var err error
		if bar.Section, err = bar.Shape.Section(p.Material.Nu); err == nil {
			err = beam.Member{Length: r3.Norm(r3.Sub(bar.To, bar.From)), Section: bar.Section, Material: p.Material}.Check()
		}
		if err != nil {
			c.fault(p.Pos, "", "%s: %v", partName(i, p.Name), err)
		}
	}
}

// SquareUp returns the direction square to a line that is nearest to up; up zero is z, or y along a line that runs
// along z.
func SquareUp(line, up r3.Vec) r3.Vec {
	line = r3.Unit(line)
	if up == (r3.Vec{}) {
		if up = Z.Direction(); r3.Norm(r3.Cross(line, up)) < Parallel {
			up = Y.Direction()
		}
	}
	square := r3.Sub(up, r3.Scale(r3.Dot(up, line), line))
	return r3.Add(r3.Unit(square), r3.Vec{}) // without −0
}

func (c *checker) completeJoints() {
	own(&c.m.Joints, Joint.leavesOut)
	for i := range c.m.Joints {
		if j := &c.m.Joints[i]; j.leavesOut() {
			j.Surface, _ = joint.LookupSurface(DefaultSurface)
		}
	}
	own(&c.m.Grounds, Ground.leavesOut)
	for i := range c.m.Grounds {
		if g := &c.m.Grounds[i]; g.leavesOut() {
			g.Side = SideShare * g.Normal
		}
	}
}

// complete writes out what guides and drives leave to their zero values.
func (a *FeedAxis) complete(m *Machine) {
	a.Guides, a.Drives = slices.Clone(a.Guides), slices.Clone(a.Drives)
	count := map[string]int{}
	for i := range a.Guides {
		g := &a.Guides[i]
		kind := "rail"
		if g.Slide != nil {
			kind = "slide"
		}
		count[kind]++
		if g.Name == "" {
			g.Name = fmt.Sprintf("%s %d", kind, count[kind])
		}
		if g.Slide != nil {
			continue
		}
		if g.Surface == (joint.Surface{}) {
			g.Surface, _ = joint.LookupSurface(DefaultGuideSurface)
		}
		g.Length = g.CarriageLength()
		if g.Width == 0 && g.Rail != nil {
			g.Width = g.Rail.Width
		}
		if g.RailIsBar {
			g.From, g.To = m.Parts[g.On].Bar.From, m.Parts[g.On].Bar.To
		}
	}
	for i := range a.Drives {
		a.Drives[i] = *a.Drives[i].completed()
	}
}

// completed is the drive with what its zero values mean.
func (d *Drive) completed() *Drive {
	out := *d
	length := r3.Norm(r3.Sub(d.To, d.From))
	switch d.Kind {
	case ByScrew:
		if d.Ball != nil {
			out.completeBall()
		}
		out.completeScrew(length)
	case ByBelt:
		if out.Belt.Length == 0 {
			out.Belt.Length = length
		}
	default:
		out.From, out.To = d.Push, d.Push
	}
	if out.Efficiency == 0 && (d.Kind == ByBelt || d.Kind == ByRack) {
		out.Efficiency = lossless
	}
	return &out
}

// lossless is the efficiency of a belt and of a rack and pinion: they lose some hundredths, which is less than a
// motor's torque is known to.
const lossless = 1

// completeBall takes what a ball screw's size says.
func (d *Drive) completeBall() {
	s, ball := &d.Screw, d.Ball
	if s.Shaft.Root == 0 {
		s.Shaft.Root = ball.Root.Typical
	}
	if s.Lead == 0 {
		s.Lead = ball.Lead
	}
	if s.Nut == 0 {
		if nut, err := ball.Nut(drive.SnugNut, 0); err == nil { // only one with play asks for a load
			s.Nut = nut.Typical
			d.Unsure = append(slices.Clip(d.Unsure), UnsureBallNut(ball))
		}
		if d.Preload == 0 {
			d.Preload = drive.SnugNut.PreloadShare().Typical * ball.Dynamic.Typical
		}
	}
	if d.Efficiency == 0 {
		d.Efficiency = drive.BallEfficiency().Typical
	}
}

// completeScrew fills in the shaft of a screw and its bearings; what its size says must have been taken.
func (d *Drive) completeScrew(length float64) {
	s := &d.Screw
	if s.Shaft.E == 0 && s.Shaft.Nu == 0 {
		s.Shaft.E, s.Shaft.Nu = ScrewE, ScrewNu
	}
	if s.Shaft.Length == 0 {
		s.Shaft.Length = length
	}
	diameter := s.Shaft.Root
	if d.Ball != nil {
		diameter = d.Ball.Diameter
	}
	if !(diameter > 0) {
		return // for the check to say
	}
	for _, b := range []struct {
		what string
		to   *float64
		is   bool
	}{{UnsureNear, &s.NearBearing, true}, {UnsureFar, &s.FarBearing, s.Shaft.Ends == drive.FixedFixed}} {
		if b.is && *b.to == 0 {
			unit := drive.FixedUnitFor(diameter)
			*b.to = unit.Axial.Typical
			d.Unsure = append(slices.Clip(d.Unsure), UnsureBearing(b.what, unit))
		}
	}
}

func (c *checker) completeLoads() {
	own(&c.m.Loads, Load.leavesOut)
	c.m.Loads = slices.Clip(c.m.Loads) // cuts add theirs
	for i := range c.m.Loads {
		l := &c.m.Loads[i]
		if !l.leavesOut() {
			continue
		}
		l.Actions = slices.Clone(l.Actions)
		for k := range l.Actions {
			a := &l.Actions[k]
			switch {
			case a.Kind == Weight && a.Force == (r3.Vec{}):
				a.Force = r3.Vec{Z: -StandardGravity}
			case a.Kind == AlongBar:
				bar := c.m.Parts[a.Bar].Bar
				length := r3.Norm(r3.Sub(bar.To, bar.From))
				a.From, a.To = max(a.From, 0), min(a.to(length), length)
				if a.End == nil {
					a.End = new(a.Force)
				}
			}
		}
	}
}

// completeCuts turns cuts by the tool and makes load cases of those that have none.
func (c *checker) completeCuts() {
	c.m.Cuts = slices.Clone(c.m.Cuts)
	for i := range c.m.Cuts {
		u := &c.m.Cuts[i]
		what := numbered("cut", i, u.Name)
		if u.Axis == (r3.Vec{}) && u.Normal == (r3.Vec{}) {
			axis := c.m.Tool.Back(&c.m.Parts[c.m.Tool.Part])
			if along := r3.Dot(u.Feed, axis); u.Milling != nil && max(along, -along) > squareCut {
				c.fault(u.Pos, "feed it square to the tool, or set Drilling",
					"%s: the tool cannot be fed that way and mill: it points along %s", what, DirectionInWords(axis))
				continue
			}
			u.Turn(axis, u.Feed)
		}
		if u.Load != nil {
			continue
		}
		peak, err := u.Peak()
		if err != nil {
			c.fault(u.Pos, "", "%s cannot be worked out: %v", what, err)
			continue
		}
		load := len(c.m.Loads)
		u.Load = &load
		c.m.Loads = append(c.m.Loads, u.Case(peak))
	}
}

// Peak returns the greatest typical force of a cut. Its error is that of a cut that frame/cutting cannot work out, or
// that is neither milling nor drilling.
func (c *Cut) Peak() (cutting.Load, error) {
	if c.Drilling == nil && c.Milling == nil {
		return cutting.Load{}, errors.New("a cut that is neither milling nor drilling has no force")
	}
	if c.Drilling != nil {
		h, err := c.Drilling.Spread(c.Material)
		return h.Typical.Load, err
	}
	cut, err := c.Milling.Cut(c.Material, constant.Typical)
	if err != nil {
		return cutting.Load{}, err
	}
	return cut.Revolution().Most(squaredSize).Load, nil
}

func squaredSize(l cutting.Load) float64 { return l.X*l.X + l.Y*l.Y + l.Z*l.Z }
