package modelfile

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// groundKeys are the keys of a ground.
var groundKeys = Mapping{
	Name: "ground", About: "What holds one part to the world. It goes with its part.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), About: "the part that stands on it"},
		{Name: "name", Takes: anyText, Default: "none", About: "for misfits, shims and settle"},
		{Name: "if", Takes: truth, Default: "true", About: "false leaves the ground out"},
		{Name: "fixed", Takes: onlyTrue, About: "a face that cannot move"},
		{Name: "strip", Takes: keysOf(&stripKeys), About: "a part of a face that cannot move"},
		{Name: "feet", Takes: listOf(rowOf(sized(aLength), "a", "b")), About: "places of springy feet on a face"},
		{Name: "hold", Takes: listOf(oneWord("", machine.FreedomNames[:]...)),
			About: "freedoms held at one point, [x, y, z, rx, ry, rz]"},
		{Name: "spring", Takes: either(keysOf(&springKeys), keysOf(&skewKeys)), About: "springs at one point"},
		{Name: "bed", Takes: either(stiff(aBedUnder), keysOf(&bedKeys)),
			About: "an elastic bed, under a plate's face or along a bar"},
		{Name: "face", Takes: oneWord("", machine.FaceNames[:]...), With: []string{"fixed", "feet", "bed"},
			About: "which side of the plate; a bed along a bar has none"},
		{Name: "stiffness", Takes: stiff(aStiffness), With: []string{"feet"},
			About: "of each foot, square to the face: 40 N/um"},
		{Name: "side", Takes: stiff(aStiffness), Default: "as stiffness", With: []string{"feet"},
			About: "of each foot, along the face"},
		{Name: "at", Takes: vectorOf(aLength), With: []string{"hold", "spring"}, About: "where the point is"},
	},
	Choices: [][]string{{"fixed", "strip", "feet", "hold", "spring", "bed"}},
}

var stripKeys = Mapping{
	Name: "strip", About: "A flat box in a face: from and to have one number in common.",
	Keys: []Key{
		{Name: "from", Takes: vectorOf(aLength), About: "the corner with the smaller coordinates"},
		{Name: "to", Takes: vectorOf(aLength), About: "the corner with the larger ones"},
	},
}

var springKeys = freedomKeys("spring", "Stiffnesses along and about the axes.", stiff(aStiffness),
	stiff(aTurning), "free")

var skewKeys = Mapping{
	Name: "spring", About: "One spring along any direction.",
	Keys: []Key{
		{Name: "along", Takes: vectorOf(aNumber), About: "its direction; its length is of no account"},
		{Name: "stiffness", Takes: stiff(aStiffness), About: "of the spring"},
	},
}

var bedKeys = Mapping{
	Name: "bed", About: "Along a bar, stiffness per length by axis.",
	Keys: []Key{
		{Name: "x", Takes: sized(aBedAlong), Default: "free", About: "along x"},
		{Name: "y", Takes: sized(aBedAlong), Default: "free", About: "along y"},
		{Name: "z", Takes: sized(aBedAlong), Default: "free", About: "along z"},
	},
}

// decodeGrounds reads the grounds; the parts must have been read.
func (d *decoder) decodeGrounds(n *source.Node) {
	number := 0
	d.listed(n, "grounds", func(n *source.Node) {
		number++
		f, ok := d.fields(n, &groundKeys)
		if !ok {
			return
		}
		g := machine.Ground{Number: number, Pos: n.Pos}
		part := f.need("part")
		known := false
		if part != nil {
			g.Part, known = d.part(part)
		}
		included := d.included(f.get("if")) && !(known && g.Part == leftOut)
		if n := f.get("name"); n != nil {
			g.Name, _ = d.name(n, "name")
			d.nameGround(g.Name, n.Pos, presenceIf(included && known))
		}
		if !known {
			return
		}
		d.inside(presenceIf(included), func() { d.fillGround(&g, f) })
		if included {
			d.m.Grounds = append(d.m.Grounds, g)
		}
	})
}

// nameGround notes the name of the ground that comes next. Two may share a name when only one of them is in the
// machine.
func (d *decoder) nameGround(name string, at machine.FilePos, is presence) {
	old, known := d.grounds[name]
	if !known {
		d.groundNames = append(d.groundNames, name)
		d.grounds[name] = leftOut
	}
	if is == absent {
		return
	}
	if known && old != leftOut {
		d.fault(at, fmt.Sprintf("ground %s stands here a second time", machine.Quote(name)), "")
	}
	d.grounds[name] = len(d.m.Grounds)
}

