package machine

import (
	"fmt"
	"slices"
	"strconv"

	"tiploop/frame/constant"
	"tiploop/frame/joint"
)

func (c *checker) checkJoints() {
	joined := map[[2]int]bool{}
	for i := range c.m.Joints {
		j := &c.m.Joints[i]
		what := numbered("joint", i, "")
		first := c.part(j.Pos, what, j.Parts[0])
		if second := c.part(j.Pos, what, j.Parts[1]); !first || !second {
			continue
		}
		a, b := c.m.Parts[j.Parts[0]].Name, c.m.Parts[j.Parts[1]].Name
		key := [2]int{min(j.Parts[0], j.Parts[1]), max(j.Parts[0], j.Parts[1])}
		switch {
		case key[0] == key[1]:
			c.fault(j.Pos, "Parts are the indices of two different parts",
				"%s joins part %s to itself", what, Quote(a))
			continue
		case joined[key]:
			c.fault(j.Pos, "take one of them out", "%s joins parts %s and %s a second time", what, Quote(a), Quote(b))
		}
		joined[key] = true
		within(c, j.Pos, what, "part to be drilled", j.Drilled, DrilledSecond)
		if !c.oneOf(j.Pos, what, "bonded, screwed and sprung", j.Bonded, j.Screws != nil, j.Sprung != nil) {
			continue
		}
		switch {
		case j.Screws != nil:
			c.checkScrews(j, what)
		case j.Sprung != nil:
			c.checkSprung(j, what)
		}
	}
}

func (c *checker) checkScrews(j *Joint, what thing) {
	s := j.Screws
	known := c.record(s.Pos, what.and("screws"), `joint.LookupScrew("M6") gives a size of the trade`,
		record{"D", s.Size.D}, record{"Pitch", s.Size.Pitch}, record{"D2", s.Size.D2}, record{"D3", s.Size.D3},
		record{"StressArea", s.Size.StressArea},
		record{"HeadDiameter", s.Size.HeadDiameter}, record{"HeadHeight", s.Size.HeadHeight},
		record{"WasherDiameter", s.Size.WasherDiameter}, record{"WasherThickness", s.Size.WasherThickness},
		record{"Clearance", s.Size.Clearance}, record{"TapDrill", s.Size.TapDrill},
		record{"Counterbore", s.Size.Counterbore}, record{"Proof", s.Size.Proof},
		record{"Yield", s.Size.Yield}, record{"Strength", s.Size.Strength},
	)
	if j.Surface != (joint.Surface{}) {
		c.surface(j.Pos, what, j.Surface)
	}
	if len(s.At) == 0 && !(s.Grid[0] >= 1 && s.Grid[1] >= 1) {
		c.fault(s.Pos, "Grid: [2]int{2, 3}, or places under At",
			"%s: a grid of %d by %d screws has none", what, s.Grid[0], s.Grid[1])
	}
	if len(s.At) > 0 && s.Grid != ([2]int{}) {
		c.fault(s.Pos, "keep one of them", "%s has both a grid of screws and their places", what)
	}
	for i, at := range s.At {
		if slices.Contains(s.At[:i], at) {
			c.fault(s.Pos, "take one of them out", "%s: two screws are at [%g, %g]", what, at[0], at[1])
		}
	}
	within(c, s.Pos, what, "head", s.Head, joint.Sunk)
	c.notNegative(s.Pos, what, "the torque", s.TorqueNmm)
	if known {
		c.checkTightening(j)
	}
	if j.Shim != nil {
		c.positive(j.Pos, what, "the thickness of the shim", j.Shim.Thickness)
		c.err(j.Pos, what.and("shim"), j.Shim.Material.Check())
	}
}

// checkTightening finds holes that do not fit the screws and torques that break them.
func (c *checker) checkTightening(j *Joint) {
	s, what := j.Screws, func() thing { // in a file nobody counts joints
		return thing{kind: "joint", name: c.m.Parts[j.Parts[0]].Name + "/" + c.m.Parts[j.Parts[1]].Name}
	}
	if d := s.Size; d.Clearance < d.D+leastPlay {
		c.fault(s.Pos, fmt.Sprintf("holes for %s are %s to %s", d.Size, MM(holeOf(d, "fine")), MM(holeOf(d, "coarse"))),
			"%s: through holes of %s are too narrow for %s screws", what(), MM(d.Clearance), d.Size)
	} else if bearing := s.Head.Bearing(d); d.Clearance > bearing-leastSeat*d.D {
		c.fault(s.Pos, fmt.Sprintf("holes for %s are %s to %s", d.Size, MM(holeOf(d, "fine")), MM(holeOf(d, "coarse"))),
			"%s: through holes of %s leave nothing for %s heads of %s to sit on", what(), MM(d.Clearance), d.Size, MM(bearing))
	}
	at := s.TorquePos
	if at == (FilePos{}) {
		at = s.Pos
	}
	if _, breaking := (joint.Clamping{Screw: s.Size}).TorqueLimits(); s.TorqueNmm > breaking {
		remedy := "tighten it less, or take a larger screw"
		if classes := joint.Classes(); s.Size.Class != classes[len(classes)-1] {
			remedy = fmt.Sprintf("tighten it less, take a larger screw, or a stronger one, class: %s",
				classes[len(classes)-1])
		}
		torque, bears := toldApart(s.TorqueNmm/constant.NmmPerNm, breaking/constant.NmmPerNm)
		c.fault(at, remedy, "%s: %s N m breaks %s screws of class %s, which bear %s N m", what(), torque, s.Size.Size,
			s.Size.Class, bears)
	}
}

