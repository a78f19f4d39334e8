package beam

import (
	"fmt"
	"slices"
	"strings"
)

// Material is an isotropic, linearly elastic material.
type Material struct {
	Key  string // name used in tables and model files, "aluminium-5083"
	Name string // name for people

	E, Nu       float64 // Young's modulus, MPa; Poisson's ratio, -
	ELow, EHigh float64 // range of E to be expected, MPa
	Density     float64 // tonne/mm³
	Expansion   float64 // coefficient of linear expansion, 1/K
	Yield       float64 // yield stress or 0.2 % proof stress, MPa; 0: none stated (brittle or not applicable)
	Source      string  // where the numbers come from, and what to mind
}

// G is the shear modulus E/(2(1+ν)), MPa.
func (m Material) G() float64 { return m.E / (2 * (1 + m.Nu)) }

// Check returns an error unless E is positive and finite, −1 < Nu ≤ 0.5 and neither Density nor
// Expansion is negative or not finite.
func (m Material) Check() error {
	if err := positive("E", m.E); err != nil {
		return fmt.Errorf("material %q: %w", m.Key, err)
	}
	if err := checkPoisson(m.Nu); err != nil {
		return fmt.Errorf("material %q: %w", m.Key, err)
	}
	for _, q := range []struct {
		name  string
		value float64
	}{{"density", m.Density}, {"expansion", m.Expansion}} {
		if !finite(q.value) || q.value < 0 {
			return fmt.Errorf("material %q: %s is %g, must not be negative", m.Key, q.name, q.value)
		}
	}
	return nil
}

// Materials returns the built-in materials, sorted by key.
func Materials() []Material {
	rows := make([]Material, 0, len(materialTable))
	for _, r := range materialTable {
		rows = append(rows, r.material())
	}
	slices.SortFunc(rows, func(a, b Material) int { return strings.Compare(a.Key, b.Key) })
	return rows
}

// LookupMaterial returns the built-in material of that key.
func LookupMaterial(key string) (Material, bool) {
	for _, r := range materialTable {
		if r.key == key {
			return r.material(), true
		}
	}
	return Material{}, false
}

// materialRow holds a material in the units of the handbooks.
type materialRow struct {
	key, name   string
	eLow, e, eH float64 // GPa
	nu          float64
	rho         float64 // kg/m³
	alpha       float64 // 1e-6/K
	yield       float64 // MPa
	source      string
}

const (
	mpaPerGPa             = 1e3
	tonnePerMM3PerKgPerM3 = 1e-12
)

func (r materialRow) material() Material {
	return Material{
		Key: r.key, Name: r.name,
		E: r.e * mpaPerGPa, ELow: r.eLow * mpaPerGPa, EHigh: r.eH * mpaPerGPa, Nu: r.nu,
		Density: r.rho * tonnePerMM3PerKgPerM3, Expansion: r.alpha * 1e-6, Yield: r.yield,
		Source: r.source,
	}
}
