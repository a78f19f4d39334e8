package modelfile

import (
	"fmt"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// surfaceWords, screwWords are the words of the trade's tables.
var (
	surfaceWords = wordsOf(joint.Surfaces(), func(s joint.Surface) string { return s.Key })
	screwWords   = wordsOf(joint.Screws(), func(s joint.Screw) string { return s.Size })
)

// jointKeys are the keys of a joint.
var jointKeys = Mapping{
	Name: "joint", About: "Two parts that touch and hold together.",
	Keys: []Key{
		{Name: "between", Takes: rowOf(nameOf("part"), "first", "second"), About: "the two parts"},
		{Name: "if", Takes: truth, Default: "true",
			About: "false leaves the joint out; it goes with either of its parts by itself"},
		{Name: "bonded", Takes: onlyTrue, About: "glued or welded all over the common face"},
		{Name: "screws", Takes: keysOf(&screwsKeys), About: "screwed; each screw is a spring of its own"},
		{Name: "sprung", Takes: keysOf(&sprungKeys), About: "of bars: a hinge, a springy corner"},
		{Name: "surface", Takes: oneWord("surfaces", surfaceWords...), Default: joint.DefaultSurface,
			With:  []string{"screws"},
			About: "how the faces are finished"},
		{Name: "shim", Takes: keysOf(&shimKeys), Default: "none", With: []string{"screws"},
			About: "what lies between the faces"},
		{Name: "drilled", Takes: nameOf("part"), Default: "the thinner one", With: []string{"screws"},
			About: "which of the two has the through holes; the other one is tapped"},
	},
	Choices: [][]string{{"bonded", "screws", "sprung"}},
}

var screwsKeys = Mapping{
	Name: "screws",
	About: "The screws of a joint, spread evenly or at places of the face. Its axes come in the order x, y, z. Past " +
		"the proof stress is a note, past breaking an error; so little thread that it may strip is a note, too.",
	Keys: []Key{
		{Name: "size", Takes: oneWord("screws", screwWords...), About: "the thread"},
		{Name: "class", Takes: oneWord("", joint.Classes()...), Default: "8.8", About: "the property class"},
		{Name: "hole", Takes: either(oneWord("", joint.ClearanceSeries...), sized(aLength)), Default: "medium",
			About: "the through hole: a series of ISO 273, or a diameter"},
		{Name: "head", Takes: oneWord("", joint.Heads...), Default: "proud; sunk where something is in its way",
			About: "how the head sits; sunk is one operation more. Without a word heads stand proud, and are sunk " +
				"where a part, a rail, the ground or the work is in their way anywhere in the work space"},
		{Name: "grid", Takes: rowOf(counted, "along the first axis", "along the second"),
			About: "how many along the face's axes, evenly spread, 1.5 diameters in from the sides"},
		{Name: "at", Takes: listOf(rowOf(sized(aLength), "a", "b")),
			About: "their places, in the world's coordinates on the face"},
		{Name: "torque", Takes: sized(aMoment),
			Default: "75 % of the proof load; into less than two diameters of aluminium what makers of rails allow there",
			About:   "what they are tightened with, 9 N m"},
	},
	Choices: [][]string{{"grid", "at"}},
}

var shimKeys = Mapping{
	Name: "shim", About: "One sheet.",
	Keys: []Key{
		{Name: "if", Takes: truth, Default: "true", About: "false leaves the shim out"},
		{Name: "material", Takes: nameOf("material"), About: "shim-steel, shim-brass, paper or any other material"},
		{Name: "thickness", Takes: sized(aLength), About: "0 is no shim"},
	},
}

var sprungKeys = freedomKeys("sprung", "What the joint gives way in: elsewhere it is rigid.", stiff(aStiffness), stiff(aTurning),
	"rigid",
	Key{Name: "loose", Takes: listOf(oneWord("", machine.FreedomNames[:]...)), Default: "none",
		About: "freedoms in which nothing is carried, a hinge: [ry]"})

// Bounds on what can be said of screws.
const (
	mostGrid    = 100
	leastTorque = 50.0 // N mm; the smallest screw in the table takes some hundreds
)

// decodeJoints reads the joints; the parts must have been read.
func (d *decoder) decodeJoints(n *source.Node) {
	seen := map[[2]int]machine.FilePos{}
	d.listed(n, "joints", func(n *source.Node) {
		f, ok := d.fields(n, &jointKeys)
		if !ok {
			return
		}
		j := machine.Joint{Pos: n.Pos}
		between := f.need("between")
		if between == nil {
			return
		}
		names, known := d.pair(between, "between", &j)
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
			d.fault(between.Pos, fmt.Sprintf("parts %s and %s are joined a second time", machine.Quote(names[0]),
				machine.Quote(names[1])),
				fmt.Sprintf("the first time is on line %d", first.Line))
			return
		}
		seen[key] = between.Pos
		d.m.Joints = append(d.m.Joints, j)
	})
}

