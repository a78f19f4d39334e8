package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// pointKeys are the keys of a point.
var pointKeys = Mapping{
	Name: "point", About: "A place of interest. It goes with its part.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), About: "the part that it is on"},
		{Name: "at", Takes: vectorOf(aLength), About: "its place, on or in the part"},
		{Name: "patch", Takes: rowOf(sized(aLength), "a", "b"),
			Default: "none; on a meshed part a disc as wide as it is thick",
			About:   "sides of the patch over which a load is spread and a movement averaged"},
		{Name: "against", Takes: nameOf("point, part or work"), Default: "the ground",
			About: "what its movement is read against: another point, a part (as a dial on a stiff arm fixed to it where " +
				"it is nearest) or `work`, the spot under the tool"},
	},
}

// decodePoints reads the named points; the parts must have been read.
func (d *decoder) decodePoints(n *source.Node) {
	stands := map[int]*source.Node{}
	d.named(n, "points", func(name string, at machine.FilePos, body *source.Node) {
		d.pointNames = append(d.pointNames, name)
		d.points[name] = leftOut
		f, ok := d.fields(body, &pointKeys, name)
		if !ok {
			return
		}
		p, included := d.point(f)
		if included == absent {
			return
		}
		p.Name, p.Pos = name, at
		d.points[name] = len(d.m.Points)
		if against := f.get("against"); against != nil {
			stands[len(d.m.Points)] = against
		}
		d.m.Points = append(d.m.Points, p)
	})
	for i := range d.m.Points {
		if against := stands[i]; against != nil {
			d.stand(&d.m.Points[i], against)
		}
	}
}

// onWork is what a point is read against when that is the spot under the tool.
const onWork = "work"

// stand reads what a point is read against: of equal names that of a point comes first, then that of a part.
func (d *decoder) stand(point *machine.Point, n *source.Node) {
	known := slices.Concat(d.pointNames, d.partNames)
	if d.m.Work != nil {
		known = append(known, onWork)
	}
	word, ok := d.word(n, "what a point is read against,", known)
	if !ok {
		return
	}
	other, isPoint := d.points[word]
	part, isPart := d.parts[word]
	switch {
	case isPoint && word == point.Name:
		d.fault(n.Pos, fmt.Sprintf("point %s is read against itself", machine.Quote(word)),
			"name another point, a part or work")
	case isPoint && other == leftOut, !isPoint && isPart && part == leftOut:
		d.fault(n.Pos, fmt.Sprintf("point %s is read against %s, which is left out", machine.Quote(point.Name),
			machine.Quote(word)), "see its if")
	case isPoint:
		point.Stand = machine.Stand{Kind: machine.OnOther, Index: other}
	case isPart:
		point.Stand = machine.Stand{Kind: machine.OnPart, Index: part}
	default:
		point.Stand = machine.Stand{Kind: machine.OnWork}
	}
}

// point reads part, at and patch.
func (d *decoder) point(f fields) (p machine.Point, included presence) {
	included = present
	if n := f.need("part"); n != nil {
		part, ok := d.part(n)
		included = presenceIf(!ok || part != leftOut)
		p.Part = part
	}
	d.inside(included, func() {
		if n := f.need("at"); n != nil {
			p.At, _ = d.vector(n, aLength, "at")
		}
		n := f.get("patch")
		if n == nil {
			return
		}
		if x, ok := d.row(n, "patch", "a", "b"); ok {
			p.Patch = [2]float64{x[0], x[1]}
		}
	})
	return p, included
}
