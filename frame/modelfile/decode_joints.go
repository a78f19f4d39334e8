package modelfile

import (
	"fmt"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// Bounds on what can be said of screws.
const (
	mostGrid    = 100
	leastTorque = 50.0 // N mm; the smallest screw in the table takes some hundreds
)

// jointWays are the keys of which a joint has one.
var jointWays = []string{"bonded", "screws", "sprung"}

// decodeJoints reads the joints; the parts must have been read.
func (d *decoder) decodeJoints(n *node) {
	seen := map[[2]int]machine.FilePos{}
	d.listed(n, "joints", func(n *node) {
		f, ok := d.fields(n, "joint", append([]string{"between", "if", "surface", "shim", "drilled"}, jointWays...)...)
		if !ok {
			return
		}
		j := machine.Joint{Pos: n.pos}
		between := f.need("between")
		if between == nil {
			return
		}
		names, known := d.pair(between, &j)
		included := d.included(f.get("if")) && !(known && (j.Parts[0] == leftOut || j.Parts[1] == leftOut))
		d.inside(presenceIf(included), func() { d.fillJoint(&j, f, names) })
		if !included && known {
			d.leftOutJoints = append(d.leftOutJoints, j.Parts)
		}
		if !included || !known {
			return
		}
		key := [2]int{min(j.Parts[0], j.Parts[1]), max(j.Parts[0], j.Parts[1])}
		if first, twice := seen[key]; twice {
			d.fault(between.pos, fmt.Sprintf("parts %s and %s are joined a second time", machine.Quote(names[0]),
				machine.Quote(names[1])),
				fmt.Sprintf("the first time is on line %d", first.Line))
			return
		}
		seen[key] = between.pos
		d.m.Joints = append(d.m.Joints, j)
	})
}

// pair reads the two parts of a joint.
func (d *decoder) pair(n *node, j *machine.Joint) (names [2]string, ok bool) {
	if n.kind != list || len(n.items) != 2 {
		d.fault(n.pos, "between must be a list of two parts", "")
		return names, false
	}
	ok = true
	for i, item := range n.items {
		part, known := d.part(item)
		j.Parts[i], names[i], ok = part, item.text, ok && known
	}
	if ok && names[0] == names[1] {
		d.fault(n.items[1].pos, fmt.Sprintf("part %s is joined to itself", machine.Quote(names[0])), "")
		return names, false
	}
	return names, ok
}

func (d *decoder) fillJoint(j *machine.Joint, f fields, names [2]string) {
	way, n := f.oneOf(jointWays...)
	switch way {
	case "bonded":
		d.isTrue(n, way)
		j.Bonded = true
	case "screws":
		j.Screws = d.screws(n)
		d.finish(j, f, names)
		return
	case "sprung":
		j.Sprung = d.sprung(n)
	default:
		return
	}
	f.only(way, "between", "if", way)
}

// finish reads what only a screwed joint has.
func (d *decoder) finish(j *machine.Joint, f fields, names [2]string) {
	if n := f.get("surface"); n != nil {
		var known []string
		for _, s := range joint.Surfaces() {
			known = append(known, s.Key)
		}
		if key, ok := d.word(n, "surface", known); ok {
			j.Surface, _ = joint.LookupSurface(key)
		}
	}
	if n := f.get("shim"); n != nil {
		j.Shim = d.shim(n)
	}
	if n := f.get("drilled"); n != nil {
		if part, ok := d.word(n, "drilled part", names[:]); ok {
			j.Drilled = machine.DrilledFirst
			if part == names[1] {
				j.Drilled = machine.DrilledSecond
			}
		}
	}
}

// builtInPaper is the key of the one material of the table whose stiffness follows the pressure on it. A material that
// the file defines under the same name is what the file says.
const builtInPaper = "paper"

func (d *decoder) shim(n *node) *machine.Shim {
	f, ok := d.fields(n, "shim", "if", "material", "thickness")
	if !ok {
		return nil
	}
	included, read := d.included(f.get("if")), false
	var s machine.Shim
	d.inside(presenceIf(included), func() { s, read = d.sheet(f) })
	if !included || read && s.Thickness == 0 { // zero is none, so that an option can do without
		return nil
	}
	return &s
}

// sheet reads what one sheet of a shim is of, zero thick for none, and tells whether it could.
func (d *decoder) sheet(f fields) (s machine.Shim, ok bool) {
	if n := f.need("material"); n != nil {
		s.Key, s.Material, _ = d.materialKey(n)
		_, own := d.materials[s.Key]
		s.Paper = s.Key == builtInPaper && !own
	}
	n := f.need("thickness")
	if n == nil {
		return s, false
	}
	if s.Thickness, ok = d.number(n, aLength); ok && s.Thickness != 0 && s.Thickness < aLength.least {
		d.misfit(n.pos, fmt.Sprintf("thickness must be at least %s, or zero for no shim, not %s", aLength.show(aLength.least),
			aLength.show(s.Thickness)), "")
		ok = false
	}
	return s, ok && s.Key != ""
}

func (d *decoder) screws(n *node) *machine.Screws {
	f, ok := d.fields(n, "screws", "size", "class", "hole", "head", "grid", "at", "torque")
	if !ok {
		return nil
	}
	s := machine.Screws{Pos: n.pos}
	if n := f.need("size"); n != nil {
		var known []string
		for _, k := range joint.Screws() {
			known = append(known, k.Size)
		}
		if size, ok := d.word(n, "screw size", known); ok {
			s.Size, _ = joint.LookupScrew(size)
		}
	}
	if n := f.get("class"); n != nil {
		if class, ok := d.word(n, "property class", joint.Classes()); ok {
			s.Size, _ = s.Size.OfClass(class)
		}
	}
	if n := f.get("hole"); n != nil {
		s.Size.Clearance = d.hole(n, s.Size)
	}
	if n := f.get("head"); n != nil {
		if head, ok := d.word(n, "head", joint.Heads); ok {
			s.Head = joint.HeadOf(head)
		}
	}
	switch way, n := f.oneOf("grid", "at"); way {
	case "grid":
		s.Grid = d.grid(n)
	case "at":
		s.At, _ = d.places(n, "at")
	}
	if n := f.get("torque"); n != nil {
		torque, ok := d.positive(n, aMoment, "torque")
		if ok && torque < leastTorque {
			d.misfit(n.pos, fmt.Sprintf("torque of %s would not tighten a screw", aMoment.show(torque)),
				fmt.Sprintf("a plain number is in N mm; did you mean %g N m?", torque))
		}
		s.TorqueNmm, s.TorquePos = torque, n.pos
	}
	return &s
}

// hole reads the diameter of through holes: a series of the trade, or a length.
func (d *decoder) hole(n *node, size joint.Screw) float64 {
	if mm, ok := size.ThroughHoleOf(n.text); ok {
		return mm
	}
	if near := machine.Nearest(n.text, joint.ClearanceSeries); len(near) > 0 && d.scope.definitions[n.text] == nil {
		d.word(n, "hole", joint.ClearanceSeries)
		return size.Clearance
	}
	mm, _ := d.positive(n, aLength, "hole")
	return mm
}

// grid reads how many screws there are along the two axes of the contact face.
func (d *decoder) grid(n *node) (grid [2]int) {
	if n.kind != list || len(n.items) != len(grid) {
		d.fault(n.pos, "grid must be a list of two, [along the first axis, along the second]", "")
		return grid
	}
	for i, item := range n.items {
		grid[i], _ = d.count(item, "a number of screws", mostGrid)
	}
	return grid
}

func (d *decoder) sprung(n *node) *machine.Sprung {
	f, ok := d.fields(n, "sprung", append([]string{"loose"}, machine.FreedomNames[:]...)...)
	if !ok {
		return nil
	}
	if len(n.pairs) == 0 {
		d.fault(n.pos, "sprung joint without a loose or sprung freedom", "write bonded: true")
		return nil
	}
	var s machine.Sprung
	if loose := f.get("loose"); loose != nil {
		s.Loose, _ = d.freedomList(loose, "loose")
	}
	free := 0
	for i, name := range machine.FreedomNames {
		if s.Loose[i] {
			free++
		}
		value := f.get(name)
		if value == nil {
			continue
		}
		if s.Loose[i] {
			d.fault(value.pos, fmt.Sprintf("freedom %s is both loose and sprung", name), "keep one of them")
		}
		s.Stiffness[i], _ = d.positive(value, stiffnessOf(machine.Freedom(i)), "stiffness "+name)
	}
	if free == len(machine.FreedomNames) {
		d.fault(n.pos, "a joint loose in every freedom joins nothing", "leave it out")
	}
	return &s
}

// stiffnessOf gives the measure of a stiffness against a freedom.
func stiffnessOf(f machine.Freedom) measure {
	if f >= machine.TurnX {
		return aTurning
	}
	return aStiffness
}
