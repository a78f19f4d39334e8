package modelfile

import (
	"tiploop/frame/machine"
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
	},
}

// decodePoints reads the named points; the parts must have been read.
func (d *decoder) decodePoints(n *node) {
	d.named(n, "points", func(name string, at machine.FilePos, body *node) {
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
		d.m.Points = append(d.m.Points, p)
	})
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
