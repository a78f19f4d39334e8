package modelfile

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// mountingKeys say which mounting is meant.
var mountingKeys = []Key{
	{Name: "ground", Takes: nameOf("ground"), About: "a ground, by its name"},
	{Name: "foot", Takes: counted, Default: "all of the ground", With: []string{"ground"}, About: "one of its feet"},
	{Name: "joint", Takes: rowOf(nameOf("part"), "first", "second"), About: "a joint, its parts in the order of joints"},
	{Name: "axis", Takes: nameOf("axis"), About: "an axis, of which"},
	{Name: "rail", Takes: counted, With: []string{"axis"}, About: "a rail, in the order of guides"},
	{Name: "carriage", Takes: counted, Default: "all of the rail", With: []string{"rail"}, About: "one of its carriages"},
	{Name: "nut", Takes: onlyTrue, With: []string{"axis"}, About: "the nut of its screw"},
	{Name: "bearing", Takes: oneWord("", "driven", "far"), With: []string{"axis"}, About: "a bearing of its screw"},
	{Name: "drive", Takes: counted, Default: "the only one", With: []string{"nut", "bearing"},
		About: "which drive, in the order of the file"},
}

var mountingChoices = [][]string{{"ground", "joint", "axis"}, {"rail", "nut", "bearing"}}

// misfitKeys are the keys of a misfit.
var misfitKeys = Mapping{
	Name: "misfit",
	About: "Where something is out of place before it is screwed down, and by how much. Feet, rails, carriages and " +
		"drives are counted from 1, those that are left out among them. A misfit goes with its place.",
	Keys: slices.Concat(mountingKeys, []Key{
		{Name: "if", Takes: truth, Default: "true", About: "false leaves the misfit out"},
		{Name: "high", Takes: offset(aLength), Default: "0", About: "square to the seat, towards what is screwed to it"},
		{Name: "low", Takes: offset(aLength), Default: "0", About: "the opposite of high"},
		{Name: "gap", Takes: offset(aLength), Default: "0",
			About: "by which the second part of a joint stands off; tightening closes it"},
		{Name: "aside", Takes: offset(aLength), Default: "0",
			About: "of a rail or a carriage: towards the larger coordinate"},
		{Name: "twist", Takes: offset(anAngle), Default: "0", About: "of a rail or a carriage: about the axis"},
		{Name: "lean", Takes: keysOf(&leanKeys), Default: "none",
			About: "a turn about an axis, as an indicator tells it over a length"},
		{Name: "by", Takes: vectorOf(aLength), Default: "[0, 0, 0]", About: "along the world's axes"},
	}),
	Choices: mountingChoices,
}

// offset is the type of a size that a rail may have at both its ends.
func offset(m measure) Type {
	return either(sized(m), rowOf(sized(m), "at its from end", "at its to end"))
}

var leanKeys = Mapping{
	Name: "lean", About: "How far a face is out of square.",
	Keys: []Key{
		{Name: "about", Takes: oneWord("", axisNames...), About: "the axis that it is turned about"},
		{Name: "by", Takes: sized(aLength), About: "what the indicator tells"},
		{Name: "over", Takes: sized(aLength), About: "the length over which it does"},
	},
}

// offsetKeys say how far it is out of place.
var offsetKeys = []string{"high", "low", "gap", "aside", "twist", "lean", "by"}

// decodeMisfits reads what does not line up; all that is screwed down must have been read. A misfit of what is left
// out goes with it.
func (d *decoder) decodeMisfits(n *source.Node) {
	d.named(n, "misfits", func(name string, at machine.FilePos, body *source.Node) {
		f, ok := d.fields(body, &misfitKeys, name)
		if !ok {
			return
		}
		m := machine.Misfit{Name: name, Pos: at}
		said := len(d.faults)
		place, included := d.mounting(f)
		m.At = place
		d.misfitNames = append(d.misfitNames, name)
		d.misfits[name] = leftOut
		included = presenceIf(d.included(f.get("if")) && included == present)
		if len(d.faults) > said {
			return // what its sizes mean hangs on where it is
		}
		d.inside(included, func() { d.outOfPlace(&m, f) })
		if included == present && m.From == (machine.Offset{}) && (m.To == nil || *m.To == machine.Offset{}) {
			return // out of place by nothing: none
		}
		if included == present {
			d.misfits[name] = len(d.m.Misfits)
			d.m.Misfits = append(d.m.Misfits, m)
		}
	})
}

