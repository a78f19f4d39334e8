package machine

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/joint"
)

// Check finds what no machine can be built from: indices of things that are not there, sizes that are none, directions
// that point nowhere, names that two things share. The error is [Faults], each of which names the thing by its number in
// its list, counted from 0, or by its name. Whether the parts touch where they are joined, and whether anything is loose, is
// for the building to say.
//
// A machine that was read from a file has passed this already; one built in Go is checked by all that builds it.
func (m *Machine) Check() error {
	if _, faults := m.complete(); faults != nil {
		return faults
	}
	return nil
}

// checker collects what is wrong with a machine.
type checker struct {
	m      *Machine
	faults Faults
}

// fault reports what is wrong with a thing; where it stands in a file, if it does, is told as well.
func (c *checker) fault(at Place, hint, format string, args ...any) {
	c.faults = append(c.faults, Fault{File: c.m.File, Place: at, What: fmt.Sprintf(format, args...), Hint: hint})
}

// index reports an index beyond a list, and tells whether it is in it.
func (c *checker) index(at Place, what, kind string, i, n int) bool {
	if i >= 0 && i < n {
		return true
	}
	hint := fmt.Sprintf("they are counted from 0: 0 to %d", n-1)
	switch n {
	case 0:
		hint = fmt.Sprintf("add the %s to the machine, or take out what refers to it", kind)
	case 1:
		hint = "they are counted from 0: the only one is 0"
	}
	c.fault(at, hint, "%s: there is no %s %d; the machine has %d", what, kind, i, n)
	return false
}

func (c *checker) part(at Place, what string, i int) bool {
	return c.index(at, what, "part", i, len(c.m.Parts))
}

// names reports names that are empty or stand twice; kind is what they name.
type names struct {
	c    *checker
	kind string
	seen map[string]bool
}

func (c *checker) names(kind string) names { return names{c, kind, map[string]bool{}} }

func (n names) add(at Place, i int, name string) {
	switch {
	case name == "":
		n.c.fault(at, "give it one: answers speak of it by its name", "%s %d has no name", n.kind, i)
	case n.seen[name]:
		n.c.fault(at, "give one of them another name", "%s %d: the name %s stands here a second time", n.kind, i, Quote(name))
	}
	n.seen[name] = true
}

// positive reports a size that is none.
func (c *checker) positive(at Place, what, size string, v float64) {
	if !(v > 0) {
		c.fault(at, "", "%s: %s must be positive, not %g", what, size, v)
	}
}

// notNegative reports a size below zero; zero has a meaning of its own.
func (c *checker) notNegative(at Place, what, size string, v float64) {
	if !(v >= 0) {
		c.fault(at, "", "%s: %s must not be negative: %g", what, size, v)
	}
}

// err reports the error of another package's check.
func (c *checker) err(at Place, what string, err error) {
	if err != nil {
		c.fault(at, "", "%s: %v", what, err)
	}
}

// unitSlack is how far the length of a unit vector may be from 1: what rounding leaves of a direction worked out by hand in
// six digits.
const unitSlack = 1e-6

// unit reports a direction whose length is not 1.
func (c *checker) unit(at Place, what, direction string, v r3.Vec) {
	if l := r3.Norm(v); !(math.Abs(l-1) <= unitSlack) {
		c.fault(at, "divide it by its length: r3.Unit", "%s: %s must have length 1, not %g", what, direction, l)
	}
}

// oneOf reports a thing that is of no kind, or of two; kinds are those that can be set, in the order of is.
func (c *checker) oneOf(at Place, what, kinds string, is ...bool) bool {
	n := 0
	for _, t := range is {
		if t {
			n++
		}
	}
	switch n {
	case 0:
		c.fault(at, "set one of them", "%s is none of %s", what, kinds)
	case 1:
		return true
	default:
		c.fault(at, "keep one of them", "%s is more than one of %s", what, kinds)
	}
	return false
}