func (d *decoder) fillGround(g *machine.Ground, f fields) {
	way, n := f.choose("fixed")
	if n == nil {
		return
	}
	f.only(way)
	switch way {
	case "fixed":
		d.isTrue(n, way)
		g.Fixed = true
		d.face(g, f)
	case "strip":
		d.onPlate(g, n, way)
		g.Strip = d.strip(n)
	case "feet":
		g.Feet, _ = d.places(n, way)
		d.face(g, f)
		d.footStiffness(g, f)
	case "hold":
		g.Hold, _ = d.freedomList(n, way)
		g.At = d.groundPlace(f)
	case "spring":
		d.spring(g, n)
		g.At = d.groundPlace(f)
	case "bed":
		d.bed(g, n, f)
	}
}

// onPlate reports a way of grounding that needs faces on a part that has none. Nothing is said of a part left out.
func (d *decoder) onPlate(g *machine.Ground, n *source.Node, way string) {
	if g.Part == leftOut {
		return
	}
	p, hint := &d.m.Parts[g.Part], ""
	switch p.Kind().(type) {
	case nil, *machine.Plate:
		return
	case *machine.Bar:
		hint = "hold a bar at a point, or along it by a bed"
	}
	what := fmt.Sprintf("%s needs a plate; part %s is a %s", way, machine.Quote(p.Name), p.Kind().KindName())
	d.fault(n.Pos, what, hint)
}

func (d *decoder) face(g *machine.Ground, f fields) {
	n := f.need("face")
	if n == nil {
		return
	}
	if word, ok := d.word(n, "face", machine.FaceNames[:]); ok {
		g.Face = machine.Face(slices.Index(machine.FaceNames[:], word))
		d.onPlate(g, n, "face")
	}
}

// strip reads a flat box; nil when it cannot be used.
func (d *decoder) strip(n *source.Node) *machine.Region {
	_, from, to, ok := d.corners(n, &stripKeys)
	if !ok {
		return nil
	}
	strip := &machine.Region{From: from, To: to}
	zero, backwards := strip.Sides()
	for _, a := range backwards {
		d.misfit(n.Find("to").Value.Items[a].Pos, fmt.Sprintf("strip runs backwards along %s: from %g to %g mm", a,
			machine.Component(from, a), machine.Component(to, a)), "swap the two")
		ok = false
	}
	if zero != 1 {
		d.misfit(n.Pos, "strip must lie in a face: from and to must have one number in common, and only one", "")
		ok = false
	}
	if !ok {
		return nil
	}
	return strip
}

func (d *decoder) footStiffness(g *machine.Ground, f fields) {
	if n := f.need("stiffness"); n != nil {
		g.Normal, _ = d.unsure(&g.Unsure, n, aStiffness, "stiffness", "stiffness")
	}
	if n := f.get("side"); n != nil {
		g.Side, _ = d.unsure(&g.Unsure, n, aStiffness, "side", "side")
	}
}

// groundPlace reads where a part is held; nil when it cannot be used.
func (d *decoder) groundPlace(f fields) *r3.Vec {
	n := f.need("at")
	if n == nil {
		return nil
	}
	at, ok := d.vector(n, aLength, "at")
	if !ok {
		return nil
	}
	return &at
}

// spring reads springs along and about the axes, or one along any direction.
func (d *decoder) spring(g *machine.Ground, n *source.Node) {
	if n.Kind != source.Mapping || n.Find("along") == nil && n.Find("stiffness") == nil {
		if f, ok := d.fields(n, &springKeys); ok {
			if len(n.Pairs) == 0 {
				d.fault(n.Pos, "spring is empty", "one of: "+strings.Join(machine.FreedomNames[:], ", "))
			}
			g.Spring = d.stiffnesses(&g.Unsure, f)
		}
		return
	}
	f, ok := d.fields(n, &skewKeys)
	if !ok {
		return
	}
	along, stiffness := f.need("along"), f.need("stiffness")
	if along == nil || stiffness == nil {
		return
	}
	direction, ok := d.direction(along, "along")
	k, fits := d.unsure(&g.Unsure, stiffness, aStiffness, "stiffness", "stiffness")
	if ok && fits {
		g.Skew = &machine.Skew{Direction: direction, Stiffness: k}
	}
}

// bed reads a bed under a plate's face, or along a bar by axis.
func (d *decoder) bed(g *machine.Ground, n *source.Node, f fields) {
	if n.Kind != source.Mapping {
		g.BedNPerMM3, _ = d.unsure(&g.Unsure, n, aBedUnder, "bed", "bed")
		d.face(g, f)
		return
	}
	if p := g.Part; p != leftOut && d.m.Parts[p].Kind() != nil && d.m.Parts[p].Bar == nil {
		d.fault(n.Pos, "a bed by axis is for a bar", "under a plate, write face: … and bed: … N/mm3")
	}
	f.only("bed along a bar")
	axes, ok := d.fields(n, &bedKeys)
	if !ok {
		return
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, "bed is empty", "one of: x, y, z")
	}
	for a := machine.X; a <= machine.Z; a++ {
		if n := axes.get(a.String()); n != nil {
			g.Bed[a], _ = d.positive(n, aBedAlong, "bed "+a.String())
		}
	}
}
