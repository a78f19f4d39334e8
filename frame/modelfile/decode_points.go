package modelfile

import (
	"tiploop/frame/machine"
)

// decodePoints reads the named points; the parts must have been read.
func (d *decoder) decodePoints(n *node) {
	d.named(n, "points", func(name string, at machine.FilePos, body *node) {
		d.pointNames = append(d.pointNames, name)
		d.points[name] = leftOut
		f, ok := d.fields(body, "point "+machine.Quote(name), "part", "at", "patch")
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