// within reports a number that is none of an enumeration's, which has values from 0 on.
func within[T ~int](c *checker, at Place, what, kind string, v T, last T) bool {
	if v >= 0 && v <= last {
		return true
	}
	c.fault(at, "use one of the named constants", "%s: there is no %s %d", what, kind, int(v))
	return false
}

func (c *checker) checkParts() {
	if len(c.m.Parts) == 0 {
		c.fault(Place{}, "add a plate, a gusset or a bar", "there are no parts")
	}
	names := c.names("part")
	for i := range c.m.Parts {
		p := &c.m.Parts[i]
		names.add(p.Place, i, p.Name)
		what := partName(i, p.Name)
		c.err(p.Place, what, p.Material.Check())
		if !c.oneOf(p.Place, what, "plate, gusset and bar", p.Plate != nil, p.Gusset != nil, p.Bar != nil) {
			continue
		}
		switch {
		case p.Plate != nil:
			for k := X; k <= Z; k++ {
				if lo, hi := Component(p.Plate.From, k), Component(p.Plate.To, k); !(hi-lo >= leastSize) {
					c.fault(p.Place, "From is below To in every axis", "%s has no thickness along %s: from %g to %g mm", what, k, lo, hi)
				}
			}
		case p.Gusset != nil:
			c.checkGusset(p, what)
		default:
			c.checkBar(p, what)
		}
	}
}

// leastSize is the smallest size a part can have, mm; below it nothing could be made or told apart.
const leastSize = 1e-3

// partName is how a fault names a part.
func partName(i int, name string) string { return numbered("part", i, name) }

// numbered is how a fault names a thing of a list: by its name if it has one.
func numbered(kind string, i int, name string) string {
	if name == "" {
		return fmt.Sprintf("%s %d", kind, i)
	}
	return kind + " " + Quote(name)
}

// checkGusset: its edges take the three axes, one each.
func (c *checker) checkGusset(p *Part, what string) {
	var taken []Axis
	for i, edge := range []r3.Vec{p.Gusset.Legs[0], p.Gusset.Legs[1], p.Gusset.Thickness} {
		name := [...]string{"its first leg", "its second leg", "its thickness"}[i]
		along, count := X, 0
		for k := X; k <= Z; k++ {
			if math.Abs(Component(edge, k)) > squareSlack {
				along, count = k, count+1
			}
		}
		switch {
		case count == 0 || count == 1 && math.Abs(Component(edge, along)) < leastSize:
			c.fault(p.Place, "", "%s: %s has no length", what, name)
		case count > 1:
			c.fault(p.Place, "two of its components must be zero", "%s: %s must run along one axis", what, name)
		case slices.Contains(taken, along):
			c.fault(p.Place, "the legs and the thickness take one axis each", "%s: %s runs along %s like an edge before it", what, name, along)
		default:
			taken = append(taken, along)
		}
	}
}

// squareSlack is the component below which an edge of a gusset counts as square to an axis, mm: the rounding of sums and
// products of millimetres.
const squareSlack = 1e-9

func (c *checker) checkBar(p *Part, what string) {
	b := p.Bar
	line := r3.Sub(b.To, b.From)
	if !(r3.Norm(line) >= leastSize) {
		c.fault(p.Place, "", "%s has no length: it ends where it begins", what)
		return
	}
	if b.Shape == nil {
		c.fault(p.Place, "Shape: beam.Round{Diameter: 20}, or another of its kind", "%s has no section", what)
	}
	if b.Section.A != 0 {
		c.err(p.Place, what, beam.Member{Length: r3.Norm(line), Section: b.Section, Material: p.Material}.Check())
	}
	if b.Up == (r3.Vec{}) {
		return
	}
	c.unit(p.Place, what, "Up", b.Up)
	if math.Abs(r3.Dot(b.Up, r3.Unit(line))) > unitSlack {
		c.fault(p.Place, "leave it zero for the direction nearest to z", "%s: Up must be square to the bar", what)
	}
}

