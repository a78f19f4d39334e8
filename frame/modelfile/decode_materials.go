package modelfile

import (
	"fmt"
	"math"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// materialKeys are the keys of a material of the model.
var materialKeys = Mapping{
	Name: "material", About: "A material of your own.",
	Keys: []Key{
		{Name: "E", Takes: sized(aModulus), About: "modulus of elasticity, 71 GPa"},
		{Name: "nu", Takes: sized(aNumber), About: "Poisson's ratio, from 0 to 0.49"},
		{Name: "density", Takes: sized(aDensity), About: "2700 kg/m3 or 2.7 g/cm3"},
		{Name: "expansion", Takes: sized(anExpansion), Default: "none: warmth does nothing to it",
			About: "23e-6/K or 23 um/m/K"},
		{Name: "yield", Takes: sized(aModulus), Default: "not known: nothing is said of yielding",
			About: "the stress at which it yields"},
	},
}

// Poisson's ratio of a material of the model: a solid of 0.5 does not change its volume, which the
// hexahedra of detail solid cannot follow; no solid to build of is below zero.
const mostPoisson = 0.49

// decodeMaterials reads the model's own materials. One with the name of a built-in material takes its place.
func (d *decoder) decodeMaterials(n *source.Node) {
	d.named(n, "materials", func(name string, at machine.FilePos, body *source.Node) {
		d.owned = append(d.owned, name)
		d.materials[name] = d.ownMaterial(name, body)
	})
}

func (d *decoder) ownMaterial(name string, n *source.Node) beam.Material {
	m := beam.Material{Key: name, Name: name, Source: "from the model file"}
	f, ok := d.fields(n, &materialKeys, name)
	if !ok {
		return m
	}
	if n := f.need("E"); n != nil {
		m.E, _ = d.believed(n, aModulus, "E", "71 GPa", likeGPa, func(m beam.Material) float64 { return m.E })
		m.ELow, m.EHigh = m.E, m.E
	}
	if n := f.need("nu"); n != nil {
		if m.Nu, ok = d.number(n, aNumber); ok && !(m.Nu >= 0 && m.Nu <= mostPoisson) {
			d.misfit(n.Pos, fmt.Sprintf("nu must be from 0 to %g, not %g", mostPoisson, m.Nu), "")
		}
	}
	if n := f.need("density"); n != nil {
		m.Density, _ = d.believed(n, aDensity, "density", "2.7 g/cm3", likeGramsCm3,
			func(m beam.Material) float64 { return m.Density })
	}
	if n := f.get("expansion"); n != nil {
		m.Expansion, _ = d.believed(n, anExpansion, "expansion", "23 um/m/K", likeUmPerMetre,
			func(m beam.Material) float64 { return m.Expansion })
	}
	if n := f.get("yield"); n != nil {
		m.Yield, _ = d.positive(n, aModulus, "yield")
	}
	return m
}

// believed gives the number at n, which must be above zero and may not look like one whose unit was left out, nor lie
// far above that of every material of the table. Stiffer than anything is how a rigid part is drawn, lighter than
// anything one without weight.
func (d *decoder) believed(n *source.Node, m measure, what, like string, slip constant.Band,
	of func(beam.Material) float64) (float64, bool) {
	const above = 1000
	x, ok := d.positive(n, m, what)
	if !ok {
		return 0, false
	}
	least, most := math.Inf(1), 0.0
	for _, known := range beam.Materials() {
		if v := of(known); v > 0 {
			least, most = min(least, v), max(most, v)
		}
	}
	shown := x * m.unit.den / m.unit.num
	if x > most*above || d.bare(n) && slip.Low <= shown && shown <= slip.High {
		d.misfit(n.Pos, fmt.Sprintf("%s of %s is far from that of any material: %s to %s", what, m.show(x), m.show(least),
			m.show(most)), fmt.Sprintf("write the unit: %s, or %s if that is meant", like, m.show(x)))
		return 0, false
	}
	return x, true
}

// Bare numbers that look like those of another unit: GPa, g/cm³ and µm/m/K, in which tables print them. Common
// practice, no source.
var (
	likeGPa        = constant.Between(1, 70, 999)    // N/mm²
	likeGramsCm3   = constant.Between(0.1, 2.7, 25)  // kg/m³
	likeUmPerMetre = constant.Between(0.1, 23, 1000) // 1/K
)

// bare tells whether the number at n stands without a unit.
func (d *decoder) bare(n *source.Node) bool {
	v, ok := d.value(n)
	return ok && v.plain()
}

// material gives the material named at n.
func (d *decoder) material(n *source.Node) (beam.Material, bool) {
	_, m, ok := d.materialKey(n)
	return m, ok
}

// materialKey is material with the name under which it is listed.
func (d *decoder) materialKey(n *source.Node) (string, beam.Material, bool) {
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
