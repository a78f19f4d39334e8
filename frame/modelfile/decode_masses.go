package modelfile

import (
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// massKeys are the keys of a mass.
var massKeys = Mapping{
	Name: "mass", About: "What hangs on a part. It goes with its part.",
	Keys: []Key{
		{Name: "mass", Takes: sized(aMass), About: "how much"},
		{Name: "part", Takes: nameOf("part"), About: "what it hangs on"},
		{Name: "at", Takes: vectorOf(aLength), About: "its centre"},
	},
}

// decodeMasses reads what hangs on the parts; the parts must have been read. A mass on a part that is left out goes
// with it.
func (d *decoder) decodeMasses(n *source.Node) {
	d.named(n, "masses", func(name string, at machine.FilePos, body *source.Node) {
		f, ok := d.fields(body, &massKeys, name)
		if !ok {
			return
		}
		m := machine.Mass{Name: name, Pos: at}
		included := present
		if n := f.need("part"); n != nil {
			part, ok := d.part(n)
			included = presenceIf(!ok || part != leftOut)
			m.Part = part
		}
		d.inside(included, func() {
			if n := f.need("mass"); n != nil {
				m.Tonne, _ = d.positive(n, aMass, "mass")
			}
			if n := f.need("at"); n != nil {
				m.At, _ = d.vector(n, aLength, "at")
			}
		})
		if included == present {
			d.m.Masses = append(d.m.Masses, m)
		}
	})
}
