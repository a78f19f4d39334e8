package modelfile

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// partKeys are the keys of a part.
var partKeys = Mapping{
	Name: "part", About: "One piece of metal.",
	Keys: []Key{
		{Name: "if", Takes: truth, Default: "true",
			About: "false leaves the part out, with its joints, grounds, points and loads"},
		{Name: "plate", Takes: keysOf(&plateKeys), About: "a block along the axes, or what is sawn from it"},
		{Name: "gusset", Takes: keysOf(&gussetKeys), About: "a plate in the shape of a right triangle"},
		{Name: "bar", Takes: keysOf(&barKeys), About: "a straight bar of one section"},
		{Name: "section", Takes: keysOf(&sectionKeys), With: []string{"bar"}, About: "the bar's section"},
		{Name: "up", Takes: vectorOf(aNumber), Default: "z; y for an upright bar", With: []string{"bar"},
			About: "which way the height of the section points"},
		{Name: "material", Takes: nameOf("material"), About: "one of tiploop tables materials, or your own"},
	},
	Choices: [][]string{{"plate", "gusset", "bar"}},
}

var plateKeys = Mapping{
	Name: "plate", About: "Two opposite corners.",
	Keys: []Key{
		{Name: "from", Takes: vectorOf(aLength), About: "the corner with the smaller coordinates"},
		{Name: "to", Takes: vectorOf(aLength), About: "the corner with the larger ones"},
		{Name: "outline", Takes: anyText, Default: "all of the block",
			About: "what is sawn from it, right through its thickness, as the path of an SVG drawing in mm, its y down: " +
				"\"M 0 0 H 200 V 60 L 120 90 H 0 Z\"; subpaths within are windows. Drawn as seen from the front, the top or " +
				"the right; its left and upper ends lie on the block's, which must be as wide and as high. A value may be a " +
				"path, so that options have different ones"},
	},
}

var gussetKeys = Mapping{
	Name: "gusset", About: "A right triangle; its legs and its thickness take one axis each.",
	Keys: []Key{
		{Name: "corner", Takes: vectorOf(aLength), About: "where its right angle is"},
		{Name: "legs", Takes: rowOf(vectorOf(aLength), "first", "second"), About: "from the corner along two axes"},
		{Name: "thickness", Takes: vectorOf(aLength), About: "from the corner along the third axis"},
	},
}

var barKeys = Mapping{
	Name: "bar", About: "The two ends of its centre line.",
	Keys: []Key{
		{Name: "from", Takes: vectorOf(aLength), About: "one end; places along the bar are measured from it"},
		{Name: "to", Takes: vectorOf(aLength), About: "the other end"},
	},
}

// decodeParts reads the parts. All names are known before the first part is read.
func (d *decoder) decodeParts(n *source.Node) {
	d.named(n, "parts", func(name string, _ machine.FilePos, _ *source.Node) {
		d.partNames = append(d.partNames, name)
		d.parts[name] = leftOut
	})
	if n != nil && (n.Kind == source.Nothing || n.Kind == source.Mapping && len(n.Pairs) == 0) {
		d.fault(n.Pos, "there are no parts", "")
		return
	}
	d.named(n, "parts", d.decodePart)
	if len(d.m.Parts) == 0 && len(d.partNames) > 0 {
		d.fault(n.Pos, "every part is left out", "")
	}
}

// partKinds are the kinds of parts that a file knows: a new kind is one line here, and its keys in partKeys. known says
// whether the material is.
var partKinds = map[string]func(d *decoder, part *machine.Part, n *source.Node, f fields, known bool){
	"plate":  func(d *decoder, part *machine.Part, n *source.Node, _ fields, _ bool) { part.Plate = d.plate(n) },
	"gusset": func(d *decoder, part *machine.Part, n *source.Node, _ fields, _ bool) { part.Gusset = d.gusset(n) },
	"bar":    (*decoder).barPart,
}

func (d *decoder) decodePart(name string, at machine.FilePos, body *source.Node) {
	f, ok := d.fields(body, &partKeys, name)
	included := presenceIf(ok && d.included(f.get("if")) || !ok)
	part := machine.Part{Name: name, Pos: at}
	if ok {
		d.inside(included, func() { d.fillPart(&part, f) })
	}
	if included == present {
		d.parts[name] = len(d.m.Parts)
		d.m.Parts = append(d.m.Parts, part)
	}
}

func (d *decoder) fillPart(part *machine.Part, f fields) {
	known := false
	if n := f.need("material"); n != nil {
		part.Material, known = d.material(n)
	}
	key, n := f.choose("plate")
	if n == nil {
		return
	}
	f.only(key)
	partKinds[key](d, part, n, f, known)
}