// pair reads the two parts of a joint.
func (d *decoder) pair(n *source.Node, key string, j *machine.Joint) (names [2]string, ok bool) {
	if n.Kind != source.List || len(n.Items) != 2 {
		d.fault(n.Pos, key+" must be a list of two parts", "")
		return names, false
	}
	ok = true
	for i, item := range n.Items {
		part, known := d.part(item)
		j.Parts[i], names[i], ok = part, item.Text, ok && known
	}
	if ok && names[0] == names[1] {
		d.fault(n.Items[1].Pos, fmt.Sprintf("part %s is joined to itself", machine.Quote(names[0])), "")
		return names, false
	}
	return names, ok
}

func (d *decoder) fillJoint(j *machine.Joint, f fields, names [2]string) {
	way, n := f.choose("bonded")
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
	f.only(way)
}

// finish reads what only a screwed joint has.
func (d *decoder) finish(j *machine.Joint, f fields, names [2]string) {
	if key := f.word("surface", "surface"); key != "" {
		j.Surface, _ = joint.LookupSurface(key)
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

func (d *decoder) shim(n *source.Node) *machine.Shim {
	f, ok := d.fields(n, &shimKeys)
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
		d.misfit(n.Pos, fmt.Sprintf("thickness must be at least %s, or zero for no shim, not %s", aLength.show(aLength.least),
			aLength.show(s.Thickness)), "")
		ok = false
	}
	return s, ok && s.Key != ""
}

func (d *decoder) screws(n *source.Node) *machine.Screws {
	f, ok := d.fields(n, &screwsKeys)
	if !ok {
		return nil
	}
	s := machine.Screws{Pos: n.Pos}
	f.need("size")
	if size := f.word("size", "screw size"); size != "" {
		s.Size, _ = joint.LookupScrew(size)
	}
	if class := f.word("class", "property class"); class != "" {
		s.Size, _ = s.Size.OfClass(class)
	}
	if n := f.get("hole"); n != nil {
		s.Size.Clearance = d.hole(n, s.Size)
	}
	if head := f.word("head", "head"); head != "" {
		s.Head = joint.HeadOf(head)
	}
	switch way, n := f.choose("grid"); way {
	case "grid":
		s.Grid = d.grid(n)
	case "at":
		s.At, _ = d.places(n, "at")
	}
	if n := f.get("torque"); n != nil {
		torque, ok := d.positive(n, aMoment, "torque")
		if ok && torque < leastTorque {
			d.misfit(n.Pos, fmt.Sprintf("torque of %s would not tighten a screw", aMoment.show(torque)),
				fmt.Sprintf("a plain number is in N mm; did you mean %g N m?", torque))
		}
		s.TorqueNmm, s.TorquePos = torque, n.Pos
	}
	return &s
}

// hole reads the diameter of through holes: a series of the trade, or a length.
func (d *decoder) hole(n *source.Node, size joint.Screw) float64 {
	if mm, ok := size.ThroughHoleOf(n.Text); ok {
		return mm
	}
	if d.isWord(n) {
		d.word(n, "hole", joint.ClearanceSeries)
		return size.Clearance
	}
	mm, _ := d.positive(n, aLength, "hole")
	return mm
}

// grid reads how many screws there are along the two axes of the contact face.
func (d *decoder) grid(n *source.Node) (grid [2]int) {
	if n.Kind != source.List || len(n.Items) != len(grid) {
		d.fault(n.Pos, "grid must be a list of two, [along the first axis, along the second]", "")
		return grid
	}
	for i, item := range n.Items {
		grid[i], _ = d.count(item, "a number of screws", mostGrid)
	}
	return grid
}

func (d *decoder) sprung(n *source.Node) *machine.Sprung {
	f, ok := d.fields(n, &sprungKeys)
	if !ok {
		return nil
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, "sprung joint without a loose or sprung freedom", "write bonded: true")
		return nil
	}
	var s machine.Sprung
	if loose := f.get("loose"); loose != nil {
		s.Loose, _ = d.freedomList(loose, "loose")
	}
	free := 0
	for i, name := range machine.FreedomNames {
		if !s.Loose[i] {
			continue
		}
		free++
		if value := f.get(name); value != nil {
			d.fault(value.Pos, fmt.Sprintf("freedom %s is both loose and sprung", name), "keep one of them")
		}
	}
	s.Stiffness = d.stiffnesses(&s.Unsure, f)
	if free == len(machine.FreedomNames) {
		d.fault(n.Pos, "a joint loose in every freedom joins nothing", "leave it out")
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
