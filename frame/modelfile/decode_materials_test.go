package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

func TestMaterialFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"no E", two + "materials:\n  foam: {nu: 0.3, density: 30}\n", `
m.yaml:7:9: material "foam" has no E
	E takes: modulus in N/mm2`},
		{"E as a force", two + "materials:\n  foam: {E: 3 N, nu: 0.3, density: 30}\n", `
m.yaml:7:13: a force (3 N) where a modulus belongs`},
		{"nu of a liquid", two + "materials:\n  foam: {E: 3, nu: 0.5, density: 30}\n", `
m.yaml:7:13: E of 3 N/mm2 is far from that of any material: 20 N/mm2 to 580000 N/mm2
	write the unit: 71 GPa, or 3 N/mm2 if that is meant
m.yaml:7:20: nu must be from 0 to 0.49, not 0.5`},
		{"negative density", two + "materials:\n  foam: {E: 3, nu: 0.3, density: -30}\n", `
m.yaml:7:13: E of 3 N/mm2 is far from that of any material: 20 N/mm2 to 580000 N/mm2
	write the unit: 71 GPa, or 3 N/mm2 if that is meant
m.yaml:7:34: density must be positive, not -30 kg/m3`},
		{"heavier than anything", two + "materials:\n  foam: {E: 3, nu: 0.3, density: 2.7e9}\n", `
m.yaml:7:13: E of 3 N/mm2 is far from that of any material: 20 N/mm2 to 580000 N/mm2
	write the unit: 71 GPa, or 3 N/mm2 if that is meant
m.yaml:7:34: a density of 2.7e+09 kg/m3 is beyond belief: at most 100000 kg/m3
	a plain number is in kg/m3 here`},
		{"unknown key of a material", two + "materials:\n  foam: {e: 3, nu: 0.3, density: 30}\n", `
m.yaml:7:10: key "e" is not known in material "foam"
	did you mean E? one of: E, nu, density, expansion, yield; E takes: modulus in N/mm2`},
		{"unknown material near an own one", "machine: m\nmaterials:\n  foam: {E: 3, nu: 0.3, density: 30}\nparts:\n  p: {plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: form}\n", `
m.yaml:3:13: E of 3 N/mm2 is far from that of any material: 20 N/mm2 to 580000 N/mm2
	write the unit: 71 GPa, or 3 N/mm2 if that is meant
m.yaml:5:58: material "form" is not known
	did you mean foam?`},
	})
}

func TestOwnMaterial(t *testing.T) {
	m := readMachine(t, `machine: m
materials:
  slate: {E: 80 GPa, nu: 0.2, density: 2800, expansion: 9e-6/K, yield: 12 MPa}
parts:
  p: {plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: slate}
`)
	require.Equal(t, beam.Material{
		Key: "slate", Name: "slate", E: 80e3, ELow: 80e3, EHigh: 80e3, Nu: 0.2, Density: 2.8e-9, Expansion: 9e-6, Yield: 12,
		Source: "from the model file",
	}, m.Parts[0].Material)
	require.NoError(t, m.Parts[0].Material.Check())
}