// mounting reads which mounting is meant; absent when it is left out or cannot be told.
func (d *decoder) mounting(f fields) (at machine.Mounting, included presence) {
	way, n := f.choose("ground")
	switch way {
	case "ground":
		f.without("ground", "rail", "carriage", "nut", "bearing", "drive")
		return d.groundMounting(f, n)
	case "joint":
		f.without("joint", "foot", "rail", "carriage", "nut", "bearing", "drive")
		return d.jointMounting(n)
	case "axis":
		f.without("axis", "foot")
		return d.axisMounting(f, n)
	}
	return at, absent
}

// without reports keys that have no place beside the one that decides.
func (f fields) without(beside string, keys ...string) {
	for _, key := range keys {
		if n := f.get(key); n != nil {
			f.d.fault(n.Pos, fmt.Sprintf("%s has no place beside %s", key, beside), "")
		}
	}
}

func (d *decoder) groundMounting(f fields, n *source.Node) (at machine.Mounting, included presence) {
	at = machine.Mounting{Kind: machine.AtGround, Foot: -1}
	i, ok := d.reference(n, "ground", d.grounds, d.groundNames)
	if !ok || i == leftOut {
		return at, absent
	}
	at.Ground = i
	foot := f.get("foot")
	if foot == nil {
		return at, present
	}
	feet := len(d.m.Grounds[i].Feet)
	if feet == 0 {
		d.fault(foot.Pos, fmt.Sprintf("ground %s has no feet", machine.Quote(n.Text)), "leave foot out: all of it is meant")
		return at, absent
	}
	k, ok := d.count(foot, "foot", feet)
	at.Foot = k - 1
	return at, presenceIf(ok)
}

func (d *decoder) jointMounting(n *source.Node) (at machine.Mounting, included presence) {
	at = machine.Mounting{Kind: machine.AtJoint}
	var j machine.Joint
	names, ok := d.pair(n, "joint", &j)
	if !ok || j.Parts[0] == leftOut || j.Parts[1] == leftOut {
		return at, absent
	}
	at.Joint = slices.IndexFunc(d.m.Joints, func(o machine.Joint) bool { return o.Parts == j.Parts })
	if at.Joint >= 0 {
		return at, present
	}
	turned := [2]int{j.Parts[1], j.Parts[0]}
	if slices.ContainsFunc(d.m.Joints, func(o machine.Joint) bool { return o.Parts == turned }) {
		d.fault(n.Pos, fmt.Sprintf("the joint is between %s and %s, in that order", names[1], names[0]),
			"the second part is the one that stands off; write them as under joints")
		return at, absent
	}
	for _, o := range d.leftOutJoints {
		if o == j.Parts {
			return at, absent
		}
	}
	d.fault(n.Pos, fmt.Sprintf("parts %s and %s are not joined", machine.Quote(names[0]), machine.Quote(names[1])),
		"name the two parts of a joint")
	return at, absent
}

func (d *decoder) axisMounting(f fields, n *source.Node) (at machine.Mounting, included presence) {
	i, ok := d.reference(n, "axis", d.axes, d.axisKeys)
	way, which := f.choose("rail")
	if !ok || which == nil {
		return at, absent
	}
	if i == leftOut {
		return at, absent
	}
	at.Axis = i
	a := &d.m.Axes[i]
	if way == "rail" {
		f.without("rail", "drive")
		return d.railMounting(f, a, at, which)
	}
	f.without(way, "carriage")
	at.Kind = machine.AtNut
	if way == "nut" {
		d.isTrue(which, way)
	} else {
		word := f.word("bearing", "bearing")
		if word == "" {
			return at, absent
		}
		at.Kind = machine.AtBearing
		if word == "far" {
			at.Kind = machine.AtFarBearing
		}
	}
	return d.driveMounting(f, a, at, which)
}