// toldApart writes a number with four digits and a limit with three, or with as many more as tell them apart.
func toldApart(a, b float64) (string, string) {
	const fewest, most = 3, 15
	for digits := fewest; ; digits++ {
		x := strconv.FormatFloat(a, 'g', digits+1, 64)
		y := strconv.FormatFloat(b, 'g', digits, 64)
		if x != y || digits == most {
			return x, y
		}
	}
}

// A hole is wider than its screw by leastPlay at least, mm, and leaves the head a ring as wide as leastSeat of the
// screw's diameter, on both sides together [common practice, no source].
const (
	leastPlay = 0.05
	leastSeat = 0.1
)

// holeOf is the through hole of a size in a series, mm.
func holeOf(s joint.Screw, series string) float64 {
	mm, _ := s.ThroughHoleOf(series)
	return mm
}

// record is a number of a record of the trade.
type record struct {
	name string
	v    float64
}

// record reports the first number of a record of the trade that is none, and whether all are.
func (c *checker) record(at FilePos, what thing, hint string, numbers ...record) bool {
	for _, n := range numbers {
		if !(n.v > 0) {
			c.fault(at, hint, "%s: %s must be positive, not %g", what, n.name, n.v)
			return false
		}
	}
	return true
}

func (c *checker) surface(at FilePos, what thing, s joint.Surface) {
	if !(s.C.Low > 0 && s.M > 0 && s.M < 1 && s.RaUm.Low > 0) {
		c.fault(at, `joint.LookupSurface("milled") gives a known finish; leave it zero for the usual one`,
			"%s: there is no finish of a face with C from %g, m %g and Ra from %g", what, s.C.Low, s.M, s.RaUm.Low)
	}
}

func (c *checker) checkSprung(j *Joint, what thing) {
	c.unsure(j.Pos, what, j.Sprung.Unsure)
	loose, sprung := 0, 0
	for f := MoveX; f <= TurnZ; f++ {
		noneNegative(c, j.Pos, what, "stiffness", f, j.Sprung.Stiffness[f])
		if j.Sprung.Stiffness[f] > 0 {
			sprung++
		}
		if j.Sprung.Loose[f] {
			loose++
		}
		if j.Sprung.Loose[f] && j.Sprung.Stiffness[f] > 0 {
			c.fault(j.Pos, "keep one of them", "%s: freedom %s is both loose and sprung", what, f)
		}
	}
	switch {
	case loose == len(j.Sprung.Loose):
		c.fault(j.Pos, "leave it out", "%s is loose in every freedom and joins nothing", what)
	case loose+sprung == 0:
		c.fault(j.Pos, "set Bonded instead", "%s is sprung without a loose or sprung freedom", what)
	}
}

func (c *checker) checkGrounds() {
	seen := map[string]bool{}
	for i := range c.m.Grounds {
		g := &c.m.Grounds[i]
		what := numbered("ground", i, g.Name)
		if g.Name != "" && seen[g.Name] {
			c.fault(g.Pos, "give one of them another name",
				"ground %d: the name %s stands here a second time", i, Quote(g.Name))
		}
		seen[g.Name] = true
		within(c, g.Pos, what, "face", g.Face, Top)
		if !c.part(g.Pos, what, g.Part) {
			continue
		}
		atPlace := g.Hold != ([6]bool{}) || g.Spring != ([6]float64{}) || g.Skew != nil
		if !c.oneOf(g.Pos, what, "fixed, strip, feet, hold or spring, and bed",
			g.Fixed, g.Strip != nil, len(g.Feet) > 0, atPlace, g.Bed != ([3]float64{}), g.BedNPerMM3 != 0) {
			continue
		}
		c.checkGround(g, what)
	}
}

func (c *checker) checkGround(g *Ground, what thing) {
	p := &c.m.Parts[g.Part]
	c.unsure(g.Pos, what, g.Unsure)
	switch {
	case g.Bed != ([3]float64{}):
		if p.Bar == nil {
			c.fault(g.Pos, "under a plate, set Face and BedNPerMM3",
				"%s: a bed by axis is for a bar, and part %s is none", what, Quote(p.Name))
		}
		for k := X; k <= Z; k++ {
			noneNegative(c, g.Pos, what, "bed", k, g.Bed[k])
		}
	case g.Fixed, g.Strip != nil, len(g.Feet) > 0, g.BedNPerMM3 != 0:
		if p.Plate == nil {
			c.fault(g.Pos, "set Hold or Spring, and At",
				"%s: part %s is no plate and has no faces to hold", what, Quote(p.Name))
		}
		if g.Strip != nil {
			c.checkStrip(g, what)
		}
		if len(g.Feet) > 0 {
			c.positive(g.Pos, what, "Normal, the stiffness of its feet,", g.Normal)
			c.notNegative(g.Pos, what, "Side, the stiffness of its feet along the face,", g.Side)
		}
		c.notNegative(g.Pos, what, "bed", g.BedNPerMM3)
	default:
		if g.At == nil {
			c.fault(g.Pos, "set At", "%s holds a part, and At does not say where", what)
		}
		for f := MoveX; f <= TurnZ; f++ {
			noneNegative(c, g.Pos, what, "spring", f, g.Spring[f])
		}
		if g.Skew != nil {
			c.unit(g.Pos, what, "the spring's direction", g.Skew.Direction)
			c.positive(g.Pos, what, "the spring's stiffness", g.Skew.Stiffness)
		}
	}
}

// checkStrip: it is a flat box.
func (c *checker) checkStrip(g *Ground, what thing) {
	zero, backwards := g.Strip.Sides()
	for _, k := range backwards {
		c.fault(g.Pos, "swap the two", "%s: its strip runs backwards along %s", what, k)
	}
	if zero != 1 {
		c.fault(g.Pos, "From and To have one coordinate in common, and only one",
			"%s: its strip does not lie in a face", what)
	}
}
