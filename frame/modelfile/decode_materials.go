package modelfile

import (
	"fmt"

	"tiploop/beam"
	"tiploop/frame/machine"
)

// Poisson's ratio of a material of the model: a solid of 0.5 does not change its volume, which the
// hexahedra of detail solid cannot follow; no solid to build of is below zero.
const mostPoisson = 0.49

// decodeMaterials reads the model's own materials. One with the name of a built-in material takes its place.
func (d *decoder) decodeMaterials(n *node) {
	d.named(n, "materials", func(name string, at machine.FilePos, body *node) {
		d.owned = append(d.owned, name)
		d.materials[name] = d.ownMaterial(name, body)
	})
}

func (d *decoder) ownMaterial(name string, n *node) beam.Material {
	m := beam.Material{Key: name, Name: name, Source: "from the model file"}
	f, ok := d.fields(n, "material "+machine.Quote(name), "E", "nu", "density", "expansion", "yield")
	if !ok {
		return m
	}
	if n := f.need("E"); n != nil {
		m.E, _ = d.positive(n, aModulus, "E")
		m.ELow, m.EHigh = m.E, m.E
	}
	if n := f.need("nu"); n != nil {
		if m.Nu, ok = d.number(n, aNumber); ok && !(m.Nu >= 0 && m.Nu <= mostPoisson) {
			d.misfit(n.pos, fmt.Sprintf("nu must be from 0 to %g, not %g", mostPoisson, m.Nu), "")
		}
	}
	if n := f.need("density"); n != nil {
		m.Density, _ = d.positive(n, aDensity, "density")
	}
	if n := f.get("expansion"); n != nil {
		m.Expansion, _ = d.positive(n, anExpansion, "expansion")
	}
	if n := f.get("yield"); n != nil {
		m.Yield, _ = d.positive(n, aModulus, "yield")
	}
	return m
}

// material gives the material named at n.
func (d *decoder) material(n *node) (beam.Material, bool) {
	_, m, ok := d.materialKey(n)
	return m, ok
}

// materialKey is material with the name under which it is listed.
func (d *decoder) materialKey(n *node) (string, beam.Material, bool) {
	for _, key := range d.spellings(n) {
		if m, own := d.materials[key]; own {
			return key, m, true
		}
		if m, ok := beam.LookupMaterial(key); ok {
			return key, m, true
		}
	}
	known := d.owned
	for _, m := range beam.Materials() {
		known = append(known, m.Key)
	}
	d.word(n, "material", known)
	return "", beam.Material{}, false
}