func (c *checker) checkJoints() {
	joined := map[[2]int]bool{}
	for i := range c.m.Joints {
		j := &c.m.Joints[i]
		what := fmt.Sprintf("joint %d", i)
		first := c.part(j.Place, what, j.Parts[0])
		if second := c.part(j.Place, what, j.Parts[1]); !first || !second {
			continue
		}
		a, b := c.m.Parts[j.Parts[0]].Name, c.m.Parts[j.Parts[1]].Name
		key := [2]int{min(j.Parts[0], j.Parts[1]), max(j.Parts[0], j.Parts[1])}
		switch {
		case key[0] == key[1]:
			c.fault(j.Place, "Parts are the indices of two different parts", "%s joins part %s to itself", what, Quote(a))
			continue
		case joined[key]:
			c.fault(j.Place, "take one of them out", "%s joins parts %s and %s a second time", what, Quote(a), Quote(b))
		}
		joined[key] = true
		within(c, j.Place, what, "part to be drilled", j.Drilled, DrilledSecond)
		if !c.oneOf(j.Place, what, "bonded, screwed and sprung", j.Bonded, j.Screws != nil, j.Sprung != nil) {
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

func (c *checker) checkScrews(j *Joint, what string) {
	s := j.Screws
	c.record(s.Place, what+", screws", `joint.LookupScrew("M6") gives a size of the trade`,
		record{"D", s.Size.D}, record{"Pitch", s.Size.Pitch}, record{"D2", s.Size.D2}, record{"D3", s.Size.D3},
		record{"StressArea", s.Size.StressArea}, record{"HeadDiameter", s.Size.HeadDiameter}, record{"HeadHeight", s.Size.HeadHeight},
		record{"Clearance", s.Size.Clearance}, record{"TapDrill", s.Size.TapDrill}, record{"Counterbore", s.Size.Counterbore},
		record{"Proof", s.Size.Proof})
	if j.Surface != (joint.Surface{}) {
		c.surface(j.Place, what, j.Surface)
	}
	if len(s.At) == 0 && !(s.Grid[0] >= 1 && s.Grid[1] >= 1) {
		c.fault(s.Place, "Grid: [2]int{2, 3}, or places under At", "%s: a grid of %d by %d screws has none", what, s.Grid[0], s.Grid[1])
	}
	if len(s.At) > 0 && s.Grid != ([2]int{}) {
		c.fault(s.Place, "keep one of them", "%s has both a grid of screws and their places", what)
	}
	for i, at := range s.At {
		if slices.Contains(s.At[:i], at) {
			c.fault(s.Place, "take one of them out", "%s: two screws are at [%g, %g]", what, at[0], at[1])
		}
	}
	c.notNegative(s.Place, what, "the torque", s.TorqueNm)
	if j.Shim != nil {
		c.positive(j.Place, what, "the thickness of the shim", j.Shim.Thickness)
		c.err(j.Place, what+", shim", j.Shim.Material.Check())
	}
}

// record is a number of a record of the trade.
type record struct {
	name string
	v    float64
}

// record reports the first number of a record of the trade that is none.
func (c *checker) record(at Place, what, hint string, numbers ...record) {
	for _, n := range numbers {
		if !(n.v > 0) {
			c.fault(at, hint, "%s: %s must be positive, not %g", what, n.name, n.v)
			return
		}
	}
}

func (c *checker) surface(at Place, what string, s joint.Surface) {
	if !(s.C.Low > 0 && s.M > 0 && s.M < 1) {
		c.fault(at, `joint.LookupSurface("milled") gives a known finish; leave it zero for the usual one`,
			"%s: there is no finish of a face with C from %g and m %g", what, s.C.Low, s.M)
	}
}

func (c *checker) checkSprung(j *Joint, what string) {
	loose, sprung := 0, 0
	for f := MoveX; f <= TurnZ; f++ {
		c.notNegative(j.Place, what, "stiffness "+f.String(), j.Sprung.Stiffness[f])
		if j.Sprung.Stiffness[f] > 0 {
			sprung++
		}
		if j.Sprung.Loose[f] {
			loose++
		}
		if j.Sprung.Loose[f] && j.Sprung.Stiffness[f] > 0 {
			c.fault(j.Place, "keep one of them", "%s: freedom %s is both loose and sprung", what, f)
		}
	}
	switch {
	case loose == len(j.Sprung.Loose):
		c.fault(j.Place, "leave it out", "%s is loose in every freedom and joins nothing", what)
	case loose+sprung == 0:
		c.fault(j.Place, "set Bonded instead", "%s is sprung without a loose or sprung freedom", what)
	}
}

func (c *checker) checkGrounds() {
	seen := map[string]bool{}
	for i := range c.m.Grounds {
		g := &c.m.Grounds[i]
		what := numbered("ground", i, g.Name)
		if g.Name != "" && seen[g.Name] {
			c.fault(g.Place, "give one of them another name", "ground %d: the name %s stands here a second time", i, Quote(g.Name))
		}
		seen[g.Name] = true
		within(c, g.Place, what, "face", g.Face, Top)
		if !c.part(g.Place, what, g.Part) {
			continue
		}
		atPlace := g.Hold != ([6]bool{}) || g.Spring != ([6]float64{}) || g.Skew != nil
		if !c.oneOf(g.Place, what, "fixed, strip, feet, hold or spring, and bed", g.Fixed, g.Strip != nil, len(g.Feet) > 0,
			atPlace, g.Bed != ([3]float64{}), g.BedNPerMM3 != 0) {
			continue
		}
		c.checkGround(g, what)
	}
}

func (c *checker) checkGround(g *Ground, what string) {
	p := &c.m.Parts[g.Part]
	switch {
	case g.Bed != ([3]float64{}):
		if p.Bar == nil {
			c.fault(g.Place, "under a plate, set Face and BedNPerMM3", "%s: a bed by axis is for a bar, and part %s is none", what, Quote(p.Name))
		}
		for k := X; k <= Z; k++ {
			c.notNegative(g.Place, what, "bed "+k.String(), g.Bed[k])
		}
	case g.Fixed, g.Strip != nil, len(g.Feet) > 0, g.BedNPerMM3 != 0:
		if p.Plate == nil {
			c.fault(g.Place, "set Hold or Spring, and At", "%s: part %s is no plate and has no faces to hold", what, Quote(p.Name))
		}
		if g.Strip != nil {
			c.checkStrip(g, what)
		}
		if len(g.Feet) > 0 {
			c.positive(g.Place, what, "Normal, the stiffness of its feet,", g.Normal)
			c.notNegative(g.Place, what, "Side, the stiffness of its feet along the face,", g.Side)
		}
		c.notNegative(g.Place, what, "bed", g.BedNPerMM3)
	default:
		if g.At == nil {
			c.fault(g.Place, "set At", "%s holds a part, and At does not say where", what)
		}
		for f := MoveX; f <= TurnZ; f++ {
			c.notNegative(g.Place, what, "spring "+f.String(), g.Spring[f])
		}
		if g.Skew != nil {
			c.unit(g.Place, what, "the spring's direction", g.Skew.Direction)
			c.positive(g.Place, what, "the spring's stiffness", g.Skew.Stiffness)
		}
	}
}

// checkStrip: it is a flat box.
func (c *checker) checkStrip(g *Ground, what string) {
	thin := 0
	for k := X; k <= Z; k++ {
		switch size := Component(g.Strip.To, k) - Component(g.Strip.From, k); {
		case math.Abs(size) < squareSlack:
			thin++
		case size < 0:
			c.fault(g.Place, "swap the two", "%s: its strip runs backwards along %s", what, k)
		}
	}
	if thin != 1 {
		c.fault(g.Place, "From and To have one coordinate in common, and only one", "%s: its strip does not lie in a face", what)
	}
}