func (d *decoder) driveMounting(f fields, a *machine.FeedAxis, at machine.Mounting, which *source.Node) (machine.Mounting,
	presence) {
	number := f.get("drive")
	switch {
	case len(a.Drives) == 0:
		return at, absent
	case number != nil:
		k, ok := d.count(number, "drive", len(d.driven[a.Name]))
		if !ok || d.driven[a.Name][k-1] == leftOut {
			return at, absent // a drive that is left out takes it along
		}
		at.Drive = d.driven[a.Name][k-1]
	case len(a.Drives) > 1:
		d.fault(which.Pos, fmt.Sprintf("axis %s has %d drives", machine.Quote(a.Name), len(a.Drives)),
			"say which: drive: 1")
		return at, absent
	}
	if a.Drives[at.Drive].Kind != machine.ByScrew {
		d.fault(which.Pos, fmt.Sprintf("axis %s is not driven by a screw", machine.Quote(a.Name)),
			"nut and bearings belong to a screw")
		return at, absent
	}
	return at, present
}

func (d *decoder) railMounting(f fields, a *machine.FeedAxis, at machine.Mounting, which *source.Node) (machine.Mounting,
	presence) {
	at.Kind = machine.AtRail
	rails := d.rails[a.Name]
	if rails == 0 {
		d.fault(which.Pos, fmt.Sprintf("axis %s runs on no rails", machine.Quote(a.Name)), "")
		return at, absent
	}
	k, ok := d.count(which, "rail", rails)
	if !ok {
		return at, absent
	}
	name := fmt.Sprintf("rail %d", k)
	at.Guide = slices.IndexFunc(a.Guides, func(g machine.Guide) bool { return g.Name == name })
	if at.Guide < 0 {
		return at, absent // it went with its part
	}
	if n := f.get("carriage"); n != nil {
		at.Kind = machine.AtCarriage
		c, ok := d.count(n, "carriage", len(a.Guides[at.Guide].Carriages))
		if !ok {
			return at, absent
		}
		at.Carriage = c - 1
	}
	return at, present
}

// outOfPlace reads how far a mounting is out of place.
func (d *decoder) outOfPlace(m *machine.Misfit, f fields) {
	var from, to machine.Offset
	atEnds, before := false, len(d.faults)
	size := func(key string, measure measure, set func(o *machine.Offset, v float64)) {
		n := f.get(key)
		if n == nil {
			return
		}
		if n.Kind == source.List && m.At.Kind == machine.AtRail {
			if x, ok := d.numbers(n, measure, key, "at its from end", "at its to end"); ok && d.small(n, measure, key, x...) {
				set(&from, x[0])
				set(&to, x[1])
				atEnds = true
			}
			return
		}
		if n.Kind == source.List {
			d.fault(n.Pos, key+" must be a single value: only a rail has one at each end", "")
			return
		}
		if x, ok := d.number(n, measure); ok && d.small(n, measure, key, x) {
			set(&from, x)
			set(&to, x)
		}
	}
	for _, pair := range [][2]string{{"high", "low"}, {"high", "gap"}, {"low", "gap"}} {
		if f.get(pair[0]) != nil && f.get(pair[1]) != nil {
			d.fault(f.get(pair[1]).Pos, fmt.Sprintf("%s has both %s and %s", f.what, pair[0], pair[1]), "keep one of them")
		}
	}
	size("high", aLength, func(o *machine.Offset, v float64) { o.High = v })
	size("low", aLength, func(o *machine.Offset, v float64) { o.High = -v })
	size("gap", aLength, func(o *machine.Offset, v float64) { o.High = -v })
	size("aside", aLength, func(o *machine.Offset, v float64) { o.Aside = v })
	size("twist", anAngle, func(o *machine.Offset, v float64) { o.Twist = v })
	if n := f.get("gap"); n != nil && math.Max(from.High, to.High) > 0 {
		d.misfit(n.Pos, fmt.Sprintf("gap must be positive, not %s", aLength.show(-math.Max(from.High, to.High))),
			"say high: … if it stands proud")
	}
	by, turn := d.optionalVector(f.get("by"), aLength, "by"), d.lean(f.get("lean"))
	d.small(f.get("by"), aLength, "by", by.X, by.Y, by.Z)
	d.small(f.get("lean"), anAngle, "lean", r3.Norm(turn))
	for _, o := range []*machine.Offset{&from, &to} {
		o.By, o.Turn = by, turn
	}
	m.From = from
	if atEnds {
		m.To = &to
	}
	if len(d.faults) == before {
		d.sensible(m, f)
	}
}