// barPart reads a bar and its section.
func (d *decoder) barPart(part *machine.Part, n *source.Node, f fields, known bool) {
	part.Bar = d.bar(n, f.get("up"))
	section := f.need("section")
	if section == nil || part.Bar == nil {
		return
	}
	part.Bar.Shape = d.section(section, part.Material)
	if part.Bar.Shape == nil || !known || part.Material.E == 0 {
		return
	}
	var err error
	if part.Bar.Section, err = d.sections.of(part.Bar.Shape, part.Material.Nu); err != nil {
		d.sectionFault(section, err)
	}
}

// corners reads a mapping of from and to, with what else it has.
func (d *decoder) corners(n *source.Node, of *Mapping) (f fields, from, to r3.Vec, ok bool) {
	f, ok = d.fields(n, of)
	if !ok {
		return f, from, to, false
	}
	start, end := f.need("from"), f.need("to")
	if start == nil || end == nil {
		return f, from, to, false
	}
	from, fromOK := d.vector(start, aLength, "from")
	to, toOK := d.vector(end, aLength, "to")
	return f, from, to, fromOK && toOK
}

// plate reads a block; nil when it cannot be used.
func (d *decoder) plate(n *source.Node) *machine.Plate {
	f, from, to, ok := d.corners(n, &plateKeys)
	if !ok {
		return nil
	}
	for a := machine.X; a <= machine.Z; a++ {
		lo, hi := machine.Component(from, a), machine.Component(to, a)
		at := n.Find("to").Value.Items[a].Pos
		switch {
		case math.Abs(hi-lo) < aLength.least:
			d.misfit(at, fmt.Sprintf("plate has no thickness along %s: from %g to %g mm", a, lo, hi), "")
			ok = false
		case hi < lo:
			d.misfit(at, fmt.Sprintf("plate runs backwards along %s: from %g to %g mm", a, lo, hi), "swap the two")
			ok = false
		}
	}
	if !ok {
		return nil
	}
	p := &machine.Plate{From: from, To: to}
	if path := f.get("outline"); path != nil && !d.sawn(p, path) {
		return nil
	}
	return p
}

// gusset reads a right triangle; nil when it cannot be used.
func (d *decoder) gusset(n *source.Node) *machine.Gusset {
	f, ok := d.fields(n, &gussetKeys)
	if !ok {
		return nil
	}
	corner, legs, thickness := f.need("corner"), f.need("legs"), f.need("thickness")
	if corner == nil || legs == nil || thickness == nil {
		return nil
	}
	var g machine.Gusset
	g.Corner, ok = d.vector(corner, aLength, "corner")
	if legs.Kind != source.List || len(legs.Items) != 2 {
		d.fault(legs.Pos, "legs must be a list of two, [[x, y, z], [x, y, z]]", "")
		return nil
	}
	var axes []machine.Axis
	edge := func(n *source.Node, what string) r3.Vec {
		v, a, fits := d.alongAxis(n, what)
		ok = ok && fits
		if fits && slices.Contains(axes, a) {
			d.misfit(n.Pos, fmt.Sprintf("%s runs along %s like an edge before it", what, a),
				"the legs and the thickness take one axis each")
			ok = false
		}
		axes = append(axes, a)
		return v
	}
	g.Legs = [2]r3.Vec{edge(legs.Items[0], "leg"), edge(legs.Items[1], "leg")}
	g.Thickness = edge(thickness, "thickness")
	if !ok {
		return nil
	}
	return &g
}

// alongAxis reads a vector that must run along one of the world's axes.
func (d *decoder) alongAxis(n *source.Node, what string) (r3.Vec, machine.Axis, bool) {
	v, ok := d.vector(n, aLength, what)
	if !ok {
		return v, machine.X, false
	}
	along, count := machine.RunsAlong(v)
	switch count {
	case 0:
		d.misfit(n.Pos, fmt.Sprintf("%s has no length", what), "")
	case 1:
		return v, along, true
	default:
		d.misfit(n.Pos, fmt.Sprintf("%s must run along one axis: two of its numbers must be zero", what), "")
	}
	return v, along, false
}

// bar reads the line of a bar and which way is up; nil when it cannot be used.
func (d *decoder) bar(n, up *source.Node) *machine.Bar {
	_, from, to, ok := d.corners(n, &barKeys)
	if !ok {
		return nil
	}
	line := r3.Sub(to, from)
	if r3.Norm(line) < aLength.least {
		d.misfit(n.Pos, "bar has no length: it ends where it begins", "")
		return nil
	}
	line = r3.Unit(line)
	var upward r3.Vec
	if up != nil {
		if upward, ok = d.direction(up, "up"); !ok {
			return nil
		}
		if r3.Norm(r3.Cross(line, upward)) < machine.Parallel {
			d.misfit(up.Pos, "up runs along the bar", "it says which way the height of the section points")
			return nil
		}
	}
	return &machine.Bar{From: from, To: to, Up: machine.SquareUp(r3.Sub(to, from), upward)}
}