// small reports sizes of a misfit that are beyond belief: mostly those without their unit, or with a wrong one.
func (d *decoder) small(n *source.Node, measure measure, key string, sizes ...float64) bool {
	most := machine.LargestMisfit
	if measure.name == anAngle.name {
		most = machine.LargestLean
	}
	for _, x := range sizes {
		if math.Abs(x) > most {
			d.misfit(n.Pos, fmt.Sprintf("%s is too large for a misfit: %s, at most %s", key, measure.show(x),
				measure.show(most)), "look for a wrong unit")
			return false
		}
	}
	return true
}

// sensible reports an offset that the mounting cannot have, at the key that says it.
func (d *decoder) sensible(m *machine.Misfit, f fields) {
	screw := m.At.Kind >= machine.AtNut
	rail := m.At.Kind == machine.AtRail || m.At.Kind == machine.AtCarriage
	flat := !screw && (m.At.Kind != machine.AtGround || d.idle || d.m.Grounds[m.At.Ground].OnFace())
	said := f.misspelt(offsetKeys...)
	for _, key := range offsetKeys {
		n := f.get(key)
		if n == nil {
			continue
		}
		said = true
		switch {
		case (key == "aside" || key == "twist") && !rail:
			d.fault(n.Pos, fmt.Sprintf("%s is for a rail or a carriage", key), "write by: [x, y, z] or lean: {about, by, over}")
		case (key == "high" || key == "low" || key == "gap") && !flat:
			d.fault(n.Pos, fmt.Sprintf("nothing says which way %s is here", key), "write by: [x, y, z]")
		case key == "lean" && screw:
			d.fault(n.Pos, "a nut or a bearing that leans is not modelled", "write by: [x, y, z], how far it is beside its line")
		}
	}
	if !said {
		d.fault(f.node.Pos, f.what+" says not how far it is out of place",
			"one of: high, low, gap, aside, twist, lean, by")
		return
	}
	if n := f.get("by"); n != nil && (screw || rail) && !d.idle {
		what := "rail"
		if screw {
			what = "screw"
		}
		if along := d.m.Axes[m.At.Axis].Along; machine.Component(m.From.By, along) != 0 {
			d.misfit(n.Pos, fmt.Sprintf("by is along the %s, which runs along %s", what, along), "give what is across it")
		}
	}
}

// lean reads how far a face is out of square: a turn about an axis, as an indicator tells it over a length.
func (d *decoder) lean(n *source.Node) r3.Vec {
	if n == nil {
		return r3.Vec{}
	}
	f, ok := d.fields(n, &leanKeys)
	if !ok {
		return r3.Vec{}
	}
	about, by, over := f.need("about"), f.need("by"), f.need("over")
	if about == nil || by == nil || over == nil {
		return r3.Vec{}
	}
	word, known := d.word(about, "axis", axisNames)
	x, isSize := d.number(by, aLength)
	length, isLength := d.positive(over, aLength, "over")
	if !known || !isSize || !isLength {
		return r3.Vec{}
	}
	return r3.Scale(x/length, machine.Axis(slices.Index(axisNames, word)).Direction())
}
